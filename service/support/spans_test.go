package support

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

// American Wood Council, Design Aid No. 6: Beam Design Formulas with Shear and Moment Diagrams (2007).
func TestBeamsAreThoseOfThePublishedFigures(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "beam_formulas.csv", 16) {
		w, p := 1.0, 0.0
		if row["load"] == "point" {
			w, p = 0, 1
		}
		got := map[string]float64{}
		switch row["support"] {
		case "overhang":
			e := overhang(1, 0, w, p)
			got["sag"], got["moment"] = e.sag, e.moment
		case "span":
			e := span(1, w, p)
			got["sag"], got["moment"] = e.sag, e.moment
		default:
			n := int(row.Float(t, "spans"))
			s := spans{length: make([]float64, n), w: w, p: p}
			for i := range s.length {
				s.length[i] = 1
			}
			s.solve()
			for i := range s.length {
				e := s.worst(i, 0)
				got["sag"], got["moment"] = max(got["sag"], e.sag), max(got["moment"], e.moment)
			}
			got["hogging"] = -s.moments[1]
			got["middle"] = s.moment(n/2, 0.5)
			for x := 0.0; x < 1; x += 0.0005 { // a plain search, apart from worst
				got["first"] = max(got["first"], s.moment(0, x))
			}
		}
		value, known := got[row["of"]]
		require.True(t, known, "%v", row)
		require.InDelta(t, row.Float(t, "value"), value, row.Float(t, "half_digit")+1e-15, "%v", row)
		if row.Read() {
			read++
		}
	}
	publishedtest.Compared(t, "beam_formulas.csv", read)
}

// The theorem of three moments against finite elements: cubic beam elements, four to a span, with consistent loads, solved
// by a general matrix library. For these loads both are exact, so they agree to rounding, in places that no symmetry hides.
func TestSpansAgreeWithFiniteElements(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "spans")
		s := spans{length: make([]float64, n), w: rapid.Float64Range(0, 3).Draw(t, "w"),
			p: rapid.Float64Range(0, 500).Draw(t, "p"), at: rapid.IntRange(0, n-1).Draw(t, "at")}
		for i := range s.length {
			s.length[i] = rapid.Float64Range(1, 10).Draw(t, "length")
		}
		s.solve()
		sags := elements(t, &s)
		most := 1e-9
		for _, sag := range sags {
			most = max(most, math.Abs(sag))
		}
		for i, l := range s.length {
			for k := range perSpan {
				got := s.sag(i, l*float64(k)/perSpan)
				if off := math.Abs(got - sags[i*perSpan+k]); off > 1e-9*most {
					t.Fatalf("span %d at %d/%d: %g, finite elements %g", i, k, perSpan, got, sags[i*perSpan+k])
				}
			}
		}
	})
}

// sag is EI times the sag at x from the left end of span i.
func (s *spans) sag(i int, x float64) float64 {
	l := s.length[i]
	h := s.half(i, x > l/2)
	return h.sag(min(x, l-x))
}

const perSpan = 4

