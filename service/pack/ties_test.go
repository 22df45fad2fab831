package pack

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// bought is a choice of the slow twin: counts from the largest size to the smallest.
type bought struct{ cost, content, packs, first, second, third int }

// better is the rule that Cheapest promises: least cost, then least content, then fewest packs, then the larger ones.
func (a bought) better(b bought) bool {
	return slices.Compare([]int{a.cost, a.content, a.packs, -a.first, -a.second, -a.third},
		[]int{b.cost, b.content, b.packs, -b.first, -b.second, -b.third}) < 0
}

// byHand tries every number of each of three packs.
func byHand(need int, size, price [3]int) bought {
	best := bought{cost: 1 << 30}
	for a := 0; ; a++ {
		for b := 0; ; b++ {
			rest := max(0, need-a*size[0]-b*size[1])
			c := (rest + size[2] - 1) / size[2]
			k := bought{a*price[0] + b*price[1] + c*price[2], a*size[0] + b*size[1] + c*size[2], a + b + c, a, b, c}
			if k.better(best) {
				best = k
			}
			if a*size[0]+b*size[1] >= need {
				break
			}
		}
		if a*size[0] >= need {
			break
		}
	}
	return best
}

// All packs of three sizes up to nine, at one rate or a little dearer, for needs up to 25: both searches find the very
// packs that the rule asks for, in whatever order the packs are on sale.
func TestTiesGoByTheRule(t *testing.T) {
	t.Parallel()
	for a := 9; a > 2; a-- {
		for b := a - 1; b > 1; b-- {
			for c := b - 1; c > 0; c-- {
				for dearer := range 8 {
					tryTies(t, [3]int{a, b, c}, [3]int{a + dearer&1, b + dearer>>1&1, c + dearer>>2})
				}
			}
		}
	}
}

func tryTies(t *testing.T, size, price [3]int) {
	t.Helper()
	var packs []Offer
	order := [3]int{1, 2, 0}
	for _, i := range order {
		packs = append(packs, Offer{money.Count(size[i]), whole(t, price[i])})
	}
	for need := 1; need <= 25; need++ {
		want := byHand(need, size, price)
		counts := []int{want.second, want.third, want.first}
		got, err := Cheapest(money.Count(need), packs)
		require.NoError(t, err)
		require.True(t, got.Proved)
		require.Equal(t, counts, got.Counts, "need %d, sizes %v at %v", need, size, price)
		require.Equal(t, money.Count(want.content).String(), got.Bought.String())
		if need <= slices.Min(size[:]) {
			continue // a single pack: neither search is asked
		}
		for _, search := range []func(*mix){func(m *mix) { m.deepen(0, 0, 0, 0) }, func(m *mix) { require.True(t, m.widen()) }} {
			var m mix
			require.NoError(t, m.takeApart(packs))
			require.NoError(t, m.want(int64(need)*1e6, money.Count(need)))
			search(&m)
			got := make([]int, len(packs))
			for i, k := range m.kinds {
				got[k.offer] = int(m.best.count[i])
			}
			got[m.filler.offer] = int(m.best.filler)
			require.Equal(t, counts, got, "need %d, sizes %v at %v", need, size, price)
		}
	}
}

func whole(t *testing.T, price int) money.UnitPrice {
	t.Helper()
	return unitPrice(t, money.Count(price).String())
}

func unitPrice(t *testing.T, s string) money.UnitPrice {
	t.Helper()
	p, err := money.ParseUnitPrice(s)
	require.NoError(t, err)
	return p
}

func amount(t *testing.T, s string) money.Quantity {
	t.Helper()
	q, err := money.ParseQuantity(s)
	require.NoError(t, err)
	return q
}

// Of packs of one size and one price the first on sale is taken, whatever stands between.
func TestOfTheSamePackTheFirstOfferIsTaken(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(5), whole(t, 9)}, {money.Count(2), whole(t, 3)}, {money.Count(3), whole(t, 5)}, {money.Count(2), whole(t, 3)}}
	got, err := Cheapest(money.Count(7), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 2, 1, 0}, got.Counts, "2 + 2 + 3 for 11, where 2 × 4 costs 12 and 5 + 2 costs 12")
	single, err := Cheapest(money.Count(1), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 1, 0, 0}, single.Counts)
}

// One pack size: the number of packs is exact where the quotient of floating point is not.
func TestTheNumberOfPacksOfOneSizeIsExact(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		need, size string
		want       int
	}{
		{"100000000.000000001", "1", 100_000_001}, // the quotient is 1e8 in floating point
		{"2.3", "0.1", 23},
		{"0.000001", "1000000000", 1},
		{"999999999", "1", 999_999_999},
		{"6.9", "2.3", 3},
		{"7.2", "2.4", 3},
		{"1.1", "0.1", 11},
	} {
		got, err := Cheapest(amount(t, c.need), []Offer{{amount(t, c.size), whole(t, 1)}})
		require.NoError(t, err)
		require.Equal(t, []int{c.want}, got.Counts, "%s of %s", c.need, c.size)
	}
	up := 0
	for tenths := 1; tenths <= 30; tenths++ { // also where it is rounded up
		for n := 1; n <= 200; n++ {
			size, need := money.RoundQuantity(float64(tenths)/10, 1), money.RoundQuantity(float64(tenths*n)/10, 1)
			if need.Float()/size.Float() > float64(n) {
				up++
			}
			require.Equal(t, n, multiple(need, size))
		}
	}
	require.Positive(t, up)
}

