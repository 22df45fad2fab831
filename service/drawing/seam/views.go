package seam

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// strip is a stretch of the seam drawn in one row: both views, their marks and arrows.
type strip struct {
	from, to float64 // mm of wood
	marks    []mark
}

const (
	margin    = 9.0  // paper beside the seam's ends in a strip
	reduction = 8.0  // no smaller than 1 : 8
	largest   = 0.55 // no larger than this; short seams are not blown up
	tallest   = 46.0 // the view from below takes no more paper than this
	markWidth = 5.2  // a numbered mark
)

// strips divides the seam so that each stretch fits the paper at one scale, never through a part, and its numbered
// marks have room. The scale is in paper per wood.
func (s *sheet) strips(paper float64) ([]strip, float64) {
	length, usable := float64(s.c.Geometry.SeamLength), paper-2*margin
	for n := max(1, int(math.Ceil(length/(usable*reduction)))); ; n++ {
		cut := s.cuts(n)
		longest := 0.0
		for _, t := range cut {
			longest = math.Max(longest, t.to-t.from)
		}
		scale := math.Min(math.Min(largest, tallest/(2*s.reach())), usable/longest)
		room := true
		for _, t := range cut {
			room = room && float64(len(t.marks))*markWidth <= scale*(t.to-t.from)+2*margin
		}
		if room || n > len(s.marks)+8 {
			return cut, scale
		}
	}
}

// cuts divides the seam into n stretches of about the same length, between parts.
func (s *sheet) cuts(n int) []strip {
	length := float64(s.c.Geometry.SeamLength)
	out := make([]strip, 0, n)
	from, k := 0.0, 0
	for i := 1; i <= n; i++ {
		to := length
		if i < n {
			to = s.between(length * float64(i) / float64(n))
		}
		t := strip{from: from, to: to}
		for k < len(s.marks) && float64(s.marks[k].at) <= to {
			t.marks = append(t.marks, s.marks[k])
			k++
		}
		if to > from {
			out = append(out, t)
			from = to
		}
	}
	return out
}

// between is the middle between the two neighbouring parts round a place.
func (s *sheet) between(x float64) float64 {
	for i := 1; i < len(s.marks); i++ {
		a, b := float64(s.marks[i-1].at), float64(s.marks[i].at)
		if a <= x && x <= b {
			return (a + b) / 2
		}
	}
	return x
}

// reach is how far from the seam the view from below must show the wood.
func (s *sheet) reach() float64 {
	most := 45.0
	for i := range s.marks {
		most = math.Max(most, s.across(&s.marks[i], s.pocketSide())+12)
	}
	return most
}

// pocketAngle is the usual lean of a pocket. Common practice; the jig decides.
const pocketAngle = 15 * measure.Degree

// pocket is where a pocket shows on the underside: from its head seat to the far rim of its mouth, from the seam. The
// screw leaves the end grain at half the thickness. Plane geometry; the lean is common practice.
func (s *sheet) pocket(f *catalogue.Fastener) (seat, rim float64) {
	seat = float64(f.Length-f.Penetration) * pocketAngle.Cos()
	mouth := float64(s.thickness/2)/math.Tan(float64(pocketAngle)) + float64(f.BoreDiameter/2)/pocketAngle.Sin()
	return seat, math.Max(mouth, seat+float64(f.BoreDiameter))
}

// pocketSide is the side of the page on which the pockets lie: the stopping run's, of a miter the first run's.
func (s *sheet) pocketSide() float64 {
	if s.c.Joint.Through == plan.First {
		return -s.side
	}
	return s.side
}

// views draws all strips and returns where they end.
func (s *sheet) views(x, y, paper float64) float64 {
	strips, scale := s.strips(paper)
	for i, t := range strips {
		y = s.strip(t, i, len(strips), x, y, paper, scale)
	}
	return y
}

// frame places a strip on the paper.
type frame struct {
	strip
	x0, scale float64 // paper of strip.from; paper per wood
	y         float64 // paper of the seam in the view from below
	lo, hi    float64 // paper left and right
}

func (f *frame) x(at float64) float64 { return f.x0 + (at-f.from)*f.scale }

func (f *frame) point(p pen.Point) pen.Point { return pen.At(f.x(p.X), f.y+p.Y*f.scale) }

