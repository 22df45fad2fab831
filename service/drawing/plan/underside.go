package plan

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
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
	shapes := template.Beside(s.est, k, p.index)
	shapes = slices.DeleteFunc(shapes, func(a template.Shape) bool { return belowOf(&a) < 0 })
	slices.SortStableFunc(shapes, func(a, b template.Shape) int {
		x, y := belowOf(&a), belowOf(&b)
		return cmp.Or(cmp.Compare(belows[x].part, belows[y].part), cmp.Compare(a.Number, b.Number), cmp.Compare(x, y))
	})
	for i := range shapes {
		one := &shapes[i]
		look := &belows[belowOf(one)]
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

// below is how one kind of cut is drawn from below.
type below struct {
	feature template.Feature
	part    int     // all kinds of the first part are drawn before those of the next, each part from the seam's front end
	least   float64 // half its width on paper, at least, in millimetres
	line    pen.Stroke
}

var (
	cutLine    = pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White}
	hiddenLine = pen.Stroke{Ink: pen.Ink, Width: 0.2, Dash: "1 0.6"}
)

// belows has a row for each cut that is drawn, in the order in which they are: what is cut last lies on top.
var belows = [...]below{
	{feature: template.Slot, line: hiddenLine},
	{feature: template.Pocket, part: 1, line: cutLine},
	{feature: template.PocketHole, part: 1, least: 0.2, line: hiddenLine},
	{feature: template.Channel, part: 2, least: 0.2, line: cutLine},
	{feature: template.Recess, part: 2, line: cutLine},
}

// belowOf is the row of a shape; -1 for what is not drawn.
func belowOf(shape *template.Shape) int {
	return slices.IndexFunc(belows[:], func(b below) bool { return b.feature == shape.Feature })
}
