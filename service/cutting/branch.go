package cutting

import (
	"container/heap"
	"math"
)

// box is a part of the search: how many boards of each stock and all longer ones together are bought,
// at least and at most.
type box struct {
	least, most []int
	bound       int64 // in units of the job: nothing in the box costs less
	number      int   // in the order they were made
	allowed     bool  // its linear program is solved and allows what the covers ask for
}

// boxes is a heap: the least bound first, then the youngest, which is nearest to a plan.
type boxes []*box

// Len is the number of open boxes (heap.Interface).
func (b boxes) Len() int { return len(b) }

// Swap exchanges two boxes (heap.Interface).
func (b boxes) Swap(i, k int) { b[i], b[k] = b[k], b[i] }

// Push appends a *box (heap.Interface).
func (b *boxes) Push(x any) { *b = append(*b, x.(*box)) }

// Less puts the box to be opened next first (heap.Interface).
func (b boxes) Less(i, k int) bool {
	if b[i].bound != b[k].bound {
		return b[i].bound < b[k].bound
	}
	return b[i].number > b[k].number
}

// Pop removes the last box (heap.Interface).
func (b *boxes) Pop() any {
	last := len(*b) - 1
	x := (*b)[last]
	*b = (*b)[:last]
	return x
}

// large is the search for jobs beyond the dynamic program. It looks for the cheapest purchase of
// boards that the pieces can be cut from; what a purchase costs is known at once, so that only
// purchases cheaper than the best plan count. Boxes of purchases are bounded by the linear program
// and by covers, and split until a single purchase is left, which is then packed.
type large struct {
	j      *job
	m      *master // nil until it is begun
	buy    purchase
	packer packer
	open   boxes
	made   int
	points []point // purchases that could not be packed, nor proved to be too little
	loose  int64   // least bound of the boxes given up without an answer
	x      []float64

	plans  [3]layout // made greedily
	memory master    // of m
}

const noBound = int64(1) << 62

// solve returns a plan, a lower bound in units of the job, and whether the plan is proved to be the cheapest. It spends
// about so many elementary steps at most. Of the search before, it takes nothing but the memory. A plan at hand, if it has strips, and
// what nothing costs less than are where it begins.
func (l *large) solve(j *job, budget int64, known layout, least int64) (layout, int64, bool) {
	*l = large{j: j, loose: noBound, plans: l.plans, memory: l.memory,
		packer: packer{j: j, cost: noBound, lay: l.packer.lay, f: filler{j: j, ways: l.packer.f.ways, left: l.packer.f.left,
			strip: l.packer.f.strip, live: l.packer.f.live}}}
	for i, skew := range [...]float64{0, 0.5, 4} {
		l.plans[i] = greedy(j, skew, l.plans[i])
		l.packer.offer(l.plans[i])
	}
	if len(known.stock) > 0 {
		l.packer.offer(known)
	}
	j.spent += greedyWork(j)
	root := l.root(max(areaBound(j), j.top.bound(j.least), least))
	if root.bound < l.packer.cost {
		l.buy = newPurchase(j)
		l.rush(root, budget)
	}
	if root.bound >= l.packer.cost {
		return l.packer.plan, l.packer.cost, true
	}
	if masterWork(j) > (budget-j.spent)/4 {
		return l.packer.plan, root.bound, false
	}
	l.memory.begin(j, budget)
	l.m = &l.memory
	l.packer.m, l.x = l.m, make([]float64, len(j.room))
	for _, p := range l.plans {
		l.m.addLayout(p)
	}
	l.m.addLayout(l.packer.plan)
	l.run(root, budget)
	j.spent = l.m.spent()
	bound := l.loose
	for _, b := range l.open {
		bound = min(bound, b.bound)
	}
	for _, p := range l.points {
		bound = min(bound, p.cost)
	}
	return l.packer.plan, min(bound, l.packer.cost), bound >= l.packer.cost
}

