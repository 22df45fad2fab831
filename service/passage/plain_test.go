package passage

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// plainShortest is shortest by halving alone, each part held to the parabola less the most that the third derivative makes of it.
func plainShortest(ways []clearance, from, to float64) float64 {
	least := min(longestAt(ways, from), longestAt(ways, to))
	var look func(middle, half float64)
	look = func(middle, half float64) {
		sin, cos := math.Sincos(middle)
		here, _ := longestOf(ways, cos, sin)
		least = min(least, here)
		if half < leastArc || least <= 0 || slices.ContainsFunc(ways, func(c clearance) bool { return plainClear(&c, cos, sin, half, min(least, math.MaxFloat64)-exactTo) }) {
			return
		}
		look(middle-half/2, half/2)
		look(middle+half/2, half/2)
	}
	look((from+to)/2, (to-from)/2)
	return max(least, 0)
}

func plainClear(c *clearance, cos, sin, half, length float64) bool {
	if length <= 0 {
		return true
	}
	w := c.room.plus(c.taken, -length)
	value, slope := w.at(cos, sin)
	curve := w.curve(cos, sin)
	value -= (c.roomBent + length*c.takenBent) * half * half * half / 6
	if slope = math.Abs(slope); curve > 0 && slope < curve*half {
		return value >= slope*slope/(2*curve)
	}
	return value >= slope*half-curve*half*half/2
}

// plainRound is arcs.round with every arc looked at to its end and every way round compared.
func plainRound(width, a, b, angle float64) float64 {
	starts := [2][2]float64{{0, freeWhen(width <= a)}, {math.Pi / 2, a}}
	across := angle + math.Pi/2
	if across > math.Pi-sameAngle {
		across -= math.Pi
	}
	ends := [2][2]float64{{angle, freeWhen(width <= b)}, {max(0, across), b}}
	cuts := []float64{starts[0][0], starts[1][0], ends[0][0], ends[1][0]}
	slices.Sort(cuts)
	cuts = slices.CompactFunc(cuts, func(x, y float64) bool { return math.Abs(y-x) < sameAngle })
	arcs := make([]float64, len(cuts))
	for i := range cuts {
		to := cuts[0] + math.Pi
		if i+1 < len(cuts) {
			to = cuts[i+1]
		}
		arcs[i] = plainShortest(waysBetween(nil, width, a, b, angle, cuts[i], to), cuts[i], to)
	}
	cut := func(at float64) int {
		return slices.IndexFunc(cuts, func(c float64) bool { return math.Abs(c-at) < sameAngle })
	}
	least := func(from, to int) float64 {
		out := math.Inf(1)
		for i := from; i != to; i = (i + 1) % len(arcs) {
			out = min(out, arcs[i])
		}
		return out
	}
	best := 0.0
	for _, s := range starts {
		for _, e := range ends {
			from, to := cut(s[0]), cut(e[0])
			best = max(best, min(s[1], e[1], max(least(from, to), least(to, from))))
		}
	}
	return max(0, best-exactTo)
}

// What is left out and where it is looked does not count, also for pieces as wide as a corridor or wider and at sharp, square and blunt
// turns: both are at most exactTo too short. A piece just as wide as a corridor lies along its walls without any room, so that its length
// is a quotient of what rounding leaves, in either way of looking; there they agree to a
// hundredth of a millimetre and a hundred-thousandth of the length.
func TestATurnIsTheSameWithEveryArcLookedAt(t *testing.T) {
	t.Parallel()
	passes, square := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(100, 2500).Draw(t, "a"), rapid.Float64Range(100, 2500).Draw(t, "b")
		width := rapid.OneOf(rapid.Float64Range(0, 100), rapid.Float64Range(0, 3000), rapid.SampledFrom([]float64{0, a, b})).Draw(t, "width")
		degrees := rapid.OneOf(rapid.Float64Range(10, 179), rapid.SampledFrom([]float64{10, 45, 90, 135, 179})).Draw(t, "degrees")
		got, want := new(arcs).round(width, a, b, degrees*math.Pi/180), plainRound(width, a, b, degrees*math.Pi/180)
		if !math.IsInf(want, 1) || !math.IsInf(got, 1) {
			near := exactTo + 1e-11*want
			if width == a || width == b {
				near = 0.01 + want/1e5
			}
			require.InDelta(t, want, got, near)
		}
		if got > 0 {
			passes++
		}
		if degrees == 90 {
			square++
		}
	})
	require.Greater(t, passes, 20)
	require.Positive(t, square)
}

