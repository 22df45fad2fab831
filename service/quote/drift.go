package quote

import "seamwright/service/money"

// Drift is how far the catalogue has moved away from an offer: what the top would cost today, and what is left of the
// margin when the price stays as it was offered.
type Drift struct {
	Percent      float64 // of the cost, positive: dearer
	MarginBefore float64 // percent of the net price
	MarginAfter  float64
}

// DriftOf compares an offer's cost and net price with the cost of today. A cost of zero before counts as unmoved unless
// there is one now, which counts as 100 %.
func DriftOf(cost, net, costNow money.Amount) Drift {
	d := Drift{MarginBefore: marginOf(cost, net), MarginAfter: marginOf(costNow, net)}
	before, now := cost.Float(), costNow.Float()
	switch {
	case before != 0:
		d.Percent = (now - before) / before * 100
	case now != 0:
		d.Percent = 100
	}
	return d
}

// marginOf is the share of the net price that is not cost, in percent; zero without a price.
func marginOf(cost, net money.Amount) float64 {
	if net.IsZero() {
		return 0
	}
	return (net.Float() - cost.Float()) / net.Float() * 100
}
