package plan

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	layout "seamwright/service/plan"
)

// PieceSheet is what a bench sheet of one piece shows, by itself and true to scale: every length is from its own ends and edges.
type PieceSheet struct {
	Above, Below []byte      // pictures: the piece from above with its dimensions, and from below with what is cut into its underside
	Marks        []string    // what the marks in them mean
	Corners      [][3]string // number, from the start's tip along the piece, from the front edge
	Diagonals    [2]string   // from the first corner at the wall to the front at the far end, and the other one
	VisibleFront string
	Ends         [2]string // what its ends are, from start to end
	Free         [2]bool   // and which of them are free
	Cutouts      []PieceCutout
	Fixings      []PieceRow
}

// PieceCutout is a cut-out as a tape finds it on its piece. A distance is empty where the cut-out is open at that side.
type PieceCutout struct {
	Name, Size                              string
	FromStart, FromEnd, FromFront, FromWall string // to its nearer side; from the piece's tips and edges
	CentreStart, CentreFront                string // to its middle
}

// PieceRow is a row of base fixings.
type PieceRow struct {
	FromFront string
	FromStart []string       // from the piece's tip at its start
	Play      measure.Length // across the run, at least
	Fixed     bool           // it has none
}

// Piece draws run i's piece for paper of a width; see Options.Width and Screen. It returns a NotFound fault when there is no such run.
func Piece(e *estimate.Estimate, i int, o Options) (*PieceSheet, error) {
	if i < 0 || i >= len(e.Runs) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no piece " + strconv.Itoa(i+1) + "; this top has " + strconv.Itoa(len(e.Runs)) + "."}
	}
	above, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	below, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	p := &PieceSheet{}
	one := piece{sheet: above, index: i, out: p}
	p.Above = one.draw(false)
	one.tell()
	other := piece{sheet: below, index: i, out: p}
	other.marks = above.marks // letters go on
	p.Below = other.draw(true)
	p.Marks = append(above.legend, below.legend...)
	return p, nil
}

// piece is one piece being drawn.
type piece struct {
	*sheet
	index int
	out   *PieceSheet
	holes []hole
	turn  float64 // 1: its start is at the left; −1: at the right
	local []local // its corners
}

// local is a place on a piece: along it from the tip at its start, and from its front edge.
type local struct{ along, front measure.Length }

const pieceMargin = 24.0 // beside a piece, for its dimensions

