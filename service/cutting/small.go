package cutting

import (
	"slices"
)

// The reach of the dynamic program.
const (
	smallKinds  = 6
	smallStrips = 4 // per board
	smallNeed   = 120
	smallStates = 4200
	smallCuts   = 128
	smallGreedy = 100 // states from which on a plan made beforehand pays
	smallPath   = 160 // boards: more than the pieces of so many states
)

// takes is a number of pieces of each of at most six kinds.
type takes [smallKinds]uint8

// packed is takes in one number, a byte each; no number is over 127.
func (t *takes) packed() uint64 {
	return uint64(t[0]) | uint64(t[1])<<8 | uint64(t[2])<<16 | uint64(t[3])<<24 | uint64(t[4])<<32 | uint64(t[5])<<40
}

// covers reports whether takes in one number are no less than others, kind by kind: the highest bit of each byte stays when no less
// is taken from it.
func covers(a, b uint64) bool {
	const high = 0x808080808080
	return ((a|high)-b)&high == high
}

// smallCut is what a strip, or some strips of one board together, can give.
type smallCut struct {
	take   takes
	all    uint64 // take in one number
	before int16  // the same board with its last strip missing; -1 for none
	strip  int16  // what the last strip gives
	stock  int16
}

// small is the state of the dynamic program. Going down from all pieces to none, it notes for every
// set of pieces still to be cut the least that the boards before it cost:
//
//	g(all) = 0
//	g(s − b) = min { g(s) + cost(b) : board b gives a piece of the longest kind in s }
//
// Some board must give a longest piece, so that looking only at those loses nothing; a board may give
// more than is needed. A set whose pieces cannot be had for less than a plan at hand costs is left.
//
// It is used again for the next job; what a job leaves in it does not matter to that.
type small struct {
	j     *job
	kinds int
	cuts  [smallCuts]smallCut // strips first, then pairs of strips, and so on, for each stock
	ncut  int
	whole [MostStocks][2]int16 // the whole boards among the cuts of each stock
	use   [smallCuts]int16     // whole boards that are of use
	gives [smallCuts]useful    // each of them
	nuse  int
	limit int64               // price of the plan at hand
	worth [smallKinds]float64 // least price of a piece of each kind
	state []smallState

	bound  int64 // nothing costs less than this, where the job was too large
	target int64 // of the search for a purchase with a content: it looks for one that costs no more
	next   int64 // least bound above the target that it met
	steps  int   // that it may still take
	path   [smallPath]int16
	boards int   // so far, in path
	ints   []int // of the layout

	plain layout // the plan at hand, made greedily
	left  []int
}

// smallState is a set of pieces still to be cut.
type smallState struct {
	price int64 // 1 + g, 0 where no plan leads
	from  int16 // state before
	board int16 // board between
}

// solve solves the job exactly, or says that it is too large for it or for the budget: then the layout is a plan all the same, or
// has no strips, and nothing costs less than the bound. The layout is good until the next job.
func (d *small) solve(j *job, budget int64) (layout, bool) {
	d.bound = 0
	if len(j.need) > smallKinds || j.strips > smallStrips {
		return layout{}, false
	}
	states := 1
	for _, n := range j.need {
		if states *= n + 1; n > smallNeed || states > smallStates {
			return layout{}, false
		}
	}
	d.j, d.kinds, d.ncut, d.limit, d.worth, d.boards = j, len(j.need), 0, noBound, [smallKinds]float64{}, 0
	for s := range j.room {
		if !d.addStock(s) {
			return layout{}, false
		}
	}
	d.state = slices.Grow(d.state[:0], max(states, smallGreedy))[:states]
	clear(d.state)
	d.choose(false)
	work := int64(states * d.nuse)
	if work > budget/2 {
		return layout{}, false
	}
	j.spent = work
	if j.least > 0 {
		return d.withContent(states, budget)
	}
	return d.cheapest(states), true
}

