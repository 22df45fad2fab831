package seamgap_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/seamgap"
)

// seams are corners without symmetry: depths and angles differ, both hands, every joint, inner and reflex corners.
func seams(t *testing.T, each func(t *testing.T, name string, s seamgap.Seam, l *plan.Layout)) {
	t.Helper()
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		for _, degrees := range []float64{83, 90, 135, 262} {
			for _, way := range plan.Ways() {
				if degrees > 180 && way.Kind == plan.MasonsMiter {
					continue
				}
				top := plan.Top{Hand: hand, Corners: []measure.Angle{measure.Angle(degrees) * measure.Degree},
					Runs: []plan.Run{{Name: "A", Length: 2400, Depth: 650}, {Name: "B", Length: 1900, Depth: 580}}}
				l, err := plan.Lay(top, []plan.Joint{way}, 6, 7)
				require.NoError(t, err)
				each(t, fmt.Sprintf("%s %v° %s %s", hand, degrees, way.Kind, way.Through), seamgap.Of(l, &top, 0), l)
			}
		}
	}
}

// What an error does to the gap is the derivative of the exact geometry, taken numerically; and a tight corner has no gap.
func TestTheGapFollowsEachErrorAsItsDerivativeSays(t *testing.T) {
	seams(t, func(t *testing.T, name string, s seamgap.Seam, _ *plan.Layout) {
		for _, end := range []seamgap.End{seamgap.Front, seamgap.Wall} {
			require.InDelta(t, 0, float64(s.Gap(end, &seamgap.Errors{})), 1e-9, name)
			slope := func(set func(*seamgap.Errors, float64)) float64 {
				const h = 1e-4
				var more, less seamgap.Errors
				set(&more, h)
				set(&less, -h)
				return float64(s.Gap(end, &more)-s.Gap(end, &less)) / (2 * h)
			}
			require.InDelta(t, float64(s.Lever(end)), slope(func(e *seamgap.Errors, x float64) { e.Angle = measure.Angle(x) }),
				1e-3, "%s: angle", name) // lever of up to a metre: a millionth
			for piece := range 2 {
				require.InDelta(t, 1, slope(func(e *seamgap.Errors, x float64) { e.Short[piece][end] = measure.Length(x) }), 1e-6,
					"%s: its own end", name)
				require.InDelta(t, 0, slope(func(e *seamgap.Errors, x float64) { e.Short[piece][1-end] = measure.Length(x) }), 1e-6,
					"%s: the other end", name)
			}
		}
	})
}

// A mason's miter is drawn together by sliding the stopping run along its own wall. Its butt part lies along the through run,
// at θ to that slide, its miter part along the bisector, at θ/2: by trigonometry a slide that closes sin θ at the wall
// closes sin θ/2 at the front, 1/(2·cos θ/2) times as much, whatever the depths and whichever run stops.
func TestWhatASlideClosesOfAMasonsMiter(t *testing.T) {
	t.Parallel()
	seams(t, func(t *testing.T, name string, s seamgap.Seam, l *plan.Layout) {
		if seam := &l.Seams[0]; seam.Joint.Kind == plan.MasonsMiter {
			share := 1 / (2 * math.Cos(float64(seam.Angle)/2))
			require.InDelta(t, share, s.Share(), 1e-9, name)
			require.InDelta(t, 3-share*2, float64(s.Drawn(3, 2)), 1e-9, name)
		}
	})
}