// plainLongestIn is longestIn by halving alone.
func plainLongestIn(q, a, b float64) float64 {
	if q > max(a, b) {
		return 0
	}
	low := min(a, b)
	if q <= min(a, b) {
		low = max(a, b)
	}
	return halved(q, a, b, low, math.Hypot(a, b))
}

// plainTurn is turn with everything looked at to its end.
func plainTurn(s *Step, p Piece) (endUp measure.Length) {
	d, t, height := float64(p.Depth), float64(p.Thickness), float64(s.Height)
	if width, _, ok := narrowest(d, t, orNoLimit(s.Height)); ok {
		endUp = measure.Length(new(arcs).round(width, float64(s.First), float64(s.Second), float64(s.Angle)))
	}
	for _, level := range [2][2]float64{{t, d}, {d, t}} {
		if strip := new(arcs).round(level[0], float64(s.First), float64(s.Second), float64(s.Angle)); strip > 0 {
			endUp = max(endUp, measure.Length(plainLongestIn(level[1], strip, height)))
		}
	}
	return endUp
}

// What raised pieces are left out for, and where the longest strip is looked for, changes nothing that a tape could tell: it is the same
// to a step of halving, and in nearly all draws the very step.
func TestATurnRaisedIsTheSameWithEverythingLookedAt(t *testing.T) {
	t.Parallel()
	turned, raised, same := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.OneOf(rapid.Float64Range(1, 3000), rapid.Map(rapid.IntRange(1, 120), func(n int) float64 { return 25.4 * float64(n) }))
		a, b, q := size.Draw(t, "a"), size.Draw(t, "b"), rapid.OneOf(rapid.Float64Range(0, 120), size).Draw(t, "q")
		got := longestIn(q, a, b)
		require.InDelta(t, plainLongestIn(q, a, b), got, nearest)
		if got > max(a, b) {
			turned++
			if math.Abs(plainLongestIn(q, a, b)-got) < 1e-9 {
				same++
			}
		}
		s := &Step{Kind: Turn, First: measure.Length(size.Draw(t, "first")), Second: measure.Length(size.Draw(t, "second")),
			Angle: measure.Angle(rapid.SampledFrom([]float64{90, 90, 60, 120, 150}).Draw(t, "angle")) * measure.Degree, Height: measure.Length(size.Draw(t, "ceiling"))}
		p := Piece{Length: 1000, Depth: measure.Length(size.Draw(t, "depth")), Thickness: measure.Length(rapid.Float64Range(10, 150).Draw(t, "thickness"))}
		v := Through(p, []Step{*s})[0]
		require.InDelta(t, float64(plainTurn(s, p)), float64(v.EndUp), 1e-6)
		if v.EndUp > v.Longest {
			raised++
		}
	})
	require.Greater(t, turned, 10)
	require.GreaterOrEqual(t, same, turned-2-turned/100)
	require.Greater(t, raised, 10)
}

