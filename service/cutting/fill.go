package cutting

import (
	"math"
	"slices"
)

// verdict is the outcome of a search.
type verdict int

const (
	unknown    verdict = iota // gave up
	found                     // packed
	impossible                // proved that it cannot be packed
)

// filler packs the pieces that are left into given strips, by depth first. The longest piece left
// must lie on some strip; each way to fill up that strip is tried, the fullest first. Ways that are
// no better than another one are left out: those that a further piece could be added to, those in
// which a piece could be exchanged for a longer one that is left, and those that a shorter strip at
// hand holds as well. (S. Martello, P. Toth, Knapsack Problems, 1990, ch. 8, dominance of sets.)
type filler struct {
	j     *job
	left  []int
	strip []int // strips of each stock not yet used
	spare int64 // room of the strips minus size of the pieces left
	lay   *layout
	ways  [][]way // of each depth
	steps int64
	limit int64
	take  []int
	live  []int // kinds with pieces left when the strip is begun, longest first
	work  int64 // elementary steps spent
	tried int   // sets looked at for this strip
	cut   bool  // some strip had too many ways to look at
}

// mostSets is how many sets of pieces are looked at for one strip.
const mostSets = 300

// way is one way to fill up a strip.
type way struct {
	stock int
	waste int64
	take  []int
}

// fill packs left into strips, adding them to lay; both are changed only when it succeeds.
func (f *filler) fill(left, strips []int, lay *layout, limit int64) verdict {
	f.left = append(f.left[:0], left...)
	f.strip = append(f.strip[:0], strips...)
	f.lay, f.steps, f.limit, f.spare, f.cut = lay, 0, limit, 0, false
	f.take = make([]int, len(left))
	for s, n := range strips {
		f.spare += int64(n) * f.j.room[s]
	}
	for t, n := range left {
		f.spare -= int64(n) * f.j.size[t]
	}
	if f.spare < 0 {
		return impossible
	}
	rows := len(lay.stock)
	v := f.descend(0, 0)
	if v == impossible && f.cut {
		v = unknown
	}
	if v != found {
		lay.stock, lay.take = lay.stock[:rows], lay.take[:rows*lay.kinds]
		return v
	}
	copy(left, f.left)
	copy(strips, f.strip)
	return found
}

// descend packs the kinds from t on.
func (f *filler) descend(t, depth int) verdict {
	for t < len(f.left) && f.left[t] == 0 {
		t++
	}
	if t == len(f.left) {
		return found
	}
	if depth == len(f.ways) {
		f.ways = append(f.ways, nil)
	}
	f.list(t, depth)
	ways := f.ways[depth]
	for i := range ways {
		if f.steps++; f.steps > f.limit {
			return unknown
		}
		w := &ways[i]
		f.use(w, 1)
		f.lay.stock = append(f.lay.stock, w.stock)
		f.lay.take = append(f.lay.take, w.take...)
		v := f.descend(t, depth+1)
		if v == found {
			return found
		}
		f.lay.stock = f.lay.stock[:len(f.lay.stock)-1]
		f.lay.take = f.lay.take[:len(f.lay.take)-len(w.take)]
		f.use(w, -1)
		if v == unknown {
			return unknown
		}
	}
	return impossible
}

func (f *filler) use(w *way, sign int) {
	f.strip[w.stock] -= sign
	f.spare -= int64(sign) * w.waste
	for t, n := range w.take {
		f.left[t] -= sign * n
	}
}

// list writes the ways for the longest piece, of kind t, into f.ways[depth].
func (f *filler) list(t, depth int) {
	f.ways[depth] = f.ways[depth][:0]
	f.live = f.live[:0]
	for i := t; i < len(f.left); i++ {
		if f.left[i] > 0 {
			f.live = append(f.live, i)
		}
	}
	f.work += int64(len(f.left))
	shorter := int64(0) // room of the next shorter strip at hand
	for s, n := range f.strip {
		if n == 0 || f.j.room[s] < f.j.size[t] {
			continue
		}
		clear(f.take)
		f.take[t] = 1
		f.tried = 0
		f.extend(depth, s, 0, f.j.room[s]-f.j.size[t], f.j.room[s]-shorter)
		shorter = f.j.room[s]
	}
	slices.SortStableFunc(f.ways[depth], func(a, b way) int {
		switch {
		case a.waste != b.waste:
			return int(min(max(a.waste-b.waste, -1), 1))
		}
		return 0
	})
}

// extend adds pieces of the live kinds from the i-th on to a strip of stock s; over is the waste from which on a
// shorter strip would do.
func (f *filler) extend(depth, s, i int, room, over int64) {
	f.steps++
	if f.tried++; f.tried > mostSets {
		f.cut = true
		return
	}
	size := f.j.size
	if n := len(f.live); i < n && size[f.live[i]] > room { // pass over what does not fit
		for k := n; i < k; {
			if m := (i + k) / 2; size[f.live[m]] > room {
				i = m + 1
			} else {
				k = m
			}
		}
	}
	fits := false
	for ; i < len(f.live); i++ {
		t := f.live[i]
		if f.left[t] == f.take[t] {
			continue
		}
		fits = true
		f.take[t]++
		f.extend(depth, s, i, room-size[t], over)
		f.take[t]--
	}
	f.work += 10
	if fits || room > f.spare || room >= over || !f.best(room) {
		return
	}
	f.keep(depth, s, room)
}

// best reports whether no piece that is left could be added or exchanged for a shorter one. The first live kind has one
// piece that must lie here.
func (f *filler) best(room int64) bool {
	f.work += int64(len(f.live))
	size := f.j.size
	longer := int64(math.MaxInt64 / 2) // size of the shortest kind so far with a piece to spare
	first := 1
	for _, t := range f.live {
		n := f.take[t]
		if n > first && longer-size[t] <= room {
			return false
		}
		first = 0
		if f.left[t] > n {
			if size[t] <= room {
				return false
			}
			longer = size[t]
		}
	}
	return true
}

func (f *filler) keep(depth, s int, room int64) {
	ways := f.ways[depth]
	if len(ways) < cap(ways) {
		ways = ways[:len(ways)+1]
	} else {
		ways = append(ways, way{})
	}
	w := &ways[len(ways)-1]
	w.stock, w.waste = s, room
	w.take = append(w.take[:0], f.take...)
	f.ways[depth] = ways
}
