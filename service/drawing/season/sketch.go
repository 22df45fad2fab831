package season

import (
	"math"
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/plan"
)

// sketch is a corner, or a straight top, seen from above in one season beside what it was as made, with all changes larger than they
// are. The place of a run's wood is exact: across the grain it moves away from the line at which its base holds it, by its strain
// times the distance; along the grain it hardly moves. Pieces that are free to swing turn until their seam is shut.
type sketch struct {
	legs     []leg // one or two
	seam     [2]spot
	held     spot // on the seam
	opens    estimate.Candidate
	corner   bool
	straight bool    // the corner is a straight seam
	times    float64 // how many times as large as it is a change is drawn
}

// spot is a point as the plan is drawn: millimetres, the first run's wall at the top, y down.
type spot struct{ x, y float64 }

func spotOf(p plan.Point) spot      { return spot{-float64(p.X), float64(p.Y)} }
func (a spot) plus(b spot) spot     { return spot{a.x + b.x, a.y + b.y} }
func (a spot) minus(b spot) spot    { return spot{a.x - b.x, a.y - b.y} }
func (a spot) times(k float64) spot { return spot{a.x * k, a.y * k} }
func (a spot) dot(b spot) float64   { return a.x*b.x + a.y*b.y }
func (a spot) cross(b spot) float64 { return a.x*b.y - a.y*b.x }
func (a spot) unit() spot           { return a.times(1 / max(math.Hypot(a.x, a.y), 1e-9)) }
func (a spot) turned(by float64) spot {
	sin, cos := math.Sincos(by)
	return spot{a.x*cos - a.y*sin, a.x*sin + a.y*cos}
}

// leg is one piece at the corner.
type leg struct {
	outline     []spot // cut off away from the corner
	wall        [2]spot
	along, room spot // unit vectors, from the wall's start
	depth, gap  float64
	fixed       float64 // from the wall to the line that does not move
	dry, humid  float64 // strains
}

// exaggerations are the factors to choose from: the largest that leaves a picture that is understood.
var exaggerations = []float64{100, 50, 20, 10, 5, 2, 1}

// mostChange is how large a change may be drawn, as a share of the width.
const mostChange = 0.2

// sketchOf is the sketch of a corner; nil when nothing moves. A straight top has no corner.
func sketchOf(e *estimate.Estimate, corner int) *sketch {
	s := &sketch{}
	wall, front := e.Chain()
	first, last := corner, corner+1
	if s.corner = corner < len(e.Corners); !s.corner {
		first, last = 0, 0
	}
	most, reach := 0.0, 0.0
	for i := first; i <= last; i++ {
		m := &e.Runs[i].Movement
		most = max(most, math.Abs(m.DryStrain), math.Abs(m.HumidStrain))
		reach = max(reach, 1.7*float64(e.Runs[i].Depth))
	}
	if most == 0 {
		return nil
	}
	s.times = 1
	for _, f := range exaggerations {
		if f*most <= mostChange {
			s.times = f
			break
		}
	}
	lines := []hardware.Hold{e.Runs[first].Movement.FixedLine, e.Runs[last].Movement.FixedLine}
	if s.corner {
		c := chosen(&e.Corners[corner])
		if c == nil || len(c.Geometry.SeamPath) < 2 {
			return nil
		}
		s.straight = c.Joint.Kind == plan.Straight
		s.opens, lines = *c, []hardware.Hold{c.Movement.FirstLine, c.Movement.SecondLine}
		path := c.Geometry.SeamPath
		s.seam = [2]spot{spotOf(path[0]), spotOf(path[len(path)-1])}
		switch c.Movement.HoldAt {
		case hardware.HoldFront:
			s.held = s.seam[0]
		case hardware.HoldBack:
			s.held = s.seam[1]
		default:
			s.held = s.seam[0].plus(s.seam[1]).times(0.5)
		}
	}
	for i := first; i <= last; i++ {
		l := legOf(e, i, [4]plan.Point{wall[i], wall[i+1], front[i], front[i+1]}, lines[i-first], s.times)
		from, to := 0.0, l.wall[1].minus(l.wall[0]).dot(l.along)
		switch {
		case !s.corner:
			from, to = to/2-reach/2, to/2+reach/2
		case i == corner:
			from = to - reach
			to = math.Inf(1)
		default:
			from, to = math.Inf(-1), reach
		}
		l.crop(from, to)
		s.legs = append(s.legs, l)
	}
	return s
}

func chosen(c *estimate.CornerResult) *estimate.Candidate {
	for i := range c.Candidates {
		if c.Candidates[i].Joint == c.Chosen {
			return &c.Candidates[i]
		}
	}
	return nil
}

