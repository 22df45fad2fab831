package support

import "math"

// spans is a beam that runs over several supports and is free to turn at its ends.
type spans struct {
	length  []float64 // mm
	w       float64   // N/mm, on all of it
	p       float64   // N, in the middle of one span
	at      int       // which
	moments []float64 // over the supports, ends included; N·mm, positive when the lower face is stretched

	diagonal, share, right []float64 // of the equation of each support, from 1
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
	if s.diagonal == nil {
		s.diagonal, s.share = make([]float64, n), make([]float64, n)
		s.eliminate()
	}
	if s.moments == nil {
		s.moments, s.right = make([]float64, n+1), make([]float64, n)
	}
	right := s.right
	for i := 1; i < n; i++ {
		a, b := s.length[i-1], s.length[i]
		right[i] = -s.w*(a*a*a+b*b*b)/4 - 3*(s.point(i-1)*a*a+s.point(i)*b*b)/8 // three moments
		if i > 1 {
			right[i] -= s.share[i] * right[i-1]
		}
	}
	for i := n - 1; i > 0; i-- {
		s.moments[i] = (right[i] - s.length[i]*s.moments[i+1]) / s.diagonal[i]
	}
}

// eliminate takes of each equation what the one before it says: the same whatever lies on the beam.
func (s *spans) eliminate() {
	diagonal, share := s.diagonal, s.share
	for i := 1; i < len(s.length); i++ {
		diagonal[i] = 2 * (s.length[i-1] + s.length[i])
		if i > 1 {
			share[i] = s.length[i-1] / diagonal[i-1]
			diagonal[i] -= share[i] * s.length[i-1]
		}
	}
}

// ends are the moments at the ends of a span with the point load in the middle of one.
type ends struct {
	left, right float64
	at          int
}

// cases are the places of the point load that can be worst for a span: in itself, and of those to its left and those to its right the
// two that turn its near end most, one way and the other. A load to the left turns the right end by so much of the left, wherever
// it stands, as only what is right of it carries there: moments from there lie on one line, and what is greatest grows to both
// sides of it (it is a convex function of the moments).
//
// Source: statics; the fixed points of a beam over several supports.
type cases [5]ends

// note takes a place of the load in, in the order of the spans.
func (c *cases) note(i int, e ends) {
	switch {
	case e.at == i:
		c[0] = e
		c[3], c[4] = e, e // none to its right yet
		if i == 0 {
			c[1], c[2] = e, e
		}
	case e.at < i && e.at == 0:
		c[1], c[2] = e, e
	case e.at < i:
		c.widen(1, e, e.left)
	case e.at == i+1:
		c[3], c[4] = e, e
	default:
		c.widen(3, e, e.right)
	}
}

// widen keeps the least and the greatest moment at a span's end that is nearer to the load.
func (c *cases) widen(k int, e ends, near float64) {
	least, most := c[k].left, c[k+1].left
	if k == 3 {
		least, most = c[k].right, c[k+1].right
	}
	if near < least {
		c[k] = e
	}
	if near > most {
		c[k+1] = e
	}
}

// of makes one of a span's cases the one at hand.
func (s *spans) of(i int, e *ends) { s.moments[i], s.moments[i+1], s.at = e.left, e.right, e.at }

// everywhere works the cases of all spans out.
func (s *spans) everywhere(of []cases) {
	for s.at = range s.length {
		s.solve()
		for i := range of {
			of[i].note(i, ends{s.moments[i], s.moments[i+1], s.at})
		}
	}
}

// same reports whether a case was looked at before: one that is least and greatest, or that stands for none.
func (c *cases) same(k int) bool {
	return k > 0 && c[k].at == c[0].at || k%2 == 0 && k > 0 && c[k].at == c[k-1].at
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
	e := effect{moment: s.most(i)}
	e.sag = s.sagIn(i, e.moment, known)
	return e
}

// most is the greatest moment in a span.
func (s *spans) most(i int) float64 {
	l := s.length[i]
	most := max(math.Abs(s.moments[i]), math.Abs(s.moments[i+1]), math.Abs(s.moment(i, l/2)))
	tilt := (s.moments[i+1] - s.moments[i]) / l
	for _, far := range [2]bool{false, true} {
		from, side := 0.0, s.point(i)/2
		if far {
			from, side = l/2, -side
		}
		// Where the shear is zero the moment is greatest; without an even load it is so nowhere.
		if x := (tilt + side + s.w*l/2) / s.w; x > from && x < from+l/2 {
			most = max(most, math.Abs(s.moment(i, x)))
		}
	}
	return most
}

// sagIn is the greatest sag in a span whose greatest moment is known; see worst.
func (s *spans) sagIn(i int, moment, known float64) (sag float64) {
	for _, far := range [2]bool{false, true} {
		h := s.half(i, far)
		sag = max(sag, h.most(s.length[i]/2, moment, max(known, sag)))
	}
	return sag
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
