package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// slot is the width of an alignment part's slot: what part, slip and allowance ask, and no less than the chord that the
// cutter's circle leaves at its depth.
func (k *checker) slot(f *catalogue.Fastener, at measure.Length) measure.Length {
	want := f.Width + 2*k.slip(at) + k.set.SlotAllowance
	if f.Kind.Traits().Plunged {
		want = max(want, 2*k.chord(f))
	}
	return want
}

// chord is half of what the cutter leaves along the seam.
func (k *checker) chord(f *catalogue.Fastener) measure.Length {
	r := k.set.BiscuitCutter / 2
	off := max(0, r-(f.Length/2+0.5)) // from the seam to the cutter's middle
	return measure.Length(math.Sqrt(float64(r*r - off*off)))
}

// recess is how long a draw bolt's recess is at a place.
func (k *checker) recess(f *catalogue.Fastener, at measure.Length) measure.Length {
	if k.long {
		return f.RecessDiameter + 2*k.slip(at)
	}
	return f.RecessDiameter
}

// recesses checks that washers can go as far as the seam slips.
func (k *checker) recesses(g *PullGroup, f *catalogue.Fastener) {
	k.long = len(g.Recesses) > 0
	if !checks[g.Kind.Form()].pull.recesses {
		if k.long || g.RecessLength != 0 || g.Travel != 0 {
			k.broken("%s has recesses", g.Item)
		}
		return
	}
	if k.long && len(g.Recesses) != len(g.Positions) {
		k.broken("%d recesses of %s at %d positions", len(g.Recesses), g.Item, len(g.Positions))
		return
	}
	longest := measure.Length(0)
	for i, at := range g.Positions {
		length := f.RecessDiameter
		if k.long {
			if length = g.Recesses[i]; math.Abs(float64(length-k.recess(f, at))) > float64(tolerance) {
				k.broken("recess %d of %s is %v mm long instead of %v", i+1, g.Item, length, k.recess(f, at))
			}
			longest = max(longest, length)
		}
		if can := length - f.BearingDiameter; k.slip(at) > can+tolerance { // half of it in each of two pieces
			k.broken("the washers of %s at %v mm can travel %v in all, and the pieces slip by %v", g.Item, at, can, k.slip(at))
		}
	}
	travel := (max(longest, f.RecessDiameter) - f.BearingDiameter) / 2
	if math.Abs(float64(g.RecessLength-longest)) > float64(tolerance) ||
		math.Abs(float64(g.Travel-max(0, travel))) > float64(tolerance) {
		k.broken("the longest recess of %s is %v and its travel %v, not %v and %v", g.Item, longest, travel, g.RecessLength,
			g.Travel)
	}
}

// cut is what a part takes of one piece: the polygon of points, or the one stretch between two, grown by radius.
type cut struct {
	name   string
	side   int
	points []plan.Point
	radius measure.Length
}

func rectangle(name string, side int, at, half, in measure.Length) cut {
	return cut{name, side, []plan.Point{{X: at - half, Y: 0}, {X: at + half, Y: 0}, {X: at + half, Y: in},
		{X: at - half, Y: in}}, 0}
}

// cuts are what a part at a place takes of both pieces.
func (k *checker) cuts(f *catalogue.Fastener, at measure.Length) []cut {
	if by := checks[f.Kind.Form()]; by.cuts != nil {
		return by.cuts(k, f, at)
	}
	return nil
}

// biscuit is a slot as the cutter leaves it, its arc in 32 chords.
func (k *checker) biscuit(f *catalogue.Fastener, side int, at measure.Length) cut {
	r, deep := k.set.BiscuitCutter/2, f.Length/2+0.5
	half := k.chord(f)
	more := k.slot(f, at)/2 - half
	c := cut{name: "slot", side: side, points: []plan.Point{{X: at - half - more}, {X: at + half + more}}}
	for i := 32; i >= 0; i-- {
		x := half * measure.Length(float64(i-16)/16)
		y := measure.Length(math.Sqrt(max(0, float64(r*r-x*x)))) - max(0, r-deep)
		sign := more
		if i < 16 {
			sign = -more
		}
		c.points = append(c.points, plan.Point{X: at + x + sign, Y: min(y, deep)})
	}
	return c
}

// wood is how much wood a cut leaves to an edge; less than nothing when it reaches over it.
func (c *cut) wood(e *Edge) measure.Length {
	a, b := plan.Point{X: e.From.Along, Y: e.From.In}, plan.Point{X: e.To.Along, Y: e.To.In}
	if len(c.points) > 2 && (plan.Contains(c.points, a) || plan.Contains(c.points, b)) {
		return -1
	}
	least := measure.Length(math.Inf(1))
	for i := range c.points {
		least = min(least, plan.SegmentDistance(c.points[i], c.points[(i+1)%len(c.points)], a, b))
	}
	return least - c.radius
}

// lack is how much wood is wanting around a part at a place; not positive when none is.
func (k *checker) lack(f *catalogue.Fastener, at measure.Length) measure.Length {
	most := measure.Length(math.Inf(-1))
	for _, c := range k.cuts(f, at) {
		for i := range k.seam.Sides[c.side].Edges {
			e := &k.seam.Sides[c.side].Edges[i]
			most = max(most, e.Clear-c.wood(e)-tolerance)
		}
	}
	return most
}

// inWood checks that a part leaves enough wood around what is cut for it.
func (k *checker) inWood(f *catalogue.Fastener, at measure.Length) {
	if lack := k.lack(f, at); lack > 0 {
		k.broken("around the %s at %v mm %v mm of wood are wanting", f.Kind, at, lack)
	}
}