// cheapest solves the job without a content.
func (d *small) cheapest(states int) layout {
	j := d.j
	var lay layout
	if states > smallGreedy {
		d.left = append(d.left[:0], j.need...)
		d.plain = finish(j, layout{kinds: d.kinds, stock: d.plain.stock[:0], take: d.plain.take[:0]}, d.left, 0)
		lay = d.plain
		d.limit = lay.cost(j)
		d.value()
	}
	d.descend(states)
	if d.state[0].price == 0 {
		return lay // nothing is cheaper
	}
	return d.trace(states - 1)
}

// value sets the least price of a piece of each kind.
func (d *small) value() {
	for t, w := range areaWorth(d.j) {
		d.worth[t] = w * float64(d.j.cost[0]) / float64(d.j.strips) * (1 - 1e-9)
	}
}

// addStock lists what a board of the stock can give; it reports false when that is too much.
func (d *small) addStock(s int) bool {
	first := d.ncut
	if !d.addStrips(s) {
		return false
	}
	end := d.ncut
	from := first
	for range d.j.strips - 1 {
		to := d.ncut
		for b := from; b < to; b++ {
			for i := first; i < end; i++ {
				if !d.addCut(to, d.joined(b, i)) {
					return false
				}
			}
		}
		from = to
	}
	d.whole[s] = [2]int16{int16(from), int16(d.ncut)}
	return true
}

// choose lists the boards that are of use: none gives no more than one that costs no more and, when the content counts,
// has no less of it.
func (d *small) choose(content bool) {
	d.nuse = 0
	for s := range d.j.room {
		for b := d.whole[s][0]; b < d.whole[s][1]; b++ {
			d.addBoard(b, content)
		}
	}
}

// joined is cut b with strip i beside it.
func (d *small) joined(b, i int) smallCut {
	c := smallCut{take: d.cuts[b].take, before: int16(b), strip: int16(i), stock: d.cuts[i].stock}
	for t := range d.kinds {
		c.take[t] = uint8(min(int(c.take[t])+int(d.cuts[i].take[t]), d.j.need[t]))
	}
	c.all = c.take.packed()
	return c
}

// addStrips lists the fullest ways to cut one strip of the stock: no further piece fits behind.
func (d *small) addStrips(s int) bool {
	j, last := d.j, d.kinds-1
	var take takes
	room := j.room[s]
	for t := range d.kinds {
		n := min(int64(j.need[t]), room/j.size[t])
		take[t] = uint8(n)
		room -= n * j.size[t]
	}
	for {
		if d.full(&take, room) {
			c := smallCut{take: take, all: take.packed(), before: -1, strip: int16(d.ncut), stock: int16(s)}
			if d.ncut == smallCuts {
				return false
			}
			d.cuts[d.ncut] = c
			d.ncut++
		}
		t := last - 1 // give up one piece of the last kind but one that has any, and fill up again
		room += int64(take[last]) * j.size[last]
		take[last] = 0
		for t >= 0 && take[t] == 0 {
			t--
		}
		if t < 0 {
			return true
		}
		take[t]--
		room += j.size[t]
		for t++; t <= last; t++ {
			n := min(int64(j.need[t]), room/j.size[t])
			take[t] = uint8(n)
			room -= n * j.size[t]
		}
	}
}

// full reports whether no further piece that is needed fits into the room.
func (d *small) full(take *takes, room int64) bool {
	for t := range d.kinds {
		if int(take[t]) < d.j.need[t] && d.j.size[t] <= room {
			return false
		}
	}
	return true
}

// addCut adds a cut to the list that begins at from, unless one there gives as much.
func (d *small) addCut(from int, c smallCut) bool {
	for i := from; i < d.ncut; i++ {
		if covers(d.cuts[i].all, c.all) {
			return true
		}
	}
	if d.ncut == smallCuts {
		return false
	}
	d.cuts[d.ncut] = c
	d.ncut++
	return true
}