// draw puts the piece on the paper, its wall edge at the top, as it is seen from above by somebody who stands at its front, or
// from below after it was turned end over end.
func (p *piece) draw(below bool) []byte {
	s := p.sheet
	s.bare = true
	wall, front := s.est.Chain()
	a, b := wall[p.index], wall[p.index+1]
	l := a.Distance(b)
	ux, uy := (b.X-a.X)/l, (b.Y-a.Y)/l
	rx, ry := -uy, ux // into the room
	if (front[p.index].X-a.X)*rx+(front[p.index].Y-a.Y)*ry < 0 {
		rx, ry = -rx, -ry
	}
	// Whoever faces the wall looks along −r; to the right is (−r) turned clockwise.
	p.turn = 1
	if ux*-ry+uy*rx < 0 {
		p.turn = -1
	}
	if below {
		p.turn = -p.turn
	}
	e := extentOf(s.est.Runs[p.index].Piece.Outline, a, b)
	depth := s.est.Runs[p.index].Depth
	s.ratio = pen.ChooseScale(s.inches(), float64(e.to-e.from), float64(depth), s.width-2*pieceMargin, 46)
	k := 1 / float64(s.ratio)
	wide := float64(e.to-e.from) * k
	title, id := s.say("From above"), "piece-"+strconv.Itoa(p.index+1)
	if below {
		title, id = s.say("From below, turned end over end, at the same scale: what is cut into the underside"), id+"-below"
	}
	if s.o.Narrow {
		id += "-narrow"
	} else if s.o.Screen {
		id += "-screen"
	}
	top := s.Paragraph(s.frame, s.frame-pen.Head*0.3, s.width, title, pen.Letters{Size: pen.Head, Bold: true})
	s.ground.edge.y0 = top
	switch {
	case below:
		top += 4
	case e.to-e.wallTo > s.least64() || e.wallFrom-e.from > s.least64():
		top += 15 // a second line of dimensions
	default:
		top += 9
	}
	left := s.frame + (s.width-wide)/2
	s.at = func(px, py measure.Length) pen.Point {
		dx, dy := px-a.X, py-a.Y
		along := float64(dx*ux+dy*uy-e.from) * k
		if p.turn < 0 {
			along = wide - along
		}
		return pen.At(left+along, top+float64(dx*rx+dy*ry)*k)
	}
	s.ground.edge = box{s.frame, s.ground.edge.y0, s.frame + s.width, top + float64(depth)*k + 34}
	s.layOut()
	for _, q := range s.est.Runs[p.index].Piece.Outline {
		dx, dy := q.X-a.X, q.Y-a.Y
		p.local = append(p.local, local{dx*ux + dy*uy - e.from, depth - (dx*rx + dy*ry)})
	}
	p.find()
	if below {
		p.underside()
	} else {
		p.sizes()
	}
	y := s.ground.bottom() + 3
	s.grain(p.index)
	for _, h := range p.holes {
		look := pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White}
		s.Poly(h.corners, false, look)
	}
	r := &s.runs[p.index]
	s.Poly(r.outline, false, pen.Stroke{Ink: pen.Ink, Width: pen.Thick})
	for n := range p.holes {
		s.openings(&p.holes[n])
	}
	if !below {
		y = s.ScaleBar(s.frame, y, s.width, s.ratio, s.inches(), !s.o.Narrow && !s.o.Screen, s.o.Speech)
	}
	s.Append(&s.notes)
	return s.Document(s.width+2*s.frame, y, id, s.say("Piece %s", s.name(p.index))+": "+title, s.say("Lengths in %s.", s.unit()))
}

// find puts the piece and its cut-outs on the ground.
func (p *piece) find() {
	s, r := p.sheet, &p.runs[p.index]
	s.Poly(r.outline, false, pen.Stroke{Fill: pen.Wood})
	for k, q := range r.outline {
		s.ground.line(q, r.outline[(k+1)%len(r.outline)])
	}
	for i := range s.est.Cutouts {
		h, ok := s.hole(&s.est.Cutouts[i])
		if !ok || h.run != p.index {
			continue
		}
		p.holes = append(p.holes, h)
		for k, q := range h.corners {
			s.ground.line(q, h.corners[(k+1)%4])
		}
	}
}

// tip is the place on the wall's line over the piece's tip at its start or end.
func (p *piece) tip(end bool) pen.Point {
	r := &p.runs[p.index]
	if end {
		return move(r.wall[0], r.along, float64(r.piece.to)/float64(p.ratio))
	}
	return move(r.wall[0], r.along, float64(r.piece.from)/float64(p.ratio))
}

// frontEdge are the ends of the piece's own front edge, along its wall from the run's start.
func (p *piece) frontEdge() (from, to measure.Length) {
	const hair = 0.01 // mm
	from, to = measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
	start := p.runs[p.index].piece.from
	for _, c := range p.local {
		if math.Abs(float64(c.front)) < hair {
			from, to = min(from, c.along+start), max(to, c.along+start)
		}
	}
	return from, to
}

