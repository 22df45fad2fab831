package plan

import (
	"math"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

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
	if whole := e.to - e.from; math.Abs(float64(whole-e.wall())) > float64(s.least64()) &&
		math.Abs(float64(whole-(to-from))) > float64(s.least64()) {
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
	p.endNames(beside)
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
	s.tryAmong(s.spots(p.index), label, bold, func(b box) bool {
		c := pen.At((b.x0+b.x1)/2, (b.y0+b.y1)/2)
		for i := range p.holes {
			if inside(p.holes[i].corners, c) {
				return false
			}
		}
		return inside(s.runs[p.index].outline, c)
	})
}

// endNames say at either end what it is; at the start beyond the dimension of the depth, which stands so far from it, or 0.
func (p *piece) endNames(depth float64) {
	off := 3.0
	if depth > 0 {
		off = depth + 6
	}
	s, r := p.sheet, &p.runs[p.index]
	for i, word := range p.ends() {
		l := pen.Letters{Size: pen.Small}
		w, _ := size([]string{word}, l)
		sign, at := -1.0, p.tip(false)
		if i == 1 {
			sign, at = 1, p.tip(true)
		}
		side := move(at, r.room, s.depth(p.index)/2)
		ups := []float64{0, -8, 8, -14, 14}
		if i == 0 && depth > 0 {
			ups = []float64{-8, 8, -14, 14, 0} // first off the figure of the depth, with which it would read as one
		}
		var places []pen.Point
		for _, far := range []float64{3, off, off + 3} {
			for _, up := range ups {
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
		if p.est.InLine(k) {
			return p.say("seam %s", strconv.Itoa(k+1))
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
			for _, dir := range []pen.Point{{X: math.Copysign(1, d.X), Y: math.Copysign(1, d.Y)},
				{X: math.Copysign(1, d.X), Y: 0}, {X: 0, Y: math.Copysign(1, d.Y)},
				{X: -math.Copysign(1, d.X), Y: math.Copysign(1, d.Y)}, d} {
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
	sizes := s.holeSize(h)
	s.box(h)
	const small = 5.0 // mm of paper: in less no figure finds room, and the table under the drawing has them all
	if min(distance(h.corners[0], h.corners[1]), distance(h.corners[1], h.corners[2])) < small {
		s.mark(c, h.name+" "+sizes+": "+s.holePlace(h))
		return
	}
	if l, d := distance(h.corners[0], h.corners[1]), distance(h.corners[1],
		h.corners[2]); !s.tryAt([]pen.Point{move(move(c, r.along, l/4), r.room, d/4),
		move(move(c, r.along, -l/4), r.room, d/4), move(c, r.room, d/4)}, []string{h.name, sizes}, plain, nil) {
		s.leader(c, []string{h.name, sizes}, plain, 30)
	}
	edge := func(from, to pen.Point, n pen.Point, l measure.Length, open bool, what string) {
		if open || l < s.least64() {
			return
		}
		for _, share := range []float64{0.3, 0.7, 0.15, 0.85, 0.42} {
			if s.dimension(move(from, n, distance(h.corners[0], h.corners[1])*share),
				move(to, n, distance(h.corners[0], h.corners[1])*share), n, s.text(l), []float64{0}) {
				return
			}
		}
		s.mark(middle(from, to), h.name+", "+what+": "+s.text(l))
	}
	depth := s.est.Runs[p.index].Depth
	k := 1 / float64(s.ratio)
	edge(h.corners[0], move(h.corners[0], r.room, float64(h.fromFront)*k), r.along, h.fromFront, h.open[0],
		s.say("from the front edge"))
	wall := depth - h.fromFront - h.depth
	edge(h.corners[3], move(h.corners[3], r.room, -float64(wall)*k), r.along, wall, h.open[2], s.say("from the wall edge"))
	if !s.alongSize(h) {
		s.mark(middle(h.corners[0], h.corners[2]), h.name+": "+s.holePlace(h))
	}
}