// A seam answers to errors by itself: a corner in the middle of three runs, turned and far from where the drawing begins,
// has the levers and the share of the same two runs alone.
func TestASeamAnswersAsWithoutTheRunsBefore(t *testing.T) {
	t.Parallel()
	for _, hand := range []plan.Hand{plan.Right, plan.Left} {
		for _, before := range []float64{75, 130, 200, 250, 290} {
			for _, way := range plan.Ways() {
				name := fmt.Sprintf("%s %v° %s %s", hand, before, way.Kind, way.Through)
				b, c := plan.Run{Name: "B", Length: 2700, Depth: 650}, plan.Run{Name: "C", Length: 1900, Depth: 580}
				two := plan.Top{Hand: hand, Corners: []measure.Angle{98 * measure.Degree}, Runs: []plan.Run{b, c}}
				three := plan.Top{Hand: hand, Corners: []measure.Angle{measure.Angle(before) * measure.Degree, 98 * measure.Degree},
					Runs: []plan.Run{{Name: "A", Length: 2100, Depth: 610}, b, c}}
				short, err := plan.Lay(two, []plan.Joint{way}, 6, 7)
				require.NoError(t, err, name)
				long, err := plan.Lay(three, []plan.Joint{{Kind: plan.Miter}, way}, 6, 7)
				require.NoError(t, err, name)
				want, got := seamgap.Of(short, &two, 0), seamgap.Of(long, &three, 1)
				for _, end := range []seamgap.End{seamgap.Front, seamgap.Wall} {
					require.InDelta(t, float64(want.Lever(end)), float64(got.Lever(end)), 1e-6, name)
					wrong := seamgap.Errors{Angle: measure.Degree, Short: [2][2]measure.Length{{1, -2}, {3, 0.5}}}
					require.InDelta(t, float64(want.Gap(end, &wrong)), float64(got.Gap(end, &wrong)), 1e-6, name)
				}
				require.InDelta(t, want.Share(), got.Share(), 1e-9, name)
			}
		}
	}
}

// By hand: a miter turns about its own wall end, so that all of an angle's error opens at its front, s·tan δ; a butt at a
// right angle opens at the front by the depth of the run that stops.
func TestAnAngleOpensASeamAsByHand(t *testing.T) {
	seams(t, func(t *testing.T, name string, s seamgap.Seam, l *plan.Layout) {
		seam := &l.Seams[0]
		if seam.Joint.Kind == plan.MasonsMiter {
			return
		}
		off := 2 * measure.Degree
		wrong := seamgap.Errors{Angle: off}
		drawn := s.Drawn(s.Gap(seamgap.Front, &wrong), s.Gap(seamgap.Wall, &wrong))
		require.InDelta(t, float64(seam.Length)*math.Tan(float64(off)), math.Abs(float64(drawn)), 1e-6, name)
		require.Equal(t, 1., s.Share(), name)
		if seam.Joint.Kind == plan.Miter {
			require.InDelta(t, 0, float64(s.Lever(seamgap.Wall)), 1e-9, name)
			require.InDelta(t, float64(seam.Length), float64(s.Lever(seamgap.Front)), 1e-9, name)
		}
	})
	top := plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree},
		Runs: []plan.Run{{Name: "A", Length: 2400, Depth: 650}, {Name: "B", Length: 1900, Depth: 580}}}
	l, err := plan.Lay(top, []plan.Joint{{Kind: plan.Butt, Through: plan.First}}, 0, 0)
	require.NoError(t, err)
	s := seamgap.Of(l, &top, 0)
	require.InDelta(t, 580, float64(s.Lever(seamgap.Front)), 1e-9)
	require.InDelta(t, 0, float64(s.Lever(seamgap.Wall)), 1e-9)
}

// By hand: both faces lean away from the seam by φ, and from where they would meet the second one is moved off by g at this end.
// Square to the first face the gap is g·cos φ/cos 2φ there; with both leaning the same way it is g·cos φ.
func TestTheGapBetweenFacesThatLean(t *testing.T) {
	t.Parallel()
	seams(t, func(t *testing.T, name string, s seamgap.Seam, l *plan.Layout) {
		if seam := &l.Seams[0]; len(seam.Path) == 2 {
			const g, wedge = 5, 30
			phi := math.Atan(wedge / float64(seam.Length))
			for end := range 2 {
				apart, alike := seamgap.Errors{}, seamgap.Errors{}
				apart.Short[0][1-end], apart.Short[1][end], apart.Short[1][1-end] = wedge, g, g+wedge
				alike.Short[0][1-end], alike.Short[1][end], alike.Short[1][1-end] = -wedge, g, g+wedge
				require.InDelta(t, g*math.Cos(phi)/math.Cos(2*phi), float64(s.Gap(seamgap.End(end), &apart)), 1e-9, name)
				require.InDelta(t, g*math.Cos(phi), float64(s.Gap(seamgap.End(end), &alike)), 1e-9, name)
			}
		}
	})
}