// sizes are the piece's dimensions: its edges, its depth, how its ends lean, its cut-outs and its corners' numbers.
func (p *piece) sizes() {
	s, r := p.sheet, &p.runs[p.index]
	room, out := r.room, pen.At(-r.room.X, -r.room.Y)
	k := 1 / float64(s.ratio)
	on := func(along, across measure.Length) pen.Point {
		return move(move(r.wall[0], r.along, float64(along)*k), room, float64(across)*k)
	}
	depth := s.est.Runs[p.index].Depth
	from, to := p.frontEdge()
	e := &r.piece
	p.name()
	s.size(on(e.wallFrom, 0), on(e.wallTo, 0), out, e.wall(), []float64{5, 7}, s.say("Wall edge"))
	if to > from {
		s.size(on(from, depth), on(to, depth), room, to-from, []float64{5, 7}, s.say("Front edge"))
	}
	if whole := e.to - e.from; math.Abs(float64(whole-e.wall())) > float64(s.least64()) && math.Abs(float64(whole-(to-from))) > float64(s.least64()) {
		s.size(on(e.from, 0), on(e.to, 0), out, whole, []float64{11, 13}, s.say("Tip to tip"))
	}
	away := pen.At(-r.along.X, -r.along.Y)
	beside := s.beside(s.text(depth), away) + 1
	s.size(on(e.from, depth), on(e.from, 0), away, depth, []float64{beside, beside + 3}, s.say("Depth"))
	// How far an end's front corner lies within its tip.
	for _, end := range [][2]measure.Length{{e.from, from}, {to, e.to}} {
		if end[1]-end[0] > s.least64() {
			s.size(on(end[0], depth), on(end[1], depth), room, end[1]-end[0], []float64{11, 13}, s.say("End, along the front"))
		}
	}
	for _, end := range [][2]measure.Length{{e.from, e.wallFrom}, {e.wallTo, e.to}} {
		if end[1]-end[0] > s.least64() {
			s.size(on(end[0], 0), on(end[1], 0), out, end[1]-end[0], []float64{5, 11, 13}, s.say("End, along the wall"))
		}
	}
	for i := range p.holes {
		p.holeSizes(&p.holes[i])
	}
	p.bevels()
	p.numbers()
	p.endNames(beside + 6)
}

// size is a dimension, or a mark where it has no room.
func (s *sheet) size(a, b, n pen.Point, l measure.Length, offsets []float64, what string) {
	if !s.dimension(a, b, n, s.text(l), offsets) {
		s.mark(middle(a, b), what+": "+s.text(l))
	}
}

func (p *piece) name() {
	s := p.sheet
	bold := pen.Letters{Size: pen.Head, Bold: true}
	label := []string{fitted(s.est.Runs[p.index].Name, 40, bold)}
	s.tryAt(s.spots(p.index), label, bold, func(b box) bool {
		c := pen.At((b.x0+b.x1)/2, (b.y0+b.y1)/2)
		for i := range p.holes {
			if inside(p.holes[i].corners, c) {
				return false
			}
		}
		return inside(s.runs[p.index].outline, c)
	})
}

// endNames say at either end what it is, beside the dimension of the depth.
func (p *piece) endNames(off float64) {
	s, r := p.sheet, &p.runs[p.index]
	for i, word := range p.ends() {
		l := pen.Letters{Size: pen.Small}
		w, _ := size([]string{word}, l)
		sign, at := -1.0, p.tip(false)
		if i == 1 {
			sign, at = 1, p.tip(true)
		}
		side := move(at, r.room, s.depth(p.index)/2)
		var places []pen.Point
		for _, far := range []float64{3, off, off + 3} {
			for _, up := range []float64{0, -8, 8, -14, 14} {
				places = append(places, move(move(side, r.along, sign*(far+w/2)), r.room, up))
			}
		}
		s.tryAt(places, []string{word}, l, nil)
	}
}

// ends say what the piece's ends are.
func (p *piece) ends() [2]string {
	name := func(k int) string {
		if k < 0 || k >= len(p.est.Corners) {
			return p.say("free")
		}
		return p.say("corner %s", strconv.Itoa(k+1))
	}
	return [2]string{name(p.index - 1), name(p.index)}
}

