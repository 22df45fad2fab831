package plan

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	layout "seamwright/service/plan"
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
