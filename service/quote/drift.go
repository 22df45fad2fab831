package quote

import "seamwright/service/money"

// Drift is how far the catalogue has moved away from an offer: what the top would cost today, and what is left of the
// margin when the price stays as it was offered.
type Drift struct {
	Moved        money.Rate // of the cost, positive: dearer
	MarginBefore money.Rate // of the net price
	MarginAfter  money.Rate
}

// DriftOf compares an offer's cost and net price with the cost of today, in percent to two decimals. A cost of zero
// before counts as unmoved unless there is one now, which counts as 100 %.
func DriftOf(cost, net, costNow money.Amount) Drift {
	d := Drift{MarginBefore: marginOf(cost, net), MarginAfter: marginOf(costNow, net)}
	before, now := cost.Float(), costNow.Float()
	switch {
	case before != 0:
		d.Moved = money.RoundRate((now - before) / before * 100)
	case now != 0:
		d.Moved = money.RateOf(100)
	}
	return d
}

// marginOf is the share of the net price that is not cost, in percent; zero without a price.
func marginOf(cost, net money.Amount) money.Rate {
	if net.IsZero() {
		return money.Rate{}
	}
	return money.RoundRate((net.Float() - cost.Float()) / net.Float() * 100)
}