// numbers are the corners', outside the wood.
func (p *piece) numbers() {
	s, r := p.sheet, &p.runs[p.index]
	c := pen.At(0, 0)
	for _, q := range r.outline {
		c = pen.At(c.X+q.X/float64(len(r.outline)), c.Y+q.Y/float64(len(r.outline)))
	}
	l := pen.Letters{Size: pen.Small, Bold: true}
	for n, q := range r.outline {
		d := unit(c, q)
		var places []pen.Point
		for _, far := range []float64{2.8, 3.8, 5} {
			for _, dir := range []pen.Point{{X: math.Copysign(1, d.X), Y: math.Copysign(1, d.Y)}, {X: math.Copysign(1, d.X), Y: 0}, {X: 0, Y: math.Copysign(1, d.Y)}, {X: -math.Copysign(1, d.X), Y: math.Copysign(1, d.Y)}, d} {
				places = append(places, move(q, dir, far))
			}
		}
		s.tryAt(places, []string{strconv.Itoa(n + 1)}, l, nil)
	}
}

// bevels are the angles of the cut ends, in the wood at the wall.
func (p *piece) bevels() {
	s, r := p.sheet, &p.runs[p.index]
	one := &s.est.Runs[p.index].Piece
	k := 1 / float64(s.ratio)
	for i, a := range []measure.Angle{one.StartAngle, one.EndAngle} {
		text := s.degrees(a)
		sign, at := 1.0, move(r.wall[0], r.along, float64(r.piece.wallFrom)*k)
		if i == 1 {
			sign, at = -1, move(r.wall[0], r.along, float64(r.piece.wallTo)*k)
		}
		w, h := size([]string{text}, s.figures())
		var places []pen.Point
		for _, in := range []float64{1.2, 3, 6, 10} {
			for _, down := range []float64{1, 3, 6} {
				places = append(places, move(move(at, r.along, sign*(in+w/2)), r.room, down+h/2))
			}
		}
		if !s.tryAt(places, []string{text}, s.figures(), nil) {
			s.mark(move(at, r.room, 2), s.say("Angle at the wall, %s: %s", p.ends()[i], text))
		}
	}
}

// holeSizes write a cut-out's name and size in it, its centre marks, and its distances from the piece's tips and edges.
func (p *piece) holeSizes(h *hole) {
	s, r := p.sheet, &p.runs[p.index]
	c := middle(h.corners[0], h.corners[2])
	for _, d := range [][2]pen.Point{{r.along, h.corners[0]}, {r.room, h.corners[1]}} {
		half := distance(h.corners[0], h.corners[1])/2 + 1.6
		if d[0] == r.room {
			half = distance(h.corners[1], h.corners[2])/2 + 1.6
		}
		a, b := move(c, d[0], -half), move(c, d[0], half)
		s.ground.line(a, b)
		s.notes.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "3 0.8 0.6 0.8"})
	}
	plain := pen.Letters{Size: pen.Body}
	sizes := s.text(h.length) + " × " + s.text(h.depth)
	const small = 5.0 // mm of paper: in less no figure finds room, and the table under the drawing has them all
	if min(distance(h.corners[0], h.corners[1]), distance(h.corners[1], h.corners[2])) < small {
		s.mark(c, h.name+" "+sizes+": "+s.holePlace(h))
		return
	}
	if l, d := distance(h.corners[0], h.corners[1]), distance(h.corners[1], h.corners[2]); !s.tryAt([]pen.Point{move(move(c, r.along, l/4), r.room, d/4), move(move(c, r.along, -l/4), r.room, d/4), move(c, r.room, d/4)}, []string{h.name, sizes}, plain, nil) {
		s.leader(c, []string{h.name, sizes}, plain, 30)
	}
	edge := func(from, to pen.Point, n pen.Point, l measure.Length, open bool, what string) {
		if open || l < s.least64() {
			return
		}
		for _, share := range []float64{0.3, 0.7, 0.15, 0.85, 0.42} {
			if s.dimension(move(from, n, distance(h.corners[0], h.corners[1])*share), move(to, n, distance(h.corners[0], h.corners[1])*share), n, s.text(l), []float64{0}) {
				return
			}
		}
		s.mark(middle(from, to), h.name+", "+what+": "+s.text(l))
	}
	depth := s.est.Runs[p.index].Depth
	k := 1 / float64(s.ratio)
	edge(h.corners[0], move(h.corners[0], r.room, float64(h.fromFront)*k), r.along, h.fromFront, h.open[0], s.say("from the front edge"))
	wall := depth - h.fromFront - h.depth
	edge(h.corners[3], move(h.corners[3], r.room, -float64(wall)*k), r.along, wall, h.open[2], s.say("from the wall edge"))
	s.alongSize(h)
}

