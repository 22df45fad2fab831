package estimate_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// moved is the movement of a width of 25-1/2 in made at one moisture content and kept at another.
func moved(t require.TestingT, cat *catalogue.Snapshot, species string, sawn catalogue.Sawn, from,
	to float64) *estimate.Movement {
	m, err := estimate.Move(estimate.MovementOrder{Units: measure.Inches, Species: species, Sawn: sawn,
		Width:    25.5 * measure.Inch,
		Moisture: estimate.MoistureOrder{Making: wet(from), Dry: wet(to), Humid: wet(to)}}, cat)
	require.NoError(t, err)
	return &m.Movement
}

// Slabs of 25-1/2 in made at 9 % that dry to the border of the coefficient's range and a little beyond. The tables'
// coefficient and shrinkage disagree for these woods: with the one rule swapped for the other, mahogany shrank 0.1821
// in to 6.0 % and 0.1112 to 5.9 %. Worked by hand from Wood Handbook Table 13-5 (C), Tables 4-3 and 4-4 (S) and eq.
// 13-3:
//
//	to 6.0 %: 25.5·C·3;  to 5.9 %: that, and 25.5·(1 − 3·C)·0.1/(3000/S − 30 + 6) more
func TestDryingBeyondSixPercentShrinksMore(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		species string
		six     float64
		beyond  float64
		note    string
	}{
		{"mahogany", -0.1821, -0.1856, "C 0.00238, S 4.1"},
		{"mahogany_african", -0.1538, -0.1577, "C 0.00201, S 4.5"},
		{"oak_red", -0.2823, -0.2900, "C 0.00369, S 8.6"},
		{"hickory", -0.3144, -0.3240, "C 0.00411, S 10.5"},
	} {
		at, beyond := moved(t, cat, c.species, catalogue.FlatSawn, 9, 6), moved(t, cat, c.species, catalogue.FlatSawn, 9, 5.9)
		require.InDelta(t, c.six, at.ToDry.Inches(), 0.00005, "%s (%s)", c.species, c.note)
		require.InDelta(t, c.beyond, beyond.ToDry.Inches(), 0.00005, "%s (%s)", c.species, c.note)
		require.Equal(t, []estimate.Method{estimate.ByCoefficient}, at.Methods())
		require.Equal(t, []estimate.Method{estimate.ByCoefficient, estimate.ByShrinkage}, beyond.Methods())
	}
	require.Equal(t, []estimate.Method{estimate.ByShrinkage}, moved(t, cat, "mahogany", catalogue.FlatSawn, 5,
		3).Methods())
	// 9 → 4 %: 25.5·0.99286·(1 − 2/707.7) − 25.5, more than the 0.1821 to the border.
	require.InDelta(t, -0.2536, moved(t, cat, "mahogany", catalogue.FlatSawn, 9, 4).ToDry.Inches(), 0.00005)
}

// From 12 to 20 % and to 35 %: through the upper border, and no further than fibre saturation. Sugar maple, C 0.00353,
// S 9.9: 25.5·(1 + 2·0.00353)·(1 + 6/(3000/9.9 − 30 + 14)) − 25.5.
func TestWettingBeyondFourteenPercent(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	require.InDelta(t, 0.7168, moved(t, cat, "maple_sugar", catalogue.FlatSawn, 12, 20).ToHumid.Inches(), 0.0001)
	require.Equal(t, moved(t, cat, "maple_sugar", catalogue.FlatSawn, 12, 30).HumidStrain,
		moved(t, cat, "maple_sugar", catalogue.FlatSawn, 12, 35).HumidStrain)
	require.Equal(t, moved(t, cat, "cedar_western_red", catalogue.FlatSawn, 12, 22).HumidStrain,
		moved(t, cat, "cedar_western_red", catalogue.FlatSawn, 12, 30).HumidStrain,
		"western redcedar's own saturation, 22 % (Wood Handbook, ch. 13)")
	require.Zero(t, moved(t, cat, "cedar_western_red", catalogue.FlatSawn, 23, 29).HumidStrain)
}

