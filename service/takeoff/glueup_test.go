package takeoff

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

func gluing() (*catalogue.Glue, *catalogue.Settings) {
	return &catalogue.Glue{Spread: 5.5 * measure.SquareMetre, ClampHours: 1},
		&catalogue.Settings{PlanerWidth: 20 * measure.Inch, GlueOpenMinutes: 8, GlueClosedMinutes: 10, GlueSpreadRate: 0.12,
			ClampForce: 6.7, ClampMinutes: 0.3, ThicknessAllowance: measure.Inch / 16}
}

// Worked by hand: a blank of 98 × 26 in, 1-1/2 in thick, from 7 staves of 3.714 in. A planer of 20 in takes 5 of them,
// so there are two sections, of 4 and 3. A joint is 98 · 1-9/16 in = 0.09879 m², spread in 0.823 minutes, 9 within 8
// minutes. Maple (0.63) asks for 700 + 1000 · 0.28/0.4 = 1,400 kPa, 138.3 kN: 21 clamps of 6.7 kN, 4.67 in apart.
func TestGlueUpWorkedByHand(t *testing.T) {
	t.Parallel()
	glue, s := gluing()
	b := &Blank{Length: 98 * measure.Inch, Width: 26 * measure.Inch, Thickness: 1.5 * measure.Inch, Staves: 7,
		StaveWidth: 26 * measure.Inch / 7}
	g, ok := PlanGlueUp(b, 0.63, glue, s)
	require.True(t, ok)
	require.Equal(t, 2, g.Parts)
	require.Equal(t, []int{4, 3}, []int{b.Section(0, 2).Staves, b.Section(1, 2).Staves})
	require.Equal(t, 6, g.Joints)
	require.InDelta(t, 0.09879, g.JointArea.SquareMetres(), 1e-5)
	require.Equal(t, 9, g.AtOnce)
	require.Equal(t, 3, g.Count, "two sections, and the slab from them")
	require.InDelta(t, 1400, g.Pressure.Kilopascals(), 1e-9)
	require.Equal(t, 21, g.Clamps)
	require.InDelta(t, 98.0/21, g.Spacing.Inches(), 1e-9)
	require.InDelta(t, 3*0.8233, g.Spreading, 1e-3, "three joints are the most in one glue-up")
	require.InDelta(t, 6.3, g.Closing, 1e-9)
	require.InDelta(t, 6*0.09879/5.5, g.Litres, 1e-5)
	require.Equal(t, 3.0, g.Hours)
	require.False(t, g.SlowSpread || g.SlowClose)
	require.Zero(t, g.FaceForce)

	s.PlanerWidth = 40 * measure.Inch
	g, _ = PlanGlueUp(b, 0.63, glue, s)
	require.Equal(t, []int{1, 1}, []int{g.Parts, g.Count}, "a wide planer takes it whole")
	s.GlueOpenMinutes = 2
	g, _ = PlanGlueUp(b, 0.63, glue, s)
	require.Equal(t, []int{2, 3}, []int{g.AtOnce, g.Count}, "6 joints, two at once")
	s.GlueOpenMinutes, s.GlueClosedMinutes = 0.5, 5
	g, _ = PlanGlueUp(b, 0.63, glue, s)
	require.True(t, g.SlowSpread && g.SlowClose)
	require.Equal(t, 6, g.Count)

	s.PlanerWidth = 3 * measure.Inch
	g, _ = PlanGlueUp(b, 0.63, glue, s)
	require.Equal(t, 7, g.Parts, "a planer narrower than a stave takes one at a time")
	_, ok = PlanGlueUp(&Blank{Length: 98, Width: 26, Thickness: 38}, 0.63, glue, s)
	require.False(t, ok, "a ready-made panel")
}

// Wood Handbook, ch. 10: 700 kPa for light woods, 1,700 kPa for the densest (from memory: no outside check).
func TestPressureLiesWithinTheHandbooks(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 700, GluePressure(0.3).Kilopascals(), 1e-9)
	require.InDelta(t, 1200, GluePressure(0.55).Kilopascals(), 1e-9)
	require.InDelta(t, 1700, GluePressure(0.9).Kilopascals(), 1e-9)
}

// Sections hold every stave once and fit the planer, clamps give the pressure and not a clamp more than it takes, and no
// glue-up has more joints than the glue leaves time for.
func TestAnyGlueUpHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		glue, s := gluing()
		s.PlanerWidth = measure.Length(rapid.Float64Range(150, 1300).Draw(t, "planer"))
		s.GlueOpenMinutes = rapid.Float64Range(1, 30).Draw(t, "open")
		b := &Blank{Length: measure.Length(rapid.Float64Range(400, 5000).Draw(t, "length")),
			Width: measure.Length(rapid.Float64Range(100, 1300).Draw(t, "width")), Thickness: 40}
		b.Staves = int(math.Ceil(float64(b.Width / 101)))
		b.StaveWidth = b.Width / measure.Length(b.Staves)
		if layers := rapid.IntRange(1, 3).Draw(t, "layers"); layers > 1 {
			b.Laminate(layers)
			b.Staves *= layers
		}
		g, ok := PlanGlueUp(b, rapid.Float64Range(0.3, 0.9).Draw(t, "gravity"), glue, s)
		require.True(t, ok)
		staves, joints := 0, g.Parts-1
		for i := range g.Parts {
			x := b.Section(i, g.Parts)
			require.True(t, x.Width <= s.PlanerWidth+1e-6 || x.Staves == 1)
			staves, joints = staves+x.Staves, joints+x.Staves-1
		}
		require.Equal(t, b.LayerStaves(), staves)
		require.Equal(t, b.LayerStaves()-1, joints)
		require.LessOrEqual(t, g.Joints, g.Count*g.AtOnce)
		if g.Joints > 0 {
			force := g.Pressure.Kilopascals() * g.JointArea.SquareMetres()
			require.GreaterOrEqual(t, float64(g.Clamps)*s.ClampForce, force-1e-6)
			require.Less(t, float64(g.Clamps-1)*s.ClampForce, force)
			require.InDelta(t, float64(b.Length), float64(g.Spacing)*float64(g.Clamps), 1e-6)
		}
		require.True(t, g.SlowSpread || g.Joints == 0 || g.Spreading <= s.GlueOpenMinutes+1e-6)
	})
}

// The ends of the published ranges, to the half of 5 lb/in² to which they are rounded: the least for soft woods and the most
// for hard ones are those of the lightest and the densest wood; between them the pressure of the soft woods' specific
// gravities lies within theirs (0.35 to 0.45, ponderosa pine), and that of hard ones (0.60 to 0.75, white oak to hickory) in
// theirs.
func TestGluePressuresLieWithinPublishedRanges(t *testing.T) {
	t.Parallel()
	read := 0
	psi := func(gravity float64) float64 { return GluePressure(gravity).Kilopascals() / 6.894757 }
	for _, row := range publishedtest.Read(t, "clamp_pressure.csv", 2) {
		require.True(t, row.Read(), row)
		least, most := row.Float(t, "least"), row.Float(t, "most")
		switch row["woods"] {
		case "soft":
			require.InDelta(t, least, psi(0.35), 2.5)
			require.LessOrEqual(t, psi(0.45), most)
		case "hard":
			require.GreaterOrEqual(t, psi(0.60), least)
			require.InDelta(t, most, psi(0.75), 5)
		}
		read += 2
	}
	publishedtest.Compared(t, "clamp_pressure.csv", read)
}
