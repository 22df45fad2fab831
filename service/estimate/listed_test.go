package estimate_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/source"
	"seamwright/store/demotest"
)

func TestAListedWoodIsSaidOnce(t *testing.T) {
	t.Parallel()
	o := deskA()
	require.NotContains(t, codes(mustMake(t, o)), "wood_listed")
	o.Top.Species = "mahogany"
	e := mustMake(t, o)
	count := 0
	for _, c := range codes(e) {
		if c == "wood_listed" {
			count++
		}
	}
	require.Equal(t, 1, count)
}

// What the law asks of those who trade in a wood is said with its source.
func TestTheLawOfAWoodIsSaidWithItsSource(t *testing.T) {
	t.Parallel()
	cat := *demotest.Catalogue(t)
	cat.Species = slices.Clone(cat.Species)
	for i := range cat.Species {
		cat.Species[i].Law = ""
	}
	s := cat.Index().SpeciesByCode("maple_sugar")
	s.Law, s.LawSource = "Tell where it was felled.", source.FinishExcluding
	e := madeOf(t, deskA(), &cat)
	require.Equal(t, "Sugar maple: Tell where it was felled.", textOf(e, "wood_law"))
	require.True(t, cites(e.Sources, source.FinishExcluding))
	s.Law = ""
	e = madeOf(t, deskA(), &cat)
	require.False(t, cites(e.Sources, source.FinishExcluding))
}
