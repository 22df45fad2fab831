package plan

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
)

const (
	in = measure.Inch
	mm = measure.Millimetre
)

// deskA is top A of the project's two tops worked by hand: a right angle, equal depths.
func deskA() Top {
	return Top{Hand: Right, Corners: []measure.Angle{90 * measure.Degree},
		Runs: []Run{{"A", 96 * in, 25.5 * in}, {"B", 72 * in, 25.5 * in}}}
}

// barB is top B: left hand, 83°, unequal depths. Nothing symmetrical hides a swapped argument.
func barB() Top {
	return Top{Hand: Left, Corners: []measure.Angle{83 * measure.Degree},
		Runs: []Run{{"A", 2600, 620}, {"B", 1900, 500}}}
}

func near(t *testing.T, want, got measure.Length, what string) {
	t.Helper()
	require.InDelta(t, float64(want), float64(got), 0.0006, what) // the worked figures print three decimals
}

// Worked by hand outside the project, top A, no. 3: equal 45° cuts, seam √2·25.5 in.
func TestMiterOfEqualDepthsAtARightAngle(t *testing.T) {
	l, err := Lay(deskA(), []Joint{{Kind: Miter}}, 0.25*in, 0.25*in)
	require.NoError(t, err)
	s := l.Seams[0]
	require.InDelta(t, 36.0624, s.Length.Inches(), 0.00005)
	require.InDelta(t, 45, s.First.Degrees(), 1e-9)
	require.InDelta(t, 45, s.Second.Degrees(), 1e-9)
	near(t, 96*in, l.Pieces[0].WallEdge, "A's wall edge")
	near(t, 70.5*in, l.Pieces[0].FrontEdge, "A's front edge")
	near(t, 72*in, l.Pieces[1].WallEdge, "B's wall edge")
	near(t, 46.5*in, l.Pieces[1].FrontEdge, "B's front edge")
	require.InDelta(t, 14.74, l.Pieces[0].Area.SquareFeet(), 0.005)
	require.Equal(t, []Point{{0, 0}, {96 * in, 0}, {96 * in, 25.5 * in}, {25.5 * in, 25.5 * in}}, l.Pieces[0].Outline)
}

// Top A, no. 4: butt with A through.
func TestButtAtARightAngle(t *testing.T) {
	l, err := Lay(deskA(), []Joint{{Butt, First}}, 0, 0)
	require.NoError(t, err)
	require.InDelta(t, 25.5, l.Seams[0].Length.Inches(), 1e-9)
	near(t, 46.5*in, l.Pieces[1].WallEdge, "B's wall edge")
	near(t, 46.5*in, l.Pieces[1].FrontEdge, "B's front edge")
	near(t, 96*in, l.Pieces[0].FrontEdge, "A's front edge")
}

// Top B, no. 2.
func TestMiterOfUnequalDepthsAt83Degrees(t *testing.T) {
	l, err := Lay(barB(), []Joint{{Kind: Miter}}, 6, 0)
	require.NoError(t, err)
	s := l.Seams[0]
	near(t, 848.918, s.Length, "seam")
	require.InDelta(t, 46.915, s.First.Degrees(), 0.0005)
	require.InDelta(t, 36.085, s.Second.Degrees(), 0.0005)
	near(t, -579.881, s.Path[0].X, "I, mirrored")
	near(t, 620, s.Path[0].Y, "I")
	near(t, 2020.119, l.Pieces[0].FrontEdge, "A's front edge")
	near(t, 1213.952, l.Pieces[1].FrontEdge, "B's front edge")
	require.InDelta(t, 1.43224, l.Pieces[0].Area.SquareMetres(), 0.000005)
	require.InDelta(t, 0.77849, l.Pieces[1].Area.SquareMetres(), 0.000005)
	require.InDelta(t, 2.62, float64(ProfileMismatch(6, s.First, s.Second)), 0.005)
}

// Top B, no. 3: A through.
func TestButtWithTheFirstRunThroughAt83Degrees(t *testing.T) {
	l, err := Lay(barB(), []Joint{{Butt, First}}, 0, 0)
	require.NoError(t, err)
	near(t, 503.755, l.Seams[0].Length, "seam")
	near(t, 1275.344, l.Pieces[1].WallEdge, "B's wall edge")
	near(t, 1213.952, l.Pieces[1].FrontEdge, "B's front edge")
	near(t, 2600, l.Pieces[0].WallEdge, "A's wall edge")
	near(t, 2523.874, l.Pieces[0].FrontEdge, "A's front edge")
	require.InDelta(t, 1.58840, l.Pieces[0].Area.SquareMetres(), 0.000005)
	require.InDelta(t, 0.62232, l.Pieces[1].Area.SquareMetres(), 0.000005)
	require.InDelta(t, 2.21072, l.Area.SquareMetres(), 0.000005)
	require.InDelta(t, 83, l.Seams[0].Second.Degrees(), 1e-9)
}

