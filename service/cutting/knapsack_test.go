package cutting

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// most is the worth of the best strip, by trying all numbers of all kinds.
func most(size []int64, worth []float64, need []int, room int64) float64 {
	if len(size) == 0 {
		return 0
	}
	best := 0.0
	for n := 0; n <= need[0] && int64(n)*size[0] <= room; n++ {
		best = max(best, float64(n)*worth[0]+most(size[1:], worth[1:], need[1:], room-int64(n)*size[0]))
	}
	return best
}

// holdsStrip adds a strip up: what it is worth, within its room and what is needed.
func holdsStrip(t require.TestingT, k *knapsack, room int64) (worth float64) {
	for i, n := range k.best {
		require.LessOrEqual(t, n, k.need[i])
		room -= int64(n) * k.j.size[i]
		worth += float64(n) * k.worth[i]
	}
	require.GreaterOrEqual(t, room, int64(0))
	return worth
}

// By depth and by the table the strip that is worth most is found as by trying everything, no strip is found where a floor is not
// surpassed, and pieces that are cut through are worth as much at least.
func TestTheBestStripIsWhatTryingEverythingFinds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		j := &job{}
		var worth []float64
		for range rapid.IntRange(1, 4).Draw(t, "kinds") {
			size := int64(rapid.IntRange(1, 30).Draw(t, "size"))
			if slices.Contains(j.size, size) {
				continue
			}
			j.size = append(j.size, size)
			j.need = append(j.need, rapid.IntRange(1, 4).Draw(t, "need"))
			worth = append(worth, float64(rapid.IntRange(0, 40).Draw(t, "worth"))/8)
		}
		slices.SortFunc(j.size, func(a, b int64) int { return int(b - a) })
		j.room = []int64{int64(rapid.IntRange(1, 40).Draw(t, "room")), int64(rapid.IntRange(41, 90).Draw(t, "longer"))}
		for s, room := range j.room {
			want := most(j.size, worth, j.need, room)
			for _, byTable := range []bool{false, true} {
				k := newKnapsack(j)
				k.table.preferred = byTable
				k.sort(worth)
				found, bound := k.fill(s, 0)
				require.Equal(t, want > 0, found)
				require.InDelta(t, want, bound, 1e-9)
				require.InDelta(t, want, k.value, 1e-9)
				if found {
					require.InDelta(t, want, holdsStrip(t, k, room), 1e-9)
				}
				require.GreaterOrEqual(t, k.fractional(s), want-1e-9)
				if byTable {
					require.False(t, k.another(s, 0), "a table has one strip")
				} else {
					left := slices.Clone(j.need)
					for i, n := range k.best {
						left[i] -= n
					}
					next := most(j.size, worth, left, room)
					require.Equal(t, next > 0, k.another(s, 0), "from the pieces that are left")
					require.InDelta(t, next, holdsStrip(t, k, room), 1e-9)
					k.all()
					require.Equal(t, j.need, k.need)
				}
				found, bound = k.fill(s, want+1)
				require.False(t, found)
				require.InDelta(t, want+1, bound, 1e-9, "nothing is worth more")
			}
		}
	})
}

// By hand: kinds of 6, 4 and 3 worth 9, 8 and 3, of which 1, 1 and 2 are needed. The most for its size first: 8 for 4, 9 for 6, then
// what is left of the room at 3 for 3, or all of them.
func TestPiecesThatAreCutThroughByHand(t *testing.T) {
	t.Parallel()
	k := newKnapsack(&job{size: []int64{6, 4, 3}, need: []int{1, 1, 2}, room: []int64{2, 4, 7, 10, 12, 40}})
	k.sort([]float64{9, 8, 3})
	for s, want := range []float64{4, 8, 8 + 9*3.0/6, 17, 19, 23} {
		require.InDelta(t, want, k.fractional(s), 1e-12)
	}
}

// A search that takes too long gives up: a table does it from there on, or the strip found so far stands with the worth of pieces
// that are cut through as its bound.
func TestASearchThatTakesTooLong(t *testing.T) {
	t.Parallel()
	j := &job{size: []int64{17, 13, 11, 7}, need: []int{3, 3, 3, 3}, room: []int64{60}}
	worth := []float64{17.1, 13, 11.2, 6.9}
	want := most(j.size, worth, j.need, 60)
	for _, tabled := range []bool{true, false} {
		k := newKnapsack(j)
		if k.limit = 3; !tabled {
			k.table = nil
		}
		k.sort(worth)
		found, bound := k.fill(0, 0)
		require.True(t, found)
		if tabled {
			require.InDelta(t, want, bound, 1e-9)
			require.True(t, k.table.preferred)
		} else {
			require.InDelta(t, k.fractional(0), bound, 1e-9)
			require.GreaterOrEqual(t, bound, want)
		}
		require.InDelta(t, k.value, holdsStrip(t, k, 60), 1e-9)
	}
}

// A table needs a step that is not too fine.
func TestSizesWithoutACoarseStepHaveNoTable(t *testing.T) {
	t.Parallel()
	require.NotNil(t, newTable(&job{size: []int64{2, 4}, need: []int{1, 1}, room: []int64{2*mostCells - 1}}))
	require.Nil(t, newTable(&job{size: []int64{2, 4}, need: []int{1, 1}, room: []int64{2 * mostCells}}))
	require.Nil(t, newTable(&job{size: []int64{2, 3}, need: []int{1, 1}, room: []int64{2*mostCells - 1}}))
	few := newTable(&job{size: []int64{1}, need: []int{1000}, room: []int64{mostCells - 1}})
	require.Nil(t, few, "too many pieces in too many cells")
}
