package plan

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	layout "seamwright/service/plan"
)

// wallBand is how far the hatching of a wall reaches, in millimetres of paper.
const wallBand = 1.7

// picture draws the top: what is fixed is put on the ground first, then each label looks for its place, the main sizes
// before the lesser ones, and the grain is drawn round them.
func (s *sheet) picture(x, y, w float64) float64 {
	y = s.setUp(x, y, w)
	var holes []hole
	for i := range s.est.Cutouts {
		if h, ok := s.hole(&s.est.Cutouts[i]); ok {
			holes = append(holes, h)
		}
	}
	s.fixed(holes)
	s.wallSizes()
	s.names(holes)
	s.angles()
	s.depths()
	s.frontSizes()
	s.holeSizes(holes)
	s.seamNotes()
	s.wood(holes)
	if s.bare { // the document goes on where the picture ends
		y = s.ground.bottom() + 3
	}
	return y
}

// fixed puts the lines of the top on the ground.
func (s *sheet) fixed(holes []hole) {
	for i := range s.runs {
		r := &s.runs[i]
		for k, p := range r.outline {
			s.ground.line(p, r.outline[(k+1)%len(r.outline)])
		}
		s.ground.line(r.front[0], r.front[1])
		s.ground.line(move(r.wall[0], r.room, -wallBand), move(r.wall[1], r.room, -wallBand))
	}
	for _, h := range holes {
		for k, p := range h.corners {
			s.ground.line(p, h.corners[(k+1)%len(h.corners)])
		}
	}
}

// wallSizes are the runs' lengths along their walls, and nearer to the wood those of the pieces' own wall edges where a piece
// ends elsewhere than its run: a butt's stopping piece does.
func (s *sheet) wallSizes() {
	for i := range s.runs {
		r := &s.runs[i]
		out := pen.At(-r.room.X, -r.room.Y)
		first := math.Max(5, s.beside(s.text(r.length), out)+wallBand)
		if math.Abs(float64(r.piece.wall()-r.length)) > float64(s.least64()) {
			figure := s.text(r.piece.wall())
			from, to := move(r.wall[0], r.along, float64(r.piece.wallFrom)/float64(s.ratio)), move(r.wall[0], r.along, float64(r.piece.wallTo)/float64(s.ratio))
			near := math.Max(4.5, s.beside(figure, out)+wallBand)
			if !s.dimension(from, to, out, figure, []float64{near, near + 2}) {
				s.mark(middle(from, to), s.say("Wall edge of piece %s: %s", s.name(i), figure))
			}
			first += near
		}
		if !s.dimension(r.wall[0], r.wall[1], out, s.text(r.length), []float64{first, first + 2, first + 4, first - 1, first + 8}) {
			s.mark(middle(r.wall[0], r.wall[1]), s.say("Wall length of run %s: %s", s.name(i), s.text(r.length)))
		}
	}
}

// beside is how far from an edge a dimension must stand in the direction n so that its figure in the line keeps off the edge.
func (s *sheet) beside(figure string, n pen.Point) float64 {
	w, h := size([]string{figure}, s.figures())
	return math.Abs(n.X)*w/2 + math.Abs(n.Y)*h/2 + 0.8
}

// least64 is the smallest difference that shows in a length as it is written.
func (s *sheet) least64() measure.Length {
	if s.inches() {
		return measure.Inch / 64
	}
	return measure.Millimetre / 4
}

// frontSizes are of the fronts that show. They stand in the wood beside an inner corner, where the room side is both runs', and
// otherwise in the room.
func (s *sheet) frontSizes() {
	for i := range s.runs {
		r := &s.runs[i]
		near := s.beside(s.text(r.frontLength), r.room)
		in, out := math.Max(4, near), math.Max(5, near)
		offsets := []float64{out, out + 4, out + 8, -in, -in - 4}
		for _, k := range []int{i - 1, i} {
			if k >= 0 && k < len(s.est.Corners) && s.est.Corners[k].Angle.Degrees() < 180 {
				offsets = []float64{-in, -in - 2, -in - 4, out, out + 4, out + 8}
			}
		}
		for k := range offsets {
			if -offsets[k] > s.depth(i)-2 {
				offsets[k] = out
			}
		}
		if !s.dimension(r.front[0], r.front[1], r.room, s.text(r.frontLength), offsets) {
			s.mark(middle(r.front[0], r.front[1]), s.say("Visible front of run %s: %s", s.name(i), s.text(r.frontLength)))
		}
	}
}