// strip draws one stretch: marks, the view from below, arrows, the view along the seam, distances.
func (s *sheet) strip(t strip, index, count int, x, y, paper, scale float64) float64 {
	f := &frame{strip: t, scale: scale, lo: x, hi: x + paper}
	f.x0 = x + (paper-(t.to-t.from)*scale)/2
	reach := s.reach() * scale
	line := s.seamLine()
	low := 0.0 // the mitred part of a mason's miter leaves the line of the seam
	for _, p := range line {
		low = math.Max(low, math.Abs(p.Y)*scale)
	}
	reach = math.Max(reach, math.Max(low+6, 9)) // the pieces' names need some room
	if count > 1 {
		s.Text(x, y+pen.Body, "Part "+strconv.Itoa(index+1)+" of "+strconv.Itoa(count)+" of the seam, "+measure.Length(t.from).Text(s.units)+" to "+measure.Length(t.to).Text(s.units)+" "+s.units.String(), pen.Letters{Size: pen.Body, Bold: true})
		y += 5
	}
	if index == 0 {
		y = s.Paragraph(x, y, paper, "From below: both pieces lie face down, front end at the left", pen.Letters{Size: pen.Body, Bold: true}) + 2
	}
	xs := s.numbers(f, y)
	top := y + 8.5
	f.y = top + reach
	s.below(f, reach, line)
	s.leaders(f, xs, y+markWidth-0.1, top+1.5)
	bottom := f.y + reach
	y = s.arrows(f, bottom+2.5)
	y = s.along(f, y+2)
	return y + 4
}

// numbers draws the numbered marks in a row and returns where each stands.
func (s *sheet) numbers(f *frame, y float64) []float64 {
	at := make([]float64, len(f.marks))
	for i := range f.marks {
		at[i] = f.x(float64(f.marks[i].at))
	}
	xs, ok := pen.Spread(at, markWidth, f.lo, f.hi)
	if !ok {
		return nil // more parts than the paper has room for: the table tells them apart
	}
	for i, x := range xs {
		s.mark(x, y+markWidth/2, &f.marks[i])
	}
	return xs
}

// mark draws a part's number: in a ring for alignment, on black for what pulls.
func (s *sheet) mark(x, y float64, m *mark) {
	l := pen.Letters{Size: pen.Small, Bold: true, At: pen.Middle}
	if m.number > 99 {
		l.Size = 1.8
	}
	if m.pulls() {
		s.Rect(x-2.1, y-2.1, 4.2, 4.2, 0.6, pen.Stroke{Fill: pen.Ink})
		l.Ink = pen.White
	} else {
		s.Circle(x, y, 2.1, pen.Stroke{Ink: pen.Ink, Width: 0.25, Fill: pen.White})
	}
	s.Text(x, y+0.36*l.Size, strconv.Itoa(m.number), l)
}

func (m *mark) pulls() bool {
	return m.kind == catalogue.PocketScrew || m.kind == catalogue.DrawBolt
}

// leaders lead from the numbers down to the parts.
func (s *sheet) leaders(f *frame, xs []float64, from, to float64) {
	for i, x := range xs {
		at := f.x(float64(f.marks[i].at))
		s.Poly([]pen.Point{pen.At(x, from), pen.At(at, to), pen.At(at, f.y)}, true, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	}
}

// below draws the view from below.
func (s *sheet) below(f *frame, reach float64, line []pen.Point) {
	w := window{f.from - margin/f.scale, -reach / f.scale, f.to + margin/f.scale, reach / f.scale}
	if f.from > 0 {
		w.x0 = f.from
	}
	if f.to < float64(s.c.Geometry.SeamLength) {
		w.x1 = f.to
	}
	for _, o := range s.pieces() {
		poly := o.polygon(line)
		s.Poly(f.points(w.clip(poly)), false, pen.Stroke{Fill: pen.Wood})
	}
	s.keepZone(f)
	for i := range f.marks {
		s.part(f, &f.marks[i])
	}
	for _, o := range s.pieces() {
		poly := o.polygon(line)
		for i := 1; i < len(poly); i++ {
			if a, b, ok := w.segment(poly[i-1], poly[i]); ok {
				a, b = f.point(a), f.point(b)
				s.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
			}
		}
		s.nameOf(f, &o, reach, f.points(w.clip(poly)))
	}
	for _, end := range []struct {
		x    float64
		open bool
	}{{w.x0, f.from > 0}, {w.x1, f.to < float64(s.c.Geometry.SeamLength)}} {
		if end.open {
			x := f.x(end.x)
			s.Line(x, f.y-reach, x, f.y+reach, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "2 0.8 0.4 0.8"})
		}
	}
	s.heldMark(f)
}

func (f *frame) points(in []pen.Point) []pen.Point {
	out := make([]pen.Point, len(in))
	for i, p := range in {
		out[i] = f.point(p)
	}
	return out
}

