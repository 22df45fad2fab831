package plan

import (
	"math"
	"slices"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// backwards is the same top read from its other end, by somebody who stands on the other side of a mirror.
func backwards(top Top, js []Joint) (Top, []Joint) {
	other := Top{Hand: Left, Runs: slices.Clone(top.Runs), Corners: slices.Clone(top.Corners)}
	if top.Hand == Left {
		other.Hand = Right
	}
	slices.Reverse(other.Runs)
	slices.Reverse(other.Corners)
	turned := slices.Clone(js)
	slices.Reverse(turned)
	for i, j := range turned {
		switch j.Through {
		case First:
			turned[i].Through = Second
		case Second:
			turned[i].Through = First
		case NoSide:
		}
	}
	return other, turned
}

// By hand for 36, 48 and 60 in, which are square: 60/(36·48), 36/(36·48) and 48/(36·48) radians for an inch of each.
// And for any triangle that is no needle: no way in which the three readings can be off by a little turns the corner by
// more, and one by as much.
func TestATapedCornerIsNoFurtherOff(t *testing.T) {
	t.Parallel()
	in := measure.Inch
	require.InDelta(t, (60+36+48)/(36*48.0)/16, float64(TapedTolerance(36*in, 48*in, 60*in, in/16)), 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		a, b := measure.Length(rapid.Float64Range(300, 3000).Draw(t, "a")),
			measure.Length(rapid.Float64Range(300, 3000).Draw(t, "b"))
		theta := rapid.Float64Range(0.6, 2.6).Draw(t, "theta")
		c := measure.Length(math.Sqrt(float64(a*a+b*b) - 2*float64(a*b)*math.Cos(theta)))
		const step = 0.001
		most := 0.0
		for way := range 8 {
			off := func(bit int) measure.Length { return measure.Length(step * float64(1-2*(way>>bit&1))) }
			turned, _, err := TapedAngle(a+off(0), b+off(1), c+off(2), false)
			require.NoError(t, err)
			most = math.Max(most, math.Abs(float64(turned)-theta))
		}
		said := float64(TapedTolerance(a, b, c, step))
		require.InDelta(t, most, said, said*0.01)
	})
}

// Which end of a chain comes first is only a way to write it down: every piece and seam is the same.
func TestAChainFromItsOtherEnd(t *testing.T) {
	t.Parallel()
	reflex := 0
	rapid.Check(t, func(t *rapid.T) {
		top, js := drawChain(t)
		there, err := Lay(top, js, 6, 6.35)
		back, err2 := Lay(backwardsOf(top, js))
		require.Equal(t, err == nil, err2 == nil, "%v, %v", err, err2)
		if err != nil {
			return
		}
		n := len(top.Runs)
		for i, a := range there.Pieces {
			b := back.Pieces[n-1-i]
			require.InDelta(t, float64(a.WallEdge), float64(b.WallEdge), 1e-6)
			require.InDelta(t, float64(a.FrontEdge), float64(b.FrontEdge), 1e-6)
			require.InDelta(t, float64(a.Extent), float64(b.Extent), 1e-6)
			require.InDelta(t, float64(a.Area), float64(b.Area), 1e-2)
			require.InDelta(t, float64(a.StartAngle), float64(b.EndAngle), 1e-9)
			require.InDelta(t, float64(a.EndAngle), float64(b.StartAngle), 1e-9)
		}
		for i, a := range there.Seams {
			b := back.Seams[n-2-i]
			require.InDelta(t, float64(a.Length), float64(b.Length), 1e-6)
			require.InDelta(t, float64(a.Mitred), float64(b.Mitred), 1e-6)
			require.InDelta(t, float64(a.First), float64(b.Second), 1e-9)
			require.InDelta(t, float64(a.Second), float64(b.First), 1e-9)
			require.Equal(t, a.Joint.Kind != Miter && a.Joint.Through == First, a.OnFirst,
				"the stopping run is the second when the first goes through")
			if a.Angle > math.Pi && a.Joint.Through == Second {
				reflex++
			}
		}
	})
	require.Positive(t, reflex, "no second run through a reflex corner was seen")
}

func backwardsOf(top Top, js []Joint) (Top, []Joint, measure.Length, measure.Length) {
	other, turned := backwards(top, js)
	return other, turned, 6, 6.35
}

