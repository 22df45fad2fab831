package diffusion

import (
	"math"
	"math/cmplx"

	"seamwright/service/measure"
)

// Slab is a board between two faces that the air of a year reaches.
type Slab struct {
	Thickness  measure.Length
	Diffusion  Diffusion
	Top, Under Transfer // over zero
}

// Months is a figure for each month of a year that is like every other, taken at the middle of the month.
type Months [12]float64

// Year is the moisture inside a slab, month by month.
type Year struct {
	Mean    Months
	Slope   Months  // over the thickness, points a metre, of the line through it; positive: the underside is wetter
	Lag     float64 // days by which the year's swing of the mean comes after that of the air
	Damping float64 // share of the air's swing that the mean makes
}

// Year is what a slab does when the equilibrium of the air at its two faces goes through twelve months again and again.
// The months are the values of a Fourier series in the middle of each: a mean, five waves and the half of a sixth. Each
// wave e^{iωt} goes through the slab as
//
//	M(x) = A·e^{−q·x} + B·e^{−q·(l − x)}, q = √(i·ω/D)
//	A·(1 + r₁·q) + B·e^{−q·l}·(1 − r₁·q) = E₁, A·e^{−q·l}·(1 − r₂·q) + B·(1 + r₂·q) = E₂, r = D/S
//
// its mean is (A + B)·(1 − e^{−q·l})/(q·l), and the line through it has the slope 12/l³·∫ M·(x − l/2) dx. The year's mean
// stands as a straight line between the faces. Nothing is cut off but the waves that twelve values do not have.
//
// Source: the diffusion equation's own solution for a periodic drive; for equal faces that do not resist it is the
// published tanh z/z, z = (1 + i)·(l/2)·√(ω/2D) (from memory; held against that and a finite-volume run in the tests).
func (s Slab) Year(top, under Months) Year {
	var y Year
	turn := unit()
	y.steady(s, mean(top), mean(under))
	for n := 1; n <= 6; n++ {
		e1, e2 := wave(&top, n, &turn), wave(&under, n, &turn)
		w := s.harmonic(n)
		if n == 1 {
			m := w.mean(w.through(1, 1))
			y.Damping, y.Lag = cmplx.Abs(m), -cmplx.Phase(m)/(2*math.Pi)*daysPerYear
		}
		a, b := w.through(e1, e2)
		m, slope := w.mean(a, b), w.slope(a, b)
		for k := range y.Mean {
			at := turn[n*k%12]
			y.Mean[k] += real(m * at)
			y.Slope[k] += real(slope * at)
		}
	}
	return y
}

const daysPerYear = 365.25

// steady adds the line of the year's means: what passes one face passes the other.
func (y *Year) steady(s Slab, top, under float64) {
	l, d := s.Thickness.Metres(), float64(s.Diffusion)
	r1, r2 := d/float64(s.Top), d/float64(s.Under) // as lengths of wood
	slope := (under - top) / (r1 + l + r2)
	m := top + slope*(r1+l/2)
	for k := range y.Mean {
		y.Mean[k], y.Slope[k] = m, slope
	}
}

// harmonic is a slab for one wave of the year.
type harmonic struct {
	l                        float64
	q, end                   complex128 // end: e^{−q·l}
	near1, far1, near2, far2 complex128 // 1 ± r·q
}

func (s Slab) harmonic(n int) harmonic {
	omega := 2 * math.Pi * float64(n) / (daysPerYear * secondsPerDay)
	half := math.Sqrt(omega / (2 * float64(s.Diffusion))) // √i = (1 + i)/√2
	q := complex(half, half)
	l := s.Thickness.Metres()
	r1, r2 := complex(float64(s.Diffusion)/float64(s.Top), 0), complex(float64(s.Diffusion)/float64(s.Under), 0)
	return harmonic{l, q, cmplx.Exp(-q * complex(l, 0)), 1 + r1*q, 1 - r1*q, 1 + r2*q, 1 - r2*q}
}

// through solves for the two parts of a wave from what the air does at the faces.
func (w *harmonic) through(top, under complex128) (a, b complex128) {
	det := w.near1*w.near2 - w.far1*w.far2*w.end*w.end
	return (top*w.near2 - under*w.far1*w.end) / det, (under*w.near1 - top*w.far2*w.end) / det
}

func (w *harmonic) mean(a, b complex128) complex128 {
	return (a + b) * (1 - w.end) / (w.q * complex(w.l, 0))
}

// slope is 12/l³ of the first moment about the middle.
func (w *harmonic) slope(a, b complex128) complex128 {
	l := complex(w.l, 0)
	ql := w.q * l
	moment := (1-w.end*(1+ql))/(w.q*w.q) - l/2*(1-w.end)/w.q
	return (a - b) * moment * 12 / (l * l * l)
}

// unit is twelve turns round the unit circle.
func unit() (turn [12]complex128) {
	for k := range turn {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 12)
		turn[k] = complex(cos, sin)
	}
	return turn
}

func mean(m Months) float64 {
	sum := 0.0
	for _, x := range m {
		sum += x
	}
	return sum / 12
}

// wave is the n-th wave of a year's months: its real part at the middle of month k is that of c·e^{2πi·n·k/12}.
func wave(m *Months, n int, turn *[12]complex128) complex128 {
	var c complex128
	for k, x := range m {
		c += complex(x, 0) * cmplx.Conj(turn[n*k%12])
	}
	if n == 6 { // its own mirror image
		return c / 12
	}
	return c / 6
}

// Sagitta is how far the edges of a slab of a width stand over its middle when it is curved so much, per metre:
// κ·w²/8.
func Sagitta(curvature float64, width measure.Length) measure.Length {
	w := width.Metres()
	return measure.Length(curvature*w*w/8) * measure.Metre
}
