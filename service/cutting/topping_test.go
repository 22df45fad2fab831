package cutting

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The plain twin: the least cost of every content by a table, one unit after the other.
func TestContentsCostWhatATableSays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var cost, content []int64
		for range rapid.IntRange(1, 6).Draw(t, "stocks") {
			cost = append(cost, int64(rapid.IntRange(1, 400).Draw(t, "cost")))
			content = append(content, int64(rapid.IntRange(0, 60).Draw(t, "content")))
		}
		content[0] = max(content[0], 1)
		var top topping
		for range 3 { // a list is used again, or made anew for more
			least := int64(rapid.IntRange(1, 400).Draw(t, "least"))
			top.prepare(cost, content, least)
			table := make([]int64, least+1)
			for c := int64(1); c <= least; c++ {
				table[c] = noBound
				for s := range cost {
					if content[s] > 0 {
						table[c] = min(table[c], cost[s]+table[max(0, c-content[s])])
					}
				}
			}
			for c := range table {
				require.Equal(t, table[c], top.cost(int64(c)))
				require.Equal(t, table[c], top.bound(int64(c)))
				boards, has, price := make([]int, len(cost)), int64(0), int64(0)
				top.add(int64(c), boards)
				for s, n := range boards {
					has += int64(n) * content[s]
					price += int64(n) * cost[s]
				}
				require.GreaterOrEqual(t, has, int64(c))
				require.Equal(t, table[c], price)
			}
		}
	})
}

// Contents with more sums than are listed are covered all the same, and their bound is no more than what boards cost.
func TestContentsBeyondTheListAreCovered(t *testing.T) {
	t.Parallel()
	cost, content := []int64{6703, 7919, 8101, 9007}, []int64{66_703, 79_190, 81_013, 90_071}
	var top topping
	for least := int64(1_000_000); least < 5e7; least = least*5/3 + 7 {
		top.prepare(cost, content, least)
		boards, has, price := make([]int, len(cost)), int64(0), int64(0)
		top.add(least, boards)
		for s, n := range boards {
			has += int64(n) * content[s]
			price += int64(n) * cost[s]
		}
		require.GreaterOrEqual(t, has, least)
		require.Equal(t, price, top.cost(least))
		require.LessOrEqual(t, top.bound(least), price)
		require.Less(t, float64(price), float64(top.bound(least))*1.02+9007)
	}
	require.Less(t, top.listed, int64(2e7), "the last ones were beyond the list")
}

// A list as long as lists get does not reach every content, and is used again all the same.
func TestALongListIsUsedAgain(t *testing.T) {
	t.Parallel()
	cost, content := []int64{6703, 7919, 8101, 9007}, []int64{66_703, 79_190, 81_013, 90_071}
	var top topping
	top.prepare(cost, content, 5e7)
	require.Less(t, top.listed, int64(5e7))
	top.points[0].cost = -1 // as only this list has it
	top.prepare(cost, content, 5e7)
	require.Equal(t, int64(-1), top.points[0].cost)
	top.prepare(append(cost[:3:3], 9008), content, 5e7)
	require.Zero(t, top.points[0].cost, "other prices, another list")
}
