package template

import (
	"math"
	"slices"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// near is how near two points are taken for one: answers that were kept round to a hundredth of a millimetre or a ten-thousandth of an
// inch.
const near = 0.02 * measure.Millimetre

// frame is a run's own axes on the plan: along its wall edge from its start, and from the wall into the room. The vectors have the
// length of a millimetre.
type frame struct {
	start, along, room plan.Point
	depth              measure.Length
	left               bool // the run's start is to the right of one who faces its wall
}

func frameOf(e *estimate.Estimate, run int) frame {
	wall, _ := e.Chain()
	a, b := wall[run], wall[run+1]
	l := a.Distance(b)
	f := frame{start: a, along: plan.Point{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}, depth: e.Runs[run].Depth,
		left: e.Made.Hand == plan.Left}
	f.room = plan.Point{X: f.along.Y, Y: -f.along.X}
	if f.left {
		f.room = plan.Point{X: -f.along.Y, Y: f.along.X}
	}
	return f
}

// step is the point at a distance from another.
func step(p, v plan.Point, d measure.Length) plan.Point {
	return plan.Point{X: p.X + v.X*d, Y: p.Y + v.Y*d}
}

func dot(p, q, v plan.Point) measure.Length { return (q.X-p.X)*v.X + (q.Y-p.Y)*v.Y }

// place is a point of the run on the plan.
func (f *frame) place(along, fromFront measure.Length) plan.Point {
	return step(step(f.start, f.along, along), f.room, f.depth-fromFront)
}

// local is where a point of the plan lies on the run.
func (f *frame) local(p plan.Point) (along, fromFront measure.Length) {
	return dot(f.start, p, f.along), f.depth - dot(f.start, p, f.room)
}

// rectangle is one round a point, along the run's axes.
func (f *frame) rectangle(m plan.Point, along, across measure.Length) []plan.Point {
	at := func(u, v measure.Length) plan.Point { return step(step(m, f.along, u), f.room, v) }
	return []plan.Point{at(-along, across), at(along, across), at(along, -across), at(-along, -across)}
}

// tips are the outermost points of an outline along the run.
func (f *frame) tips(outline []plan.Point) (from, to measure.Length) {
	for i, p := range outline {
		at, _ := f.local(p)
		if i == 0 || at < from {
			from = at
		}
		if i == 0 || at > to {
			to = at
		}
	}
	return from, to
}

// OnPiece is where places along a run, from its start, lie on the template of its piece seen from above: from its leftmost point to the
// right, the lesser one first.
func OnPiece(e *estimate.Estimate, run int, from, to measure.Length) (left, right measure.Length) {
	f := frameOf(e, run)
	first, last := f.tips(e.Runs[run].Piece.Outline)
	if f.left {
		return last - to, last - from
	}
	return from - first, to - first
}

// settle turns the shapes from the plan's coordinates into the template's: x to the right from the leftmost point of the outlines, y
// from the front line of the frame's run towards its wall. A corner's second run may lie before that line: there y is counted from
// the foremost point.
func (t *Template) settle(f *frame) {
	turned := f.left != t.Below
	own := make([]Shape, len(t.Shapes))
	var lo, foremost measure.Length
	first := true
	for i := range t.Shapes {
		s := t.Shapes[i]
		points := make([]plan.Point, len(s.Points))
		for k, p := range s.Points {
			x, y := f.local(p)
			if turned {
				x = -x
			}
			points[k] = plan.Point{X: x, Y: y}
			if s.Layer != Outline {
				continue
			}
			if first || x < lo {
				lo = x
			}
			if first || y < foremost {
				foremost = y
			}
			first = false
		}
		s.Points = points
		own[i] = s
	}
	if t.Corner < 0 {
		foremost = 0
	}
	for i := range own {
		for k := range own[i].Points {
			p := &own[i].Points[k]
			p.X, p.Y = p.X-lo+0, p.Y-foremost+0
		}
	}
	t.Shapes = own
	t.Lo, t.Hi = t.bounds()
}

// Without returns the template without a layer.
func (t *Template) Without(l Layer) *Template {
	own := *t
	own.Shapes = slices.DeleteFunc(slices.Clone(t.Shapes), func(s Shape) bool { return s.Layer == l })
	own.Lo, own.Hi = own.bounds()
	return &own
}

// bounds are what the shapes reach.
func (t *Template) bounds() (lo, hi plan.Point) {
	first := true
	for i := range t.Shapes {
		s := &t.Shapes[i]
		for _, p := range s.Points {
			if first {
				lo, hi, first = plan.Point{X: p.X - s.Radius, Y: p.Y - s.Radius}, plan.Point{X: p.X + s.Radius, Y: p.Y + s.Radius},
					false
			}
			lo.X, lo.Y = min(lo.X, p.X-s.Radius), min(lo.Y, p.Y-s.Radius)
			hi.X, hi.Y = max(hi.X, p.X+s.Radius), max(hi.Y, p.Y+s.Radius)
		}
	}
	return lo, hi
}

// shared is the stretch that two segments on one line have in common; ok is false when they are not on one line or have none.
func shared(a, b, c, d plan.Point) (p, q plan.Point, ok bool) {
	l := a.Distance(b)
	if l <= near {
		return p, q, false
	}
	u := plan.Point{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}
	n := plan.Point{X: -u.Y, Y: u.X}
	if math.Abs(float64(dot(a, c, n))) > float64(near) || math.Abs(float64(dot(a, d, n))) > float64(near) {
		return p, q, false
	}
	from, to := dot(a, c, u), dot(a, d, u)
	if from > to {
		from, to = to, from
	}
	from, to = max(0, from), min(l, to)
	return step(a, u, from), step(a, u, to), to-from > near
}
