package price

import (
	"math"

	"seamwright/service/money"
)

// Quantiles of the standard normal distribution: the values that it does not exceed with a chance of 80 and
// 90 percent, to ten decimals. A test compares them with an independent inverse of the distribution.
const (
	z50 = 0
	z80 = 0.8416212336
	z90 = 1.2815515655
)

// spread runs direct costs that are not exceeded with a chance of 50, 80 and 90 percent through the same build-up as
// the price itself.
//
// The direct cost has the mean, the deviation and the third moment of its parts, labour and wood being independent and
// the wood's cost symmetrical; its quantiles are the normal ones moved by its skewness (quantile). Without a spread all
// three are the total. Every stage of the build-up keeps order, and so P50 ≤ P80 ≤ P90. Overhead, margin and prices are
// not uncertain here.
func (t *Terms) spread(direct money.Amount, deviation, third float64, total money.Amount) (Range, error) {
	r := Range{P50: total, P80: total, P90: total}
	if deviation < 0.0001 { // a hundredth of a cent: none
		return r, nil
	}
	skewness := third / (deviation * deviation * deviation)
	for _, q := range []struct {
		z  float64
		to *money.Amount
	}{{z50, &r.P50}, {z80, &r.P80}, {z90, &r.P90}} {
		cost := direct.Plus(money.RoundAmount(deviation * quantile(q.z, skewness)))
		if cost.IsNegative() {
			cost = money.Zero
		}
		p, err := t.build(cost)
		if err != nil {
			return Range{}, err
		}
		*q.to = p.Total
	}
	return r, nil
}

// quantile is the quantile of a variable of mean 0 and deviation 1 that has a skewness γ, from the normal quantile z:
//
//	x = z + (z² − 1)·γ/6 − (2z³ − 5z)·γ²/36
//
// γ is taken within ±1, where x grows with z.
//
// Source: E. A. Cornish, R. A. Fisher, Moments and Cumulants in the Specification of Distributions, Revue de l'Institut
// International de Statistique 5 (1938), without the term of the fourth moment.
func quantile(z, skewness float64) float64 {
	g := math.Max(-1, math.Min(skewness, 1))
	return z + (z*z-1)*g/6 - (2*z*z*z-5*z)*g*g/36 // Cornish and Fisher, 1938
}
