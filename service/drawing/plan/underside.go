package plan

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/template"
)

// underside draws what is cut into the piece from below: recesses and channels, pockets, slots in its joint faces, and where the
// base's fixings are.
func (p *piece) underside() {
	s := p.sheet
	p.name()
	p.endNames(0)
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
	p.hollows()
	p.standsBelow()
	for i := range s.est.Fixing.Runs {
		f := &s.est.Fixing.Runs[i]
		if f.Run != s.est.Runs[p.index].Name {
			continue
		}
		for _, one := range f.Places {
			q := move(move(r.wall[0], r.along, float64(one.Along)*scale), r.room,
				float64(s.est.Runs[p.index].Depth-one.FromFront)*scale)
			for _, d := range []pen.Point{{X: 0.9, Y: 0.9}, {X: 0.9, Y: -0.9}} {
				s.notes.Line(q.X-d.X, q.Y-d.Y, q.X+d.X, q.Y+d.Y, pen.Stroke{Ink: pen.Ink, Width: 0.2})
			}
			s.ground.keep(around(q, 1.8, 1.8))
		}
	}
}

// hollows draws where nothing lies under a slab with a built-up edge.
func (p *piece) hollows() {
	s := p.sheet
	r, scale := &s.runs[p.index], 1/float64(s.ratio)
	one := &s.est.Runs[p.index]
	for i := range one.Piece.Hollows {
		h := &one.Piece.Hollows[i]
		corner := func(along, front measure.Length) pen.Point {
			return move(move(r.wall[0], r.along, float64(along)*scale), r.room, float64(one.Depth-front)*scale)
		}
		s.ring(&s.notes, []pen.Point{corner(h.From, h.Front), corner(h.To, h.Front), corner(h.To, h.Back), corner(h.From, h.Back)},
			pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "2.4 0.8 0.6 0.8"})
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
	cuts := make([]cut, 0, 16)
	for _, shape := range template.Beside(s.est, k, p.index) {
		if look := belowOf(hardware.Feature(shape.Feature)); look != nil {
			cuts = append(cuts, cut{shape, look})
		}
	}
	slices.SortStableFunc(cuts, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.look.part, b.look.part), cmp.Compare(a.Number, b.Number), cmp.Compare(a.look.turn, b.look.turn))
	})
	for i := range cuts {
		one, look := &cuts[i], cuts[i].look
		lo, hi := one.Points[0], one.Points[0]
		for _, c := range one.Points {
			lo.X, hi.X, lo.Y, hi.Y = min(lo.X, c.X), max(hi.X, c.X), min(lo.Y, c.Y), max(hi.Y, c.Y)
		}
		q, d, in := at((lo.X + hi.X) / 2)
		if one.Radius > 0 {
			o := move(q, in, float64(lo.Y)*scale)
			s.notes.Circle(o.X, o.Y, float64(one.Radius)*scale, look.line)
			continue
		}
		half := math.Max(float64(hi.X-lo.X)/2*scale, look.least)
		a, b := move(q, in, float64(lo.Y)*scale), move(q, in, float64(hi.Y)*scale)
		s.notes.Poly([]pen.Point{move(a, d, -half), move(a, d, half), move(b, d, half), move(b, d, -half)}, false, look.line)
	}
	q, _, in := at(c.Geometry.SeamLength / 2)
	label := s.say("see the seam at corner %s", strconv.Itoa(k+1))
	if s.est.InLine(k) {
		label = s.say("see seam %s", strconv.Itoa(k+1))
	}
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

// cut is something cut beside a seam with how it is drawn.
type cut struct {
	template.Shape
	look *below
}

// below is how one kind of cut is drawn from below.
type below struct {
	part, turn int     // all kinds of the first part are drawn before those of the next; each part from the seam's front end, by turns
	least      float64 // half its width on paper, at least, in millimetres
	line       pen.Stroke
}

var (
	cutLine    = pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White}
	hiddenLine = pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "1 0.6"}
)

var (
	slotBelow       = below{line: hiddenLine}
	pocketBelow     = below{part: 1, line: cutLine}
	pocketHoleBelow = below{part: 1, turn: 1, least: 0.2, line: hiddenLine}
	channelBelow    = below{part: 2, least: 0.2, line: cutLine}
	recessBelow     = below{part: 2, turn: 1, line: cutLine}
)

// belowOf is how a cut is drawn: what is cut last lies on top. Nil for what is not drawn.
func belowOf(f hardware.Feature) *below {
	switch f {
	case hardware.SlotCut:
		return &slotBelow
	case hardware.PocketCut:
		return &pocketBelow
	case hardware.PocketHoleCut:
		return &pocketHoleBelow
	case hardware.ChannelCut:
		return &channelBelow
	case hardware.RecessCut:
		return &recessBelow
	case hardware.ScrewCut:
	}
	return nil
}
