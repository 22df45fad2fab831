package cutting

import (
	"fmt"
	"slices"
)

// point is a purchase: boards of each stock, and their price.
type point struct {
	boards []int
	cost   int64
}

// packer packs pieces into purchases and keeps the cheapest plan.
type packer struct {
	j        *job
	m        *master
	f        filler
	plan     layout
	cost     int64 // of plan
	buying   []int // purchase that is being packed; nil: any
	tried    map[string]bool
	whole    float64 // share from which on a dive takes a pattern for a whole strip
	rounds   int     // of new patterns in one step of a dive
	patience int64   // steps of one search

	lay layout // the memory of plans that are begun
}

// offer keeps the plan if it is the cheapest yet.
func (p *packer) offer(l layout) {
	if c := l.cost(p.j); c < p.cost {
		p.plan, p.cost = l.clone(), c
	}
	if spare, c := p.unused(&l); c < p.cost {
		p.plan, p.cost = l.clone(), c
		p.plan.spare = spare
	}
}

// unused returns the boards of the purchase being packed that a plan does not cut, and the price of the purchase: the
// cheapest boards for a content are not always known. Without a content, when the plan cuts other boards, or when the
// purchase has too little content, there is no such price.
func (p *packer) unused(l *layout) ([]int, int64) {
	if p.buying == nil || p.j.least == 0 {
		return nil, noBound
	}
	spare := l.cut(p.j)
	cost, content := int64(0), int64(0)
	for s, n := range p.buying {
		if spare[s] = n - spare[s]; spare[s] < 0 {
			return nil, noBound
		}
		cost += int64(n) * p.j.cost[s]
		content += int64(n) * p.j.content[s]
	}
	if content < p.j.least {
		return nil, noBound
	}
	return spare, cost
}

// search packs what is left into the strips.
func (p *packer) search(left, strips []int, lay *layout, patience int64) verdict {
	v := p.f.fill(left, strips, lay, patience)
	p.j.spent += 3 * p.f.work
	p.f.work = 0
	if v == found {
		p.offer(*lay)
	}
	return v
}

// start is an empty plan, in the memory of the one before, all pieces, and the strips of a purchase.
func (p *packer) start(boards []int) (lay *layout, left, strips []int) {
	for _, n := range boards {
		strips = append(strips, n*p.j.strips)
	}
	p.lay = layout{kinds: len(p.j.need), stock: p.lay.stock[:0], take: p.lay.take[:0]}
	return &p.lay, append([]int(nil), p.j.need...), strips
}

// attempt packs a purchase by a short search, once.
func (p *packer) attempt(boards []int, patience int64) verdict {
	key := fmt.Sprint(boards)
	if p.tried[key] {
		return unknown
	}
	if p.tried == nil {
		p.tried = map[string]bool{}
	}
	p.tried[key] = true
	p.buying = boards
	lay, left, strips := p.start(boards)
	v := p.search(left, strips, lay, patience)
	p.buying = nil
	return v
}

// complete rounds the fractional optimum to a plan.
func (p *packer) complete() {
	lay, left, _ := p.start(nil)
	p.round(left, nil, lay, 0.7)
	*lay = finish(p.j, *lay, left, 0)
	p.offer(*lay)
}

// pack packs a purchase for which the linear program has just been solved.
func (p *packer) pack(boards []int) verdict {
	if p.patience == 0 {
		p.whole, p.rounds, p.patience = 0.7, 2, 3000
	}
	p.buying = boards
	defer func() { p.buying = nil }()
	lay, left, strips := p.start(boards)
	v := p.search(left, strips, lay, p.patience)
	if v == unknown && p.dive(left, strips) {
		return found
	}
	return v
}

// dive packs along the fractional optimum: it takes the patterns that are nearly whole strips, tries to
// pack the rest by search, and otherwise optimises the rest anew. Plans on the way are offered.
func (p *packer) dive(left, strips []int) bool {
	right := append([]float64(nil), p.m.right...)
	defer func() { copy(p.m.right, right) }()
	lay := layout{kinds: len(left)}
	for p.round(left, strips, &lay, p.whole) {
		p.offer(finish(p.j, lay.clone(), append([]int(nil), left...), 0))
		if p.search(left, strips, &lay, p.patience) == found {
			return true
		}
		sums := sumsOf(strips)
		p.m.rest(left, sums)
		p.m.ask(false)
		p.m.solve(noBound, p.rounds)
		if !p.m.able() || p.m.lacking() {
			return false
		}
	}
	return false
}

// round takes patterns of the fractional optimum into lay: all that are nearly whole, or else the one
// that is nearest. Without strips it may buy what it likes. It reports whether it took any.
func (p *packer) round(left, strips []int, lay *layout, whole float64) bool {
	big, at := 1e-6, -1
	taken := false
	for i, v := range p.m.lp.basis {
		c := v - 2*p.m.lp.rows
		if c < 0 {
			continue
		}
		x := p.m.lp.x[i]
		for ; x > whole; x-- {
			taken = p.take(c, left, strips, lay) || taken
		}
		if x > big {
			big, at = x, c
		}
	}
	return taken || at >= 0 && p.take(at, left, strips, lay)
}

// take cuts one strip by column c, as far as its pieces are still needed.
func (p *packer) take(c int, left, strips []int, lay *layout) bool {
	s, use := p.m.stock[c], false
	pattern := p.m.pattern(c)
	for t, k := range pattern {
		use = use || k > 0 && left[t] > 0
	}
	if !use || strips != nil && strips[s] == 0 {
		return false
	}
	if strips != nil {
		strips[s]--
	}
	row := lay.add(s)
	for t, k := range pattern {
		row[t] = min(k, left[t])
		left[t] -= row[t]
	}
	return true
}

// insist spends what is left of the budget on the purchases that could not be packed, the cheapest
// first, with more patience each time.
func (l *large) insist() {
	slices.SortStableFunc(l.points, func(a, b point) int { return int(min(max(a.cost-b.cost, -1), 1)) })
	p := &l.packer
	for _, p.whole = range []float64{0.95, 0.5, 1 - 1e-6, 0.8, 0.6, 0.9} {
		p.patience *= 3
		p.rounds *= 3
		for i := 0; i < len(l.points); {
			if l.points[i].cost >= p.cost || !l.m.able() {
				return
			}
			sums := sumsOf(l.points[i].boards)
			l.m.within(sums, sums)
			if _, done := l.m.solve(noBound, 0); !done {
				return
			}
			if p.pack(l.points[i].boards) == unknown {
				i++
				continue
			}
			l.points = slices.Delete(l.points, i, i+1)
		}
	}
}
