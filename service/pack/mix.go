package pack

import (
	"math"
	"slices"
	"strconv"

	"seamwright/service/fault"
	"seamwright/service/money"
)

// kind is an offer in whole numbers.
type kind struct {
	size, price int64
	offer       int
	most        int64 // more of them would make up whole fillers
}

// mix is the search in whole numbers: sizes and the need in their common divisor, prices in theirs. The packs are taken
// apart once, for one need after the other.
type mix struct {
	need   int64
	step   int64   // the sizes' common divisor, in millionths
	coin   int64   // the prices', in millionths
	whole  []kind  // every pack, in millionths
	kinds  []kind  // largest first, without the filler; no two have one size
	filler kind    // least price for its size
	rate   float64 // price of a unit of the filler, a little low
	before int     // kinds larger than the filler

	count []int64 // of kinds, while searching
	best  choice
	steps int

	few struct { // where the lists lie when there are few kinds
		whole  [fewKinds]kind
		kinds  [fewKinds]kind
		counts [2 * fewKinds]int64
	}
}

// fewKinds is how many pack sizes hardly any article exceeds.
const fewKinds = 4

// choice is a candidate.
type choice struct {
	set                 bool
	cost, bought, packs int64
	count               []int64 // of kinds
	filler              int64
}

// mostSteps is when the search by depth gives way to the one by content.
const mostSteps = 20_000

// takeApart takes the packs apart. It fails for numbers with more than six decimals.
func (m *mix) takeApart(packs []Offer) error {
	m.whole = m.few.whole[:0]
	for i := range packs {
		size, ok := packs[i].Size.Millionths()
		if !ok {
			return tooFine("/packs/"+strconv.Itoa(i)+"/size", packs[i].Size.String())
		}
		price, ok := packs[i].Price.Millionths()
		if !ok {
			return tooFine("/packs/"+strconv.Itoa(i)+"/price", packs[i].Price.String())
		}
		m.whole = append(m.whole, kind{size: size, price: price, offer: i})
	}
	all := reduce(append(m.few.kinds[:0], m.whole...))
	m.step, m.coin = 0, 0
	for _, k := range all {
		m.step, m.coin = gcd(m.step, k.size), gcd(m.coin, k.price)
	}
	m.coin = max(m.coin, 1)
	for i := range all {
		all[i].size /= m.step
		all[i].price /= m.coin
	}
	m.pick(all)
	return nil
}

// want begins the search for a need in millionths. It fails for sums that would not fit.
func (m *mix) want(total int64, need money.Quantity) error {
	dearest := 0.0
	for i := range m.whole {
		k := &m.whole[i]
		dearest = max(dearest, float64(k.price)*(float64(total)/float64(k.size)+1))
	}
	if dearest/float64(m.coin)*float64(len(m.whole)+1) > math.MaxInt64/4 {
		return &fault.Fault{Kind: fault.Invalid, Pointer: "/need",
			Detail: "the price of " + need.String() + " units is beyond what can be counted"}
	}
	m.need = (total + m.step - 1) / m.step
	m.best, m.steps = choice{count: m.best.count}, 0
	return nil
}

func tooFine(pointer, value string) error {
	return &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: value +
		" has more than six decimals, or too many digits to be counted exactly"}
}

// reduce sorts the kinds, largest first, and keeps the cheapest of each size.
func reduce(all []kind) []kind {
	slices.SortFunc(all, func(a, b kind) int {
		switch {
		case a.size != b.size:
			return int(min(max(b.size-a.size, -1), 1))
		case a.price != b.price:
			return int(min(max(a.price-b.price, -1), 1))
		}
		return a.offer - b.offer
	})
	return slices.CompactFunc(all, func(a, b kind) bool { return a.size == b.size })
}

// pick takes the filler out of the kinds.
func (m *mix) pick(all []kind) {
	f := 0
	for i := 1; i < len(all); i++ {
		if cheaperRate(all[i], all[f]) {
			f = i
		}
	}
	m.filler, m.before = all[f], f
	m.rate = float64(m.filler.price) / float64(m.filler.size) * (1 - 1e-12)
	m.kinds = slices.Delete(all, f, f+1)
	for i := range m.kinds {
		m.kinds[i].most = m.filler.size/gcd(m.kinds[i].size, m.filler.size) - 1
	}
	n := len(m.kinds)
	counts := m.few.counts[:]
	if 2*n > len(counts) {
		counts = make([]int64, 2*n)
	}
	m.count, m.best.count = counts[:n:n], counts[n:2*n]
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// solve writes the best counts of the offers and reports whether they are proved.
func (m *mix) solve(counts []int) bool {
	m.deepen(0, 0, 0, 0)
	proved := m.steps <= mostSteps
	if !proved {
		proved = m.widen()
	}
	for i, k := range m.kinds {
		counts[k.offer] = int(m.best.count[i])
	}
	counts[m.filler.offer] = int(m.best.filler)
	return proved
}

// deepen tries every number of the kinds from the i-th on that could still win. A kind costs at least
// the filler's rate for its size, so that the least cost of the rest only grows with its number.
func (m *mix) deepen(i int, cost, bought, packs int64) {
	if m.steps++; m.steps > mostSteps {
		return
	}
	if i == len(m.kinds) {
		m.offer(m.count, cost, bought, packs)
		return
	}
	k := &m.kinds[i]
	for n := int64(0); n <= k.most; n++ {
		c, b := cost+n*k.price, bought+n*k.size
		if m.best.set && m.least(c, b) > float64(m.best.cost) {
			break
		}
		m.count[i] = n
		m.deepen(i+1, c, b, packs+n)
		if b >= m.need {
			break
		}
	}
}

// least is what a choice costs at least that has so much already.
func (m *mix) least(cost, bought int64) float64 {
	return float64(cost)*(1-1e-12) + float64(max(0, m.need-bought))*m.rate
}

// offer fills the counts up with fillers and keeps them if they are the best yet.
func (m *mix) offer(count []int64, cost, bought, packs int64) {
	n := int64(0)
	if bought < m.need {
		n = (m.need - bought + m.filler.size - 1) / m.filler.size
	}
	c := choice{true, cost + n*m.filler.price, bought + n*m.filler.size, packs + n, count, n}
	if !m.best.set || m.compare(&c, &m.best) < 0 {
		into := m.best.count
		copy(into, count)
		c.count = into
		m.best = c
	}
}

// compare orders choices, the better one first.
func (m *mix) compare(a, b *choice) int {
	switch {
	case a.cost != b.cost:
		return int(min(max(a.cost-b.cost, -1), 1))
	case a.bought != b.bought:
		return int(min(max(a.bought-b.bought, -1), 1))
	case a.packs != b.packs:
		return int(min(max(a.packs-b.packs, -1), 1))
	}
	for i := range a.count {
		if i == m.before && a.filler != b.filler {
			return int(min(max(b.filler-a.filler, -1), 1))
		}
		if a.count[i] != b.count[i] {
			return int(min(max(b.count[i]-a.count[i], -1), 1))
		}
	}
	return 0
}
