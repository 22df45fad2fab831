package seamgap

import (
	"math"

	"seamwright/service/measure"
)

// Limits is how many standard deviations a limit is: an error is beyond it once in about twenty. Common practice.
const Limits = 2

// Band is how far something is off: by Known for sure, beyond that seldom by more than Expected, and never by more than
// Worst while every error keeps its limit.
type Band struct {
	Known    measure.Length // signed
	Expected measure.Length // Known and the root of the sum of squares, as a magnitude
	Worst    measure.Length // Known and the sum, as a magnitude
}

// Stack stacks errors that do not depend on each other, each as what it does at its limit:
//
//	expected = |known| + √(Σ tᵢ²),  worst = |known| + Σ |tᵢ|
//
// Source: statistics (variances of independent quantities add).
func Stack(known measure.Length, parts ...measure.Length) Band {
	var squares, sum float64
	for _, t := range parts {
		squares += float64(t) * float64(t)
		sum += math.Abs(float64(t))
	}
	off := math.Abs(float64(known))
	return Band{Known: known, Expected: measure.Length(off + math.Sqrt(squares)), Worst: measure.Length(off + sum)}
}

// Beyond is how often what is spread as a band is further off than a limit, 0 to 1: normally distributed about what is
// known, with a standard deviation of a share 1/Limits of the root of the sum of squares.
//
// Source: statistics (normal distribution).
func (b *Band) Beyond(limit measure.Length) float64 {
	known := math.Abs(float64(b.Known))
	deviation := (float64(b.Expected) - known) / Limits
	l := float64(limit)
	if deviation <= 0 {
		if known > l {
			return 1
		}
		return 0
	}
	tail := func(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 } // beyond x deviations to one side
	return min(1, tail((l-known)/deviation)+tail((l+known)/deviation))
}