// keepZone shades what is kept clear at the front end: along a mason's miter its mitred part.
func (s *sheet) keepZone(f *frame) {
	keep := float64(s.c.Geometry.FrontKeep)
	if keep <= f.from || f.from > 0 {
		return
	}
	const half = 3.0
	p, q := f.point(pen.At(0, 0)), f.point(pen.At(keep, 0))
	if s.turn > 0 {
		line := s.seamLine()
		p, q = f.point(line[0]), f.point(line[1])
	}
	l := math.Hypot(q.X-p.X, q.Y-p.Y)
	ux, uy := (q.X-p.X)/l, (q.Y-p.Y)/l
	for d := 0.5; d < l; d++ {
		x, y := p.X+d*ux, p.Y+d*uy
		s.Line(x-half*uy, y+half*ux, x+half*uy, y-half*ux, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
	}
	s.Poly([]pen.Point{pen.At(p.X-half*uy, p.Y+half*ux), pen.At(q.X-half*uy, q.Y+half*ux), pen.At(q.X+half*uy, q.Y-half*ux), pen.At(p.X+half*uy, p.Y-half*ux)}, false, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "0.6 0.6"})
}

// heldMark is a triangle on the seam where the pieces are held flush.
func (s *sheet) heldMark(f *frame) {
	at := float64(s.held)
	if at < f.from || at > f.to || at == f.from && f.from > 0 {
		return
	}
	p := f.point(pen.At(at, 0))
	if at < float64(s.turn) {
		p = f.point(s.seamLine()[0])
	}
	s.Poly([]pen.Point{pen.At(p.X, p.Y), pen.At(p.X-1.6, p.Y+3), pen.At(p.X+1.6, p.Y+3)}, false, pen.Stroke{Ink: pen.White, Width: 0.2, Fill: pen.Ink})
	s.Poly([]pen.Point{pen.At(p.X, p.Y), pen.At(p.X-1.6, p.Y-3), pen.At(p.X+1.6, p.Y-3)}, false, pen.Stroke{Ink: pen.White, Width: 0.2, Fill: pen.Ink})
}