// elements is the sag at the nodes by finite elements, times EI, down positive.
func elements(t require.TestingT, s *spans) []float64 {
	nodes := len(s.length)*perSpan + 1
	stiff, load := mat.NewDense(2*nodes, 2*nodes, nil), mat.NewVecDense(2*nodes, nil)
	held := map[int]bool{0: true, 2 * (nodes - 1): true}
	for i, length := range s.length {
		l := length / perSpan
		k := [4][4]float64{
			{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l},
			{-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
		even := [4]float64{s.w * l / 2, s.w * l * l / 12, s.w * l / 2, -s.w * l * l / 12}
		for e := range perSpan {
			at := 2 * (i*perSpan + e)
			for r := range 4 {
				load.SetVec(at+r, load.AtVec(at+r)+even[r])
				for c := range 4 {
					stiff.Set(at+r, at+c, stiff.At(at+r, at+c)+k[r][c]/(l*l*l))
				}
			}
		}
		if i == s.at {
			middle := 2 * (i*perSpan + perSpan/2)
			load.SetVec(middle, load.AtVec(middle)+s.p)
		}
		held[2*i*perSpan] = true
	}
	var free []int
	for d := range 2 * nodes {
		if !held[d] {
			free = append(free, d)
		}
	}
	a, b := mat.NewDense(len(free), len(free), nil), mat.NewVecDense(len(free), nil)
	for r, d := range free {
		b.SetVec(r, load.AtVec(d))
		for c, e := range free {
			a.Set(r, c, stiff.At(d, e))
		}
	}
	var x mat.VecDense
	require.NoError(t, x.SolveVec(a, b))
	sags := make([]float64, nodes)
	for r, d := range free {
		if d%2 == 0 {
			sags[d/2] = x.AtVec(r)
		}
	}
	return sags
}

// What worst finds by levels and shears is what a plain walk along the span finds, also where the greatest moment of a span
// with the point load lies between its middle and a support.
func TestTheWorstOfASpanIsThatOfAWalkAlongIt(t *testing.T) {
	t.Parallel()
	for _, s := range []spans{{length: []float64{35, 25, 32}, w: 1, p: 3.4}, {length: []float64{32, 25, 35}, w: 1, p: 3.4, at: 2}} {
		s.solve()
		walk(t, &s)
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "spans")
		s := spans{length: make([]float64, n), w: rapid.Float64Range(0, 3).Draw(t, "w"),
			p: rapid.Float64Range(0, 20).Draw(t, "p"), at: rapid.IntRange(0, n-1).Draw(t, "at")}
		for i := range s.length {
			s.length[i] = rapid.Float64Range(1, 10).Draw(t, "length")
		}
		s.solve()
		walk(t, &s)
	})
}

// walk holds the worst of each span against a plain walk along it.
func walk(t require.TestingT, s *spans) {
	for i, l := range s.length {
		e := s.worst(i, 0)
		var sag, moment float64
		const steps = 2000
		for k := range steps + 1 {
			x := l * float64(k) / steps
			sag, moment = max(sag, math.Abs(s.sag(i, x))), max(moment, math.Abs(s.moment(i, x)))
		}
		require.GreaterOrEqual(t, e.sag, sag*(1-1e-12))
		require.GreaterOrEqual(t, e.moment, moment*(1-1e-12))
		require.InEpsilon(t, sag+1e-9, e.sag+1e-9, 1e-4)
		require.InEpsilon(t, moment+1e-9, e.moment+1e-9, 1e-4)
	}
}

// Levels that are not looked for would change nothing: a plain twin looks for all of them, as if a stretch could bend without bound.
func TestSagsBelowAKnownOneNeedNotBeFound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "spans")
		s := spans{length: make([]float64, n), w: rapid.Float64Range(0, 3).Draw(t, "w"),
			p: rapid.Float64Range(0, 2000).Draw(t, "p"), at: rapid.IntRange(0, n-1).Draw(t, "at")}
		for i := range s.length {
			s.length[i] = rapid.Float64Range(10, 3000).Draw(t, "length")
		}
		s.solve()
		for i, l := range s.length {
			plain := 0.0
			for _, far := range [2]bool{false, true} {
				h := s.half(i, far)
				plain = max(plain, h.most(l/2, math.Inf(1), 0))
			}
			known := plain * rapid.SampledFrom([]float64{0, 0.5, 0.99, 0.9999, 1, 1.0001, 2}).Draw(t, "known")
			got := s.worst(i, known).sag
			if got > plain || max(got, known) != max(plain, known) {
				t.Fatalf("span %d: %g, known %g; the plain twin says %g", i, got, known, plain)
			}
		}
	})
}

