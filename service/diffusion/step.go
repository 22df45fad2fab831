package diffusion

import (
	"math"

	"seamwright/service/measure"
)

// Exchanged is the share of its whole change that the mean moisture of a slab has made, one face of which is sealed (or
// is the middle of a slab with two faces alike), after a step of the air at the other:
//
//	E = 1 − Σ 2·L²·exp(−β²·τ) / (β²·(β² + L² + L)), β·tan β = L
//
// τ is D·t/a² with a the way from the sealed face to the open one, L is a·S/D: great for a face that hardly resists.
// Infinite L is a face that does not resist at all. For τ under 0.01 the two faces do not know of each other yet:
//
//	E = (exp(x²)·erfc(x) − 1 + 2·x/√π)/L, x = L·√τ
//
// Source: J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4 (plane sheet, surface evaporation) and ch. 3
// (half-infinite body, surface evaporation), from memory; held against a finite-volume run in the tests.
func Exchanged(tau, l float64) float64 {
	switch {
	case tau <= 0 || l <= 0:
		return 0
	case tau < 0.01 && math.IsInf(l, 1):
		return 2 * math.Sqrt(tau/math.Pi)
	case tau < 0.01:
		x := l * math.Sqrt(tau)
		return early(x) / l // Crank ch. 3
	}
	left := 0.0
	for n := 0; ; n++ {
		b := root(n, l)
		share := 2 / (b * b) // no resistance
		if !math.IsInf(l, 1) {
			share = 2 * l * l / (b * b * (b*b + l*l + l)) // Crank ch. 4
		}
		term := share * math.Exp(-b*b*tau)
		if left += term; term < 1e-15 {
			return max(1-left, 0)
		}
	}
}

// early is exp(x²)·erfc(x) − 1 + 2·x/√π.
func early(x float64) float64 {
	switch {
	case x < 1e-3: // the first terms of its series, where the rest would cancel
		return x*x - 4*x*x*x/(3*math.SqrtPi)
	case x > 20: // asymptotic series of the error function
		return 1/(x*math.SqrtPi)*(1-1/(2*x*x)) - 1 + 2*x/math.SqrtPi
	}
	return math.Exp(x*x)*math.Erfc(x) - 1 + 2*x/math.SqrtPi
}

// root is the n-th positive root of β·tan β = L, counted from 0: it lies between n·π and (n + ½)·π. Newton's rule on
// β − n·π − atan(L/β), which grows and is concave, climbs to it from below.
func root(n int, l float64) float64 {
	start := float64(n) * math.Pi
	if math.IsInf(l, 1) {
		return start + math.Pi/2
	}
	b := start
	if n == 0 {
		b = math.Sqrt(l / (1 + 4*l/(math.Pi*math.Pi))) // tan β < β/(1 − 4β²/π²)
	}
	for range 50 {
		step := (start + math.Atan2(l, b) - b) / (1 + l/(b*b+l*l))
		if b += step; step < 1e-15*b {
			break
		}
	}
	return b
}

// Rest is wood that rests in air.
type Rest struct {
	Thickness measure.Length
	OneFace   bool // the other lies on something that keeps moisture in
	Diffusion Diffusion
	Surface   Transfer // of each open face
}

// Days is how long it takes until so large a share, under 1, of the whole change is made.
func (r Rest) Days(share float64) float64 {
	if share <= 0 {
		return 0
	}
	way := r.Thickness.Metres()
	if !r.OneFace {
		way /= 2
	}
	l := way * float64(r.Surface) / float64(r.Diffusion)
	low, high := 0.0, 1.0
	for Exchanged(high, l) < share {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; Exchanged(mid, l) < share {
			low = mid
		} else {
			high = mid
		}
	}
	return high * way * way / float64(r.Diffusion) / secondsPerDay
}
