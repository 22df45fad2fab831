package plan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

func drawOpening(t *rapid.T, name string) Opening {
	o := Opening{Shape: rapid.SampledFrom([]Shape{Rectangle, Round, Oval}).Draw(t, name),
		Along: measure.Length(rapid.Float64Range(-900, 900).Draw(t, "along")), Inward: measure.Length(rapid.Float64Range(-900, 900).Draw(t, "inward")),
		Length: measure.Length(rapid.Float64Range(30, 900).Draw(t, "length")), Depth: measure.Length(rapid.Float64Range(30, 900).Draw(t, "depth")),
		Turned: measure.Angle(rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turned"))}
	switch o.Shape {
	case Round:
		o.Depth = o.Length
	case Rectangle:
		o.Radius = measure.Length(rapid.Float64Range(0, 0.5).Draw(t, "radius")) * min(o.Length, o.Depth)
	case Oval:
	}
	return o
}

// A drawn outline lies on its curve, never further than Curve within it, and holds the area but for that.
func TestAnOpeningsOutlineFollowsItsShape(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		o := drawOpening(t, "shape")
		outline := o.Outline()
		require.LessOrEqual(t, len(outline), mostCorners)
		length := measure.Length(0)
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			length += p.Distance(q)
			middle := Point{(p.X + q.X) / 2, (p.Y + q.Y) / 2}
			require.GreaterOrEqual(t, o.DistanceTo(middle, middle), -1.05*Curve, "a chord")
			require.InDelta(t, 0, float64(o.DistanceTo(p, p)), 1e-6, "a corner lies on the curve")
		}
		area := Area(outline)
		require.LessOrEqual(t, float64(area), float64(o.Area())+1e-6)
		require.InDelta(t, float64(o.Area()), float64(area), float64(measure.Area(length)*measure.Area(Curve)))
		require.InDelta(t, float64(o.Edge()), float64(length), 0.004*float64(length), "chords of 15 mm corners are 0.2 %% short")
		from, to, front, back := o.Reach()
		for _, p := range outline {
			require.GreaterOrEqual(t, p.X, from-1e-6)
			require.LessOrEqual(t, p.X, to+1e-6)
			require.GreaterOrEqual(t, p.Y, front-1e-6)
			require.LessOrEqual(t, p.Y, back+1e-6)
		}
	})
}

// The distance of two shapes is that of their outlines, edge by edge, but for the chords.
func TestDistancesOfOpeningsAreThoseOfTheirOutlines(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawOpening(t, "first"), drawOpening(t, "second")
		p, q := a.Outline(), b.Outline()
		slow, meet := measure.Length(math.Inf(1)), Contains(p, q[0]) || Contains(q, p[0])
		for i := range p {
			for k := range q {
				slow = min(slow, SegmentDistance(p[i], p[(i+1)%len(p)], q[k], q[(k+1)%len(q)]))
			}
		}
		got := a.Distance(&b)
		// Of an overlap only a bound is promised: several directions part two shapes almost alike, a degree between them.
		require.InDelta(t, float64(max(got, 0)), float64(max(b.Distance(&a), 0)), 1e-6)
		if meet || slow == 0 {
			require.LessOrEqual(t, got, 1e-6*measure.Millimetre)
			return
		}
		require.InDelta(t, float64(slow), float64(max(got, 0)), 2*float64(Curve)+1e-6)
		require.LessOrEqual(t, got, slow+1e-6, "chords lie within")
	})
}

// Plane geometry by hand: a disc of radius 3 whose middle lies 5 from a line is 2 from it; beyond the line's end the way
// goes to its point; two discs are as far apart as their middles, less both radii.
func TestDistancesOfDiscsAreExact(t *testing.T) {
	t.Parallel()
	disc := func(x, y, r measure.Length) *Opening {
		return &Opening{Shape: Round, Along: x, Inward: y, Length: 2 * r, Depth: 2 * r}
	}
	o := disc(0, 5, 3)
	require.InDelta(t, 2, float64(o.DistanceTo(Point{-10, 0}, Point{10, 0})), 1e-9)
	require.InDelta(t, math.Hypot(12, 5)-3, float64(o.DistanceTo(Point{12, 0}, Point{40, 0})), 1e-9)
	require.InDelta(t, 13-3-4, float64(o.Distance(disc(12, 10, 4))), 1e-9)
	require.InDelta(t, -3, float64(o.DistanceTo(Point{-10, 5}, Point{10, 5})), 1e-9, "it lies across")
}

