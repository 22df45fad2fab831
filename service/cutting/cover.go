package cutting

import "math"

// cover is what any plan's boards must satisfy. Give each kind of piece a worth; a strip of stock s is
// then worth at most value[s], and all strips together must be worth what the pieces are:
//
//	Σ boards · value ≥ total
//
// The prices of every linear program solved are such worths, and so are the pieces' sizes. The content asked for of a
// purchase is a cover, too: no worth, but the same sum.
type cover struct {
	value []float64 // of a board of each stock
	total float64
	rate  []float64 // least price of a unit of value among the stocks up to each one
}

// newCover takes the greatest worth of a strip of each stock and the worth of all pieces.
func newCover(j *job, strip []float64, total float64) cover {
	n := len(strip)
	f := make([]float64, 2*n)
	c := cover{value: f[:n], rate: f[n:], total: total * (1 - zero)}
	least := math.Inf(1)
	for s, v := range strip {
		c.value[s] = v * float64(j.strips)
		if v > 0 {
			least = min(least, float64(j.cost[s])/c.value[s])
		}
		c.rate[s] = least
	}
	return c
}

// purchase finds the cheapest boards within a box that satisfy the covers.
type purchase struct {
	j      *job
	covers []cover
	b      *box
	boards []int
	best   []int
	cost   int64       // of best
	rest   [][]float64 // of each cover, before the boards of each stock
	steps  int
	limit  int // of steps
}

// The covers kept, and the steps of one search through the purchases.
const (
	mostCovers    = 64
	mostPurchases = 4000
)

// newPurchase starts with the cover of the pieces' sizes, and that of the content.
func newPurchase(j *job) purchase {
	n := len(j.room)
	p := purchase{j: j, boards: make([]int, n), best: make([]int, n), rest: make([][]float64, n)}
	strip := make([]float64, n)
	for s, r := range j.room {
		p.rest[s] = make([]float64, mostCovers)
		strip[s] = float64(r)
	}
	total := 0.0
	for t, n := range j.need {
		total += float64(n) * float64(j.size[t])
	}
	p.covers = append(p.covers, newCover(j, strip, total))
	if j.least > 0 {
		for s, c := range j.content {
			strip[s] = float64(c) / float64(j.strips)
		}
		p.covers = append(p.covers, newCover(j, strip, float64(j.least)))
	}
	return p
}

// learn makes a cover of the prices of the linear program just solved, if there is space for one.
func (p *purchase) learn(m *master) {
	if len(p.covers) == mostCovers {
		return
	}
	total := 0.0
	for t, n := range p.j.need {
		total += float64(n) * m.sack.worth[t]
	}
	p.covers = append(p.covers, newCover(p.j, m.most, total))
}

// usable reports whether the last search was complete and covers can still be learnt.
func (p *purchase) usable() bool { return p.complete() && len(p.covers) < mostCovers }

// complete reports whether the last search was.
func (p *purchase) complete() bool { return p.steps <= p.limit }

// cheapest returns the price of the cheapest boards in the box under limit, which p.best then has; limit when there are
// none; and the box's bound when the search takes more than so many steps. Boards that cost no more than the box's
// bound need not be the cheapest: nothing in the box can be had for less.
func (p *purchase) cheapest(b *box, limit int64, steps int) int64 {
	n := len(p.j.room)
	p.b, p.cost, p.steps, p.limit = b, limit, 0, steps
	for i := range p.covers {
		p.rest[n-1][i] = p.covers[i].total
	}
	p.search(n-1, 0, 0)
	if !p.complete() {
		return min(b.bound, limit)
	}
	return p.cost
}

// search chooses the boards of stock s and of the shorter ones; above are those of longer stocks, with their cost.
func (p *purchase) search(s, above int, cost int64) {
	if s == 0 {
		p.last(above, cost)
		return
	}
	price := p.j.cost[s]
	rest := p.rest[s]
	for sum := max(p.b.least[s], above); sum <= p.b.most[s]; sum++ {
		if p.steps++; !p.complete() || p.cost <= p.b.bound {
			return
		}
		n := sum - above
		c := cost + int64(n)*price
		if c >= p.cost {
			return
		}
		bound, open := 0.0, sum < p.b.least[0]
		for i := range p.covers {
			r := rest[i] - float64(n)*p.covers[i].value[s]
			p.rest[s-1][i] = r
			if r > 0 {
				bound = max(bound, r*p.covers[i].rate[s-1])
				open = true
			}
		}
		p.boards[s] = n
		if bound < float64(p.cost-c) && float64(c)+math.Ceil(bound*(1-1e-9)-1e-6) < float64(p.cost) {
			p.search(s-1, sum, c)
		}
		if !open {
			return // more of these boards only cost more
		}
	}
}

// last takes as many of the shortest boards as the covers ask for.
func (p *purchase) last(above int, cost int64) {
	sum := max(p.b.least[0], above)
	for i, r := range p.rest[0][:len(p.covers)] {
		v := p.covers[i].value[0]
		if r -= float64(sum-above) * v; r <= 0 {
			continue
		}
		if !(r <= v*float64(p.b.most[0]-sum)) {
			return
		}
		sum += int(math.Ceil(r / v))
	}
	p.steps++
	if c := cost + int64(sum-above)*p.j.cost[0]; sum <= p.b.most[0] && c < p.cost {
		p.cost = c
		p.boards[0] = sum - above
		copy(p.best, p.boards)
	}
}