func legOf(e *estimate.Estimate, i int, ends [4]plan.Point, line hardware.Hold, times float64) leg {
	r := &e.Runs[i]
	l := leg{wall: [2]spot{spotOf(ends[0]), spotOf(ends[1])}, depth: float64(r.Depth),
		gap: float64(r.Movement.WallGap-r.Movement.Swing) * times,
		dry: r.Movement.DryStrain, humid: r.Movement.HumidStrain}
	l.along = l.wall[1].minus(l.wall[0]).unit()
	l.room = spot{-l.along.y, l.along.x}
	if spotOf(ends[2]).plus(spotOf(ends[3])).minus(l.wall[0]).minus(l.wall[1]).dot(l.room) < 0 {
		l.room = l.room.times(-1)
	}
	switch line {
	case hardware.HoldBack:
		l.fixed = 0
	case hardware.HoldCentre:
		l.fixed = l.depth / 2
	default:
		l.fixed = l.depth
	}
	for _, p := range r.Piece.Outline {
		l.outline = append(l.outline, spotOf(p))
	}
	return l
}

// crop keeps what lies between two distances along the run.
func (l *leg) crop(from, to float64) {
	l.outline = half(l.outline, l.wall[0], l.along, from, 1)
	l.outline = half(l.outline, l.wall[0], l.along, to, -1)
	long := l.wall[1].minus(l.wall[0]).dot(l.along)
	a, b := max(from, 0), min(to, long)
	l.wall = [2]spot{l.wall[0].plus(l.along.times(a)), l.wall[0].plus(l.along.times(b))}
}

// half keeps the part of a polygon whose distance along a direction is over a limit (side 1) or under it (−1).
func half(polygon []spot, base, along spot, limit, side float64) (kept []spot) {
	if math.IsInf(limit, 0) {
		return polygon
	}
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		hp, hq := (p.minus(base).dot(along)-limit)*side, (q.minus(base).dot(along)-limit)*side
		if hp >= 0 {
			kept = append(kept, p)
		}
		if (hp > 0) != (hq > 0) && hp != hq {
			kept = append(kept, p.plus(q.minus(p).times(hp/(hp-hq))))
		}
	}
	return kept
}

// moved is where a place of the leg's wood goes with a strain.
func (l *leg) moved(p spot, strain float64) spot {
	across := p.minus(l.wall[0]).dot(l.room)
	return p.plus(l.room.times((across - l.fixed) * strain))
}

// pieces are the legs' outlines in a season.
func (s *sketch) pieces(humid bool) (all [][]spot) {
	strain := func(l *leg) float64 {
		if humid {
			return l.humid * s.times
		}
		return l.dry * s.times
	}
	for i := range s.legs {
		l := &s.legs[i]
		var out []spot
		for _, p := range l.outline {
			out = append(out, l.moved(p, strain(l)))
		}
		all = append(all, out)
	}
	if !s.corner {
		return all
	}
	a, b := &s.legs[0], &s.legs[1]
	mine, other := func(p spot) spot { return a.moved(p, strain(a)) }, func(p spot) spot { return b.moved(p, strain(b)) }
	turn, at := s.joined(humid, mine, other)
	base, to := other(at), mine(at)
	for i, p := range all[1] {
		all[1][i] = p.minus(base).turned(turn).plus(to)
	}
	return all
}

// joined is by how much the second piece turns, and the place of the seam at which the two stay together.
func (s *sketch) joined(humid bool, mine, other func(spot) spot) (turn float64, at spot) {
	m := &s.opens.Movement
	opening := m.Dry.MaxOpening
	if humid {
		opening = m.Humid.MaxOpening
	}
	if m.Dry.MaxOpening == 0 && m.Humid.MaxOpening == 0 {
		return 0, s.held
	}
	if m.Restrained {
		if opening > 0 { // at the wall: they touch at the front
			return 0, s.seam[0]
		}
		return 0, s.seam[1]
	}
	u, v := other(s.seam[1]).minus(other(s.seam[0])), mine(s.seam[1]).minus(mine(s.seam[0]))
	return math.Atan2(u.cross(v), u.dot(v)), s.held
}

// Sizes of the sketches, in millimetres of paper.
const (
	sketchHeight  = 46.0
	stackedHeight = 27.0
	lowHeight     = 18.0
	sketchSpace   = 5.0
)

// sketches draws the dry and the humid season side by side, and returns where they end.
func (c *chart) sketches(x, y, w float64) float64 {
	s := c.sketch
	if s == nil {
		return y
	}
	y += 3
	each := (w - sketchSpace) / 2
	f := s.frame(each, sketchHeight)
	c.season(s, false, f, x, y, each)
	c.season(s, true, f, x+each+sketchSpace, y, each)
	return c.Paragraph(x, y+seasonHead+f.height+1.5, w, s.says(c.in), pen.Letters{Size: pen.Small})
}

// stacked draws them one under the other, each at most so high.
func (c *chart) stacked(x, y, w, high float64) float64 {
	s := c.sketch
	f := s.frame(w, high)
	for _, humid := range []bool{false, true} {
		c.season(s, humid, f, x, y, w)
		y += seasonHead + f.height + 2
	}
	return y - 2
}