// A square of 10 that stands on its corner reaches 5·√2 from its middle; an ellipse turned by a quarter has its axes the
// other way round.
func TestATurnedOpeningReachesFurther(t *testing.T) {
	t.Parallel()
	square := Opening{Shape: Rectangle, Length: 10, Depth: 10, Turned: 45 * measure.Degree}
	from, to, front, back := square.Reach()
	for _, reach := range []measure.Length{-from, to, -front, back} {
		require.InDelta(t, 5*math.Sqrt2, float64(reach), 1e-9)
	}
	oval := Opening{Shape: Oval, Length: 30, Depth: 10, Turned: 90 * measure.Degree}
	_, to, _, back = oval.Reach()
	require.InDelta(t, 5, float64(to), 1e-9)
	require.InDelta(t, 15, float64(back), 1e-9)
	tilted := Opening{Shape: Rectangle, Length: 30, Depth: 10, Turned: 20 * measure.Degree}
	p := tilted.Outline()
	require.Greater(t, p[1].Y, p[0].Y, "from the run's direction towards the wall")
}

// Ramanujan's approximation against the chords of a fine polygon, down to an ellipse a tenth as deep as long.
func TestTheEdgeOfAnOval(t *testing.T) {
	t.Parallel()
	worst := 0.0
	for _, depth := range []measure.Length{100, 75, 50, 25, 10} {
		o := Opening{Shape: Oval, Length: 100, Depth: depth}
		const n = 100000
		sum := 0.0
		for i := range n {
			t0, t1 := 2*math.Pi*float64(i)/n, 2*math.Pi*float64(i+1)/n
			sum += math.Hypot(50*(math.Cos(t1)-math.Cos(t0)), float64(depth)/2*(math.Sin(t1)-math.Sin(t0)))
		}
		worst = max(worst, math.Abs(float64(o.Edge())/sum-1))
	}
	require.Less(t, worst, 0.0001)
	t.Logf("worst: %.2g", worst)
}

// Of an open side no corner is rounded, nothing of its edge counts, and only its own edge of the outline is open.
func TestAnOpenSide(t *testing.T) {
	t.Parallel()
	for side, want := range [][2]Point{{{-20, -10}, {20, -10}}, {{20, -10}, {20, 10}}, {{20, 10}, {-20, 10}}, {{-20, 10}, {-20, -10}}} {
		o := Opening{Shape: Rectangle, Length: 40, Depth: 20, Radius: 5}
		o.Open[side] = true
		require.InDelta(t, 800-2*(1-math.Pi/4)*25, float64(o.Area()), 1e-9)
		require.InDelta(t, float64(120-o.Side(side))-2*(2-math.Pi/2)*5, float64(o.Edge()), 1e-9)
		outline := o.Outline()
		edges := 0
		for i, open := range OpenEdges(o.Open, len(outline)) {
			if open {
				edges++
				p, q := outline[i], outline[(i+1)%len(outline)]
				require.InDelta(t, 0, float64(p.Distance(want[0])+q.Distance(want[1])), 1e-9, "side %d", side)
			}
		}
		require.Equal(t, 1, edges, "side %d", side)
	}
	require.Equal(t, []bool{true, false, false, false}, OpenEdges([4]bool{true}, 4), "a plain rectangle")
}

// The distance of two openings is what a twin finds that looks at every whole degree, whether they meet or not.
func TestTheWidestStripIsFoundInFewLooks(t *testing.T) {
	t.Parallel()
	apart := 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawOpening(t, "one"), drawOpening(t, "other")
		gap := func(angle float64) float64 {
			sin, cos := math.Sincos(angle)
			return -a.Support(cos, sin) - b.Support(-cos, -sin)
		}
		best, at := math.Inf(-1), 0.0
		for i := range 360 {
			if g := gap(float64(i) * math.Pi / 180); g > best {
				best, at = g, float64(i)*math.Pi/180
			}
		}
		lo, hi := at-math.Pi/180, at+math.Pi/180
		for hi-lo > 1e-9 {
			if l, r := lo+(hi-lo)/3, lo+2*(hi-lo)/3; gap(l) < gap(r) {
				lo = l
			} else {
				hi = r
			}
		}
		require.InDelta(t, max(best, gap(lo)), float64(a.Distance(&b)), 1e-5)
		if best > 0 {
			apart++
		}
	})
	require.Positive(t, apart)
}
