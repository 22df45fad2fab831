package passage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
	"seamwright/service/passage"
)

const mm = measure.Millimetre

// A rod is carried round a square corner if it is no longer than (a^⅔ + b^⅔)^1½: the classical ladder problem of the
// calculus, whose solution is the astroid's (R. Courant, Differential and Integral Calculus, vol. 1, on extrema; the
// formula follows from d/dα (a/sin α + b/cos α) = 0).
func TestARodRoundASquareCorner(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]float64{{1000, 1000}, {900, 1400}, {700, 2000}, {2400, 760}, {36 * 25.4, 48 * 25.4}} {
		want := math.Pow(math.Pow(c[0], 2./3)+math.Pow(c[1], 2./3), 1.5)
		v := verdict(passage.Piece{Length: measure.Length(want - 0.01), Depth: 650}, turn(c[0], c[1], 90, 2400))
		require.InDelta(t, want, float64(v.Longest), 3e-6)
		require.True(t, v.Passes)
		require.Equal(t, passage.OnEdge, v.Hold)
		long := verdict(passage.Piece{Length: measure.Length(want + 0.01), Depth: 650}, turn(c[0], c[1], 90, 2400))
		require.False(t, long.Passes)
		require.Equal(t, passage.NoHold, long.Hold)
	}
}

// At corners of 90° and more a slab of some thickness slides with its outer side along both outer walls:
// L(α) = (a − w·cos α)/sin α + (b − w·cos β)/sin β, α + β = 180° − angle. Its least over small steps of α is what passes.
func TestASlabThatSlidesAlongTheOuterWalls(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ w, a, b, angle float64 }{
		{38, 1000, 1200, 90}, {300, 1000, 1200, 90}, {38, 900, 1500, 120}, {648, 1100, 1000, 135}, {100, 800, 2000, 100},
	} {
		most := math.Inf(1)
		turned := math.Pi - c.angle*math.Pi/180
		const steps = 400_000
		for i := 1; i < steps; i++ {
			alpha := turned * float64(i) / steps
			beta := turned - alpha
			most = min(most, (c.a-c.w*math.Cos(alpha))/math.Sin(alpha)+(c.b-c.w*math.Cos(beta))/math.Sin(beta))
		}
		v := verdict(passage.Piece{Length: 1, Depth: measure.Length(c.w), Thickness: measure.Length(c.w)}, turn(c.a, c.b, c.angle, 0))
		require.InDelta(t, most, float64(v.Longest), 1e-4, "%+v", c)
	}
}

func TestTurnsByHand(t *testing.T) {
	t.Parallel()
	p := passage.Piece{Length: 2000, Depth: 650, Thickness: 38}
	for name, c := range map[string]struct {
		piece   passage.Piece
		step    passage.Step
		hold    passage.Hold
		longest float64
	}{
		"a square fits both corridors and is shifted, not turned": {
			passage.Piece{Length: 1000, Depth: 1000, Thickness: 20}, turn(1000, 1000, 90, 20), passage.Flat, 1000},
		"under a ceiling lower than the slab is deep it is carried flat": {p, turn(1200, 1200, 90, 70), passage.Flat, -1},
		"or tilted where flat it is too wide":                            {p, turn(1000, 1000, 90, 600), passage.Tilted, -1},
		"what is thicker than deep stands on its depth":                  {passage.Piece{Length: 1000, Depth: 38, Thickness: 650}, turn(1200, 1200, 90, 700), passage.Flat, -1},
		"and lies on it under a low ceiling":                             {passage.Piece{Length: 1000, Depth: 38, Thickness: 650}, turn(1200, 1200, 90, 70), passage.OnEdge, -1},
		"a corridor narrower than the slab is thick":                     {p, turn(30, 1000, 90, 2400), passage.NoHold, 30},
		"a ceiling lower than the slab is thick":                         {p, turn(1000, 1000, 90, 30), passage.NoHold, 0},
	} {
		v := verdict(c.piece, c.step)
		require.Equal(t, c.hold, v.Hold, name)
		require.Equal(t, c.hold != passage.NoHold, v.Passes, name)
		if c.longest >= 0 {
			require.InDelta(t, c.longest, float64(v.Longest), 1e-5, name)
		}
	}
}

// With one end raised, length and depth stand upright in what the corner leaves of the floor: a rectangle in a rectangle.
func TestOneEndRaisedInATurn(t *testing.T) {
	t.Parallel()
	level := verdict(passage.Piece{Length: 2900, Depth: 0.001, Thickness: 0}, turn(1000, 1000, 90, 2400))
	require.InDelta(t, math.Hypot(math.Sqrt(8)*1000, 2400), float64(level.EndUp), 0.01, "a rod: the diagonal of floor and height")
	require.False(t, level.Passes, "level it does not pass")
	low := verdict(passage.Piece{Length: 1000, Depth: 650, Thickness: 38}, turn(1000, 1000, 90, 650))
	require.InDelta(t, float64(low.Longest), float64(low.EndUp), 1e-5, "no room to raise it")
}

