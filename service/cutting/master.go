package cutting

import "math"

// master is the linear program of a job: how many strips to cut by each pattern, in fractions, so that
// every kind gets its pieces at the least price. A strip costs its share of the board. The rows are
//
//	Σ take of the kind · x ≥ need     for every kind
//	Σ x of the stock and longer ones ≥ strips bought at least     for every stock
//	−Σ x of the stock and longer ones ≥ −strips bought at most    for every stock
//	Σ content of the strip · x ≥ content asked for                if any is
//
// where a strip may also be left uncut. Patterns are made when the prices of the rows ask for one.
type master struct {
	j     *job
	lp    simplex
	sack  *knapsack
	stock []int     // of each column
	take  []int     // of each column, one after the other: a number for each kind
	right []float64 // right-hand side; that of lp is a little off while it optimises
	limit int64     // of work
	most  []float64 // greatest value of a strip of each stock at the last prices
}

// masterWork is about what the first basis of the job takes, in elementary steps.
func masterWork(j *job) int64 {
	n := int64(len(j.need) + 2*len(j.room))
	return n * n * n / 2
}

// begin starts with one pattern of each kind alone, on the stock where that is cheapest, in the memory of a job before.
func (m *master) begin(j *job, limit int64) {
	n, s := len(j.need), len(j.room)
	m.j, m.sack, m.limit, m.stock, m.take = j, newKnapsack(j), limit, m.stock[:0], m.take[:0]
	rows := n + 2*s
	if j.least > 0 {
		rows++
	}
	m.lp.begin(rows, 1000*m.dearest(), m.shared())
	basis := make([]int, 0, rows)
	for t := range n {
		best, at := math.Inf(1), 0
		for s := range j.room {
			if c := m.price(s) / float64(j.fit(t, s)); c < best {
				best, at = c, s
			}
		}
		take := make([]int, n)
		take[t] = j.fit(t, at)
		basis = append(basis, m.add(at, take))
	}
	none := make([]int, n)
	for s := range j.room {
		m.add(s, none)
	}
	for r := n; r < rows; r++ {
		basis = append(basis, r)
	}
	for t, need := range j.need {
		m.lp.rhs[t] = float64(need)
	}
	m.most = make([]float64, s)
	m.right = append(m.right[:0], m.lp.rhs...)
	m.ask(true)
	copy(m.lp.rhs, m.right)
	m.lp.start(basis)
}

// dearest is the price of the dearest strip.
func (m *master) dearest() float64 {
	p := 0.0
	for s := range m.j.room {
		p = max(p, m.price(s))
	}
	return p
}

// content is what a strip of the stock adds to the content of the purchase, when a strip of the longest stock adds 1.
func (m *master) content(s int) float64 {
	return float64(m.j.content[s]) / m.scale()
}

// scale is the content of the richest board.
func (m *master) scale() float64 {
	most := int64(1)
	for _, c := range m.j.content {
		most = max(most, c)
	}
	return float64(most)
}

// ask sets whether the content is asked for.
func (m *master) ask(content bool) {
	if r := len(m.j.need) + 2*len(m.j.room); r < len(m.right) {
		m.right[r] = 0
		if content {
			m.right[r] = float64(m.j.least) / m.scale() * float64(m.j.strips)
		}
	}
}

// fit is how many pieces of kind t one strip of stock s holds, of those that are needed.
func (j *job) fit(t, s int) int { return int(min(int64(j.need[t]), j.room[s]/j.size[t])) }

// price is what a strip of the stock costs, when the cheapest strip costs 1.
func (m *master) price(s int) float64 { return float64(m.j.cost[s]) / float64(m.j.cost[0]) }

// whole turns a bound in the master's prices into the least whole number of the job's units that is
// not below it, allowing for rounding.
func (m *master) whole(v float64) int64 {
	units := v * float64(m.j.cost[0]) / float64(m.j.strips)
	return int64(math.Ceil(units - 1e-9*math.Abs(units) - 1e-9))
}

// add makes a column of a pattern, which it copies, and returns its variable.
func (m *master) add(stock int, take []int) int {
	for t, k := range take {
		if k > 0 {
			m.lp.addCell(t, float64(k))
		}
	}
	m.stock, m.take = append(m.stock, stock), append(m.take, take...)
	return m.lp.addColumn(stock, m.price(stock))
}

// pattern is how many pieces of each kind a strip of column c is cut into.
func (m *master) pattern(c int) []int {
	n := len(m.j.need)
	return m.take[c*n : (c+1)*n]
}

// shared is the cells of all columns of each stock: those in the rows that count its strips.
func (m *master) shared() [][]entry {
	n, s := len(m.j.need), len(m.j.room)
	shared := make([][]entry, s)
	for stock := range shared {
		for i := range stock + 1 {
			shared[stock] = append(shared[stock], entry{1, n + i}, entry{-1, n + s + i})
		}
		if m.j.content[stock] > 0 {
			shared[stock] = append(shared[stock], entry{m.content(stock), n + 2*s})
		}
	}
	return shared
}

