package cutting

import "math"

// more is how many patterns of a stock are added at a time beside the best one, each without the pieces of those
// before. Together they serve the linear program better than many much alike.
const more = 8

// smoothing is how much the prices for new patterns keep of the best ones yet.
const smoothing = 0.8

// settle makes the patterns that the whole job needs, starting from a worth of each kind, and returns the best lower
// bound met. New patterns are looked for at prices between those of the linear program, which jump about at first, and
// those that gave the best bound (P. Wentges, "Weighted Dantzig–Wolfe decomposition for linear mixed-integer
// programming", International Transactions in Operational Research 4, 1997; from memory).
func (m *master) settle(worth []float64) float64 {
	m.disturb()
	centre := append([]float64(nil), worth...)
	best := math.Inf(-1)
	for pivots := -1; pivots != m.lp.total; {
		pivots = m.lp.total
		m.optimise()
		if !m.able() {
			break
		}
		for a := smoothing; ; a = a/2 - 0.05 {
			a = max(0, a)
			mix := m.mixed(centre, a)
			bound, added := m.generateAt(mix)
			if bound > best {
				best = bound
				centre = mix
			}
			if added || a == 0 {
				break
			}
		}
	}
	return max(best, 0)
}

// mixed is a share a of the centre and the rest of the prices of the linear program.
func (m *master) mixed(centre []float64, a float64) []float64 {
	mix := make([]float64, len(centre))
	for t, c := range centre {
		mix[t] = a*c + (1-a)*m.lp.dual[t]
	}
	return mix
}

// generateAt adds the best pattern of each stock at the given prices if it is also worth it at those of
// the linear program. It returns the bound that the prices give when they are lowered until no pattern
// is worth more than it costs (A. A. Farley, "A note on bounding a class of linear programming
// problems", Operations Research 38, 1990; from memory), and lowers them.
func (m *master) generateAt(price []float64) (bound float64, added bool) {
	m.sack.sort(price)
	over := 1.0
	for i := range m.j.room {
		found, most := m.sack.fill(i, m.price(i)+zero)
		over = max(over, most/m.price(i))
		for n := 0; found; n++ {
			worth := 0.0
			for t, k := range m.sack.best {
				worth += float64(k) * m.lp.dual[t]
			}
			if worth > m.price(i)+zero {
				m.add(i, m.sack.best)
				added = true
			}
			found = n < more && m.sack.another(i, m.price(i)+zero)
		}
		m.sack.all()
	}
	for t := range price {
		price[t] /= over
		bound += price[t] * float64(m.j.need[t])
	}
	return bound, added
}
