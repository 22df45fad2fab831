package cutting

import (
	"math"
	"slices"
)

// knapsack finds the strip that is worth most: max Σ worth·take with Σ size·take ≤ room and take ≤ need.
type knapsack struct {
	j     *job
	worth []float64 // of a piece of each kind
	need  []int     // pieces of each kind that may be on the strip
	order []int     // kinds worth something, the most worth for its size first
	ratio []float64 // worth for its size, in that order
	least []int64   // smallest size from there on
	take  []int
	best  []int
	value float64
	steps int64
	limit int64 // of steps for one stock
	work  int64 // elementary steps spent
	table *table
}

// newKnapsack has no worths yet.
func newKnapsack(j *job) *knapsack {
	n := len(j.need)
	ints := make([]int, 4*n)
	k := &knapsack{j: j, worth: make([]float64, n), order: ints[:0:n], ratio: make([]float64, n),
		least: make([]int64, n+1), take: ints[n : 2*n], best: ints[2*n : 3*n], need: ints[3*n:], table: newTable(j),
		limit: patience}
	copy(k.need, j.need)
	return k
}

// another looks for a strip of stock s without the pieces of those found since all were last allowed. It does not when
// the search takes too long.
func (k *knapsack) another(s int, floor float64) bool {
	if k.table != nil && k.table.preferred {
		return false
	}
	for t, n := range k.best {
		k.need[t] -= n
	}
	k.value, k.steps = floor, 0
	clear(k.take)
	clear(k.best)
	k.search(0, k.j.room[s], 0)
	k.work += 4 * k.steps
	return k.value > floor
}

// all allows all pieces again.
func (k *knapsack) all() { copy(k.need, k.j.need) }

// patience is the number of steps after which the search for one strip gives up.
const patience = 20_000

// sort takes the worth of the kinds.
func (k *knapsack) sort(worth []float64) {
	copy(k.worth, worth)
	k.order = k.order[:0]
	for t, w := range k.worth {
		if w > zero {
			k.order = append(k.order, t)
		}
	}
	size := k.j.size
	slices.SortFunc(k.order, func(a, b int) int {
		x, y := k.worth[a]*float64(size[b]), k.worth[b]*float64(size[a])
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return a - b
	})
	n := len(k.order)
	k.least[n] = math.MaxInt64
	for i := n - 1; i >= 0; i-- {
		t := k.order[i]
		k.ratio[i] = k.worth[t] / float64(size[t])
		k.least[i] = min(k.least[i+1], size[t])
	}
	if k.table != nil && k.table.preferred {
		k.table.solve(k)
	}
}

// fill looks for a strip of stock s worth more than floor. It reports the best one found, in k.best
// and k.value, and an upper bound on what any strip is worth, which equals k.value when that is the
// most and is floor when nothing is worth more.
func (k *knapsack) fill(s int, floor float64) (found bool, bound float64) {
	if k.table != nil && k.table.preferred {
		return k.fillByTable(s, floor)
	}
	k.value, k.steps = floor, 0
	clear(k.take)
	clear(k.best)
	k.search(0, k.j.room[s], 0)
	k.work += 4 * k.steps
	if k.steps <= k.limit {
		return k.value > floor, k.value
	}
	if k.table != nil {
		k.table.preferred = true
		k.table.solve(k)
		return k.fillByTable(s, floor)
	}
	return k.value > floor, k.fractional(s)
}

// search completes the strip with kinds from the i-th on, by depth first. The room that is left can
// be worth at most room times the best ratio left.
func (k *knapsack) search(i int, room int64, value float64) {
	if k.steps++; k.steps > k.limit {
		return
	}
	if value > k.value+zero {
		k.value = value
		copy(k.best, k.take)
	}
	size := k.j.size
	for ; room >= k.least[i]; i++ {
		if value+float64(room)*k.ratio[i] <= k.value+zero {
			return
		}
		t := k.order[i]
		for n := min(int64(k.need[t]), room/size[t]); n > 0; n-- {
			k.take[t] = int(n)
			k.search(i+1, room-n*size[t], value+float64(n)*k.worth[t])
		}
		k.take[t] = 0
	}
}

// fractional is the worth of a strip of stock s when pieces may be cut through.
func (k *knapsack) fractional(s int) float64 {
	room, value := k.j.room[s], 0.0
	for _, t := range k.order {
		n := min(int64(k.j.need[t]), room/k.j.size[t])
		value += float64(n) * k.worth[t]
		room -= n * k.j.size[t]
		if n < int64(k.j.need[t]) {
			return value + k.worth[t]*float64(room)/float64(k.j.size[t])
		}
	}
	return value
}

func (k *knapsack) fillByTable(s int, floor float64) (bool, float64) {
	clear(k.best)
	k.value = k.table.read(k, s)
	return k.value > floor+zero, max(k.value, floor)
}

// table solves the knapsack for every room at once, when sizes are multiples of a step that is not
// too fine.
type table struct {
	preferred bool
	step      int64
	cells     int
	words     int
	passes    []int // kind of each pass; a kind has one for each of its pieces that could be on a strip
	value     []float64
	took      []uint64 // a bit for each pass and cell
}

// The finest step, and the most work, of a table.
const (
	mostCells = 1 << 13
	mostTable = 1 << 22
)

// newTable returns nil when the sizes have no step that is coarse enough.
func newTable(j *job) *table {
	t := &table{}
	for _, s := range j.size {
		t.step = gcd(t.step, s)
	}
	longest := j.room[len(j.room)-1]
	if longest/t.step >= mostCells {
		return nil
	}
	t.cells = int(longest/t.step) + 1
	t.words = (t.cells + 63) / 64
	for i, s := range j.size {
		for range min(int64(j.need[i]), longest/s) {
			t.passes = append(t.passes, i)
		}
	}
	if t.cells*len(t.passes) > mostTable {
		return nil
	}
	t.value = make([]float64, t.cells)
	t.took = make([]uint64, t.words*len(t.passes))
	return t
}

// solve fills the table for the worths of k.
func (t *table) solve(k *knapsack) {
	clear(t.value)
	clear(t.took)
	for p, kind := range t.passes {
		worth := k.worth[kind]
		if worth <= zero {
			continue
		}
		w := int(k.j.size[kind] / t.step)
		took := t.took[p*t.words : (p+1)*t.words]
		low := t.value[:t.cells-w]
		high := t.value[w:]
		for c := len(low) - 1; c >= 0; c-- {
			if v := low[c] + worth; v > high[c] {
				high[c] = v
				took[(c+w)>>6] |= 1 << (uint(c+w) & 63)
			}
		}
		k.work += int64(len(low))
	}
}

// read writes the best strip of stock s into k.best and returns what it is worth.
func (t *table) read(k *knapsack, s int) float64 {
	c := int(k.j.room[s] / t.step)
	value := t.value[c]
	for p := len(t.passes) - 1; p >= 0; p-- {
		if t.took[p*t.words+c>>6]>>(uint(c)&63)&1 != 0 {
			k.best[t.passes[p]]++
			c -= int(k.j.size[t.passes[p]] / t.step)
		}
	}
	return value
}
