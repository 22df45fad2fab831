package support

import "math"

// Greatest is the greatest scale, up to high, at which what grows with it stays within 1, to a billionth of a thousandth of itself and
// never too great; high itself when it stays within 1 there. use must be above 0 for every scale above 0, and never fall.
//
// Sags and stresses grow nearly as powers of the scale, so that on logarithms the line between two scales, one within and one
// beyond, leads close to where it crosses 1. The far end counts half as much where the near one rose twice (the Illinois rule, as
// what lies on a line between them is mostly within), and where that does not close in, the range is halved.
func Greatest(high float64, use func(scale float64) float64) float64 {
	const near, tight = 1e-12, 1e-4
	far, farUse := high, math.Log(use(high))
	if farUse <= 0 {
		return high
	}
	low, rose := min(1, high/2), false
	lowUse := math.Log(use(low))
	for ; lowUse > 0; lowUse = math.Log(use(low)) {
		far, farUse = low, lowUse
		if low /= 4; low < high*1e-12 {
			return 0
		}
	}
	take := func(at float64) {
		used := math.Log(use(at))
		if used > 0 {
			far, farUse, rose = at, used, false
			return
		}
		if low, lowUse = at, used; rose {
			farUse /= 2
		}
		rose = true
	}
	for round := 0; far-low > near*far && round < 100; round++ {
		slope := (farUse - lowUse) / math.Log(far/low)
		at := low * math.Exp(-lowUse/slope)
		if round > 12 || !(at > low && at < far) {
			at = (low + far) / 2
		}
		take(at)
		// Once it is close, a look a little beyond closes the range from the other side.
		off, beyond := farUse, func(step float64) float64 { return far / step }
		if rose {
			off, beyond = -lowUse, func(step float64) float64 { return low * step }
		}
		if at = beyond(1 + 4*off/slope + near/4); off < tight && at > low && at < far {
			take(at)
		}
	}
	return low
}