// An outer corner of 270° by hand: the through run covers the corner block too, so that it is longer than its wall by
// the other's depth, at wall and front; the other ends flush with that wall, as long as its own.
func TestButtAtASquareOuterCornerByHand(t *testing.T) {
	t.Parallel()
	top := Top{Corners: []measure.Angle{270 * measure.Degree}, Runs: []Run{{"A", 1500, 620}, {"B", 1200, 500}}}
	for side, want := range map[Side][2]measure.Length{First: {2000, 1200}, Second: {1500, 1820}} {
		l, err := Lay(top, []Joint{{Butt, side}}, 0, 0)
		require.NoError(t, err)
		for i, p := range l.Pieces {
			near(t, want[i], p.WallEdge, "wall edge")
			near(t, want[i], p.FrontEdge, "front edge")
			near(t, want[i], p.Extent, "extent")
			require.InDelta(t, float64(want[i])*float64(top.Runs[i].Depth), float64(p.Area), 1e-3)
		}
		near(t, map[Side]measure.Length{First: 500, Second: 620}[side], l.Seams[0].Length, "seam: the stopping run's depth")
	}
}

// The desk lies with A's wall on the x axis, B's on the y axis.
func TestWhereTheDeskLies(t *testing.T) {
	t.Parallel()
	for hand, x := range map[Hand]measure.Length{Right: 1, Left: -1} {
		top := deskA()
		top.Hand = hand
		l, err := Lay(top, []Joint{{Kind: Miter}}, 0, 0)
		require.NoError(t, err)
		front := []Point{{96 * in * x, 25.5 * in}, {25.5 * in * x, 25.5 * in}, {25.5 * in * x, 72 * in}}
		for i, p := range front {
			require.InDelta(t, float64(p.X), float64(l.Front[i].X), 1e-9)
			require.InDelta(t, float64(p.Y), float64(l.Front[i].Y), 1e-9)
		}
		require.InDelta(t, 96*25.5+25.5*46.5, l.Area.SquareFeet()*144, 1e-6)
		near(t, 86*in*x, l.Place(0, 10*in, 5*in).X, "10 in from A's free end")
		near(t, 20.5*in, l.Place(0, 10*in, 5*in).Y, "5 in behind A's front")
		near(t, 20.5*in*x, l.Place(1, 10*in, 5*in).X, "5 in behind B's front")
		near(t, 10*in, l.Place(1, 10*in, 5*in).Y, "10 in from the corner")
		for run := range 2 {
			r := l.Rectangle(run, 10*in, 30*in, 2*in, 8*in)
			for i, at := range [4][2]measure.Length{{10, 2}, {30, 2}, {30, 8}, {10, 8}} {
				require.Equal(t, l.Place(run, at[0]*in, at[1]*in), r[i])
				along, back := l.Local(run, r[i])
				near(t, at[0]*in, along, "along")
				near(t, at[1]*in, back, "from the front")
			}
		}
	}
}

// line cuts a polygon with the independent library: where the wood is on a line along a run, in the run's own measure.
func line(t require.TestingT, l *Layout, run int, fromFront measure.Length) [][2]float64 {
	a, b := l.Place(run, -2e4, fromFront), l.Place(run, 2e4, fromFront)
	cut, err := geom.Intersection(polygon(t, l.Pieces[run].Outline),
		geom.NewLineString(geom.NewSequence([]float64{float64(a.X), float64(a.Y), float64(b.X), float64(b.Y)},
			geom.DimXY)).AsGeometry())
	require.NoError(t, err)
	var parts [][2]float64
	add := func(s geom.LineString) {
		seq := s.Coordinates()
		var ends [2]float64
		for i, k := range []int{0, seq.Length() - 1} {
			xy := seq.GetXY(k)
			along, _ := l.Local(run, Point{measure.Length(xy.X), measure.Length(xy.Y)})
			ends[i] = float64(along)
		}
		parts = append(parts, [2]float64{min(ends[0], ends[1]), max(ends[0], ends[1])})
	}
	if cut.IsLineString() {
		add(cut.MustAsLineString())
	} else if cut.IsMultiLineString() {
		m := cut.MustAsMultiLineString()
		for i := range m.NumLineStrings() {
			add(m.LineStringN(i))
		}
	}
	return parts
}