// part draws a part from below: what is hidden in the wood dashed, what is cut from below in full lines.
func (s *sheet) part(f *frame, m *mark) {
	x, k := f.x(float64(m.at)), f.scale
	size := math.Max(float64(m.size)*k, 0.5)
	switch m.kind {
	case catalogue.DrawBolt:
		d, r := float64(m.part.RecessDistance)*k, float64(m.part.RecessDiameter)/2*k
		s.Rect(x-size/2, f.y-d, size, 2*d, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		s.Circle(x, f.y-d, r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		s.Circle(x, f.y+d, r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		b := math.Max(float64(m.part.BoltDiameter)*k, 0.3)
		s.Rect(x-b/2, f.y-d, b, 2*d, 0, pen.Stroke{Fill: pen.Faint})
	case catalogue.PocketScrew:
		seat, rim := s.pocket(m.part)
		r, side := float64(m.part.BoreDiameter)/2*k, s.pocketSide()
		y0, y1 := f.y+side*seat*k, f.y+side*rim*k
		s.Rect(x-r, math.Min(y0, y1), 2*r, math.Abs(y1-y0), r, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		s.Rect(x-size/2, math.Min(f.y, y0), size, math.Abs(y0-f.y), 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "0.8 0.5"})
		tip := f.y - side*float64(m.part.Penetration)*pocketAngle.Cos()*k
		s.Line(x, y0, x, tip, pen.Stroke{Ink: pen.Faint, Width: math.Max(0.25, float64(m.part.ThreadDiameter)*k*0.6)})
	default:
		half := float64(m.part.Length) / 2 * k
		s.Rect(x-size/2, f.y-half, size, 2*half, math.Min(half, size/2)*0.6, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Dash: "1 0.6"})
		w := float64(m.part.Width) * k
		s.Rect(x-w/2, f.y-half, w, 2*half, math.Min(half, w/2)*0.6, pen.Stroke{Fill: pen.Pale})
	}
}

var nameLetters = pen.Letters{Size: pen.Head, Bold: true, At: pen.Middle, Halo: true}

// nameOf writes a piece's name with its grain, in the wood where no part is, as near to the wall end as there is room;
// a long name is shortened until there is.
func (s *sheet) nameOf(f *frame, o *outline, reach float64, poly []pen.Point) {
	y := f.y + reach - 6
	if o.side < 0 {
		y = f.y - reach + 4
	}
	var name string
	for _, most := range []float64{24, 15, 9} {
		name = pen.Fit(o.name, most, nameLetters)
		half := math.Max(pen.Width(name, nameLetters)/2, 3.5) + 1
		for x := f.hi - half; x > f.lo+half; x -= 0.5 {
			if !s.nameFits(f, o, reach, poly, x, y, half) {
				continue
			}
			s.Text(x, y+0.4, name, nameLetters)
			for i := -1.0; i <= 1; i++ { // three strokes along the grain
				gx, gy := x-o.grain.Y*0.9*i, y+3.4+o.grain.X*0.9*i
				s.Line(gx-o.grain.X*2.2, gy-o.grain.Y*2.2, gx+o.grain.X*2.2, gy+o.grain.Y*2.2, pen.Stroke{Ink: pen.Faint, Width: 0.2})
			}
			return
		}
	}
	s.Text(f.hi, y, name, pen.Letters{Size: pen.Head, Bold: true, At: pen.Right, Halo: true})
}

// nameFits reports whether a name of half a width round x, with its grain, stands in the piece and off its parts.
func (s *sheet) nameFits(f *frame, o *outline, reach float64, poly []pen.Point, x, y, half float64) bool {
	for _, corner := range []pen.Point{pen.At(x-half, y-2.5), pen.At(x+half, y-2.5), pen.At(x-half, y+5.4), pen.At(x+half, y+5.4)} {
		if !inside(poly, corner) {
			return false
		}
	}
	for i := range f.marks {
		m, off := &f.marks[i], math.Abs(f.x(float64(f.marks[i].at))-x)
		reaches := s.across(m, o.side)*f.scale > reach-10 // as far as the name
		if reaches && off <= half+m.wide()/2*f.scale || o.side < 0 && off <= half-0.5 /* the number's leader */ {
			return false
		}
	}
	return true
}

// across is how far a part reaches from the seam on one side of the page, as the view from below shows it.
func (s *sheet) across(m *mark, side float64) float64 {
	switch m.kind {
	case catalogue.DrawBolt:
		return float64(m.part.RecessDistance + m.part.RecessDiameter/2)
	case catalogue.PocketScrew:
		if side != s.pocketSide() {
			return float64(m.part.Penetration)
		}
		_, rim := s.pocket(m.part)
		return rim
	default:
		return float64(m.part.Length / 2)
	}
}

// wide is how much of the seam a part takes on the view from below.
func (m *mark) wide() float64 {
	switch m.kind {
	case catalogue.DrawBolt:
		return math.Max(float64(m.part.RecessDiameter), float64(m.size))
	case catalogue.PocketScrew:
		return math.Max(float64(m.part.BoreDiameter), float64(m.size))
	default:
		return float64(m.size)
	}
}

// inside reports whether a pen.Point lies in a polygon (even-odd rule).
func inside(poly []pen.Point, p pen.Point) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// arrows draws which way the moving piece slides at each part, dry and humid, with the figures when there is room.
func (s *sheet) arrows(f *frame, y float64) float64 {
	if len(f.marks) == 0 {
		return y
	}
	if s.still() {
		s.Text(f.lo, y+2.6, "Nothing slides along this seam in either season.", pen.Letters{Size: pen.Body})
		return y + 4
	}
	for _, season := range []struct {
		name string
		ink  string
		of   func(*mark) measure.Length
		full bool
	}{{"dry", pen.Dry, func(m *mark) measure.Length { return m.dry }, false}, {"humid", pen.Humid, func(m *mark) measure.Length { return m.humid }, true}} {
		s.Text(f.lo, y+2.6, season.name, pen.Letters{Size: pen.Small, Bold: true, Ink: season.ink})
		s.lane(f, y, season.ink, season.full, season.of)
		y += 6.8
	}
	return y
}

// still reports whether no part slides as far as a figure shows.
func (s *sheet) still() bool {
	for i := range s.marks {
		if slideText(s.marks[i].dry, s.units) != "0" || slideText(s.marks[i].humid, s.units) != "0" {
			return false
		}
	}
	return true
}

// lane draws one season's arrows.
func (s *sheet) lane(f *frame, y float64, color string, full bool, of func(*mark) measure.Length) {
	at := make([]float64, len(f.marks))
	words := make([]string, len(f.marks))
	widest := 3.0
	for i := range f.marks {
		at[i], words[i] = f.x(float64(f.marks[i].at)), plainFigure(of(&f.marks[i]), s.units)
		widest = math.Max(widest, pen.Width(words[i], pen.Letters{Size: pen.Small})+0.8)
	}
	xs, room := pen.Spread(at, widest, f.lo+7, f.hi)
	for i := range f.marks {
		slide := slideText(of(&f.marks[i]), s.units)
		x := at[i]
		switch {
		case slide == "0":
			s.Circle(x, y+1.8, 0.6, pen.Stroke{Ink: color, Width: 0.3, Fill: pen.White})
		default:
			dir := 1.0
			if of(&f.marks[i]) < 0 {
				dir = -1
			}
			s.Arrow(x, y+1.8, dir, color, full)
		}
		if room && math.Abs(xs[i]-x) < 4 {
			s.Text(xs[i], y+5.6, words[i], pen.Letters{Size: pen.Small, At: pen.Middle, Ink: color})
		}
	}
}

// along draws the seam edge on, the wood lying face down, with distances beneath.
func (s *sheet) along(f *frame, y float64) float64 {
	if f.from == 0 {
		y = s.Paragraph(f.lo, y, f.hi-f.lo, "Along the seam: the joint face, underside up; distances from the front end", pen.Letters{Size: pen.Body, Bold: true}) + 2
	}
	t, k := math.Max(float64(s.thickness)*f.scale, 3), f.scale
	deep := func(l measure.Length) float64 { return float64(l) / float64(s.thickness) * t }
	x0, x1 := f.x(f.from), f.x(f.to)
	s.Rect(x0, y, x1-x0, t, 0, pen.Stroke{Fill: pen.Wood})
	if keep := float64(s.c.Geometry.FrontKeep); keep > 0 && f.from == 0 {
		for x := x0 + 0.5; x < f.x(keep); x += 1 {
			s.Line(x, y, x, y+t, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		}
	}
	for i := range f.marks {
		m := &f.marks[i]
		x, size := f.x(float64(m.at)), math.Max(float64(m.size)*k, 0.5)
		switch m.kind {
		case catalogue.DrawBolt:
			r := float64(m.part.RecessDiameter) * k
			s.Rect(x-r/2, y, r, deep(m.part.RecessDepth), 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "0.8 0.5"})
			s.Rect(x-size/2, y, size, deep(m.part.RecessDepth), 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		case catalogue.PocketScrew:
			s.Ellipse(x, y+t/2, size/2, math.Max(deep(m.size)/2, 0.25), pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
		default:
			for row := range m.rows {
				h := math.Max(deep(m.part.Thickness), 0.4)
				c := y + t*(2*float64(row)+1)/(2*float64(m.rows))
				s.Rect(x-size/2, c-h/2, size, h, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
			}
		}
	}
	s.Rect(x0, y, x1-x0, t, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	ends := pen.Letters{Size: pen.Small, At: pen.Right}
	if f.from == 0 {
		s.Text(x0-0.9, y+t/2+0.8, "front", ends)
	}
	if f.to >= float64(s.c.Geometry.SeamLength) {
		ends.At = pen.Left
		s.Text(x1+0.9, y+t/2+0.8, "wall", ends)
	}
	return s.distances(f, y+t)
}

// distances writes each part's distance from the front end under the view along the seam, when there is room.
func (s *sheet) distances(f *frame, y float64) float64 {
	at := make([]float64, 0, len(f.marks)+2)
	words := make([]string, 0, len(f.marks)+2)
	add := func(l measure.Length) {
		at, words = append(at, f.x(float64(l))), append(words, l.Text(s.units))
	}
	if f.from == 0 {
		add(0)
	}
	for i := range f.marks {
		add(f.marks[i].at)
	}
	if f.to >= float64(s.c.Geometry.SeamLength) {
		add(s.c.Geometry.SeamLength)
	}
	const leader = 5.0
	flat, up := 0.0, 0.0
	for _, w := range words {
		up = math.Max(up, pen.Width(w, pen.Letters{Size: pen.Small}))
	}
	flat = up + 1.2
	l := pen.Letters{Size: pen.Small, At: pen.Middle}
	xs, ok := pen.Spread(at, flat, f.lo, f.hi)
	height := pen.Small + 1
	if ok {
		for i := range xs {
			ok = ok && math.Abs(xs[i]-at[i]) < 5
		}
	}
	if !ok { // upright
		if xs, ok = pen.Spread(at, pen.Small+0.5, f.lo, f.hi); !ok {
			return y
		}
		l = pen.Letters{Size: pen.Small, At: pen.Right, Upward: true}
		height = up + 1
	}
	for i, x := range xs {
		s.Poly([]pen.Point{pen.At(at[i], y), pen.At(at[i], y+1.2), pen.At(x, y+leader-0.6)}, true, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
		if l.Upward {
			s.Text(x+0.36*pen.Small, y+leader, words[i], l)
		} else {
			s.Text(x, y+leader+0.7*pen.Small, words[i], l)
		}
	}
	return y + leader + height
}