// A beam that is so many times as long sags by the fourth power of it under an even load, by the third under a point load;
// moments grow by the second and the first (dimensions of the load).
func TestSagsAndMomentsGrowAsPowersOfTheLength(t *testing.T) {
	t.Parallel()
	for name, of := range map[string]func(k, w, p float64) effect{
		"overhang": func(k, w, p float64) effect { return overhang(3*k, 2*k, w, p) },
		"span":     func(k, w, p float64) effect { return span(3*k, w, p) },
		"spans": func(k, w, p float64) effect {
			s := spans{length: []float64{3 * k, 2 * k, 4 * k}, w: w, p: p, at: 1}
			s.solve()
			return s.worst(1, 0)
		},
	} {
		even, point := of(1, 5, 0), of(1, 0, 7)
		require.InEpsilon(t, 16*even.sag, of(2, 5, 0).sag, 1e-9, name)
		require.InEpsilon(t, 4*even.moment, of(2, 5, 0).moment, 1e-9, name)
		require.InEpsilon(t, 8*point.sag, of(2, 0, 7).sag, 1e-9, name)
		require.InEpsilon(t, 2*point.moment, of(2, 0, 7).moment, 1e-9, name)
		require.InEpsilon(t, 3*even.sag, of(1, 15, 0).sag, 1e-9, name)
		require.InEpsilon(t, 3*point.moment, of(1, 0, 21).moment, 1e-9, name)
	}
}

// The elastic line bends by the moment: E·I·y″ = −M, at any place of any span. The line is of the fourth degree in each half, so
// that second differences are too great by w·h²/12.
func TestTheElasticLineBendsByTheMoment(t *testing.T) {
	t.Parallel()
	s := spans{length: []float64{3, 5, 2}, w: 1.5, p: 4, at: 1}
	s.solve()
	for i, l := range s.length {
		for _, part := range []float64{0.1, 0.3, 0.45, 0.55, 0.8, 0.9} {
			const h = 1e-3
			x := l * part
			bent := (s.sag(i, x+h) - 2*s.sag(i, x) + s.sag(i, x-h)) / (h * h)
			require.InDelta(t, -s.moment(i, x), bent, 1e-5, "span %d at %g", i, x)
		}
	}
}

// The worst of each span is that over all places of the point load: a plain twin looks at each of them. Whether a beam holds is what
// the verdict on it says.
func TestTheWorstPlacesOfTheLoadAreLookedAt(t *testing.T) {
	t.Parallel()
	held, soon, late := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "spans")
		b := Beam{Section: Section{Width: measure.Length(rapid.Float64Range(100, 900).Draw(t, "width")), Thickness: measure.Length(rapid.Float64Range(10, 80).Draw(t, "thickness"))},
			Wood: Wood{Stiffness: 10 * measure.Gigapascal, Strength: measure.Pressure(rapid.SampledFrom([]float64{0, 2, 20, 100}).Draw(t, "strength")) * measure.Megapascal},
			Kind: Spans, Load: Load{Lasting: measure.Pressure(rapid.Float64Range(0, 5).Draw(t, "load")) * measure.Kilopascal, Point: measure.Force(rapid.Float64Range(1, 2000).Draw(t, "point")),
				PointStay: rapid.Bool().Draw(t, "stays")}}
		most := rapid.SampledFrom([]float64{50, 300, 900}).Draw(t, "most")
		for range n {
			b.Lengths = append(b.Lengths, measure.Length(rapid.Float64Range(40, most).Draw(t, "length")))
		}
		rules := Rules{Creep: 2, Safety: 4, Overhang: 180, Span: 360, Most: 3}
		on := line{b.Load.Lasting.Megapascals() * float64(b.Width), float64(b.Load.Point)}
		for i, got := range b.effects(1, on, nil) {
			var want effect
			for at := range n {
				s := spans{length: make([]float64, n), w: on.w, p: on.p, at: at}
				for k, l := range b.Lengths {
					s.length[k] = float64(l)
				}
				s.solve()
				e := s.worst(i, 0)
				want = effect{max(want.sag, e.sag), max(want.moment, e.moment)}
			}
			require.InEpsilon(t, want.sag, got.sag, 1e-9)
			require.InEpsilon(t, want.moment, got.moment, 1e-9)
		}
		v := Assess(b, rules)
		got, looked := b.Holds(&rules)
		if math.Abs(v.Use()-1) > 1e-9 {
			require.Equal(t, v.Holds, got)
		}
		require.LessOrEqual(t, looked, 1+10*n)
		switch {
		case got:
			held++
		case looked == 1:
			soon++
		default:
			late++
		}
	})
	require.Positive(t, held)
	require.Greater(t, soon, late, "one look nearly always tells")
}
