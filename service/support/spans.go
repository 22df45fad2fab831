package support

import "math"

// spans is a beam that runs over several supports and is free to turn at its ends.
type spans struct {
	length  []float64 // mm
	w       float64   // N/mm, on all of it
	p       float64   // N, in the middle of one span
	at      int       // which
	moments []float64 // over the supports, ends included; N·mm, positive when the lower face is stretched

	diagonal, right []float64 // of the equation of each support, from 1
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
	if s.moments == nil {
		s.moments, s.diagonal, s.right = make([]float64, n+1), make([]float64, n), make([]float64, n)
	}
	diagonal, right := s.diagonal, s.right
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

// half is the elastic line of one half of a span, x being measured from the half's own support: EI times its slope is
// a + b·x + c·x² + d·x³, and its sag, downward positive, what that sums up to.
type half struct{ a, b, c, d float64 }

// half is that of the span under w and p alone, and what the moments over its own support and the far one take off. The far half is
// the near one in a mirror.
//
// Source: statics; the elastic line of a simple beam with a uniform load, a load in the middle and moments at its ends.
func (s *spans) half(i int, far bool) half {
	l, p, own, other := s.length[i], s.point(i), s.moments[i], s.moments[i+1]
	if far {
		own, other = other, own
	}
	return half{a: s.w*l*l*l/24 + p*l*l/16 + (2*own+other)*l/6, b: -own, c: (own-other)/(2*l) - (s.w*l+p)/4, d: s.w / 6}
}

// slope is EI times the slope at x, and sag the sag.
func (h *half) slope(x float64) float64 { return h.a + x*(h.b+x*(h.c+x*h.d)) }
func (h *half) sag(x float64) float64   { return x * (h.a + x*(h.b/2+x*(h.c/3+x*h.d/4))) }

// stretches is how many parts each half of a span is looked at in: the elastic line has at most two extremes in a half.
const stretches = 8

// worst is the greatest sag of a span, up or down, and the greatest moment in it. A sag that is no greater than one known already may
// be told as less than it is.
func (s *spans) worst(i int, known float64) effect {
	l := s.length[i]
	e := effect{moment: max(math.Abs(s.moments[i]), math.Abs(s.moments[i+1]), math.Abs(s.moment(i, l/2)))}
	tilt := (s.moments[i+1] - s.moments[i]) / l
	for _, far := range [2]bool{false, true} {
		from, side := 0.0, s.point(i)/2
		if far {
			from, side = l/2, -side
		}
		// Where the shear is zero the moment is greatest; without an even load it is so nowhere.
		if x := (tilt + side + s.w*l/2) / s.w; x > from && x < from+l/2 {
			e.moment = max(e.moment, math.Abs(s.moment(i, x)))
		}
	}
	for _, far := range [2]bool{false, true} {
		h := s.half(i, far)
		e.sag = max(e.sag, h.most(l/2, e.moment, max(known, e.sag)))
	}
	return e
}

// most is the greatest sag of a half so long, up or down: between two stretches, or where the line is level. Where it is level is
// only looked for where the sag can be greater than what is known: over a stretch so long as h it is nowhere more than h²·M/8
// beyond those at its ends, M being the greatest moment, as the line bends no more than that.
//
// Source: statics; the error of linear interpolation, any handbook of numerical analysis.
func (h *half) most(long, moment, known float64) float64 {
	step := long / stretches
	beyond := step * step / 8 * moment * (1 + 1e-6)
	from, before, rises, best := 0.0, 0.0, h.a > 0, 0.0
	for k := 1; k <= stretches; k++ {
		to := long * float64(k) / stretches
		sag := math.Abs(h.sag(to))
		best = max(best, sag)
		if now := h.slope(to) > 0; now != rises {
			if max(before, sag)+beyond > max(best, known) {
				best = max(best, math.Abs(h.sag(h.level(from, to))))
			}
			rises = now
		}
		from, before = to, sag
	}
	return best
}

// level is where the line is level between two places, at one of which it rises, by halving. A millionth of what lies between
// them is near enough, as the sag hardly changes there.
func (h *half) level(from, to float64) float64 {
	rises := h.slope(from) > 0
	for range 20 {
		if x := (from + to) / 2; (h.slope(x) > 0) == rises {
			from = x
		} else {
			to = x
		}
	}
	return (from + to) / 2
}
