package pack

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/money"
)

// The search by depth and the one by content find the same packs, ties included.
func TestTheTwoSearchesAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var packs []Offer
		for range rapid.IntRange(2, 5).Draw(t, "packs") {
			size := rapid.IntRange(1, 40).Draw(t, "size")
			price := rapid.IntRange(0, 40).Draw(t, "price")
			if rapid.Bool().Draw(t, "even") {
				price = size
			}
			p, err := money.ParseUnitPrice(money.Count(price).String())
			require.NoError(t, err)
			packs = append(packs, Offer{money.Count(size), p})
		}
		need := money.Count(rapid.IntRange(1, 500).Draw(t, "need"))
		a, err := newMix(need, packs)
		require.NoError(t, err)
		b, err := newMix(need, packs)
		require.NoError(t, err)
		a.deepen(0, 0, 0, 0)
		require.True(t, b.widen())
		if a.steps <= mostSteps {
			require.Equal(t, a.best, b.best)
		} else {
			require.LessOrEqual(t, b.compare(&b.best, &a.best), 0)
		}
	})
}

func TestTooManyMixturesGiveTheBestFoundUnproved(t *testing.T) {
	t.Parallel()
	var packs []Offer
	for _, s := range []string{"0.473177", "0.946353", "1.000003", "2.500009", "3.785411"} {
		size, err := money.ParseQuantity(s)
		require.NoError(t, err)
		price, err := money.ParseUnitPrice(s)
		require.NoError(t, err)
		packs = append(packs, Offer{size, price})
	}
	need, err := money.ParseQuantity("9999.999999")
	require.NoError(t, err)
	c, err := Cheapest(need, packs)
	require.NoError(t, err)
	require.False(t, c.Proved)
	require.GreaterOrEqual(t, c.Bought.Cmp(need), 0)
	require.Less(t, c.Cost.Float(), 10000.5)
}
