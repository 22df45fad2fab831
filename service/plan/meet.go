package plan

import (
	"fmt"
	"math"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// frontCorner is the point I where the front edges of two runs meet, each moved inwards by in:
//
//	I = O + x₁·e₁ + d₁·n₁,  x₁ = (d₂ + d₁·cos θ) / sin θ
//
// with e₁ along the first run's wall away from the corner O and n₁ into the room. Of two pieces in line it lies square
// to O.
func frontCorner(a, b *frame, theta measure.Angle, in measure.Length) Point {
	sin, cos := sinCos(theta)
	d1, d2 := a.run.Depth-in, b.run.Depth-in
	if theta == InLine {
		return b.start.move(a.room, d1)
	}
	x1 := (d2 + d1*measure.Length(cos)) / measure.Length(sin)
	return b.start.move(a.along.back(), x1).move(a.room, d1)
}

// cut is what one corner asks of its joint, and the seam that comes of it.
type cut struct {
	theta   measure.Angle
	through Side
	inset   measure.Length // how deep a mason's miter reaches: profile and margin
	seam    Seam
}

// meet cuts the end of run a and the start of run b for their joint and returns the seam between them. inset is how
// deep a mason's miter reaches (profile and margin).
func (s *memory) meet(a, b *frame, theta measure.Angle, j Joint, inset measure.Length) (Seam, error) {
	kind := j.Kind.Traits()
	if kind.meet == nil {
		return Seam{}, fmt.Errorf("plan: unknown joint %q", j.Kind)
	}
	c := &s.corner
	*c = cut{theta: theta, through: j.Through, inset: inset}
	if err := kind.meet(s, a, b, c); err != nil {
		return Seam{}, err
	}
	seam := c.seam
	seam.Joint, seam.Angle = j, theta
	for i := 1; i < len(seam.Path); i++ {
		seam.Length += seam.Path[i-1].Distance(seam.Path[i])
	}
	endA, startB := a.ends[1], b.ends[0]
	seam.First = endA[0].angleAt(a.along.back(), endA[1])
	seam.Second = startB[0].angleAt(b.along, startB[1])
	return seam, nil
}

// miter cuts both runs along O–I.
func (s *memory) miter(a, b *frame, c *cut) error {
	o, i := b.start, frontCorner(a, b, c.theta, 0)
	a.ends[1] = s.line(o, i)
	b.ends[0] = s.line(o, i)
	c.seam = Seam{Path: s.line(i, o)}
	return nil
}

// butt lets one run stop at the other's front line, at a reflex corner at the line of its wall edge.
func (s *memory) butt(a, b *frame, c *cut) error {
	if math.Sin(float64(c.theta)) > 0 {
		c.seam = s.buttInside(a, b, c.theta, c.through, 0)
	} else {
		c.seam = s.buttReflex(a, b, c.theta, c.through)
	}
	return nil
}

// masonsMiter is a butt whose seam begins at the front as a short miter. There is none at a reflex corner.
func (s *memory) masonsMiter(a, b *frame, c *cut) error {
	if c.theta > math.Pi {
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/joint",
			Detail: "A mason's miter needs an inner corner; at a reflex corner (over 180°) the profiled edges meet on the outside."}
	}
	if c.inset >= a.run.Depth || c.inset >= b.run.Depth {
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/joint",
			Detail: "The edge profile with its margin is deeper than a run; a mason's miter has no room."}
	}
	c.seam = s.buttInside(a, b, c.theta, c.through, c.inset)
	c.seam.Mitred = c.seam.Path[0].Distance(c.seam.Path[1])
	return nil
}

// buttInside cuts a butt seam at an inner corner. The through run covers the corner, its hidden end follows the other
// wall; the stopping run ends at the through run's front line. With an inset it is a mason's miter: the seam starts as
// a miter from I inwards until it is inset deep behind both front edges, then runs along the through run at that depth.
func (s *memory) buttInside(a, b *frame, theta measure.Angle, through Side, inset measure.Length) Seam {
	sin, _ := sinCos(theta)
	o, i := b.start, frontCorner(a, b, theta, 0)
	if through == Second {
		p := o.move(a.along.back(), (b.run.Depth-inset)/measure.Length(sin))
		path := s.turnIn(i, p, a, b, theta, inset)
		b.ends[0] = s.hiddenEnd(o, path, inset)
		a.ends[1] = s.reversed(path)
		return Seam{Path: path}
	}
	p := o.move(b.along, (a.run.Depth-inset)/measure.Length(sin))
	path := s.turnIn(i, p, a, b, theta, inset)
	a.ends[1] = s.hiddenEnd(o, path, inset)
	b.ends[0] = s.reversed(path)
	return Seam{Path: path, OnFirst: true}
}

// turnIn is the seam from the front corner I to the wall point p, by way of the mason's miter's turning point.
func (s *memory) turnIn(i, p Point, a, b *frame, theta measure.Angle, inset measure.Length) []Point {
	if inset == 0 {
		return s.line(i, p)
	}
	return s.line(i, frontCorner(a, b, theta, inset), p)
}

// hiddenEnd is the through run's end: along the other wall from O to the seam's wall point, which for a plain butt lies
// on the through run's own front line, and for a mason's miter back along the seam to I.
func (s *memory) hiddenEnd(o Point, path []Point, inset measure.Length) []Point {
	if inset == 0 {
		return s.line(o, path[len(path)-1])
	}
	out := append(s.empty(1+len(path)), o)
	for i := len(path) - 1; i >= 0; i-- {
		out = append(out, path[i])
	}
	return out
}

// buttReflex cuts a butt seam at a reflex corner: the through run covers the corner block, the other stops at the line
// of the through run's wall edge.
func (s *memory) buttReflex(a, b *frame, theta measure.Angle, through Side) Seam {
	sin, _ := sinCos(theta)
	o, i := b.start, frontCorner(a, b, theta, 0)
	if through == Second {
		q := o.move(b.along, a.run.Depth/measure.Length(sin))
		b.ends[0] = s.line(q, i)
		a.ends[1] = s.line(o, q)
		return Seam{Path: s.line(q, o)}
	}
	q := o.move(a.along.back(), b.run.Depth/measure.Length(sin))
	a.ends[1] = s.line(q, i)
	b.ends[0] = s.line(o, q)
	return Seam{Path: s.line(q, o), OnFirst: true}
}