// The largest numbers are taken, the next ones refused, and the fault says which.
func TestLargestNumbers(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		need, size, price string
		pointer           string // empty: taken
	}{
		"a billion units":             {"1000000000", "1000000000", "100000000", ""},
		"a unit more":                 {"1000000001", "1000000000", "100000000", "/need"},
		"a larger pack":               {"1000000000", "1000000001", "100000000", "/packs/0/size"},
		"a cent more":                 {"1000000000", "1000000000", "100000000.01", "/packs/0/price"},
		"a billion packs":             {"1000000000", "1", "1", ""},
		"more than a billion packs":   {"1000000000", "0.999999", "1", "/packs/0/size"},
		"nothing is needed of a pack": {"0", "0.000001", "0", ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := Cheapest(amount(t, c.need), []Offer{{amount(t, c.size), unitPrice(t, c.price)}})
			if c.pointer == "" {
				require.NoError(t, err)
				return
			}
			faults := fault.All(err)
			require.Len(t, faults, 1)
			require.Equal(t, c.pointer, faults[0].Pointer)
			require.Equal(t, fault.Invalid, faults[0].Kind)
		})
	}
}

// A need with seven decimals is refused when it takes more than one pack of several sizes.
func TestANeedWithTooManyDecimals(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(1), whole(t, 2)}, {money.Count(3), whole(t, 5)}}
	_, err := Cheapest(amount(t, "4.1234567"), packs)
	require.ErrorContains(t, err, "/need")
	require.ErrorContains(t, err, "4.1234567")
	got, err := Cheapest(amount(t, "4.123456"), packs)
	require.NoError(t, err)
	require.Equal(t, []int{2, 1}, got.Counts)
}

// A quarter of the largest whole number of 64 bits, 2.3058e18, is what three times the price of the need may be, counted
// in millionths: at 99,999,999.999999 a unit that is 7,686 units and one more for the rest.
func TestSumsThatWouldNotFitAreRefused(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(1), unitPrice(t, "99999999.999999")}, {money.Count(3), unitPrice(t, "0.000001")}}
	got, err := Cheapest(money.Count(7685), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 2562}, got.Counts)
	_, err = Cheapest(money.Count(7686), packs)
	faults := fault.All(err)
	require.Len(t, faults, 1)
	require.Equal(t, "/need", faults[0].Pointer)
	require.Contains(t, faults[0].Detail, "7686 units")
}

// Prices in whole cents are counted in cents, so that the limit is farther off by as much.
func TestTheLimitGoesByTheCoin(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(1), whole(t, 100_000_000)}, {money.Count(3), whole(t, 100_000_000)}}
	_, err := Cheapest(money.Count(900_000_000), packs)
	require.NoError(t, err)
}

// Free packs: every price zero, so that the coin is, and still the least content wins.
func TestFreePacks(t *testing.T) {
	t.Parallel()
	got, err := Cheapest(money.Count(7), []Offer{{money.Count(5), whole(t, 0)}, {money.Count(3), whole(t, 0)}})
	require.NoError(t, err)
	require.Equal(t, []int{1, 1}, got.Counts, "8 units, where 3 × 3 are 9")
	require.True(t, got.Cost.IsZero())
}

// Six sizes are more than the lists that lie in the search itself have room for.
func TestManySizes(t *testing.T) {
	t.Parallel()
	var packs []Offer
	for _, size := range []int{2, 3, 7, 11, 19, 37} {
		packs = append(packs, Offer{money.Count(size), whole(t, size)})
	}
	for need := 3; need <= 120; need++ { // 3 for the first that needs more than one pack
		got, err := Cheapest(money.Count(need), packs)
		require.NoError(t, err)
		require.True(t, got.Proved)
		require.Equal(t, money.Count(need).String(), got.Bought.String(), "2 and 3 make up every need")
		n := 0
		for _, k := range got.Counts {
			n += k
		}
		require.Equal(t, fewest(need, []int{2, 3, 7, 11, 19, 37}), n, "need %d", need)
	}
}

// fewest is the least number of coins that make up a sum, by the table of all smaller sums.
func fewest(sum int, coins []int) int {
	table := make([]int, sum+1)
	for s := 1; s <= sum; s++ {
		table[s] = 1 << 20
		for _, c := range coins {
			if c <= s {
				table[s] = min(table[s], table[s-c]+1)
			}
		}
	}
	return table[sum]
}