// plainInBox is inBox with every place looked at to its end.
func plainInBox(p Piece, width, depth, height measure.Length) (measure.Length, Hold) {
	axes := [3]float64{float64(width), float64(depth), float64(height)}
	d, t := float64(p.Depth), float64(p.Thickness)
	best, found := 0.0, NoHold
	try := func(l float64, h Hold) {
		best = max(best, l)
		if found == NoHold && fits(p, measure.Length(l)) {
			found = h
		}
	}
	for i := 2; i >= 0; i-- {
		level := EndUp
		if w, h, ok := narrowest(d, t, axes[i]); ok {
			if i == 2 {
				level = h
			}
			try(plainLongestIn(w, axes[(i+1)%3], axes[(i+2)%3]), level)
		}
	}
	for i := 2; i >= 0; i-- {
		a, b, c := axes[(i+1)%3], axes[(i+2)%3], axes[i]
		if strip := plainLongestIn(t, a, b); strip > 0 {
			try(plainLongestIn(d, strip, c), EndUp)
		}
		if strip := plainLongestIn(d, a, b); strip > 0 {
			try(plainLongestIn(t, strip, c), EndUp)
		}
	}
	return measure.Length(best), found
}

// Leaving out places that are no better changes nothing: the same length to a millionth of a millimetre, and the same hold.
func TestALiftIsTheSameWithEveryPlaceLookedAt(t *testing.T) {
	t.Parallel()
	same := func(t require.TestingT, p Piece, a, b, height measure.Length) Hold {
		var r room
		r.inBox(float64(p.Depth), float64(p.Thickness), a, b, height)
		longest, hold := r.longest, r.verdict(p).Hold
		plain, plainHold := plainInBox(p, a, b, height)
		require.InDelta(t, float64(plain), float64(longest), 1e-6)
		require.Equal(t, plainHold, hold)
		return hold
	}
	// one in a few dozen is raised: those drawn at random may have none
	require.Equal(t, EndUp, same(t, Piece{Length: 2300, Depth: 600, Thickness: 40}, 1100, 1400, 2200))
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.OneOf(rapid.Float64Range(1, 3000), rapid.Map(rapid.IntRange(1, 120), func(n int) float64 { return 25.4 * float64(n) }))
		a, b := size.Draw(t, "a"), size.Draw(t, "b")
		height := size.Draw(t, "height")
		same(t, Piece{Length: measure.Length(size.Draw(t, "length")), Depth: measure.Length(size.Draw(t, "depth")),
			Thickness: measure.Length(rapid.Float64Range(10, 150).Draw(t, "thickness"))}, measure.Length(a), measure.Length(b), measure.Length(height))
	})
}

// A way that others of the same section were carried along says of a piece what a way of its own does, asked once or twice; and that it
// passes where it passes every step.
func TestAWalkSaysOfEveryPieceWhatItSaysAlone(t *testing.T) {
	t.Parallel()
	passed, stopped := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		size := func(name string) measure.Length { return measure.Length(rapid.Float64Range(300, 2600).Draw(t, name)) }
		way := []Step{{Kind: Door, Width: size("width"), Height: size("height")},
			{Kind: Turn, First: size("first"), Second: size("second"), Angle: 90 * measure.Degree, Height: size("ceiling")},
			{Kind: Lift, Width: size("car"), Depth: size("deep"), Height: size("high"), DoorWidth: size("door"), DoorHeight: size("door high")}}
		walk := &Walk{Steps: way}
		depths := []measure.Length{size("narrow"), size("wide")}
		for range 8 {
			p := Piece{Length: size("length"), Depth: rapid.SampledFrom(depths).Draw(t, "depth"), Thickness: rapid.SampledFrom([]measure.Length{30, 40}).Draw(t, "thickness")}
			alone := Through(p, way)
			require.Equal(t, alone, walk.Through(p))
			require.Equal(t, alone, walk.Through(p))
			stops := slices.ContainsFunc(alone, func(v Verdict) bool { return !v.Passes })
			require.Equal(t, !stops, walk.Passes(p))
			require.Equal(t, min(alone[0].Longest, alone[1].Longest, alone[2].Longest), walk.Longest(p.Depth, p.Thickness))
			if stops {
				stopped++
			} else {
				passed++
			}
		}
	})
	require.Greater(t, passed, 10)
	require.Greater(t, stopped, 10)
}
