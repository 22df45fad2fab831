package diffusion

import (
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// year is a year of months that swings evenly about 9 by 3 points, most in the n-th month.
func year(n int) (m Months) {
	for k := range m {
		m[k] = 9 + 3*math.Cos(2*math.Pi*float64(k-n)/12)
	}
	return m
}

// The published amplitude and lag of the mean of a slab with equal faces that do not resist (J. Crank, The Mathematics
// of Diffusion, 2nd ed. (1975), from memory): tanh z/z, z = (1 + i)·(l/2)·√(ω/2D). With D = 1e-10 m²/s the wave dies
// within 31.7 mm (worked apart from this code).
func TestEqualFacesAgainstTheKnownAmplitudeAndLag(t *testing.T) {
	t.Parallel()
	omega := 1.991e-7
	require.InDelta(t, 31.7, 1000*math.Sqrt(2*1e-10/omega), 0.05)
	for _, d := range []Diffusion{1e-11, 3e-11, 1e-10} {
		for _, l := range []float64{18, 27, 40, 60, 200} {
			s := Slab{measure.Length(l), d, Transfer(math.Inf(1)), Transfer(math.Inf(1))}
			z := complex(1, 1) * complex(l/2000*math.Sqrt(omega/(2*float64(d))), 0)
			want := cmplx.Tanh(z) / z
			got := s.Year(year(3), year(3))
			require.InDelta(t, cmplx.Abs(want), got.Damping, 1e-4, "D %g, %g mm", float64(d), l)
			require.InDelta(t, -cmplx.Phase(want)/(2*math.Pi)*365.25, got.Lag, 0.02)
			for k := range got.Mean {
				require.InDelta(
					t,
					9+3*got.Damping*math.Cos(2*math.Pi*(float64(k)-3)/12-2*math.Pi*got.Lag/365.25),
					got.Mean[k],
					1e-9,
				)
				require.InDelta(t, 0, got.Slope[k], 1e-9, "equal faces do not cup")
			}
		}
	}
}

// run is the slab cut into cells, through so many years of the same months, by the rule of Crank and Nicolson: the mean
// and slope in the middle of each month of the last year. It shares nothing with the closed solution but the series of
// the air, which it reckons by sums of cosines and sines.
func (s Slab) run(top, under Months, years, cells, stepsAMonth int) (y Year) {
	air := func(m Months, at float64) float64 { // at: months since the middle of the first
		sum := 0.0
		for n := 0; n <= 6; n++ {
			a, b := 0.0, 0.0
			for k, x := range m {
				a += x * math.Cos(2*math.Pi*float64(n*k)/12) / 6
				b += x * math.Sin(2*math.Pi*float64(n*k)/12) / 6
			}
			if n == 0 || n == 6 {
				a, b = a/2, 0
			}
			sum += a*math.Cos(2*math.Pi*float64(n)*at/12) + b*math.Sin(2*math.Pi*float64(n)*at/12)
		}
		return sum
	}
	steps := 12 * stepsAMonth
	var tops, unders []float64
	for i := range steps {
		tops = append(tops, air(top, float64(i)/float64(stepsAMonth)))
		unders = append(unders, air(under, float64(i)/float64(stepsAMonth)))
	}
	l, d := s.Thickness.Metres(), float64(s.Diffusion)
	h := l / float64(cells)
	k := d * 365.25 * 86400 / float64(steps) / (h * h) / 2
	into1, into2 := 1/(0.5+d/float64(s.Top)/h), 1/(0.5+d/float64(s.Under)/h)
	m := make([]float64, cells)
	for i := range m {
		m[i] = top[0]
	}
	b, rhs, c := make([]float64, cells), make([]float64, cells), make([]float64, cells)
	for step := range years * steps {
		now, next := step%steps, (step+1)%steps
		if step >= (years-1)*steps && now%stepsAMonth == 0 {
			month := now / stepsAMonth
			for i, x := range m {
				y.Mean[month] += x / float64(cells)
				y.Slope[month] += 12 / (l * l * l) * x * ((float64(i)+0.5)*h - l/2) * h
			}
		}
		for i := range m {
			left, right, leftOf, rightOf := 1.0, 1.0, tops[now], unders[now]
			known := 0.0
			if i == 0 {
				left = into1
				known += k * into1 * tops[next]
			} else {
				leftOf = m[i-1]
			}
			if i == cells-1 {
				right = into2
				known += k * into2 * unders[next]
			} else {
				rightOf = m[i+1]
			}
			b[i] = 1 + k*(left+right)
			rhs[i] = m[i] + k*(left*(leftOf-m[i])+right*(rightOf-m[i])) + known
			c[i] = -k * right
			if i > 0 {
				f := -k * left / b[i-1]
				b[i] -= f * c[i-1]
				rhs[i] -= f * rhs[i-1]
			}
		}
		for i := cells - 1; i >= 0; i-- {
			m[i] = rhs[i]
			if i < cells-1 {
				m[i] -= c[i] * m[i+1]
			}
			m[i] /= b[i]
		}
	}
	return y
}

// Ten years of a finite-volume run: unequal faces that resist, a lopsided year, other air at the underside. Within 0.1 %
// of the year's swing.
func TestAYearAgainstTenYearsOfAFiniteVolumeRun(t *testing.T) {
	t.Parallel()
	lopsided := Months{6.1, 6.0, 6.9, 8.2, 8.8, 9.7, 10.9, 12.4, 11.6, 9.3, 8.5, 6.2}
	damp := Months{9, 9.5, 9, 10, 10.5, 11, 12.5, 14, 13, 11, 10, 9}
	for _, c := range []struct {
		slab       Slab
		top, under Months
	}{
		{Slab{27, 5e-11, 3e-8, 4e-7}, lopsided, lopsided},
		{Slab{38, 2e-11, 5e-9, 5e-7}, lopsided, damp},
		{Slab{44, 8e-11, 1e-6, 1e-6}, lopsided, lopsided},
		{Slab{20, 3e-11, 2e-9, 2e-9}, lopsided, lopsided},
	} {
		want, got := c.slab.run(c.top, c.under, 10, 240, 60), c.slab.Year(c.top, c.under)
		swing := spread(got.Mean)
		steep := max(spread(got.Slope), 1e-9)
		for k := range got.Mean {
			require.InDelta(t, want.Mean[k], got.Mean[k], 0.001*swing, "%v, month %d", c.slab, k)
			if c.top != c.under || c.slab.Top != c.slab.Under {
				require.InDelta(t, want.Slope[k], got.Slope[k], 0.002*steep, "%v, month %d", c.slab, k)
			}
		}
	}
}

func spread(m Months) float64 {
	low, high := m[0], m[0]
	for _, x := range m {
		low, high = min(low, x), max(high, x)
	}
	return high - low
}

func TestAYearGoesTheRightWay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := Slab{
			measure.Length(rapid.Float64Range(5, 100).Draw(t, "thickness")),
			Diffusion(math.Exp(rapid.Float64Range(-26, -22).Draw(t, "log of D"))),
			Transfer(
				math.Exp(rapid.Float64Range(-21, -13).Draw(t, "log of S")),
			),
			Transfer(math.Exp(rapid.Float64Range(-21, -13).Draw(t, "log of S, under"))),
		}
		var m Months
		for k := range m {
			m[k] = rapid.Float64Range(4, 16).Draw(t, "month")
		}
		y := s.Year(m, m)
		require.InDelta(t, mean(m), mean(y.Mean), 1e-9, "the year's mean goes through")
		require.InDelta(t, 0, mean(y.Slope), 1e-6, "and over the year no face is wetter")
		require.Less(t, y.Damping, 1.0)
		require.Positive(t, y.Damping)
		require.Positive(t, y.Lag)
		flipped := Slab{s.Thickness, s.Diffusion, s.Under, s.Top}.Year(m, m)
		thicker, tighter := s, s
		thicker.Thickness *= 1.1
		tighter.Under /= 1.5
		require.Less(t, thicker.Year(m, m).Damping, y.Damping)
		require.Less(t, tighter.Year(m, m).Damping, y.Damping)
		for k := range m {
			require.InDelta(t, y.Mean[k], flipped.Mean[k], 1e-9)
			require.InDelta(t, y.Slope[k], -flipped.Slope[k], 1e-6*(1+math.Abs(y.Slope[k])))
		}
		var other Months
		for k := range m {
			other[k] = m[(k+5)%12]
		}
		later := s.Year(other, other)
		for k := range m {
			require.InDelta(t, y.Mean[(k+5)%12], later.Mean[k], 1e-9, "the year has no beginning")
		}
	})
	// A face that hardly lets anything through: all comes from the other.
	one := Slab{30, 3e-11, 1e-14, Transfer(math.Inf(1))}.Year(year(0), year(0))
	both := Slab{60, 3e-11, Transfer(math.Inf(1)), Transfer(math.Inf(1))}.Year(year(0), year(0))
	require.InDelta(t, both.Damping, one.Damping, 1e-4)
	still := Slab{
		30,
		3e-11,
		1e-7,
		1e-7,
	}.Year(
		Months{8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8},
		Months{12, 12, 12, 12, 12, 12, 12, 12, 12, 12, 12, 12},
	)
	require.InDelta(t, 10, still.Mean[4], 1e-9)
	require.Positive(t, still.Slope[4], "wetter below")
	require.InDelta(t, 4/(0.03+2*3e-11/1e-7), still.Slope[4], 1e-6)
}

func BenchmarkYear(b *testing.B) {
	months := Months{6.1, 6.0, 6.9, 8.2, 8.8, 9.7, 10.9, 12.4, 11.6, 9.3, 8.5, 6.2}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		s := Slab{measure.Length(20 + i%40), 3e-11, 3e-8, 4e-7}
		if y := s.Year(months, months); y.Damping <= 0 {
			b.Fatal("no year")
		}
	}
}