// within sets the least and the greatest number of boards of each stock and all longer ones together.
func (m *master) within(least, most []int) {
	n, s := len(m.j.need), len(m.j.room)
	for i := range m.j.room {
		m.right[n+i] = float64(least[i] * m.j.strips)
		m.right[n+s+i] = -float64(most[i] * m.j.strips)
	}
}

// rest asks for the pieces left only, from so many strips of each stock and all longer ones.
func (m *master) rest(left, sums []int) {
	n, s := len(m.j.need), len(m.j.room)
	for t, k := range left {
		m.right[t] = float64(k)
	}
	for i, k := range sums {
		m.right[n+i], m.right[n+s+i] = float64(k), -float64(k)
	}
}

// able reports whether there is budget left and the numbers are sound.
func (m *master) able() bool { return !m.lp.broken && m.spent() < m.limit }

// spent is all elementary steps for the job so far.
func (m *master) spent() int64 { return m.lp.work + m.sack.work + m.j.spent }

// optimise solves the linear program over the patterns at hand.
func (m *master) optimise() {
	limit := m.limit - m.sack.work - m.j.spent
	m.lp.repair(limit)
	m.lp.improve(limit)
}

// solve finds the fractional optimum for the current right-hand side and returns a lower bound in
// units of the job: no whole plan within it costs less. It stops when the bound reaches cutoff, and
// after so many rounds of new patterns unless that is zero. done is false when it stopped for another
// reason; the bound holds even then (zero when there is none).
func (m *master) solve(cutoff int64, rounds int) (bound int64, done bool) {
	m.disturb()
	for {
		m.optimise()
		if !m.able() {
			return bound, false
		}
		value, added := m.generate()
		bound = max(bound, m.whole(value))
		rounds--
		if bound >= cutoff || !added || rounds == 0 {
			if added {
				m.optimise()
			}
			m.calm()
			return bound, bound >= cutoff || !added
		}
	}
}

// generate looks for patterns that are worth more than they cost at the prices of the rows, and adds
// the best one of each stock. It returns the bound that the prices give (Lagrange):
//
//	Σ price · right-hand side − Σ strips at most · (worth of the best pattern − its cost)
//
// It allows for a best pattern that is not known for sure.
func (m *master) generate() (bound float64, added bool) {
	n, s := len(m.j.need), len(m.j.room)
	for r, p := range m.lp.dual {
		bound += p * m.right[r]
	}
	m.sack.sort(m.lp.dual[:n])
	limits := 0.0 // what the rows of the stock and the shorter ones add to a strip's cost
	for i := range m.j.room {
		limits += m.lp.dual[n+s+i] - m.lp.dual[n+i]
		cost := m.price(i) + limits
		if n+2*s < m.lp.rows {
			cost -= m.lp.dual[n+2*s] * m.content(i)
		}
		found, most := m.sack.fill(i, cost+zero)
		for n := 0; found; n++ {
			m.add(i, m.sack.best)
			added = true
			found = n < more && m.sack.another(i, cost+zero)
		}
		m.sack.all()
		m.most[i] = most
		bound += m.right[n+s+i] * max(0, most-cost)
	}
	return bound, added
}

// perturbation is how far the right-hand side is moved off, in pieces.
const perturbation = 1e-3

// disturb moves the right-hand side off by a little, different for each kind. Without that, many
// exchanges of the simplex method gain nothing, because many pieces are needed just once.
func (m *master) disturb() {
	copy(m.lp.rhs, m.right)
	for t := range m.j.need {
		_, f := math.Modf(float64(t+1) * math.Phi)
		m.lp.rhs[t] += perturbation * (1 + f)
	}
	m.lp.restore()
}

// calm takes the true right-hand side again.
func (m *master) calm() {
	copy(m.lp.rhs, m.right)
	m.lp.restore()
	m.lp.repair(m.limit - m.sack.work - m.j.spent)
}

// bought is, for each stock, the strips of it and of all longer ones in the fractional optimum.
func (m *master) bought(x []float64) {
	clear(x)
	for i, v := range m.lp.basis {
		if c := v - 2*m.lp.rows; c >= 0 {
			x[m.stock[c]] += max(m.lp.x[i], 0)
		}
	}
	for s := len(x) - 2; s >= 0; s-- {
		x[s] += x[s+1]
	}
}

// lacking reports whether the fractional optimum leaves something out.
func (m *master) lacking() bool {
	for i, v := range m.lp.basis {
		if v >= m.lp.rows && v < 2*m.lp.rows && m.lp.x[i] > 1e-6 {
			return true
		}
	}
	return false
}

// addLayout makes columns of the strips of a plan.
func (m *master) addLayout(l layout) {
	for i, s := range l.stock {
		m.add(s, l.row(i))
	}
}
