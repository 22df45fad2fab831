package labour

import "math"

// part is one step's share of how far a job's cost spreads.
type part struct {
	deviation float64 // standard deviation, in money
	skewness  float64
}

// spread is how far the cost of a job's steps spreads together. Steps of one job are not independent: the same wood,
// hands and site speed up or slow down all of them. share is the common share ρ of their spreads, 0–1: the correlation
// of any two steps.
type spread struct {
	share float64
	parts []part
}

// moments returns the standard deviation and the third central moment of the sum:
//
//	σ² = (1 − ρ)·Σσᵢ² + ρ·(Σσᵢ)²
//	μ₃ = Σ γᵢ·σᵢ·((1 − ρ)·σᵢ + ρ·Σσⱼ)²
//
// The second follows from writing each step as z + γ·(z² − 1)/6 of a normal z, the z of two steps being correlated by
// ρ, to the first order in the skewness γ.
//
// Source: variance of a sum of correlated variables; R. A. Fisher, E. A. Cornish, The Percentile Points of
// Distributions Having Known Cumulants, Technometrics 2 (1960), for the quadratic form. A common share of 0.4 is common
// practice.
func (s *spread) moments() (deviation, third float64) {
	var sum, squares float64
	for _, p := range s.parts {
		sum += p.deviation
		squares += p.deviation * p.deviation
	}
	for _, p := range s.parts {
		together := (1-s.share)*p.deviation + s.share*sum
		third += p.skewness * p.deviation * together * together // Fisher and Cornish, 1960
	}
	return math.Sqrt((1-s.share)*squares + s.share*sum*sum), third // variance of correlated variables
}

// skewness is that of the beta distribution between a step's low and high minutes that has PERT's mean and PERT's
// deviation, a sixth of the way from low to high. With m the mean's place between low (0) and high (1):
//
//	γ = 12·(1 − 2m) / (36·m·(1 − m) + 1)
//
// Zero without a spread. Source: moments of the beta distribution, with mean and variance by Malcolm et al. 1959, see
// Expected.
func skewness(m *Minutes) float64 {
	if !(m.High > m.Low) {
		return 0
	}
	mean := ((m.Low+4*m.Likely+m.High)/6 - m.Low) / (m.High - m.Low) // PERT 1959, mean, from 0 to 1
	return 12 * (1 - 2*mean) / (36*mean*(1-mean) + 1)                // skewness of the beta distribution
}