// Simulation with a fixed seed: 20,000 corners are made with errors of every kind, each seam's gaps are measured in the
// exact geometry, and their root mean square is within 2 % of the root of the sum of squares.
func TestTheStackAgreesWithASimulation(t *testing.T) {
	const draws, within = 20_000, 0.02
	const tape, guide, skim, base = 0.8, 0.13, 0.06, 0.0009 // standard deviations: mm, mm, mm, radians
	worst := 0.0
	seams(t, func(t *testing.T, name string, s seamgap.Seam, l *plan.Layout) {
		random := rand.New(rand.NewPCG(18, 2))
		a, b := measure.Length(1200), measure.Length(900)
		theta := l.Seams[0].Angle
		reflex := theta > math.Pi
		inner := theta
		if reflex {
			inner = 2*math.Pi - theta
		}
		c := measure.Length(math.Sqrt(float64(a*a+b*b) - 2*float64(a*b)*inner.Cos()))
		da, db, dc := plan.TapedDerivatives(a, b, c)
		var squares [3]float64
		for range draws {
			normal := func(deviation float64) measure.Length { return measure.Length(deviation * random.NormFloat64()) }
			read, _, err := plan.TapedAngle(a+normal(tape), b+normal(tape), c+normal(tape), reflex)
			require.NoError(t, err)
			wrong := seamgap.Errors{Angle: theta - read + measure.Angle(normal(base))}
			for piece := range wrong.Short {
				for end := range wrong.Short[piece] {
					wrong.Short[piece][end] = normal(guide) + normal(skim)
				}
			}
			front, wall := s.Gap(seamgap.Front, &wrong), s.Gap(seamgap.Wall, &wrong)
			for i, g := range []measure.Length{front, wall, s.Drawn(front, wall)} {
				squares[i] += float64(g * g)
			}
		}
		var stacked [3]float64
		for i := range stacked {
			lever := func(e seamgap.End) measure.Length { return s.Lever(e) }
			of := func(front, wall measure.Length) measure.Length {
				return [3]measure.Length{front, wall, s.Drawn(front, wall)}[i]
			}
			angle := of(lever(seamgap.Front), lever(seamgap.Wall))
			var parts []measure.Length
			for _, d := range []float64{da * tape, db * tape, dc * tape, base} {
				parts = append(parts, angle*measure.Length(d))
			}
			for range 2 {
				for _, d := range []measure.Length{guide, skim} {
					parts = append(parts, of(d, 0), of(0, d))
				}
			}
			band := seamgap.Stack(0, parts...)
			stacked[i] = float64(band.Expected)
			require.GreaterOrEqual(t, band.Worst, band.Expected)
		}
		for i := range stacked {
			off := math.Sqrt(squares[i]/draws)/stacked[i] - 1
			worst = max(worst, math.Abs(off))
			require.InDelta(t, 0, off, within, "%s: figure %d of front, wall, drawn", name, i)
		}
	})
	t.Logf("worst deviation %.2f %%", 100*worst)
}

// Known points of the normal distribution (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1, from memory: 0.97725
// up to two deviations).
func TestHowOftenABandIsBeyondALimit(t *testing.T) {
	b := seamgap.Stack(0, 3, 4)
	require.Equal(t, seamgap.Band{Expected: 5, Worst: 7}, b)
	require.InDelta(t, 2*(1-0.97725), b.Beyond(5), 1e-5, "at its own limit: two deviations")
	require.InDelta(t, 1, b.Beyond(0), 1e-12)
	fine := seamgap.Stack(0, 0.3, 0.4) // what a tenth as large is off is beyond a tenth of the limit as often
	require.InDelta(t, 2*(1-0.97725), fine.Beyond(0.5), 1e-5)
	known := seamgap.Stack(-2, 3, 4)
	require.Equal(t, seamgap.Band{Known: -2, Expected: 7, Worst: 9}, known)
	require.InDelta(t, 0.5+0.054799, known.Beyond(2), 1e-5, "half, and what lies beyond the other side: 1.6 deviations")
	sure := seamgap.Stack(2)
	require.Equal(t, []float64{1, 0, 0}, []float64{sure.Beyond(1.9), sure.Beyond(2), sure.Beyond(2.1)}, "at its limit it keeps it")
}