// greedyWork is about what three plans made greedily take.
func greedyWork(j *job) int64 {
	pieces := 0
	for _, n := range j.need {
		pieces += n
	}
	return 12 * int64(pieces*len(j.room)) // a strip holds a few pieces, and is tried on every stock
}

// root is the box of all purchases that may be worth buying.
func (l *large) root(bound int64) *box {
	root := &box{least: make([]int, len(l.j.room)), most: make([]int, len(l.j.room)), bound: bound}
	pieces := 0
	for _, n := range l.j.need {
		pieces += n
	}
	// with more, the strips used of one board would fit into unused ones of longer boards
	most := (pieces + l.j.strips - 1) / l.j.strips
	if l.j.least > 0 {
		most += int(l.j.least/l.j.poorest()) + 1
	}
	for s := range root.most {
		root.most[s] = most
	}
	return root
}

// run searches with most of the budget, and tries the purchases that resisted with the rest.
func (l *large) run(root *box, budget int64) {
	l.open = boxes{root}
	l.m.within(root.least, root.most)
	l.m.ask(false)
	l.m.limit = budget / 5 * 4
	root.bound = max(root.bound, l.m.whole(l.m.settle(areaWorth(l.j))))
	l.m.ask(true)
	if !l.m.able() {
		l.packer.complete()
	}
	for len(l.open) > 0 && l.m.able() && l.open[0].bound < l.packer.cost {
		l.visit(heap.Pop(&l.open).(*box))
	}
	l.m.limit = budget
	l.insist()
}

// How many sets of pieces a search for a packing looks at: a strip takes up to 300.
const (
	rushPatience    = 25_000
	attemptPatience = 3000
)

// rush packs purchases that are cheapest by the size of the pieces alone, each with more room to spare, until one holds
// them. When the pieces are small, this is near the optimum, and often enough to prove it without the linear program.
// It spends a third of what is left of the budget at most.
func (l *large) rush(root *box, budget int64) {
	area := &l.buy.covers[0]
	steps := mostPurchases
	if l.j.least == 0 { // with a content nearly all purchases that have it cost the same
		steps *= 20
	}
	total := area.total
	most := l.j.spent + (budget-l.j.spent)/3
	for _, spare := range []float64{0, 1. / 2048, 1. / 512, 1. / 128} { // shares of the pieces' size
		left := max(0, most-l.j.spent)
		area.total = total * (1 + spare)
		c := l.cheapest(root, min(steps, int(left/2/l.stepWork())))
		if spare == 0 {
			root.bound = max(root.bound, c)
		}
		if c >= l.packer.cost || l.packer.attempt(l.buy.best, min(rushPatience, left/fillWork)) == found && l.buy.complete() {
			break
		}
	}
	area.total = total
}

// fillWork is about what a step of the search for a packing takes.
const fillWork = 50

// stepWork is about what a step of the search for a purchase takes.
func (l *large) stepWork() int64 { return int64(4 + 2*len(l.buy.covers)) }

// cheapest is the cheapest purchase that the covers allow in a box, under the cost of the best plan.
func (l *large) cheapest(b *box, steps int) int64 {
	c := l.buy.cheapest(b, l.packer.cost, steps)
	l.j.spent += int64(l.buy.steps) * l.stepWork()
	return c
}

// areaWorth is the least that a piece of each kind can cost: its size at the cheapest rate of the
// stocks that hold it, when the cheapest strip costs 1.
func areaWorth(j *job) []float64 {
	worth := make([]float64, len(j.need))
	for t, size := range j.size {
		for s, r := range j.room {
			c := float64(j.cost[s]) / float64(j.cost[0]) * float64(size) / float64(r)
			if size <= r && (worth[t] == 0 || c < worth[t]) {
				worth[t] = c
			}
		}
	}
	return worth
}

// areaBound is the least that all pieces can cost, in whole units of the job.
func areaBound(j *job) int64 {
	sum := 0.0
	for t, w := range areaWorth(j) {
		sum += w * float64(j.need[t])
	}
	sum *= float64(j.cost[0]) / float64(j.strips)
	return int64(math.Ceil(sum*(1-zero) - zero))
}

