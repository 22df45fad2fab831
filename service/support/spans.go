package support

import "math"

// spans is a beam that runs over several supports and is free to turn at its ends.
type spans struct {
	length  []float64 // mm
	w       float64   // N/mm, on all of it
	p       float64   // N, in the middle of one span
	at      int       // which
	moments []float64 // over the supports, ends included; N·mm, positive when the lower face is stretched
}

// solve finds the moments over the inner supports. For two neighbouring spans a and b with the moments M over their three
// supports:
//
//	M₀·a + 2·M₁·(a + b) + M₂·b = −w·(a³ + b³)/4 − 3·p·(a² or b²)/8
//
// the last term for the span that has p in its middle. The equations have three diagonals and are solved by elimination.
//
// Source: B. P. É. Clapeyron's theorem of three moments (1857), as in any handbook of statics.
func (s *spans) solve() {
	n := len(s.length)
	s.moments = make([]float64, n+1)
	diagonal, right := make([]float64, n), make([]float64, n) // of support i, from 1
	for i := 1; i < n; i++ {
		a, b := s.length[i-1], s.length[i]
		diagonal[i] = 2 * (a + b)
		right[i] = -s.w*(a*a*a+b*b*b)/4 - 3*(s.point(i-1)*a*a+s.point(i)*b*b)/8 // three moments
		if i > 1 {
			share := a / diagonal[i-1]
			diagonal[i] -= share * a
			right[i] -= share * right[i-1]
		}
	}
	for i := n - 1; i > 0; i-- {
		s.moments[i] = (right[i] - s.length[i]*s.moments[i+1]) / diagonal[i]
	}
}

// point is the load in the middle of a span.
func (s *spans) point(i int) float64 {
	if i == s.at {
		return s.p
	}
	return 0
}

// moment is the bending moment at x from the left end of span i: that of the span alone and the line between the moments
// over its supports.
func (s *spans) moment(i int, x float64) float64 {
	l := s.length[i]
	return s.moments[i]*(1-x/l) + s.moments[i+1]*x/l + s.w*x*(l-x)/2 + s.point(i)*min(x, l-x)/2
}

// sag is EI times the sag at x, downward positive: that of the span alone under w and p, and what the moments over its
// supports take off.
//
// Source: statics; the elastic line of a simple beam with a uniform load, a load in the middle and moments at its ends.
func (s *spans) sag(i int, x float64) float64 {
	l, far := s.length[i], s.length[i]-x
	near := min(x, far)
	return s.w*x*far*(l*l+x*far)/24 + s.point(i)*near*(3*l*l-4*near*near)/48 +
		s.moments[i]*far*(l*l-far*far)/(6*l) + s.moments[i+1]*x*(l*l-x*x)/(6*l)
}

// stretches is how many parts each half of a span is looked at in: the elastic line has at most two extremes in a half.
const stretches = 8

// worst is the greatest sag of a span, up or down, and the greatest moment in it.
func (s *spans) worst(i int) effect {
	l := s.length[i]
	e := effect{moment: max(math.Abs(s.moments[i]), math.Abs(s.moments[i+1]), math.Abs(s.moment(i, l/2)))}
	tilt := (s.moments[i+1] - s.moments[i]) / l // the moment is steepest nowhere that its shear is zero
	for _, half := range [2]float64{0, l / 2} {
		if s.w > 0 {
			side := s.point(i) / 2
			if half > 0 {
				side = -side
			}
			if x := (tilt + side + s.w*l/2) / s.w; x > half && x < half+l/2 {
				e.moment = max(e.moment, math.Abs(s.moment(i, x)))
			}
		}
		step := l / 2 / stretches
		for k := range stretches {
			from := half + float64(k)*step
			e.sag = max(e.sag, s.extreme(i, from, from+step))
		}
	}
	return e
}

// slope is EI times the slope of the elastic line at x.
func (s *spans) slope(i int, x float64) float64 {
	l, far := s.length[i], s.length[i]-x
	point := s.point(i) * (l*l - 4*min(x, far)*min(x, far)) / 16
	if x > l/2 {
		point = -point
	}
	return s.w*(l*l*l-6*l*x*x+4*x*x*x)/24 + point +
		s.moments[i]*(3*far*far-l*l)/(6*l) + s.moments[i+1]*(l*l-3*x*x)/(6*l)
}

// extreme is the greatest sag, up or down, between two places of a half: at an end, or where the line is level, which is
// found by halving to the last digits.
func (s *spans) extreme(i int, from, to float64) float64 {
	best := max(math.Abs(s.sag(i, from)), math.Abs(s.sag(i, to)))
	rises := s.slope(i, from) > 0
	if rises == (s.slope(i, to) > 0) {
		return best
	}
	for range 40 {
		if middle := (from + to) / 2; (s.slope(i, middle) > 0) == rises {
			from = middle
		} else {
			to = middle
		}
	}
	return max(best, math.Abs(s.sag(i, from)))
}
