package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// The panels of the chosen top are those that it was reckoned with, however little effort the tops beside it have left.
func TestPanelsOfTheSameSlabsAreBoughtOnce(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	s, err := PickPanels(cat, "ash_white", catalogue.FlatSawn, 1.5*in, 25.5*in, false, "2026-06-01", measure.Inches)
	require.NoError(t, err)
	slabs := func(lengths ...measure.Length) (list []Slab) {
		for _, l := range lengths {
			b := BlankOf(l*in, 25.5*in, 1.5*in, &cat.Settings)
			list = append(list, Slab{"A", &b})
		}
		return list
	}
	cost, err := s.Cost(slabs(70, 40, 33, 52), &cat.Settings)
	require.NoError(t, err)
	_, err = s.Cost(slabs(61, 40, 33), &cat.Settings)
	require.NoError(t, err)
	spent := s.effort.spent
	s.effort.left = 0
	_, lines, err := s.Cut(slabs(70, 40, 33, 52), &cat.Settings)
	require.NoError(t, err)
	sum := money.Zero
	for i := range lines {
		sum = sum.Plus(lines[i].Amount)
	}
	require.Equal(t, cost.String(), sum.String())
	require.Equal(t, spent, s.effort.spent, "nothing was searched anew")
}
