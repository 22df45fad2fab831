package wood

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

func is(x float64) catalogue.Property { return catalogue.Property{Value: x, Known: true} }

// Which of the two rules counts where, and both across 6 and 14 %.
func TestWhichRuleCounts(t *testing.T) {
	t.Parallel()
	both := Law{Coefficient: 0.0035, Shrinkage: 9.9, Saturation: 30}
	onlyC, onlyS := both, both
	onlyC.Shrinkage, onlyS.Coefficient = 0, 0
	for _, c := range []struct {
		law                    Law
		from, to               measure.Moisture
		coefficient, shrinkage bool
	}{
		{both, 6, 14, true, false},
		{both, 14, 8, true, false},
		{both, 10, 10, true, false},
		{both, 5, 10, true, true},
		{both, 10, 16, true, true},
		{both, 4, 20, true, true},
		{both, 2, 6, false, true},
		{both, 5, 5, false, true},
		{both, 14, 20, false, true},
		{both, 16, 40, false, true},
		{onlyC, 2, 20, true, false},
		{onlyS, 8, 12, false, true},
		{Law{}, 8, 12, true, false},
	} {
		coefficient, shrinkage := c.law.Rules(c.from, c.to)
		require.Equal(t, c.coefficient, coefficient, "%v", c)
		require.Equal(t, c.shrinkage, shrinkage, "%v", c)
	}
}

// The strain by each rule alone, and joined at the border, by hand: 8 to 18 % with C = 0.0035 is 6 points of it up to
// 14 %, and then 4 points of 30·100/9.9 − 30 + 14 = 287.03.
func TestStrainByHand(t *testing.T) {
	t.Parallel()
	law := Law{Coefficient: 0.0035, Shrinkage: 9.9, Saturation: 30}
	require.InDelta(t, 0.021, law.Strain(8, 14), 1e-12)
	require.InDelta(t, 1.021*(1+4/287.0303)-1, law.Strain(8, 18), 1e-7)
	require.InDelta(t, 4/(303.0303-30+2), law.Strain(2, 6), 1e-7)
	require.InDelta(t, (1+4/(303.0303-30+2))*(1+4*0.0035)-1, law.Strain(2, 10), 1e-7)
	require.InDelta(t, (1+4/(303.0303-30+2))*(1+8*0.0035)*(1+6/287.0303)-1, law.Strain(2, 20), 1e-7)
	require.InDelta(t, law.Strain(8, 30), law.Strain(8, 90), 1e-15, "above the saturation nothing moves")
	law.Coefficient = 0
	require.InDelta(t, 4/(303.0303-30+8), law.Strain(8, 12), 1e-7, "with only the shrinkage known")
	law.Coefficient, law.Shrinkage = 0.0035, 0
	require.InDelta(t, 0.0035*18, law.Strain(2, 20), 1e-12, "with only the coefficient known")
	require.Zero(t, Law{Saturation: 30}.Strain(2, 20))
}

// Boards sawn in each way, of a wood of which all, or only one thing, is known.
func TestLawsOfSawnBoards(t *testing.T) {
	t.Parallel()
	full := &catalogue.Species{Tangential: is(0.0035), Radial: is(0.0017), ShrinkageTangential: is(9.9),
		ShrinkageRadial: is(4.8)}
	for sawn, want := range map[catalogue.Sawn][2]float64{catalogue.FlatSawn: {0.0035, 9.9},
		catalogue.MixedSawn: {0.0035, 9.9}, catalogue.QuarterSawn: {0.0017, 4.8},
		catalogue.RiftSawn: {0.0026, 7.35}} {
		l, ok := LawsOf(full, sawn)
		require.True(t, ok)
		require.True(t, l.HasCoefficient())
		require.True(t, l.HasShrinkage())
		require.InDelta(t, want[0], l.Coefficient(), 1e-12, "%s", sawn)
		require.InDelta(t, want[1], l.Shrinkage(), 1e-12, "%s", sawn)
		require.EqualValues(t, 30, l.Saturation(), "the usual one")
		require.InDelta(t, 4*want[0], l.Strain(8, 12), 1e-12)
	}
	rift, _ := LawsOf(full, catalogue.RiftSawn)
	flat, _ := LawsOf(full, catalogue.FlatSawn)
	quarter, _ := LawsOf(full, catalogue.QuarterSawn)
	require.InDelta(t, (flat.Strain(8, 20)+quarter.Strain(8, 20))/2, rift.Strain(8, 20), 1e-12)

	cedar := *full
	cedar.FibreSaturation = is(22)
	l, _ := LawsOf(&cedar, catalogue.FlatSawn)
	require.EqualValues(t, 22, l.Saturation())
	require.InDelta(t, l.Strain(10, 22), l.Strain(10, 28), 1e-15)

	half := &catalogue.Species{Tangential: is(0.0035), Radial: is(0.0017), ShrinkageTangential: is(9.9)}
	l, ok := LawsOf(half, catalogue.RiftSawn)
	require.True(t, ok)
	require.True(t, l.HasCoefficient())
	require.False(t, l.HasShrinkage(), "the radial one is unknown")
	l, ok = LawsOf(&catalogue.Species{ShrinkageRadial: is(4.8)}, catalogue.QuarterSawn)
	require.True(t, ok)
	require.False(t, l.HasCoefficient())
	require.True(t, l.HasShrinkage())
	_, ok = LawsOf(&catalogue.Species{ShrinkageRadial: is(4.8)}, catalogue.FlatSawn)
	require.False(t, ok)
	_, ok = LawsOf(&catalogue.Species{ShrinkageRadial: is(4.8), Tangential: is(0.0035)}, catalogue.RiftSawn)
	require.False(t, ok, "neither rule is known in both directions")
}

// The gravity of a species is the green one, or what the one at 12 % implies; its density follows.
func TestGravityOfASpecies(t *testing.T) {
	t.Parallel()
	basic, ok := Basic(&catalogue.Species{GravityGreen: is(0.56), Gravity12: is(0.7)})
	require.True(t, ok)
	require.InDelta(t, 0.56, basic, 1e-12)
	basic, ok = Basic(&catalogue.Species{Gravity12: is(0.63)})
	require.True(t, ok)
	require.InDelta(t, 0.63, Gravity(basic, 12), 1e-12)
	_, ok = Basic(&catalogue.Species{})
	require.False(t, ok)
	require.InDelta(t, 560*1.4, Density(Gravity(0.56, 40), 40), 1e-9,
		"green wood has its green volume: 560 kg of wood a cubic metre, and 40 % of that in water")
	require.InDelta(t, 2.359737216, measure.BoardFoot.Litres(), 1e-9)
}