// Top B, no. 4: B through.
func TestButtWithTheSecondRunThroughAt83Degrees(t *testing.T) {
	l, err := Lay(barB(), []Joint{{Butt, Second}}, 0, 0)
	require.NoError(t, err)
	near(t, 624.656, l.Seams[0].Length, "seam")
	near(t, 2096.245, l.Pieces[0].WallEdge, "A's wall edge")
	near(t, 2020.119, l.Pieces[0].FrontEdge, "A's front edge")
	near(t, 1838.608, l.Pieces[1].FrontEdge, "B's front edge")
	near(t, 1900, l.Pieces[1].WallEdge, "B's wall edge")
}

// The design's formulas for a reflex corner, at 250° with unequal depths.
func TestButtAtAReflexCorner(t *testing.T) {
	theta := 250 * measure.Degree
	sin, cos := measure.Length(theta.Sin()), measure.Length(theta.Cos())
	top := Top{Corners: []measure.Angle{theta}, Runs: []Run{{"A", 1500, 620}, {"B", 1200, 500}}}
	l, err := Lay(top, []Joint{{Butt, First}}, 0, 0)
	require.NoError(t, err)
	near(t, -500/sin, l.Seams[0].Length, "seam: stopping depth over |sin θ|")
	near(t, 1200, l.Pieces[1].WallEdge, "stopping run's wall edge")
	near(t, 1200-500*cos/sin, l.Pieces[1].FrontEdge, "stopping run's front edge")
	near(t, 1500-500/sin, l.Pieces[0].WallEdge, "through run's wall edge")
	near(t, 1500-(500+620*cos)/sin, l.Pieces[0].FrontEdge, "through run's front edge")
}

// A mason's miter turns in at equal depth behind both front edges: profile and margin.
func TestMasonsMiterKeepsItsDepthBehindBothFronts(t *testing.T) {
	l, err := Lay(barB(), []Joint{{MasonsMiter, First}}, 6, 6.35)
	require.NoError(t, err)
	s := l.Seams[0]
	require.Len(t, s.Path, 3)
	turn := s.Path[1]
	near(t, 620-12.35, turn.Y, "depth behind A's front")
	theta := 83 * measure.Degree
	across := -turn.X*measure.Length(theta.Sin()) - turn.Y*measure.Length(theta.Cos())
	near(t, 500-12.35, across, "depth behind B's front")
	near(t, measure.Length(12.35/(theta/2).Sin()), s.Mitred, "length of the mitred part")
	near(t, 1900-(620-12.35)/measure.Length(theta.Sin()), l.Pieces[1].WallEdge, "stopping run's wall edge")
	near(t, 1213.952, l.Pieces[1].FrontEdge, "stopping run's front edge")
	near(t, 2020.119, l.Pieces[0].FrontEdge, "through run's front edge, to the corner")
}

// A triangle of 3, 4 and 5 has a right angle, however small it is; an angle is asked for in millimetres or inches
// alike.
func TestTapedAnglesDoNotDependOnTheScale(t *testing.T) {
	t.Parallel()
	for _, unit := range []measure.Length{0.1, 1, measure.Inch, measure.Metre} {
		theta, _, err := TapedAngle(3*unit, 4*unit, 5*unit, false)
		require.NoError(t, err)
		require.InDelta(t, 90, theta.Degrees(), 1e-9)
	}
	require.Equal(t, measure.Inch/16, TapeStep(measure.Inches), "common practice")
	require.Equal(t, measure.Millimetre, TapeStep(measure.Millimetres))
}

// A cut that crosses a line more than once leaves off at the innermost place: the last one from the run's start, the
// first one at its end.
func TestTheInnermostCrossingCounts(t *testing.T) {
	t.Parallel()
	f := &frame{along: vector{1, 0}, room: vector{0, 1}, run: Run{Depth: 600}}
	zigzag := []Point{{100, 0}, {40, 500}, {100, 400}, {60, 600}}
	require.InDelta(t, 90, float64(f.crossing(zigzag, 150, true)), 1e-9)
	require.InDelta(t, 46, float64(f.crossing(zigzag, 150, false)), 1e-9)
}

// A seam has the points that its kind has, and no two of them are one.
func TestSeamsHaveNoIdlePoints(t *testing.T) {
	t.Parallel()
	top := Top{Runs: []Run{{Length: 2400, Depth: 650}, {Length: 1800, Depth: 600}},
		Corners: []measure.Angle{80 * measure.Degree}}
	for _, j := range Ways() {
		l, err := Lay(top, []Joint{j}, 6, 10)
		require.NoError(t, err)
		want := 2
		if j.Kind.Turns() {
			want = 3
		}
		require.Len(t, l.Seams[0].Path, want, j.Kind)
	}
}
