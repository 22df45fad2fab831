package pack

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// byHand tries every number of each pack, largest size first, and keeps what Cheapest promises: least cost, then least
// content, then fewest packs, then the larger ones.
func byHand(need int, size, price []int) (counts []int) {
	var best []int
	var try func(i, rest int, taken []int)
	try = func(i, rest int, taken []int) {
		if i == len(size) {
			if rest > 0 {
				return
			}
			score := []int{0, 0, 0} // cost, content, packs, and then the numbers, more being better
			for k, n := range taken {
				score[0], score[1], score[2] = score[0]+n*price[k], score[1]+n*size[k], score[2]+n
				score = append(score, -n)
			}
			if best == nil || slices.Compare(score, best) < 0 {
				best = score
			}
			return
		}
		for n := 0; ; n++ {
			try(i+1, rest-n*size[i], append(taken[:i:i], n))
			if rest-n*size[i] <= 0 {
				return
			}
		}
	}
	try(0, need, nil)
	for _, n := range best[3:] {
		counts = append(counts, -n)
	}
	return counts
}

// All packs of four sizes up to six, at one rate or dearer by up to two tenths, or free, for needs up to 13: both
// searches find the very packs that the rule asks for.
func TestTiesGoByTheRule(t *testing.T) {
	t.Parallel()
	for a := 6; a > 3; a-- {
		for b := a - 1; b > 2; b-- {
			for c := b - 1; c > 1; c-- {
				for d := c - 1; d > 0; d-- {
					size := []int{a, b, c, d}
					tryTies(t, size, []int{0, 0, 0, 0})
					for dearer := range 81 {
						price := make([]int, 4)
						for i := range price {
							price[i] = 10*size[i] + dearer%3
							dearer /= 3
						}
						tryTies(t, size, price)
					}
				}
			}
		}
	}
}

// tryTies asks both searches for packs whose prices are in tenths.
func tryTies(t *testing.T, size, price []int) {
	t.Helper()
	var packs []Offer
	for i := range size {
		packs = append(packs, Offer{money.Count(size[i]), unitPrice(t, fmt.Sprintf("%d.%d", price[i]/10, price[i]%10))})
	}
	var m mix
	require.NoError(t, m.takeApart(packs))
	for need := 1; need <= 13; need++ {
		want := byHand(need, size, price)
		for _, search := range []func(){func() { m.deepen(0, 0, 0, 0) }, func() { require.True(t, m.widen()) }} {
			require.NoError(t, m.want(int64(need)*1e6, money.Count(need)))
			search()
			got := make([]int, len(packs))
			for i, k := range m.kinds {
				got[k.offer] = int(m.best.count[i])
			}
			got[m.filler.offer] = int(m.best.filler)
			if !slices.Equal(want, got) { // quicker than to compare with a report each time
				require.Equal(t, want, got, "need %d, sizes %v at %v tenths", need, size, price)
			}
		}
	}
}

// The pack that is cheapest by its content takes its place among the others by its size. 7 + 2 cost as much as 5 + 4,
// and 5 + 2 as 4 + 3, where 5 is the cheapest by the unit: the larger packs are taken.
func TestTheFillerStandsByItsSize(t *testing.T) {
	t.Parallel()
	size, price := []int{7, 5, 4, 2}, []int{71, 50, 42, 21}
	require.Equal(t, []int{1, 0, 0, 1}, byHand(9, size, price))
	tryTies(t, size, price)
	size, price = []int{5, 4, 3, 2}, []int{50, 41, 31, 22}
	require.Equal(t, []int{1, 0, 0, 1}, byHand(7, size, price))
	tryTies(t, size, price)
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
	packs := []Offer{{money.Count(5), whole(t, 9)}, {money.Count(2), whole(t, 3)}, {money.Count(3), whole(t, 5)},
		{money.Count(2), whole(t, 3)}}
	got, err := Cheapest(money.Count(7), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 2, 1, 0}, got.Counts, "2 + 2 + 3 for 11, where 2 × 4 costs 12 and 5 + 2 costs 12")
	single, err := Cheapest(money.Count(1), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 1, 0, 0}, single.Counts)

	var many []Offer // more than are sorted in order by chance
	for i := range 90 {
		size := []int{7, 3, 5}[i%3]
		many = append(many, Offer{money.Count(size), whole(t, size)})
	}
	got, err = Cheapest(money.Count(15), many)
	require.NoError(t, err)
	require.Equal(t, []int{1, 1, 1}, got.Counts[:3], "7 + 5 + 3, where three of 5 are as many and 7 is larger")
}