// visit takes one step with a box: it raises its bound, answers it, or splits it.
func (l *large) visit(b *box) {
	c := l.cheapest(b, mostPurchases)
	if c > b.bound {
		b.bound = c
		if c < l.packer.cost {
			l.packer.attempt(l.buy.best, attemptPatience)
			heap.Push(&l.open, b)
		}
		return
	}
	if b.allowed && l.buy.usable() {
		l.test(b)
		return
	}
	b.allowed = false
	l.m.within(b.least, b.most)
	bound, done := l.m.solve(l.packer.cost, 0)
	if done {
		l.buy.learn(l.m)
	}
	if bound >= l.packer.cost {
		return
	}
	old := b.bound
	b.bound = max(b.bound, bound)
	if !done || l.m.lacking() {
		l.loose = min(l.loose, b.bound)
		return
	}
	l.packer.complete()
	if bound < old && l.buy.usable() {
		b.allowed = true
		heap.Push(&l.open, b)
		return
	}
	l.split(b)
}

// split parts the box where its linear program buys the most broken number of boards. When it buys
// whole boards everywhere, that purchase is answered.
func (l *large) split(b *box) {
	l.m.bought(l.x)
	at, far := -1, 1e-6
	for s, x := range l.x {
		x /= float64(l.j.strips)
		if d := math.Abs(x - math.Round(x)); d > far {
			at, far = s, d
		}
	}
	if at >= 0 {
		n := int(math.Floor(l.x[at] / float64(l.j.strips)))
		l.child(b, at, b.least[at], n)
		l.child(b, at, n+1, b.most[at])
		return
	}
	boards := make([]int, len(l.x))
	for s, x := range l.x {
		boards[s] = int(math.Round(x / float64(l.j.strips)))
		if s > 0 {
			boards[s-1] -= boards[s]
		}
	}
	l.answer(b, boards)
}

// test takes the cheapest purchase that the covers allow, in a box whose linear program would allow a
// cheaper one. If the linear program refuses the purchase, its prices make a new cover.
func (l *large) test(b *box) {
	boards := append([]int(nil), l.buy.best...)
	sums := sumsOf(boards)
	l.m.within(sums, sums)
	bound, done := l.m.solve(b.bound+1, 0)
	switch {
	case bound > b.bound:
		l.buy.learn(l.m)
		heap.Push(&l.open, b)
	case !done:
		l.loose = min(l.loose, b.bound)
	default:
		l.answer(b, boards)
	}
}

// answer packs a purchase of the box, for which the linear program has just been solved, and opens
// the rest of the box.
func (l *large) answer(b *box, boards []int) {
	cost := int64(0)
	for s, n := range boards {
		cost += int64(n) * l.j.cost[s]
	}
	if cost < l.packer.cost && l.packer.pack(boards) == unknown {
		l.points = append(l.points, point{boards, cost})
	}
	rest := &box{least: append([]int(nil), b.least...), most: append([]int(nil), b.most...), bound: b.bound}
	for s, n := range sumsOf(boards) {
		l.child(rest, s, rest.least[s], n-1)
		l.child(rest, s, n+1, rest.most[s])
		rest.least[s], rest.most[s] = n, n
	}
}

// child opens the part of b that buys from least to most boards of stock s and longer ones.
func (l *large) child(b *box, s, least, most int) {
	if least > most {
		return
	}
	l.made++
	c := &box{least: append([]int(nil), b.least...), most: append([]int(nil), b.most...), bound: b.bound, number: l.made}
	c.least[s], c.most[s] = least, most
	heap.Push(&l.open, c)
}

// sumsOf is, for each stock, the boards of it and of all longer ones.
func sumsOf(boards []int) []int {
	sums := append([]int(nil), boards...)
	for s := len(sums) - 2; s >= 0; s-- {
		sums[s] += sums[s+1]
	}
	return sums
}
