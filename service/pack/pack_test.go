package pack_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/pack"
)

type tester interface {
	require.TestingT
	Helper()
}

func quantity(t tester, s string) money.Quantity {
	t.Helper()
	q, err := money.ParseQuantity(s)
	require.NoError(t, err)
	return q
}

// offers reads pairs of size and price.
func offers(t tester, pairs ...string) []pack.Offer {
	t.Helper()
	var list []pack.Offer
	for i := 0; i < len(pairs); i += 2 {
		price, err := money.ParseUnitPrice(pairs[i+1])
		require.NoError(t, err)
		list = append(list, pack.Offer{Size: quantity(t, pairs[i]), Price: price})
	}
	return list
}

func TestCheapestCombinations(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		need   string
		packs  []string
		counts []int
		bought string
		cost   string
	}{
		"nothing needed, nothing bought":      {"0", []string{"1", "9.80"}, []int{0}, "0", "0.00"},
		"one size is rounded up":              {"2.1", []string{"1", "9.80"}, []int{3}, "3", "29.40"},
		"one size that fits exactly":          {"0.3", []string{"0.1", "1.10"}, []int{3}, "0.3", "3.30"},
		"a hair more needs one more":          {"0.300001", []string{"0.1", "1.10"}, []int{4}, "0.4", "4.40"},
		"one large can beats four small ones": {"3.6", []string{"1", "10", "4", "35"}, []int{0, 1}, "4", "35.00"},
		"the rest comes in small cans":        {"4.9", []string{"1", "10", "4", "35"}, []int{1, 1}, "5", "45.00"},
		"two mid cans beat one large": {"4", []string{"1", "9", "2", "11", "5", "30"}, []int{0, 2, 0}, "4",
			"22.00"},
		"two sizes that are no multiples": {"12", []string{"5", "10", "7", "13"}, []int{1, 1}, "12", "23.00"},
		"same cost: the least bought":     {"3", []string{"3", "10", "4", "10"}, []int{1, 0}, "3", "10.00"},
		"same cost and content: the fewest packs": {"4", []string{"1", "5", "2", "10", "4", "20"}, []int{0, 0, 1}, "4",
			"20.00"},
		"same in all: the larger packs": {"10", []string{"1", "1", "4", "4", "5", "5", "6", "6"}, []int{0, 1, 0, 1},
			"10", "10.00"},
		"same size: the cheaper offer": {"2", []string{"2", "8", "2", "7.9999"}, []int{0, 1}, "2", "8.00"},
		"a free pack":                  {"3", []string{"2", "0", "3", "1"}, []int{2, 0}, "4", "0.00"},
		"tenths of a cent add up": {"1000", []string{"1", "0.0125", "100", "1.2499"}, []int{0, 10}, "1000",
			"12.50"},
		"ten thousand packs and a remainder": {"10000.5", []string{"1", "7", "0.4", "3"}, []int{9999, 4}, "10000.6",
			"70005.00"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got, err := pack.Cheapest(quantity(t, c.need), offers(t, c.packs...))
			require.NoError(t, err)
			require.Equal(t, c.counts, got.Counts)
			require.Equal(t, c.bought, got.Bought.String())
			require.Equal(t, c.cost, got.Cost.String())
			require.True(t, got.Proved)
		})
	}
}

func TestMalformedNeedsAndOffersAreRefused(t *testing.T) {
	t.Parallel()
	for pointer, c := range map[string]struct {
		need  string
		packs []string
		says  string
	}{
		"/packs":         {"1", nil, "no pack"},
		"/need":          {"-1", []string{"1", "2"}, "not -1"},
		"/packs/0/size":  {"1", []string{"0", "2"}, "more than nothing, at most a billion units, not 0"},
		"/packs/1/size":  {"1", []string{"1", "2", "-3", "2"}, "more than nothing, at most a billion units, not -3"},
		"/packs/1/price": {"1", []string{"1", "2", "3", "-0.01"}, "not -0.01"},
		"/packs/2/size":  {"1", []string{"1", "2", "3", "4", "0.1234567", "1"}, "six decimals"},
		// over one pack: nothing is counted otherwise
		"/packs/0/price": {"2", []string{"1", "2.1234567", "3", "4"}, "six decimals"},
	} {
		t.Run(pointer, func(t *testing.T) {
			t.Parallel()
			_, err := pack.Cheapest(quantity(t, c.need), offers(t, c.packs...))
			faults := fault.All(err)
			require.Len(t, faults, 1)
			require.Equal(t, fault.Invalid, faults[0].Kind)
			require.Equal(t, pointer, faults[0].Pointer)
			require.Contains(t, faults[0].Detail, c.says)
		})
	}
}

// drawOffers makes packs in tenths with prices in a few cents, so that ties are common.
func drawOffers(t *rapid.T, most int) []pack.Offer {
	var list []pack.Offer
	for range rapid.IntRange(1, most).Draw(t, "packs") {
		size := rapid.IntRange(1, 30).Draw(t, "size")
		price := rapid.IntRange(0, 30).Draw(t, "cents")
		if rapid.Bool().Draw(t, "even") {
			price = size // all at one rate
		}
		list = append(list, offers(t, fmt.Sprintf("%d.%d", size/10, size%10), fmt.Sprintf("0.%02d", price))...)
	}
	return list
}