func TestDoorsByHand(t *testing.T) {
	t.Parallel()
	door := func(w, h float64) passage.Step {
		return passage.Step{Kind: passage.Door, Width: measure.Length(w), Height: measure.Length(h)}
	}
	inf := math.Inf(1)
	for name, c := range map[string]struct {
		p       passage.Piece
		step    passage.Step
		hold    passage.Hold
		longest float64
	}{
		"on edge, any length":                               {passage.Piece{Length: 9000, Depth: 650, Thickness: 38}, door(800, 2000), passage.OnEdge, inf},
		"flat through a low hatch":                          {passage.Piece{Length: 9000, Depth: 650, Thickness: 38}, door(700, 500), passage.Flat, inf},
		"tilted: 1000 × 10 in 800 × 700, diagonal 1063":     {passage.Piece{Length: 9000, Depth: 1000, Thickness: 10}, door(800, 700), passage.Tilted, inf},
		"too deep, but short enough to go sideways":         {passage.Piece{Length: 2000, Depth: 3000, Thickness: 40}, door(700, 2000), passage.Across, -1},
		"too deep and too long":                             {passage.Piece{Length: 3000, Depth: 3000, Thickness: 40}, door(700, 2000), passage.NoHold, -1},
		"too thick":                                         {passage.Piece{Length: 3000, Depth: 3000, Thickness: 2100}, door(700, 2000), passage.NoHold, 0},
		"exactly as wide as the slab is thick, and as high": {passage.Piece{Length: 9000, Depth: 650, Thickness: 38}, door(38, 650), passage.OnEdge, inf},
	} {
		v := verdict(c.p, c.step)
		require.Equal(t, c.hold, v.Hold, name)
		require.Equal(t, c.hold != passage.NoHold, v.Passes, name)
		if c.longest >= 0 {
			require.InDelta(t, c.longest, float64(v.Longest), 1e-6, name)
		}
	}
}

// A rod that stands in a lift is as long as the space diagonal; a square bar of thickness t in a square box of n axes loses
// t (one upright plane: √2·a − t).
func TestALiftHoldsItsSpaceDiagonal(t *testing.T) {
	t.Parallel()
	lift := passage.Step{Kind: passage.Lift, Width: 1100, Depth: 1400, Height: 2200, DoorWidth: 800, DoorHeight: 2000}
	v := verdict(passage.Piece{Length: 2830}, lift)
	require.InDelta(t, math.Sqrt(1100*1100+1400*1400+2200*2200), float64(v.Longest), 1e-5)
	require.InDelta(t, math.Sqrt(800*800+1400*1400+2000*2000), float64(v.Straight), 1e-5, "without being turned once it is in the door")
	require.True(t, v.Passes)
	thin := verdict(passage.Piece{Length: 2800, Depth: 10, Thickness: 10}, lift)
	require.Greater(t, float64(v.Longest-thin.Longest), 5.0)
	require.Less(t, float64(v.Longest-thin.Longest), 20.0, "depth and thickness take away less than both")

	flat := passage.Step{Kind: passage.Lift, Width: 1000, Depth: 1000, Height: 40, DoorWidth: 1000, DoorHeight: 40}
	bar := verdict(passage.Piece{Length: 1300, Depth: 100, Thickness: 40}, flat)
	require.InDelta(t, math.Sqrt2*1000-100, float64(bar.Longest), 1e-5, "√2·a − t in a square")
	require.True(t, bar.Passes)
	require.Equal(t, passage.Flat, bar.Hold)
}

// By hand: in a car of 1100 × 1400 mm, 2200 mm high, a slab of 650 × 38 mm stands level on its edge up to a little under the
// diagonal of the floor, 1780 mm; a longer one has an end raised, and what is longer than the space diagonal, 2830 mm, is not held.
// Under 500 mm it is rolled about its length, as 650 mm are too high, in a car of 900 × 1400 mm: 473 mm wide then.
func TestHowASlabIsHeldInALift(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		length, width, height measure.Length
		hold                  passage.Hold
	}{
		{1700, 1100, 2200, passage.OnEdge}, {1800, 1100, 2200, passage.EndUp}, {2300, 1100, 2200, passage.EndUp},
		{2840, 1100, 2200, passage.NoHold}, {1350, 900, 500, passage.Tilted}, {1700, 900, 500, passage.NoHold},
	} {
		v := verdict(passage.Piece{Length: c.length, Depth: 650, Thickness: 38}, passage.Step{Kind: passage.Lift, Width: c.width, Depth: 1400,
			Height: c.height, DoorWidth: c.width, DoorHeight: c.height})
		require.Equal(t, c.hold, v.Hold, "%+v: at most %v", c, v.Longest)
		require.Equal(t, c.hold != passage.NoHold, v.Passes, "%+v", c)
	}
}

