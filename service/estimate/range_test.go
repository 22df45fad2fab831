package estimate_test

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"seamwright/service/estimate"
	"seamwright/service/takeoff"
	"seamwright/store/demotest"
)

// The range of the price is held against a simulation of the answer's own steps: each a beta distribution between low
// and high minutes, any two of them correlated by the common share, the wood normal. 200,000 draws with a fixed seed;
// within 1 % of the total, and the distance to the median within 6 % of what the simulation has.
//
// Two betas are drawn: the one with PERT's deviation of a sixth of the way from low to high, which the service reckons
// with, and the one usually called PERT (shape 1 + 4·(likely − low)/(high − low)), whose deviation is up to a seventh
// wider than a sixth: another assumption about the steps than the service's, and so up to 1.5 % of the total away.
//
// Source of the distributions: D. Vose, Risk Analysis (2008), for the second (from memory); Malcolm et al. 1959 for the
// first.
func TestTheRangeIsThatOfASimulation(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		order estimate.Order
		shape func(low, likely, high float64) distuv.Beta
		close float64 // share of the distance between median and P90
		total float64 // share of the total
	}{
		"desk":              {deskA(), sixthBeta, 0.06, 0.01},
		"bar":               {barB(), sixthBeta, 0.06, 0.01},
		"first-timer":       {firstTimer(), sixthBeta, 0.06, 0.01},
		"panel":             {panelDesk(), sixthBeta, 0.06, 0.01},
		"desk, usual PERT":  {deskA(), usualBeta, 0.12, 0.015},
		"shelf, usual PERT": {straight(), usualBeta, 0.12, 0.015},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			e, err := estimate.Make(c.order, demotest.Catalogue(t))
			require.NoError(t, err)
			p50, p80, p90 := simulate(e, c.shape)
			total := e.Price.Total.Float()
			got := &e.Price.Range
			for _, q := range [][2]float64{{got.P50.Float(), p50}, {got.P80.Float(), p80}, {got.P90.Float(), p90}} {
				require.InDelta(t, q[1], q[0], c.total*total)
			}
			require.InDelta(t, 1, (got.P90.Float()-got.P50.Float())/(p90-p50), c.close, "of %.2f", p90-p50)
			require.Greater(t, got.P90.Float()/got.P50.Float(), 1.06, "no estimator would sign a P90 of 4 % over the P50")
		})
	}
}

func firstTimer() estimate.Order {
	o := deskA()
	o.Shop.Experience = estimate.FirstTime
	return o
}

func panelDesk() estimate.Order {
	o := deskA()
	o.Top.Construction = estimate.Panel
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 80*in, 60*in
	return o
}

func sixthBeta(low, likely, high float64) distuv.Beta {
	mean := ((low+4*likely+high)/6 - low) / (high - low)
	n := 36*mean*(1-mean) - 1
	return distuv.Beta{Alpha: mean * n, Beta: (1 - mean) * n}
}

func usualBeta(low, likely, high float64) distuv.Beta {
	mode := (likely - low) / (high - low)
	return distuv.Beta{Alpha: 1 + 4*mode, Beta: 1 + 4*(1-mode)}
}

// simulate draws an estimate's total and returns what it does not exceed with a chance of 50, 80 and 90 percent.
func simulate(e *estimate.Estimate, shape func(low, likely, high float64) distuv.Beta) (p50, p80, p90 float64) {
	const draws, share, reach, fine = 200_000, 0.4, 5.0, 200.0
	var wood, mean float64
	for i := range e.Bill {
		switch e.Bill[i].Kind {
		case takeoff.BillLumber:
			wood += 0.08 * e.Bill[i].Amount.Float()
		case takeoff.BillPanel:
			wood += 0.03 * e.Bill[i].Amount.Float()
		default:
		}
	}
	var tables [][]float64 // of each step: its cost by its normal value, from −5 to 5
	for _, s := range e.Labour.Steps {
		rate := s.Rate.Float() / 60 * float64(s.Crew)
		mean += rate * (s.Minutes.Low + 4*s.Minutes.Likely + s.Minutes.High) / 6
		if s.Minutes.High <= s.Minutes.Low {
			continue
		}
		beta := shape(s.Minutes.Low, s.Minutes.Likely, s.Minutes.High)
		table := make([]float64, int(2*reach*fine)+2)
		for k := range table {
			p := distuv.UnitNormal.CDF(float64(k)/fine - reach)
			table[k] = rate * (s.Minutes.Low + (s.Minutes.High-s.Minutes.Low)*beta.Quantile(p))
		}
		tables = append(tables, table)
	}
	random := rand.New(rand.NewPCG(20261129, 8))
	costs := make([]float64, draws)
	for i := range costs {
		common := math.Sqrt(share) * random.NormFloat64()
		cost := wood*random.NormFloat64() - mean
		for _, table := range tables {
			z := common + math.Sqrt(1-share)*random.NormFloat64()
			at := (min(max(z, -reach), reach) + reach) * fine
			k := int(at)
			cost += table[k] + (at-float64(k))*(table[k+1]-table[k])
		}
		costs[i] = cost
	}
	sort.Float64s(costs)
	p := &e.Price
	direct := p.Cost.Minus(p.Overhead).Minus(p.Contingency).Float()
	total := func(share float64) float64 { return p.Total.Float() / direct * (direct + costs[int(share*draws)]) }
	return total(0.5), total(0.8), total(0.9)
}