// Rift-sawn wood moves by the mean of what flat-sawn and quarter-sawn do, at every moisture content.
func TestRiftIsTheMeanOfBothDirections(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		species, from, to := drawMove(t, cat)
		flat, quarter := moved(t, cat, species, catalogue.FlatSawn, from, to),
			moved(t, cat, species, catalogue.QuarterSawn, from, to)
		rift := moved(t, cat, species, catalogue.RiftSawn, from, to)
		// else a rule is known for one direction only
		if len(rift.Methods()) == len(flat.Methods()) && len(rift.Methods()) == len(quarter.Methods()) {
			require.InDelta(t, (flat.HumidStrain+quarter.HumidStrain)/2, rift.HumidStrain, 1e-12)
		}
	})
}

func drawMove(t *rapid.T, cat *catalogue.Snapshot) (species string, from, to float64) {
	return rapid.SampledFrom(cat.Species).Draw(t, "species").Code, drawMoisture(t, "from"), drawMoisture(t, "to")
}

// drawMoisture draws from 0 to 30 %, often at a border.
func drawMoisture(t *rapid.T, name string) float64 {
	return rapid.OneOf(rapid.Float64Range(0, 30),
		rapid.SampledFrom([]float64{0, 5.999999, 6, 6.000001, 13.999999, 14, 14.000001, 22, 30})).Draw(t, name)
}

// For every wood of the seed, sawn in every way, the movement is continuous, grows with the moisture that the wood is
// kept at, and is the sum of its parts.
func TestMovementHasNoStep(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for i := range cat.Species {
		s := &cat.Species[i]
		for _, sawn := range []catalogue.Sawn{catalogue.FlatSawn, catalogue.QuarterSawn, catalogue.RiftSawn,
			catalogue.MixedSawn} {
			if _, err := estimate.Move(estimate.MovementOrder{Species: s.Code, Sawn: sawn, Width: 600,
				Moisture: estimate.MoistureOrder{Making: wet(8), Dry: wet(8), Humid: wet(8)}}, cat); err != nil {
				continue // no source gives this wood's movement so sawn; said elsewhere
			}
			t.Run(s.Code+" "+string(sawn), func(t *testing.T) {
				t.Parallel()
				rapid.Check(t, func(t *rapid.T) { movesWithoutStep(t, cat, s, sawn) })
			})
		}
	}
}

func movesWithoutStep(t *rapid.T, cat *catalogue.Snapshot, s *catalogue.Species, sawn catalogue.Sawn) {
	saturation := 30.0
	if s.FibreSaturation.Known {
		saturation = s.FibreSaturation.Value
	}
	strain := func(from, to float64) float64 { return moved(t, cat, s.Code, sawn, from, to).HumidStrain }
	a, b, c := drawMoisture(t, "from"), drawMoisture(t, "over"), drawMoisture(t, "to")

	const little, steepest = 1e-6, 0.02 // no wood moves 2 % of its width per percent of moisture
	for _, at := range []float64{a, b, 6, 14, saturation} {
		require.InDelta(t, strain(a, at), strain(a, at+little), little*steepest, "continuous where it is kept")
		require.InDelta(t, strain(at, b), strain(at+little, b), little*steepest, "continuous where it is made")
	}

	dry, humid := min(b, c, saturation), min(max(b, c), saturation)
	if humid-dry > 1e-9 {
		require.Less(t, strain(a, dry), strain(a, humid), "wetter is wider")
	}

	// The parts: exactly where they meet at a border or outside the coefficient's range. Within it the coefficient
	// counts each change on the width at its start, so that two steps differ from one by C²·x·y of the steps x and y
	// taken there, and rift by the product of what its two directions differ by.
	inside := func(m float64) float64 { return min(max(m, 6), 14) }
	within := func(m float64) float64 { return min(m, saturation) }
	bound := 1e-12
	if coefficient := moved(t, cat, s.Code, sawn, 8, 9).Coefficient; coefficient != 0 {
		const most = 0.005 // change per percent of any wood of the seed
		bound += 1.3 * most * most * math.Abs((inside(b)-inside(a))*(inside(c)-inside(b)))
	}
	if sawn == catalogue.RiftSawn {
		apart := func(from, to float64) float64 {
			return math.Abs(moved(t, cat, s.Code, catalogue.FlatSawn, from, to).HumidStrain-moved(t, cat, s.Code,
				catalogue.QuarterSawn, from, to).HumidStrain) / 2
		}
		bound += 1.3 * apart(within(a), within(b)) * apart(within(b), within(c))
	}
	require.InDelta(t, 1+strain(a, c), (1+strain(a, b))*(1+strain(b, c)), bound, "the sum of its parts")
}