func TestCheapestIsWhatTryingEverythingFinds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		packs := drawOffers(t, 4)
		need := money.RoundQuantity(float64(rapid.IntRange(0, 60).Draw(t, "need"))/10, 1)
		got, err := pack.Cheapest(need, packs)
		require.NoError(t, err)
		require.True(t, got.Proved)
		best := tryEverything(need, packs)
		require.Equal(t, best.Cost.String(), got.Cost.String())
		require.Equal(t, best.Bought.String(), got.Bought.String())
		require.Equal(t, best.packs, total(got.Counts))
		sums(t, packs, got)
	})
}

// A need far beyond the sizes: the whole fillers may be taken off one by one without changing the rest.
func TestHugeNeedsRepeat(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		packs := drawOffers(t, 4)
		n := rapid.IntRange(100_000, 200_000).Draw(t, "need")
		at := func(tenths int) pack.Choice {
			c, err := pack.Cheapest(money.RoundQuantity(float64(tenths)/10, 1), packs)
			require.NoError(t, err)
			sums(t, packs, c)
			return c
		}
		a := at(n)
		period := 1 // least common multiple of the sizes: so much is always whole fillers
		for _, p := range packs {
			period = period / gcd(period, int(p.Size.Float()*10+0.5)) * int(p.Size.Float()*10+0.5)
		}
		if period > 1_000_000 {
			return
		}
		b := at(n + period)
		rate := 0.0
		for i, p := range packs {
			if r := p.Price.Float() / p.Size.Float(); i == 0 || r < rate {
				rate = r
			}
		}
		require.InDelta(t, float64(period)/10*rate, b.Cost.Float()-a.Cost.Float(), 1e-6)
		require.InDelta(t, float64(period)/10, b.Bought.Float()-a.Bought.Float(), 1e-6)
	})
}

func TestTheOrderOfOffersDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		packs := drawOffers(t, 5)
		need := money.RoundQuantity(float64(rapid.IntRange(0, 3000).Draw(t, "need"))/10, 1)
		a, err := pack.Cheapest(need, packs)
		require.NoError(t, err)
		b, err := pack.Cheapest(need, rapid.Permutation(packs).Draw(t, "other order"))
		require.NoError(t, err)
		require.Equal(t, a.Cost, b.Cost)
		require.Equal(t, a.Bought, b.Bought)
		require.Equal(t, total(a.Counts), total(b.Counts))
	})
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func total(counts []int) int {
	n := 0
	for _, k := range counts {
		n += k
	}
	return n
}

// sums checks that the counts cover what they say at the price they say.
func sums(t tester, packs []pack.Offer, c pack.Choice) {
	t.Helper()
	var bought money.Quantity
	var cost money.Amount
	for i, n := range c.Counts {
		bought = bought.Plus(packs[i].Size.Times(n))
		cost = cost.Plus(packs[i].Price.Times(money.Count(n)))
	}
	require.Zero(t, bought.Cmp(c.Bought))
	require.Zero(t, cost.Cmp(c.Cost))
}

type slow struct {
	pack.Choice
	packs int
}

// tryEverything is the slow twin: every number of every pack, in exact decimals.
func tryEverything(need money.Quantity, packs []pack.Offer) slow {
	var best *slow
	var try func(i, n int, bought money.Quantity, cost money.Amount)
	try = func(i, n int, bought money.Quantity, cost money.Amount) {
		if bought.Cmp(need) >= 0 {
			if best == nil || cost.Cmp(best.Cost) < 0 || cost.Cmp(best.Cost) == 0 &&
				(bought.Cmp(best.Bought) < 0 || bought.Cmp(best.Bought) == 0 && n < best.packs) {
				best = &slow{pack.Choice{Bought: bought, Cost: cost}, n}
			}
			return
		}
		if i == len(packs) {
			return
		}
		try(i+1, n, bought, cost)
		for bought.Cmp(need) < 0 {
			n++
			bought, cost = bought.Plus(packs[i].Size), cost.Plus(packs[i].Price.Amount())
			try(i+1, n, bought, cost)
		}
	}
	try(0, 0, money.Quantity{}, money.Zero)
	return *best
}

func BenchmarkCheapest(b *testing.B) {
	for _, c := range []struct {
		name, need string
		packs      []string
	}{
		{"one size", "2.37", []string{"0.946", "21.50"}},
		{"three sizes", "2.37", []string{"0.25", "9.90", "1", "31.50", "2.5", "69.00"}},
		{"four sizes", "7.31", []string{"0.118", "7.25", "0.473", "14.80", "0.946", "24.60", "3.785", "79.00"}},
		{"four sizes, need of ten thousand", "10000", []string{"0.118", "7.25", "0.473", "14.80", "0.946", "24.60", "3.785", "79.00"}},
		{"odd sizes at one rate", "9999.9", []string{"0.997", "9.97", "1.009", "10.09", "3.761", "37.61", "3.785", "37.85"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			need, packs := quantity(b, c.need), offers(b, c.packs...)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := pack.Cheapest(need, packs); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