func TestTheDoorOfALiftMayBeWhatStops(t *testing.T) {
	t.Parallel()
	lift := passage.Step{Kind: passage.Lift, Width: 2000, Depth: 2000, Height: 2200, DoorWidth: 600, DoorHeight: 640}
	v := verdict(passage.Piece{Length: 1200, Depth: 900, Thickness: 40}, lift)
	require.False(t, v.Passes, "neither 900 × 40 nor 1200 × 40 goes through 600 × 640")
	require.Less(t, float64(v.Longest), 900.0)
}

// What is wider never refuses what passed, and a longest piece is one that passes while a longer one does not.
func TestLawsOfPassing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		size := func(name string, from, to float64) measure.Length {
			return measure.Length(math.Exp(rapid.Float64Range(math.Log(from), math.Log(to)).Draw(r, name)))
		}
		p := passage.Piece{Length: size("length", 100, 6000), Depth: size("depth", 20, 1500), Thickness: size("thickness", 5, 150)}
		step := passage.Step{
			Kind:  rapid.SampledFrom([]passage.Kind{passage.Door, passage.Turn, passage.Lift}).Draw(r, "kind"),
			Width: size("width", 300, 2500), Depth: size("car", 500, 3000), Height: size("height", 300, 3000),
			First: size("first", 300, 2500), Second: size("second", 300, 2500),
			Angle: measure.Angle(rapid.Float64Range(15, 170).Draw(r, "angle")) * measure.Degree,
		}
		step.DoorWidth = step.Width * measure.Length(rapid.Float64Range(0.4, 1).Draw(r, "door"))
		step.DoorHeight = step.Height * measure.Length(rapid.Float64Range(0.4, 1).Draw(r, "door height"))
		v := verdict(p, step)
		wider := step
		for _, side := range []*measure.Length{&wider.Width, &wider.Depth, &wider.Height, &wider.First, &wider.Second, &wider.DoorWidth, &wider.DoorHeight} {
			*side *= measure.Length(rapid.Float64Range(1, 1.3).Draw(r, "wider"))
		}
		w := verdict(p, wider)
		require.GreaterOrEqual(t, float64(w.Longest), float64(v.Longest)-3e-6)
		if v.Passes {
			require.True(t, w.Passes)
		}
		thinner := p
		thinner.Depth *= 0.9
		thinner.Thickness *= 0.8
		require.GreaterOrEqual(t, float64(verdict(thinner, step).Longest), float64(v.Longest)-3e-6)

		swapped := step
		swapped.First, swapped.Second = step.Second, step.First
		require.InDelta(t, clip(v.Longest), clip(verdict(p, swapped).Longest), 5e-6, "the way back")
		turned := p
		turned.Depth, turned.Thickness = p.Thickness, p.Depth
		require.InDelta(t, clip(v.Longest), clip(verdict(turned, step).Longest), 5e-6, "depth and thickness change places")

		if v.Longest > 1 && v.Longest < 1e6 {
			p.Length = v.Longest
			require.True(t, verdict(p, step).Passes)
			p.Length += 1e-3
			require.False(t, verdict(p, step).Passes)
		}
	})
}

func clip(l measure.Length) float64 { return min(float64(l), 1e9) }

func verdict(p passage.Piece, step passage.Step) passage.Verdict {
	return passage.Through(p, []passage.Step{step})[0]
}

func turn(a, b, degrees, height float64) passage.Step {
	return passage.Step{Kind: passage.Turn, First: measure.Length(a), Second: measure.Length(b),
		Angle: measure.Angle(degrees) * measure.Degree, Height: measure.Length(height)}
}

func BenchmarkWay(b *testing.B) {
	b.ReportAllocs()
	way := []passage.Step{{Kind: passage.Door, Width: 800 * mm, Height: 2000 * mm}, turn(1000, 1200, 70, 2400),
		{Kind: passage.Lift, Width: 1000, Depth: 1200, Height: 2200, DoorWidth: 800, DoorHeight: 2000}}
	i := 0
	for b.Loop() {
		i++
		passage.Through(passage.Piece{Length: 1000 + measure.Length(i%1500), Depth: 648, Thickness: 38}, way)
	}
}
