package pack

import (
	"fmt"
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
		var a, b mix
		for _, m := range []*mix{&a, &b} {
			total, ok := need.Millionths()
			require.True(t, ok)
			require.NoError(t, m.takeApart(packs))
			require.NoError(t, m.want(total, need))
		}
		a.deepen(0, 0, 0, 0)
		require.True(t, b.widen())
		if a.steps <= mostSteps {
			require.Equal(t, a.best, b.best)
		} else {
			require.LessOrEqual(t, b.compare(&b.best, &a.best), 0)
		}
	})
}

// A shelf used for one need after the other chooses as a new one does for each, errors included; laid anew, it forgets
// what lay on it.
func TestAShelfUsedAgainChoosesAsANewOne(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var used Shelf
		var counts []int
		for range rapid.IntRange(1, 3).Draw(t, "articles") {
			var packs []Offer
			for range rapid.IntRange(0, 6).Draw(t, "packs") {
				places := rapid.SampledFrom([]int{0, 0, 1, 2, 6, 7}).Draw(t, "places")
				size, err := money.ParseQuantity(decimal(rapid.IntRange(-1, 4000).Draw(t, "size"), places))
				require.NoError(t, err)
				price, err := money.ParseUnitPrice(decimal(rapid.IntRange(-1, 4000).Draw(t, "price"), 2))
				require.NoError(t, err)
				packs = append(packs, Offer{size, price})
			}
			used.Lay(packs)
			for range rapid.IntRange(1, 5).Draw(t, "needs") {
				need := money.RoundQuantity(rapid.Float64Range(-1, 9000).Draw(t, "need"),
					uint8(rapid.SampledFrom([]int{0, 3, 6}).Draw(t, "need's places")))
				want, wrong := Cheapest(need, packs)
				got, proved, err := used.Cheapest(need, counts)
				require.Equal(t, wrong, err)
				counts = got
				if err == nil {
					require.Equal(t, want.Counts, append([]int{}, got...))
					require.Equal(t, want.Proved, proved)
				}
			}
		}
	})
}

// decimal writes n with so many decimal places.
func decimal(n, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	text := fmt.Sprintf("%0*d", places+1, n)
	if places == 0 {
		return sign + text
	}
	return sign + text[:len(text)-places] + "." + text[len(text)-places:]
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
