package learning

import "math"

// Quantiles of the standard normal distribution at 50, 80 and 90 percent, to ten decimals.
var levels = [3]struct{ Percent, z float64 }{{50, 0}, {80, 0.8416212336}, {90, 1.2815515655}}

// Range is what a job's minutes do not exceed with a chance of 50, 80 and 90 percent.
type Range [3]float64

// RangeOf is the range of a sum of steps of which means and deviations are known, and the share of their spread that
// they
// have in common:
//
//	σ² = (1 − ρ)·Σσᵢ² + ρ·(Σσᵢ)²
//
// of a log-normal variable with that mean and variance. Source: variance of a sum of correlated variables; L. F.
// Fenton, The Sum of Log-Normal Probability Distributions in Scatter Transmission Systems, IRE Transactions 8 (1960),
// remembered, for
// taking the sum as log-normal.
func RangeOf(means, deviations []float64, share float64) (r Range) {
	var mean, sum, squares float64
	for i := range means {
		mean += means[i]
		sum += deviations[i]
		squares += deviations[i] * deviations[i]
	}
	if !(mean > 0) {
		return r
	}
	variance := (1-share)*squares + share*sum*sum // variance of correlated variables
	s2 := math.Log1p(variance / (mean * mean))    // Fenton, 1960
	for i, l := range levels {
		r[i] = mean * math.Exp(l.z*math.Sqrt(s2)-s2/2)
	}
	return r
}

// Ahead is the range of a job by the model: minutes are the estimates by step code.
func (m *Model) Ahead(steps []Took) Range {
	means, deviations := make([]float64, len(steps)), make([]float64, len(steps))
	for i, t := range steps {
		means[i] = t.Estimated
		for k := range m.Steps {
			if s := &m.Steps[k]; s.Code == t.Code {
				means[i] *= m.Factor(s)
				deviations[i] = means[i] * m.Relative(s)
				break
			}
		}
	}
	return RangeOf(means, deviations, m.Share)
}

// Covered is how many jobs stayed under what they should not exceed with a chance of Percent.
type Covered struct {
	Percent float64
	Under   int
	Of      int
	Error   float64 // standard error of the share, in points, were the chance right
}

// Share is the share that stayed under, in percent; 0 of none.
func (c Covered) Share() float64 {
	if c.Of == 0 {
		return 0
	}
	return 100 * float64(c.Under) / float64(c.Of)
}

// Cover counts how many jobs stayed under each level of their range.
func Cover(jobs []Job, of func(*Job) Range) (list [3]Covered) {
	for i, l := range levels {
		list[i].Percent = l.Percent
	}
	for j := range jobs {
		took := 0.0
		for _, s := range jobs[j].Steps {
			took += s.Minutes
		}
		r := of(&jobs[j])
		for i := range list {
			list[i].Of++
			if took <= r[i] {
				list[i].Under++
			}
		}
	}
	for i := range list {
		if n := float64(list[i].Of); n > 0 {
			p := list[i].Percent
			list[i].Error = math.Sqrt(p * (100 - p) / n) // deviation of a binomial share
		}
	}
	return list
}

// AsEstimated is the range of a job by its own estimate, with a share of the steps' spread in common.
func AsEstimated(share float64) func(*Job) Range {
	return func(j *Job) Range {
		means, deviations := make([]float64, len(j.Steps)), make([]float64, len(j.Steps))
		for i, s := range j.Steps {
			means[i], deviations[i] = s.Estimated, s.Deviation
		}
		return RangeOf(means, deviations, share)
	}
}