// underside draws what is cut into the piece from below: recesses and channels, pockets, slots in its joint faces, and where the
// base's fixings are.
func (p *piece) underside() {
	s := p.sheet
	p.name()
	p.endNames(3)
	for k := range s.est.Corners {
		if k != p.index && k != p.index-1 {
			continue
		}
		if c := s.chosen(k); c != nil && c.Hardware.Feasible && len(c.Geometry.SeamPath) > 1 {
			p.seam(k, c)
		}
	}
	r := &s.runs[p.index]
	scale := 1 / float64(s.ratio)
	for i := range s.est.Fixing.Runs {
		f := &s.est.Fixing.Runs[i]
		if f.Run != s.est.Runs[p.index].Name {
			continue
		}
		for _, one := range f.Places {
			q := move(move(r.wall[0], r.along, float64(one.Along)*scale), r.room, float64(s.est.Runs[p.index].Depth-one.FromFront)*scale)
			for _, d := range []pen.Point{{X: 0.9, Y: 0.9}, {X: 0.9, Y: -0.9}} {
				s.notes.Line(q.X-d.X, q.Y-d.Y, q.X+d.X, q.Y+d.Y, pen.Stroke{Ink: pen.Ink, Width: 0.2})
			}
			s.ground.boxes = append(s.ground.boxes, around(q, 1.8, 1.8))
		}
	}
}

// seam draws the parts of a seam that are in the piece. Distances count along the seam from its front end.
func (p *piece) seam(k int, c *estimate.Candidate) {
	s, scale := p.sheet, 1/float64(p.ratio)
	path := make([]pen.Point, len(c.Geometry.SeamPath))
	for i, q := range c.Geometry.SeamPath {
		path[i] = s.place(q)
	}
	r := &s.runs[p.index]
	at := func(l measure.Length) (q, d, in pen.Point) {
		left := float64(l) * scale
		for i := 1; ; i++ {
			step := distance(path[i-1], path[i])
			if left <= step || i == len(path)-1 {
				d = unit(path[i-1], path[i])
				q, in = move(path[i-1], d, left), pen.At(-d.Y, d.X)
				if !inside(r.outline, move(q, in, 0.4)) {
					in = pen.At(-in.X, -in.Y)
				}
				return q, d, in
			}
			left -= step
		}
	}
	poly := func(q, d, in pen.Point, half, from, to float64, look pen.Stroke) {
		a, b := move(q, in, from), move(q, in, to)
		s.notes.Poly([]pen.Point{move(a, d, -half), move(a, d, half), move(b, d, half), move(b, d, -half)}, false, look)
	}
	cut := pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White}
	hidden := pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "1 0.6"}
	h := &c.Hardware
	for i, l := range h.Alignment.Positions {
		q, d, in := at(l)
		poly(q, d, in, float64(h.Alignment.SlotWidths[i])/2*scale, 0, float64(h.Alignment.Part.Length)/2*scale, hidden)
	}
	for g := range h.Pull.Groups {
		group := &h.Pull.Groups[g]
		_, wide := group.Cuts()
		for i, l := range group.Positions {
			q, d, in := at(l)
			f := &group.Part
			if group.Kind.Form() == catalogue.Pocketed {
				if p.bored(k, c) {
					seat, rim := float64(hardware.PocketSeat(f))*scale, float64(hardware.PocketRim(f, s.est.Made.Thickness))*scale
					poly(q, d, in, float64(f.BoreDiameter)/2*scale, seat, rim, cut)
					poly(q, d, in, math.Max(float64(wide[i])/2*scale, 0.2), 0, seat, hidden)
				}
				continue
			}
			reach, half := float64(f.RecessDistance)*scale, float64(f.RecessDiameter)/2*scale
			long := half
			if i < len(group.Recesses) {
				long = math.Max(long, float64(group.Recesses[i])/2*scale)
			}
			poly(q, d, in, math.Max(float64(wide[i])/2*scale, 0.2), 0, reach, cut)
			if long > half {
				poly(q, d, in, long, reach-half, reach+half, cut)
			} else {
				o := move(q, in, reach)
				s.notes.Circle(o.X, o.Y, half, cut)
			}
		}
	}
	q, _, in := at(c.Geometry.SeamLength / 2)
	label := s.say("see the seam at corner %s", strconv.Itoa(k+1))
	l := pen.Letters{Size: pen.Small}
	w, _ := size([]string{label}, l)
	var places []pen.Point
	for _, far := range []float64{1.5, 4, 8} {
		for _, up := range []float64{0, -8, 8, -14, 14, 20} {
			places = append(places, move(move(q, pen.At(-math.Copysign(1, in.X), 0), far+w/2), pen.At(0, 1), up))
		}
	}
	s.tryAt(places, []string{label}, l, nil)
}

