package price

import "seamwright/service/money"

// Quantiles of the standard normal distribution: the values that it does not exceed with a chance of 80 and
// 90 percent, to ten decimals. A test compares them with an independent inverse of the distribution.
const (
	z80 = 0.8416212336
	z90 = 1.2815515655
)

// spread runs direct costs that are not exceeded with a chance of 50, 80 and 90 percent through the same build-up
// as the price itself.
//
// The direct cost is taken as normal, as PERT takes a project's time: it is the sum of many independent parts
// (the steps of the work, the wood), none of which rules the sum, so the central limit theorem speaks for it. Its
// mean is the direct cost, so that P50 is the total. Without a spread all three are the total. Every stage of the
// build-up keeps order, and so P50 ≤ P80 ≤ P90. Overhead, margin, prices and what slows a whole job down are not
// uncertain here: the range says how far the estimate's own figures scatter, no more.
//
// Source: Malcolm, Roseboom, Clark, Fazar, Application of a Technique for Research and Development Program
// Evaluation, Operations Research 7 (1959), for normal sums of PERT times.
func (t *Terms) spread(direct money.Amount, deviation float64, total money.Amount) (Range, error) {
	p80, err := t.build(direct.Plus(money.RoundAmount(z80 * deviation)))
	if err != nil {
		return Range{}, err
	}
	p90, err := t.build(direct.Plus(money.RoundAmount(z90 * deviation)))
	if err != nil {
		return Range{}, err
	}
	return Range{P50: total, P80: p80.Total, P90: p90.Total}, nil
}
