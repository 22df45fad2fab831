package cutting

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// holds tries every way to put the pieces on so many boards of each stock.
func holds(j *job, boards []int) bool {
	var rooms []int64
	for s, n := range boards {
		for range n * j.strips {
			rooms = append(rooms, j.room[s])
		}
	}
	var pieces []int64
	for t, n := range j.need {
		for range n {
			pieces = append(pieces, j.size[t])
		}
	}
	var place func(i int) bool
	place = func(i int) bool {
		if i == len(pieces) {
			return true
		}
		for r := range rooms {
			if rooms[r] >= pieces[i] {
				rooms[r] -= pieces[i]
				if place(i + 1) {
					return true
				}
				rooms[r] += pieces[i]
			}
		}
		return false
	}
	return place(0)
}

// cheapestWithin is the price of the cheapest boards that hold the pieces, of each stock and all longer ones together
// no fewer and no more than is said; ok is false when there are none.
func cheapestWithin(j *job, least, most []int) (cost int64, ok bool) {
	cost = math.MaxInt64
	boards := make([]int, len(j.room))
	var choose func(s, longer int, price int64)
	choose = func(s, longer int, price int64) {
		if s < 0 {
			if price < cost && holds(j, boards) {
				cost, ok = price, true
			}
			return
		}
		for sum := max(longer, least[s]); sum <= most[s]; sum++ {
			boards[s] = sum - longer
			choose(s-1, sum, price+int64(boards[s])*j.cost[s])
		}
		boards[s] = 0
	}
	choose(len(j.room)-1, 0, 0)
	return cost, ok
}

// What the prices of a linear program say within limits on the boards, stopped after any number of rounds, is never
// above the cheapest boards within them, and at the end it is near.
func TestTheBoundWithinLimitsIsNeverAboveTheOptimum(t *testing.T) {
	t.Parallel()
	bound, tight, held := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := Problem{StripsPerBoard: rapid.IntRange(1, 2).Draw(t, "strips"), Kerf: 3}
		for range rapid.IntRange(1, 3).Draw(t, "stocks") {
			l := rapid.IntRange(1000, 2500).Draw(t, "stock")
			p.Stocks = append(p.Stocks, Stock{Length: measure.Length(l),
				Cost: float64(l * rapid.IntRange(60, 140).Draw(t, "rate") / 1000)})
		}
		for range rapid.IntRange(1, 3).Draw(t, "kinds") {
			p.Demands = append(p.Demands, Demand{measure.Length(rapid.IntRange(300, 1000).Draw(t, "length")),
				rapid.IntRange(1, 2).Draw(t, "count")})
		}
		j := job{top: &topping{}}
		require.NoError(t, j.load(&p))
		least, most := make([]int, len(j.room)), make([]int, len(j.room))
		for s := len(j.room) - 1; s >= 0; s-- { // of a stock and all longer ones: no fewer than of the longer ones
			low, high := 0, 0
			if s+1 < len(j.room) {
				low, high = least[s+1], most[s+1]
			}
			least[s] = low + rapid.IntRange(0, 1).Draw(t, "least")
			most[s] = max(least[s], high) + rapid.IntRange(0, 3).Draw(t, "most")
		}
		optimum, ok := cheapestWithin(&j, least, most)
		if !ok {
			return
		}
		free, _ := cheapestWithin(&j, make([]int, len(j.room)), append([]int(nil), most...))
		for rounds := range 4 {
			var m master
			m.begin(&j, 1e8)
			m.within(least, most)
			got, _ := m.solve(math.MaxInt64, rounds)
			require.LessOrEqual(t, got, optimum, "after %d rounds", rounds)
			if rounds == 0 {
				bound++
				if 2*got > optimum {
					tight++
				}
				if got > free {
					held++ // by the least numbers of boards
				}
			}
		}
	})
	require.Greater(t, bound, 30)
	require.Greater(t, 2*tight, bound, "most bounds are more than half of the optimum")
	require.Positive(t, held, "no bound was raised by the least numbers")
}