// The wood on a line along a run, and the tips of its piece, as the library sees the piece's outline. Where a mason's
// miter takes a bite out of the line, the longest part is meant.
func TestSpanAndTipsOfEveryPiece(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		top, js := drawChain(t)
		l, err := Lay(top, js, 6, 6.35)
		if err != nil {
			return
		}
		for run := range top.Runs {
			from, to := l.Tips(run)
			low, high := math.Inf(1), math.Inf(-1)
			for _, p := range l.Pieces[run].Outline {
				along, back := l.Local(run, p)
				low, high = min(low, float64(along)), max(high, float64(along))
				require.Less(t, math.Abs(float64(back-top.Runs[run].Depth/2)), float64(top.Runs[run].Depth/2)+1e-6)
			}
			require.InDelta(t, low, float64(from), 1e-6)
			require.InDelta(t, high, float64(to), 1e-6)
			require.InDelta(t, high-low, float64(l.Pieces[run].Extent), 1e-6)

			fromFront := top.Runs[run].Depth * measure.Length(rapid.Float64Range(0.05, 0.95).Draw(t, "place"))
			if rapid.Bool().Draw(t, "at the front") { // where a mason's miter is mitred
				fromFront = measure.Length(rapid.Float64Range(0.5, 12).Draw(t, "from the front"))
			}
			parts := line(t, l, run, fromFront)
			require.NotEmpty(t, parts)
			longest := slices.MaxFunc(parts, func(a, b [2]float64) int { return int(math.Copysign(1, a[1]-a[0]-b[1]+b[0])) })
			a, b := l.Span(run, fromFront)
			require.InDelta(t, longest[0], float64(a), 1e-5)
			require.InDelta(t, longest[1], float64(b), 1e-5)
		}
	})
}

// At the very front and the very wall the span is the piece's edge, whatever the rounding of the outline.
func TestSpanAtTheEdges(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		top, js := drawChain(t)
		for i := range js {
			if js[i].Kind == MasonsMiter { // its edges are more than one place
				js[i] = Joint{Kind: Miter}
			}
		}
		l, err := Lay(top, js, 6, 6.35)
		if err != nil {
			return
		}
		for run, p := range l.Pieces {
			from, to := l.Span(run, 0)
			require.InDelta(t, float64(p.FrontEdge), float64(to-from), 1e-4, "front")
			from, to = l.Span(run, top.Runs[run].Depth)
			require.InDelta(t, float64(p.WallEdge), float64(to-from), 1e-4, "wall")
		}
	})
}

// Inside or outside, and how far apart, against the library.
func TestPointsAndSegmentsAgainstTheLibrary(t *testing.T) {
	t.Parallel()
	inside, crossed := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func() Point {
			return Point{measure.Length(rapid.Float64Range(-100, 100).Draw(t, "x")),
				measure.Length(rapid.Float64Range(-100, 100).Draw(t, "y"))}
		}
		a, b, c, d := draw(), draw(), draw(), draw()
		segment := func(p, q Point) geom.Geometry {
			return geom.NewLineString(geom.NewSequence([]float64{float64(p.X), float64(p.Y), float64(q.X), float64(q.Y)},
				geom.DimXY)).AsGeometry()
		}
		if a.Distance(b) < 1 || c.Distance(d) < 1 {
			return
		}
		want, ok := geom.Distance(segment(a, b), segment(c, d))
		require.True(t, ok)
		require.InDelta(t, want, float64(SegmentDistance(a, b, c, d)), 1e-6)
		if want == 0 {
			crossed++
		}
		// A star about the origin is a simple polygon with corners that turn in.
		var star []Point
		for i := range 7 {
			angle := measure.Angle(float64(i) / 7 * 2 * math.Pi)
			r := measure.Length(rapid.Float64Range(10, 90).Draw(t, "ray"))
			star = append(star, Point{r * measure.Length(angle.Cos()), r * measure.Length(angle.Sin())})
		}
		in, err := geom.Contains(polygon(t, star), geom.XY{X: float64(a.X), Y: float64(a.Y)}.AsPoint().AsGeometry())
		require.NoError(t, err)
		require.Equal(t, in, Contains(star, a))
		if in {
			inside++
		}
	})
	require.Positive(t, inside)
	require.Positive(t, crossed)
}

// Segments that only touch do not cross: a top may end at its own wall.
func TestTouchingIsNotCrossing(t *testing.T) {
	t.Parallel()
	a, b := Point{0, 0}, Point{10, 0}
	require.True(t, cross(a, b, Point{5, -1}, Point{5, 1}))
	require.False(t, cross(a, b, Point{5, 0}, Point{5, 1}))
	require.False(t, cross(a, b, Point{5, -1}, Point{5, 0}))
	require.False(t, cross(Point{5, 0}, Point{5, 1}, a, b))
	require.False(t, cross(a, b, Point{11, -1}, Point{11, 1}))
	require.False(t, cross(Point{5, 1}, Point{5, 2}, a, b))
	require.Zero(t, SegmentDistance(a, b, Point{5, -1}, Point{5, 1}))
	require.InDelta(t, 3, float64(SegmentDistance(a, b, Point{5, 3}, Point{9, 7})), 1e-12)
	require.InDelta(t, 5, float64(SegmentDistance(a, b, Point{13, 4}, Point{13, 9})), 1e-12, "3-4-5 from the end")
	require.InDelta(t, 5, float64(SegmentDistance(a, a, Point{3, 4}, Point{3, 4})), 1e-12, "two points")
}