func (s *sheet) depths() {
	for i := range s.runs {
		r := &s.runs[i]
		figure := s.text(s.est.Runs[i].Depth)
		done := false
		if i == 0 {
			done = s.dimension(r.front[0], r.wall[0], pen.At(-r.along.X, -r.along.Y), figure, []float64{5, 8, 11})
		}
		if !done && i == len(s.runs)-1 {
			done = s.dimension(r.front[1], r.wall[1], r.along, figure, []float64{5, 8, 11})
		}
		l, depth := distance(r.wall[0], r.wall[1]), s.depth(i)
		for _, share := range []float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.45, 0.55} {
			top := move(r.wall[0], r.along, l*share)
			if !done && inside(r.outline, move(top, r.room, depth/2)) {
				done = s.dimension(move(top, r.room, depth), top, r.along, figure, []float64{0})
			}
		}
		if !done {
			s.mark(s.heart(i), s.say("Depth of run %s: %s", s.name(i), figure))
		}
	}
}

// heart is a place in a piece's wood.
func (s *sheet) heart(i int) pen.Point {
	for _, p := range s.spots(i) {
		return p
	}
	r := &s.runs[i]
	return middle(r.outline[0], r.outline[len(r.outline)/2])
}

// spots are places in a piece, the middle first.
func (s *sheet) spots(i int) []pen.Point {
	r := &s.runs[i]
	base, depth := r.wall[0], s.depth(i)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range r.outline {
		t := (p.X-base.X)*r.along.X + (p.Y-base.Y)*r.along.Y
		lo, hi = math.Min(lo, t), math.Max(hi, t)
	}
	out := make([]pen.Point, 0, 7*11)
	for _, across := range [...]float64{0.5, 0.4, 0.62, 0.3, 0.72, 0.2, 0.82} {
		for _, along := range [...]float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9} {
			p := move(move(base, r.along, lo+(hi-lo)*along), r.room, depth*across)
			if inside(r.outline, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

const nameLength = 24

// name of a run as labels and lists carry it.
func (s *sheet) name(i int) string { return pen.Short(s.est.Runs[i].Name, nameLength) }

// fitted is a name that is at most so wide.
func fitted(name string, most float64, l pen.Letters) string {
	for n := nameLength; n > 1; n-- {
		if short := pen.Short(name, n); pen.Width(short, l) <= most {
			return short
		}
	}
	return ""
}

// names writes each piece's name and what it is in its wood.
func (s *sheet) names(holes []hole) {
	most := 46.0
	if s.o.Narrow {
		most = 27
	}
	bold := pen.Letters{Size: pen.Head, Bold: true}
	for i := range s.runs {
		r := &s.est.Runs[i]
		name := fitted(r.Name, most, bold)
		whole := []string{name, s.mass(r.Piece.Mass)}
		clear := func(b box) bool {
			c := pen.At((b.x0+b.x1)/2, (b.y0+b.y1)/2)
			for _, h := range holes {
				if inside(h.corners, c) {
					return false
				}
			}
			return inside(s.runs[i].outline, c)
		}
		spots := s.spots(i)
		if s.tryAt(spots, whole, bold, clear) || s.leader(s.heart(i), whole, bold, 30) {
			continue
		}
		if s.tryAt(spots, whole[:1], bold, clear) {
			s.mark(s.heart(i), s.say("Weight of %s: %s", s.name(i), s.mass(r.Piece.Mass)))
			continue
		}
		s.mark(s.heart(i), s.say("Run %s", s.name(i)))
	}
}

// angles are written in the room, at the front corner, beside an arc from front edge to front edge.
func (s *sheet) angles() {
	bold := pen.Letters{Size: pen.Body, Bold: true}
	for k := range s.est.Corners {
		a, b := &s.runs[k], &s.runs[k+1]
		theta := float64(s.est.Corners[k].Angle)
		u := pen.At(-a.along.X, -a.along.Y)
		at := a.front[1]
		sign := 1.0
		if u.X*a.room.Y-u.Y*a.room.X < 0 {
			sign = -1
		}
		ray := func(share float64) pen.Point {
			sin, cos := math.Sincos(sign * theta * share)
			return pen.At(u.X*cos-u.Y*sin, u.X*sin+u.Y*cos)
		}
		r := math.Min(4, 0.8*math.Min(distance(a.front[0], a.front[1]), distance(b.front[0], b.front[1])))
		arc := make([]pen.Point, 0, 13)
		for i := range 13 {
			arc = append(arc, move(at, ray(float64(i)/12), r))
			if i > 0 {
				s.ground.line(arc[i-1], arc[i])
			}
		}
		s.notes.Poly(arc, true, pen.Stroke{Ink: pen.Faint, Width: pen.Medium})
		text := s.degrees(s.est.Corners[k].Angle)
		if len(s.est.Corners) > 1 {
			text = s.say("corner %s: %s", strconv.Itoa(k+1), text)
		}
		rays := [...]pen.Point{ray(0.5), ray(0.4), ray(0.6), ray(0.3), ray(0.7)}
		done := false
		for _, label := range []string{text, s.degrees(s.est.Corners[k].Angle)} {
			w, h := size([]string{label}, bold)
			places := make([]pen.Point, 0, 4*len(rays))
			for _, more := range [...]float64{0.6, 2, 4, 7} {
				for _, d := range rays {
					places = append(places, move(at, d, r+more+math.Abs(d.X)*w/2+math.Abs(d.Y)*h/2))
				}
			}
			done = done || s.tryAt(places, []string{label}, bold, nil)
		}
		if !done {
			s.mark(at, s.say("Corner %s: %s", strconv.Itoa(k+1), s.degrees(s.est.Corners[k].Angle)))
		}
	}
}

func (s *sheet) holeName(i int) string { return s.kindName(s.est.Cutouts[i].Kind) }

func (s *sheet) kindName(kind string) string {
	return pen.Short(s.say(strings.ReplaceAll(kind, "_", " ")), nameLength)
}

// holeSizes writes each cut-out's name and size in it, and its distances from the front edge and the nearer end.
func (s *sheet) holeSizes(holes []hole) {
	plain := pen.Letters{Size: pen.Body}
	for i := range holes {
		h := &holes[i]
		name, sizes := s.holeName(i), s.text(h.length)+" × "+s.text(h.depth)
		c := middle(h.corners[0], h.corners[2])
		if !s.tryAt([]pen.Point{c}, []string{name, sizes}, plain, nil) && !s.tryAt([]pen.Point{c}, []string{sizes}, plain, nil) &&
			!s.leader(c, []string{name, sizes}, plain, 30) {
			s.mark(c, s.say("Cut-out %s: %s", name, sizes))
		}
		r := &s.runs[h.run]
		l := distance(h.corners[0], h.corners[1])
		for _, share := range []float64{0.5, 0.3, 0.7, 0.1, 0.9} {
			if h.open[0] {
				break // nothing to measure
			}
			p := move(h.corners[0], r.along, l*share)
			if s.dimension(p, move(p, r.room, float64(h.fromFront)/float64(s.ratio)), r.along, s.text(h.fromFront), []float64{0}) {
				break
			}
		}
		s.alongSize(h)
	}
}

// alongSize is a cut-out's distance from the nearer end of its piece: beside it in the wood, or outside at the wall, where
// nothing is in the way at a corner.
func (s *sheet) alongSize(h *hole) {
	r := &s.runs[h.run]
	back, k := pen.At(-r.room.X, -r.room.Y), 1/float64(s.ratio)
	tip, to, figure, open := r.piece.from, h.corners[0], h.fromStart, h.open[3]
	if h.fromEnd < h.fromStart {
		tip, to, figure, open = r.piece.to, h.corners[1], h.fromEnd, h.open[1]
	}
	if open {
		return // nothing to measure
	}
	end := move(r.wall[0], r.along, float64(tip)*k)
	t := (end.X-to.X)*r.along.X + (end.Y-to.Y)*r.along.Y
	for _, share := range []float64{0.5, 0.3, 0.7, 0.9, 0.1} {
		p := move(to, back, distance(h.corners[1], h.corners[2])*share)
		if s.dimension(p, move(p, r.along, t), back, s.text(figure), []float64{0}) {
			return
		}
	}
	if !s.dimension(move(end, r.along, -t), end, back, s.text(figure), []float64{4.5, 6.5, 8.5, 11, 14}) {
		s.mark(middle(h.corners[0], h.corners[2]), h.name+": "+s.holePlace(h))
	}
}

// seamNotes names the joint beside each seam, where there is room; the list of corners names it anyway.
func (s *sheet) seamNotes() {
	for k := range s.est.Corners {
		c := s.chosen(k)
		if c == nil || len(c.Geometry.SeamPath) < 2 {
			continue
		}
		path := c.Geometry.SeamPath
		a, b := s.place(path[len(path)-2]), s.place(path[len(path)-1])
		d := unit(a, b)
		n := pen.At(-d.Y, d.X)
		l := pen.Letters{Size: pen.Small}
		w, h := size([]string{s.jointWord(c.Joint)}, l)
		var places []pen.Point
		for _, share := range []float64{0.5, 0.65, 0.35, 0.8} {
			at := move(a, d, distance(a, b)*share)
			for _, side := range []float64{1, -1} {
				places = append(places, move(at, n, side*(math.Abs(n.X)*w/2+math.Abs(n.Y)*h/2+0.8)))
			}
		}
		s.tryAt(places, []string{s.jointWord(c.Joint)}, l, nil)
	}
}

func (s *sheet) jointWord(j layout.Joint) string {
	return s.say(j.Kind.Name())
}

// wood draws the pieces, their grain round the labels, the walls, the front edges, the seams and the cut-outs.
func (s *sheet) wood(holes []hole) {
	for i := range s.runs {
		s.Poly(s.runs[i].outline, false, pen.Stroke{Fill: pen.Wood})
		s.grain(i)
	}
	for _, h := range holes {
		s.Poly(h.corners, false, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	}
	for i := range s.runs {
		s.Poly(s.runs[i].outline, false, pen.Stroke{Ink: pen.Ink, Width: 0.25})
	}
	for i := range s.runs {
		s.edges(i)
	}
	for i := range holes {
		s.openings(&holes[i])
	}
	for k := range s.est.Corners {
		if c := s.chosen(k); c != nil {
			var path []pen.Point
			for _, p := range c.Geometry.SeamPath {
				path = append(path, s.place(p))
			}
			s.Poly(path, true, pen.Stroke{Ink: pen.Ink, Width: 0.4})
		}
	}
}

// openings breaks the front or a free end where a cut-out goes through it; at the wall the line is the wall's and stays.
func (s *sheet) openings(h *hole) {
	for i, open := range h.open {
		if open && sides[i] != "wall" {
			a, b := h.corners[i], h.corners[(i+1)%4]
			d := unit(a, b)
			a, b = move(a, d, 0.15), move(b, d, -0.15)
			s.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.White, Width: 0.9})
		}
	}
}

// edges draws a run's wall, hatched away from the room, and its front edge.
func (s *sheet) edges(i int) {
	r := &s.runs[i]
	s.hatchedWall(&s.Pen, r.wall[0], r.wall[1], pen.At(-r.room.X, -r.room.Y))
	s.Line(r.front[0].X, r.front[0].Y, r.front[1].X, r.front[1].Y, pen.Stroke{Ink: pen.Ink, Width: 0.7})
}

func (s *sheet) hatchedWall(p *pen.Pen, a, b, out pen.Point) {
	p.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
	d, l := unit(a, b), distance(a, b)
	hatching := make([]pen.Point, 0, 2*int(l/1.6)+2)
	for t := 0.6; t+1 < l; t += 1.6 {
		from := move(a, d, t)
		hatching = append(hatching, from, move(move(from, d, 1), out, 1.3))
	}
	p.Lines(hatching, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
}

// grain draws lines along a piece, with a gap round every label.
func (s *sheet) grain(i int) {
	r := &s.runs[i]
	depth := s.depth(i)
	step := math.Max(2.2, depth/14)
	var lines []pen.Point
	for across := step / 2; across < depth; across += step {
		base := move(r.wall[0], r.room, across)
		var cuts []float64
		for k, p := range r.outline {
			q := r.outline[(k+1)%len(r.outline)]
			hp := (p.X-base.X)*r.room.X + (p.Y-base.Y)*r.room.Y
			hq := (q.X-base.X)*r.room.X + (q.Y-base.Y)*r.room.Y
			if (hp > 0) != (hq > 0) {
				x := pen.At(p.X+(q.X-p.X)*hp/(hp-hq), p.Y+(q.Y-p.Y)*hp/(hp-hq))
				cuts = append(cuts, (x.X-base.X)*r.along.X+(x.Y-base.Y)*r.along.Y)
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k += 2 {
			lines = s.grainLine(lines, segment{move(base, r.along, cuts[k]+0.8), move(base, r.along, cuts[k+1]-0.8)})
		}
	}
	s.Lines(lines, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
}

// grainLine adds the parts of one line of grain that no label covers.
func (s *sheet) grainLine(lines []pen.Point, l segment) []pen.Point {
	type gap struct{ from, to float64 }
	var gaps []gap
	whole := drawn{l, round(l.a, l.b)}
	for i := range s.ground.boxes {
		b := s.ground.boxes[i].grow(0.5)
		if whole.beside(&b) {
			continue
		}
		if from, to, hit := clip(l, b); hit {
			gaps = append(gaps, gap{from, to})
		}
	}
	slices.SortFunc(gaps, func(a, b gap) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	at := 0.0
	draw := func(from, to float64) {
		if (to-from)*distance(l.a, l.b) > 0.8 {
			lines = append(lines, pen.At(l.a.X+(l.b.X-l.a.X)*from, l.a.Y+(l.b.Y-l.a.Y)*from), pen.At(l.a.X+(l.b.X-l.a.X)*to, l.a.Y+(l.b.Y-l.a.Y)*to))
		}
	}
	for _, g := range gaps {
		draw(at, g.from)
		at = math.Max(at, g.to)
	}
	draw(at, 1)
	return lines
}
