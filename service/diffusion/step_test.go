package diffusion

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// J. Crank, The Mathematics of Diffusion, 2nd ed. (1975), ch. 4: with no resistance half of the change is made at
// D·t/l² = 0.0492 and nine tenths at 0.212, l the full thickness (as quoted; the book itself not read).
func TestWithoutResistanceTheSeriesIsThePublishedOne(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 0.5, Exchanged(4*0.0492, math.Inf(1)), 0.0005)
	require.InDelta(t, 0.9, Exchanged(4*0.212, math.Inf(1)), 0.0005)
	r := Rest{Thickness: 40 * measure.Millimetre, Diffusion: 1e-10, Surface: Transfer(math.Inf(1))}
	require.InDelta(t, 0.0492*0.04*0.04/1e-10/86400, r.Days(0.5), 0.01)
	require.InDelta(t, 0.212*0.04*0.04/1e-10/86400, r.Days(0.9), 0.01)
	r.OneFace = true
	require.InDelta(t, 4*0.0492*0.04*0.04/1e-10/86400, r.Days(0.5), 0.03, "one face open counts twice the thickness")
	require.Zero(t, r.Days(0))
}

// M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), Table 4.20, roots of x·tan x = λ (from memory).
func TestRootsAgainstTheTable(t *testing.T) {
	t.Parallel()
	for l, want := range map[float64][]float64{0.1: {0.31105, 3.17310}, 0.5: {0.65327, 3.29231}, 1: {0.86033, 3.42562, 6.43730}, 2: {1.07687, 3.64360}, 5: {1.31384, 4.03357}, 10: {1.42887, 4.30580}} {
		for n, x := range want {
			require.InDelta(t, x, root(n, l), 0.000005, "λ %g, root %d", l, n)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l := math.Exp(rapid.Float64Range(-14, 14).Draw(t, "log of L"))
		n := rapid.IntRange(0, 30).Draw(t, "n")
		b := root(n, l)
		require.InDelta(t, 0, b*math.Sin(b)-l*math.Cos(b), 1e-9*(1+l), "L %g", l)
		require.Greater(t, b, float64(n)*math.Pi)
		require.Less(t, b, float64(n)*math.Pi+math.Pi/2)
	})
}

// finite is the slab cut into cells, half of which lie between its middle and an open face: the change that their mean
// has made at times τ = D·t/a², by the rule of Crank and Nicolson. It shares nothing with the series.
func finite(l float64, until float64, cells, steps int) float64 {
	h, dt := 1/float64(cells), until/float64(steps)
	into := 1 / (1/l + h/2) // from the air to the middle of the last cell
	m := make([]float64, cells)
	a, b, c, d := make([]float64, cells), make([]float64, cells), make([]float64, cells), make([]float64, cells)
	for range steps {
		for i := range m {
			left, right := 1/h, 1/h
			leftOf, rightOf := 0.0, 1.0
			if i == 0 {
				left = 0
			} else {
				leftOf = m[i-1]
			}
			if i == cells-1 {
				right = into
			} else {
				rightOf = m[i+1]
			}
			k := dt / h / 2
			a[i], c[i] = -k*left, -k*right
			b[i] = 1 + k*(left+right)
			d[i] = m[i] + k*(left*(leftOf-m[i])+right*(rightOf-m[i]))
			if i == cells-1 {
				d[i] += k * right // the air, at the end of the step
				c[i] = 0
			}
		}
		for i := 1; i < cells; i++ {
			f := a[i] / b[i-1]
			b[i] -= f * c[i-1]
			d[i] -= f * d[i-1]
		}
		for i := cells - 1; i >= 0; i-- {
			if m[i] = d[i]; i < cells-1 {
				m[i] -= c[i] * m[i+1]
			}
			m[i] /= b[i]
		}
	}
	sum := 0.0
	for _, x := range m {
		sum += x
	}
	return sum / float64(cells)
}

func TestAResistingSurfaceAgainstAFiniteVolumeRun(t *testing.T) {
	t.Parallel()
	for _, l := range []float64{0.05, 0.4, 1, 7, 60} {
		for _, tau := range []float64{0.004, 0.02, 0.3, 1.1} {
			require.InDelta(t, finite(l, tau, 400, 1500), Exchanged(tau, l), 1e-4, "L %g, τ %g", l, tau)
		}
	}
}

// Where the law of the first hours ends the series goes on, and change only grows, faster where less resists.
func TestExchangeGrows(t *testing.T) {
	t.Parallel()
	for _, l := range []float64{1e-5, 0.01, 1, 30, 1e3, 1e6, math.Inf(1)} {
		require.InDelta(t, Exchanged(0.01*(1-1e-12), l), Exchanged(0.01*(1+1e-12), l), 1e-9, "L %g", l)
	}
	for _, x := range []float64{1e-3, 20} {
		require.InEpsilon(t, early(x*(1-1e-12)), early(x*(1+1e-12)), 1e-5)
	}
	rapid.Check(t, func(t *rapid.T) {
		tau := math.Exp(rapid.Float64Range(-14, 2).Draw(t, "log of τ"))
		l := math.Exp(rapid.Float64Range(-8, 8).Draw(t, "log of L"))
		require.LessOrEqual(t, Exchanged(tau, l), Exchanged(tau*1.01, l)+1e-12)
		require.LessOrEqual(t, Exchanged(tau, l), Exchanged(tau, l*1.01)+1e-12)
		require.LessOrEqual(t, Exchanged(tau, l), 1.0)
		require.GreaterOrEqual(t, Exchanged(tau, l), 0.0)
	})
	require.Zero(t, Exchanged(1, 0), "a sealed slab")
}

// Days undoes Exchanged, and a surface that resists takes longer.
func TestDaysUndoExchange(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := Rest{
			Thickness: measure.Length(rapid.Float64Range(5, 120).Draw(t, "thickness")),
			Diffusion: 3e-11,
			Surface:   4e-7,
		}
		share := rapid.Float64Range(0.01, 0.99).Draw(t, "share")
		days := r.Days(share)
		a := r.Thickness.Metres() / 2
		require.InDelta(t, share, Exchanged(3e-11*days*86400/(a*a), a*4e-7/3e-11), 1e-9)
		free := r
		free.Surface = Transfer(math.Inf(1))
		require.Less(t, free.Days(share), days)
		closed := r
		closed.OneFace = true
		require.Greater(t, closed.Days(share), days)
	})
}