// useful is what a whole board gives and costs.
type useful struct {
	all           uint64 // takes in one number
	cost, content int64  // the content 0 while it does not count
}

// surpasses reports whether a board does as well as another.
func (a *useful) surpasses(b *useful) bool {
	return a.cost <= b.cost && a.content >= b.content && covers(a.all, b.all)
}

// addBoard lists a whole board, unless another one does as well, and strikes those off that it surpasses.
func (d *small) addBoard(b int16, content bool) {
	c := &d.cuts[b]
	board := useful{all: c.all, cost: d.j.cost[c.stock]}
	if content {
		board.content = d.j.content[c.stock]
	}
	n := 0
	for i := range d.nuse {
		other := &d.gives[i]
		if other.surpasses(&board) {
			return
		}
		if !board.surpasses(other) {
			d.use[n], d.gives[n] = d.use[i], *other
			n++
		}
	}
	d.use[n], d.gives[n] = b, board
	d.nuse = n + 1
}

// descend computes g of every state in falling order of their numbers: the pieces still to be cut are
// the digits, the longest kind first.
func (d *small) descend(states int) {
	var left, stride [smallKinds]int
	w := 1
	for t := d.kinds - 1; t >= 0; t-- {
		stride[t] = w
		w *= d.j.need[t] + 1
	}
	d.state[states-1].price = 1
	kinds, bounded, gives := d.kinds, d.limit < noBound, d.gives[:d.nuse]
	for s := states - 1; s > 0; s-- {
		price := d.state[s].price
		if price == 0 {
			continue
		}
		rest, longest := uint32(s), 0
		for t := range kinds {
			n := rest / uint32(stride[t])
			left[t], rest = int(n), rest-n*uint32(stride[t])
		}
		for left[longest] == 0 {
			longest++
		}
		if bounded && d.beyond(price, &left) {
			continue
		}
		for i := range gives {
			board := &gives[i]
			all := board.all >> (8 * longest)
			if all&0xFF == 0 {
				continue
			}
			to := s
			for t := longest; t < kinds; t++ {
				to -= min(left[t], int(all&0xFF)) * stride[t]
				all >>= 8
			}
			next := price + board.cost
			if p := &d.state[to]; next <= d.limit && (p.price == 0 || next < p.price) {
				*p = smallState{next, int16(s), d.use[i]}
			}
		}
	}
}

// beyond reports whether the pieces left cannot be had for what the plan at hand costs more.
func (d *small) beyond(price int64, left *[smallKinds]int) bool {
	least := 0.0
	for t := range d.kinds {
		least += float64(left[t]) * d.worth[t]
	}
	return float64(price-1)+least > float64(d.limit)-0.5
}

// trace reads the plan off, from nothing left back to all.
func (d *small) trace(all int) layout {
	for s := 0; s != all; s = int(d.state[s].from) {
		d.path[d.boards] = d.state[s].board
		d.boards++
	}
	slices.Reverse(d.path[:d.boards])
	return d.layout()
}

// layout cuts the boards of the path. It is good until the next one.
func (d *small) layout() layout {
	strips := d.boards * d.j.strips
	d.ints = zeros(d.ints, strips*(d.kinds+1))
	ints := d.ints
	lay := layout{kinds: d.kinds, stock: ints[:0:strips], take: ints[strips:strips]}
	var left [smallKinds]int
	copy(left[:], d.j.need)
	for _, u := range d.path[:d.boards] {
		var strip [smallStrips]*takes
		n := 0
		for at := int(u); at >= 0; at = int(d.cuts[at].before) {
			strip[n] = &d.cuts[d.cuts[at].strip].take
			n++
		}
		for n--; n >= 0; n-- {
			row := lay.add(int(d.cuts[u].stock))
			for t := range d.kinds {
				row[t] = min(left[t], int(strip[n][t]))
				left[t] -= row[t]
			}
		}
	}
	return lay
}