// bored reports whether the pockets of a corner are bored into this piece: into the one that stops, of a miter into the first.
func (p *piece) bored(k int, c *estimate.Candidate) bool {
	if c.Joint.Through == layout.First {
		return p.index == k+1
	}
	return p.index == k
}

// tell writes down what stands beside the drawing.
func (p *piece) tell() {
	s, r := p.sheet, &p.runs[p.index]
	var far [4]local // wall start, wall end, front start, front end
	from, to := p.frontEdge()
	depth := s.est.Runs[p.index].Depth
	far = [4]local{{r.piece.wallFrom, depth}, {r.piece.wallTo, depth}, {from, 0}, {to, 0}}
	across := func(a, b local) string {
		return s.text(measure.Length(math.Hypot(float64(b.along-a.along), float64(b.front-a.front))))
	}
	p.out.Diagonals = [2]string{across(far[0], far[3]), across(far[1], far[2])}
	for n, c := range p.local {
		p.out.Corners = append(p.out.Corners, [3]string{strconv.Itoa(n + 1), s.text(c.along), s.text(c.front)})
	}
	p.out.VisibleFront, p.out.Ends, p.out.Free = s.text(r.frontLength), p.ends(), [2]bool{p.index == 0, p.index == len(s.est.Corners)}
	for i := range p.holes {
		h := &p.holes[i]
		wall := depth - h.fromFront - h.depth
		told := func(l measure.Length, side int) string {
			if h.open[side] {
				return s.say("open")
			}
			return s.text(l)
		}
		p.out.Cutouts = append(p.out.Cutouts, PieceCutout{Name: h.name, Size: s.text(h.length) + " × " + s.text(h.depth),
			FromStart: told(h.fromStart, 3), FromEnd: told(h.fromEnd, 1), FromFront: told(h.fromFront, 0), FromWall: told(wall, 2),
			CentreStart: s.text(h.fromStart + h.length/2), CentreFront: s.text(h.fromFront + h.depth/2)})
	}
	for i := range s.est.Fixing.Runs {
		f := &s.est.Fixing.Runs[i]
		if f.Run != s.est.Runs[p.index].Name {
			continue
		}
		for _, row := range f.Rows {
			one := PieceRow{FromFront: s.text(row.FromFront), Play: row.SlotLength, Fixed: row.SlotLength == 0}
			for k := range f.Places {
				if place := &f.Places[k]; place.FromFront.Near(row.FromFront) {
					text := s.text(place.Along - r.piece.from)
					if place.SlotAlong > 0 {
						text += " (" + s.least(place.SlotAcross) + " × " + s.least(place.SlotAlong) + ")"
					}
					one.FromStart = append(one.FromStart, text)
				}
			}
			if len(f.Places) == 0 { // answers from before places were told
				one.FromStart = []string{s.say("%s, evenly", strconv.Itoa(f.Along))}
			}
			p.out.Fixings = append(p.out.Fixings, one)
		}
	}
}
