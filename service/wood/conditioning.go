package wood

import (
	"math"
	"time"

	"seamwright/service/measure"
)

// Diffusion is how fast moisture moves through wood across its grain, in square metres a second.
type Diffusion float64

// Exchanged is the share of its whole change that the mean moisture of a slab has made when both faces were brought to
// a new moisture a time ago; tau is D·t/l², D the diffusion across the grain, l the slab's full thickness:
//
//	E = 1 − Σ 8/((2n+1)²·π²) · exp(−(2n+1)²·π²·τ), n = 0, 1, 2 …
//
// Edges and the resistance of the surface are left out, D is constant. For τ under 0.001, where the series is slow, the
// law of short times serves: E = 4·√(τ/π).
//
// Source: J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4, plane sheet (the standard Fourier solution,
// from memory, evaluated and checked).
func Exchanged(tau float64) float64 {
	if tau < 0.001 {
		return 4 * math.Sqrt(max(tau, 0)/math.Pi) // Crank ch. 4, short times
	}
	left := 0.0
	for n := 1.0; ; n += 2 {
		term := 8 / (n * n * math.Pi * math.Pi) * math.Exp(-n*n*math.Pi*math.Pi*tau) // Crank ch. 4, plane sheet
		if left += term; term < 1e-15 {
			return 1 - left
		}
	}
}

// exchangeTime undoes Exchanged: the τ at which a share from 0 to under 1 is reached.
func exchangeTime(share float64) float64 {
	low, high := 0.0, 1.0
	for Exchanged(high) < share {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; Exchanged(mid) < share {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// RestTime is how long wood of a thickness takes, with both faces open to air of the target moisture, until its mean
// moisture is within so many points of the target. It is 0 for wood that is.
//
// Source: as Exchanged. Real stacks are slower, as their surface resists too; say the uncertainty with it.
func RestTime(from, target, within measure.Moisture, thickness measure.Length, d Diffusion) time.Duration {
	off := math.Abs(float64(from - target))
	if off <= float64(within) {
		return 0
	}
	tau := exchangeTime(1 - float64(within)/off)
	l := thickness.Metres()
	return time.Duration(tau * l * l / float64(d) * float64(time.Second))
}

// AirFor is the relative humidity at which wood settles at a moisture content, by EMC; ok is false where no air does.
func AirFor(m measure.Moisture, temperature measure.Temperature) (humidity measure.Humidity, ok bool) {
	low, high := measure.Humidity(0.1), measure.Humidity(99.9)
	for range 50 {
		mid := (low + high) / 2
		emc, err := EMC(mid, temperature)
		if err != nil {
			return 0, false
		}
		if emc < m {
			low = mid
		} else {
			high = mid
		}
	}
	return high, low > 0.1 && high < 99.9
}