// says what the sketches show.
func (s *sketch) says(in pen.Speech) string {
	times := strconv.FormatFloat(s.times, 'f', -1, 64)
	if !s.corner {
		return in.Say("A part of the top from above, with its changes drawn %s times as large as they are; dashed: as made.",
			times)
	}
	if s.straight {
		return in.Say("The seam from above, with its changes drawn %s times as large as they are; dashed: as made.", times)
	}
	return in.Say("The corner from above, with its changes drawn %s times as large as they are; dashed: as made.", times)
}

const seasonHead = 5.0 // the name of a season over its sketch

// season draws the sketch of a season under its name.
func (c *chart) season(s *sketch, humid bool, f frame, x, y, w float64) {
	head, ink, fill := c.in.Say("dry season"), pen.Dry, pen.White
	if humid {
		head, ink, fill = c.in.Say("humid season"), pen.Humid, pen.Humid
	}
	c.Circle(x+1.4, y+1.9, 1.3, pen.Stroke{Ink: ink, Width: 0.5, Fill: fill})
	l := pen.Letters{Size: pen.Body, Bold: true, Ink: ink}
	c.Text(x+4, y+3.1, pen.Fit(capital(head), w-5, l), l)
	c.panel(s, humid, f, x, y+seasonHead, ink)
}

// frame puts a sketch on the paper.
type frame struct {
	lo            spot
	scale, height float64
	shift         float64
}

// frame finds the scale at which both seasons have room.
func (s *sketch) frame(w, h float64) frame {
	lo, hi := spot{math.Inf(1), math.Inf(1)}, spot{math.Inf(-1), math.Inf(-1)}
	reach := func(p spot) {
		lo, hi = spot{min(lo.x, p.x), min(lo.y, p.y)}, spot{max(hi.x, p.x), max(hi.y, p.y)}
	}
	for _, humid := range []bool{false, true} {
		for _, piece := range s.pieces(humid) {
			for _, p := range piece {
				reach(p)
			}
		}
	}
	for _, line := range s.walls() {
		reach(line[0])
		reach(line[1])
	}
	const margin = 2.0 // the hatching of walls
	k := min((w-2*margin)/(hi.x-lo.x), (h-2*margin)/(hi.y-lo.y))
	return frame{lo: lo.minus(spot{margin / k, margin / k}), scale: k, height: (hi.y-lo.y)*k + 2*margin,
		shift: (w - 2*margin - (hi.x-lo.x)*k) / 2}
}

// walls are where the walls stand, with the gap before them as large as the changes are drawn; at the corner they meet.
func (s *sketch) walls() (lines [][2]spot) {
	for i := range s.legs {
		l := &s.legs[i]
		out := l.room.times(-l.gap)
		lines = append(lines, [2]spot{l.wall[0].plus(out), l.wall[1].plus(out)})
	}
	if len(lines) == 2 {
		a, b := &s.legs[0], &s.legs[1]
		if turn := a.along.cross(b.along); math.Abs(turn) > 1e-6 {
			meet := lines[0][1].plus(a.along.times(lines[1][0].minus(lines[0][1]).cross(b.along) / turn))
			lines[0][1], lines[1][0] = meet, meet
		}
	}
	return lines
}

func (c *chart) panel(s *sketch, humid bool, f frame, x, y float64, ink string) {
	at := func(p spot) pen.Point {
		return pen.At(x+f.shift+(p.x-f.lo.x)*f.scale, y+(p.y-f.lo.y)*f.scale)
	}
	paper := func(list []spot) (points []pen.Point) {
		for _, p := range list {
			points = append(points, at(p))
		}
		return points
	}
	for i, line := range s.walls() {
		l := &s.legs[i]
		c.Poly(paper(line[:]), true, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
		c.hatch(at(line[0]), at(line[1]), at(line[0].minus(l.room.times(1.6/f.scale))))
	}
	pieces := s.pieces(humid)
	for _, piece := range pieces {
		c.Poly(paper(piece), false, pen.Stroke{Ink: ink, Width: 0.4, Fill: pen.Wood})
	}
	for i := range s.legs {
		c.Poly(paper(slices.Clone(s.legs[i].outline)), false, pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "1.2 0.9"})
	}
}

// hatch marks a wall from a to b; away is beside a, out of the room.
func (c *chart) hatch(a, b, away pen.Point) {
	out := pen.At(away.X-a.X, away.Y-a.Y)
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	var ends []pen.Point
	for t := 0.5; t < l; t += 1.8 {
		p := pen.At(a.X+(b.X-a.X)*t/l, a.Y+(b.Y-a.Y)*t/l)
		q := pen.At(a.X+(b.X-a.X)*min(1, (t+1)/l)+out.X, a.Y+(b.Y-a.Y)*min(1, (t+1)/l)+out.Y)
		ends = append(ends, p, q)
	}
	c.Lines(ends, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
}