// What is left of the difference between an angle and its nominal one by rounding is no gap.
func TestRoundingNoiseIsNoGap(t *testing.T) {
	t.Parallel()
	require.Zero(t, NominalErrorGap(848.918, 90*measure.Degree+1e-13))
	require.InDelta(t, 848.918*1e-6, float64(NominalErrorGap(848.918, 90*measure.Degree+1e-6)), 1e-9,
		"a small angle's tangent is the angle")
	require.InDelta(t, 100, float64(NominalErrorGap(100, 0)), 1e-9, "45° off the least nominal angle")
}

func TestNearestNominalAngle(t *testing.T) {
	t.Parallel()
	for deg, want := range map[float64]float64{45: 45, 67.4: 45, 67.6: 90, 112.4: 90, 112.6: 135, 170: 135, 190: 225,
		225: 225, 247.4: 225, 247.6: 270, 292.4: 270, 292.6: 315, 315: 315} {
		require.InDelta(t, want, NominalAngle(measure.Angle(deg)*measure.Degree).Degrees(), 1e-9, "%v", deg)
	}
}

// Lengths that close no triangle say nothing of an angle.
func TestNoTriangleNoAngle(t *testing.T) {
	t.Parallel()
	for _, c := range [][3]measure.Length{{10, 10, 20}, {20, 10, 10}, {10, 20, 10}, {0, 10, 10}, {10, 0, 10}, {10, 10, 0},
		{-3, 4, 5}} {
		theta, slope, err := TapedAngle(c[0], c[1], c[2], false)
		require.ErrorIs(t, err, ErrTriangle)
		require.Zero(t, theta)
		require.Zero(t, slope)
	}
	theta, _, err := TapedAngle(100, 100, 199.99, false)
	require.NoError(t, err)
	require.Greater(t, theta.Degrees(), 178.0)
	theta, slope, err := TapedAngle(3, 4, 5, true)
	require.NoError(t, err)
	require.InDelta(t, 270, theta.Degrees(), 1e-9)
	require.InDelta(t, -5.0/12, slope, 1e-12, "a longer tape on the wall's side is a smaller angle in the room")
}

// A mason's miter reaches at most through the shallower run, and needs an inner corner.
func TestRoomForAMasonsMiter(t *testing.T) {
	t.Parallel()
	top := Top{Corners: []measure.Angle{90 * measure.Degree}, Runs: []Run{{"A", 2000, 620}, {"B", 1500, 500}}}
	for inset, ok := range map[measure.Length]bool{12: true, 499: true, 500: false, 619: false, 620: false} {
		for range 2 {
			_, err := Lay(top, []Joint{{MasonsMiter, First}}, inset-2, 2)
			require.Equal(t, ok, err == nil, "%v: %v", inset, err)
			if !ok {
				require.Equal(t, "/corners/0/joint", fault.All(err)[0].Pointer)
			}
			top.Runs[0].Depth, top.Runs[1].Depth = top.Runs[1].Depth, top.Runs[0].Depth
		}
	}
	_, err := Lay(top, []Joint{{"dovetail", First}}, 0, 0)
	require.ErrorContains(t, err, "dovetail")
}

// A run too short for what meets at its corners says which edge would be gone: the wall's at an inner butt, the front's
// at an inner miter.
func TestARunWithoutAnEdge(t *testing.T) {
	t.Parallel()
	top := Top{Corners: []measure.Angle{90 * measure.Degree}, Runs: []Run{{"A", 2000, 620}, {"B", 620, 500}}}
	_, err := Lay(top, []Joint{{Kind: Miter}}, 0, 0)
	require.ErrorContains(t, err, "along its front")
	top.Runs[1].Length = 620.5
	l, err := Lay(top, []Joint{{Kind: Miter}}, 0, 0)
	require.NoError(t, err)
	near(t, 0.5, l.Pieces[1].FrontEdge, "half a millimetre is an edge")
	top = Top{Corners: []measure.Angle{120 * measure.Degree}, Runs: []Run{{"A", 2000, 620}, {"B", 700, 500}}}
	_, err = Lay(top, []Joint{{Butt, First}}, 0, 0)
	require.ErrorContains(t, err, "along its wall")
	top.Runs[1].Length = 720 // 620 / sin 120° = 715.9
	_, err = Lay(top, []Joint{{Butt, First}}, 0, 0)
	require.NoError(t, err)
}