// Packs hold whole units, the need a millionth more.
func TestAHairMoreNeedsOneMoreOfMixedPacks(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(2), whole(t, 5)}, {money.Count(1), whole(t, 3)}}
	got, err := Cheapest(money.Count(3), packs)
	require.NoError(t, err)
	require.Equal(t, []int{1, 1}, got.Counts)
	got, err = Cheapest(amount(t, "3.000001"), packs)
	require.NoError(t, err)
	require.Equal(t, []int{2, 0}, got.Counts)
}

// Prices and sizes whose products need more than 64 bits.
func TestRatesOfLargeNumbers(t *testing.T) {
	t.Parallel()
	const big = 1 << 40
	half, whole, third := kind{size: 2 * big, price: big}, kind{size: 2 * big, price: 2 * big},
		kind{size: 2*big + 1, price: big}
	require.True(t, cheaperRate(half, whole))
	require.False(t, cheaperRate(whole, half))
	require.True(t, cheaperRate(third, half), "the same price for one unit more")
	require.False(t, cheaperRate(half, third))
	require.False(t, cheaperRate(half, half))
}

// A shelf is used for one article after the other.
func TestAShelfIsLaidAnew(t *testing.T) {
	t.Parallel()
	var s Shelf
	s.Lay([]Offer{{money.Count(4), whole(t, 9)}, {money.Count(2), whole(t, 5)}, {money.Count(3), whole(t, 5)}})
	i, ok := s.One(money.Count(2))
	require.True(t, ok)
	require.Equal(t, 1, i, "as cheap as the third, and holds less")
	_, ok = s.One(money.Count(3))
	require.False(t, ok, "one pack is too small")
	counts, _, err := s.Cheapest(money.Count(7), nil)
	require.NoError(t, err)
	require.Equal(t, []int{1, 0, 1}, counts, "9 + 5 for 7")

	s.Lay([]Offer{{money.Count(2), whole(t, -1)}})
	_, ok = s.One(money.Count(1))
	require.False(t, ok, "no sound pack")
	_, _, err = s.Cheapest(money.Count(1), nil)
	require.ErrorContains(t, err, "/packs/0/price")

	s.Lay([]Offer{{money.Count(5), whole(t, 6)}, {money.Count(7), whole(t, 5)}})
	i, ok = s.One(money.Count(5))
	require.True(t, ok)
	require.Equal(t, 1, i)
	counts, proved, err := s.Cheapest(money.Count(12), []int{9}) // nothing is left of 2 for 5, and 3 for 5
	require.NoError(t, err)
	require.True(t, proved)
	require.Equal(t, []int{0, 2}, counts, "14 for 10, where 12 cost 11")
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

// A quarter of the largest whole number of 64 bits, 2.3058e18, is what three times the price of the need may be,
// counted in millionths: at 99,999,999.999999 a unit that is 7,686 units and a little, of which one is for the rest.
func TestSumsThatWouldNotFitAreRefused(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(1), unitPrice(t, "99999999.999999")}, {money.Count(3), unitPrice(t, "0.000001")}}
	got, err := Cheapest(amount(t, "7685.143"), packs)
	require.NoError(t, err)
	require.Equal(t, []int{0, 2562}, got.Counts)
	_, err = Cheapest(amount(t, "7685.144"), packs)
	faults := fault.All(err)
	require.Len(t, faults, 1)
	require.Equal(t, "/need", faults[0].Pointer)
	require.Contains(t, faults[0].Detail, "7685.144 units")
}

// Prices in whole cents are counted in cents, so that the limit is farther off by as much.
func TestTheLimitGoesByTheCoin(t *testing.T) {
	t.Parallel()
	packs := []Offer{{money.Count(1), whole(t, 100_000_000)}, {money.Count(3), whole(t, 100_000_000)}}
	_, err := Cheapest(money.Count(900_000_000), packs)
	require.NoError(t, err)

	var used Shelf // by the coin of what lies on it, whatever lay there before
	used.Lay([]Offer{{money.Count(1), unitPrice(t, "0.000001")}, {money.Count(3), unitPrice(t, "0.000001")}})
	_, _, err = used.Cheapest(money.Count(5), nil)
	require.NoError(t, err)
	used.Lay(packs)
	_, _, err = used.Cheapest(money.Count(900_000_000), nil)
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
