package plan

import (
	"fmt"
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// polygon hands an outline to the independent geometry library (peterstace/simplefeatures, a port of the OGC
// Simple Features operations).
func polygon(t require.TestingT, outline []Point) geom.Geometry {
	xy := make([]float64, 0, 2*len(outline)+2)
	for _, p := range append(outline, outline[0]) {
		xy = append(xy, float64(p.X), float64(p.Y))
	}
	p := geom.NewPolygon([]geom.LineString{geom.NewLineString(geom.NewSequence(xy, geom.DimXY))})
	require.NoError(t, p.Validate(), "outline %v", outline)
	return p.AsGeometry()
}

// tiles checks against the library that the pieces cover the outline once: no overlap, no hole, nothing outside.
func tiles(t require.TestingT, l *Layout) {
	whole := polygon(t, l.Outline)
	require.InDelta(t, whole.Area(), float64(l.Area), 1e-6*whole.Area(), "area against the library")
	var sum float64
	for i := range l.Pieces {
		p := polygon(t, l.Pieces[i].Outline)
		require.Greater(t, float64(l.Pieces[i].Area), 0.0, "counter-clockwise")
		require.InDelta(t, p.Area(), float64(l.Pieces[i].Area), 1e-6*p.Area())
		c, ok := p.Centroid().XY()
		require.True(t, ok)
		require.InDelta(t, c.X, float64(l.Pieces[i].Centroid.X), 1e-5)
		require.InDelta(t, c.Y, float64(l.Pieces[i].Centroid.Y), 1e-5)
		sum += p.Area()
		for j := 0; j < i; j++ {
			both, err := geom.Intersection(p, polygon(t, l.Pieces[j].Outline))
			require.NoError(t, err)
			require.Less(t, both.Area(), 1e-3, "pieces %d and %d overlap (mm²)", i, j)
		}
		outside, err := geom.Difference(p, whole)
		require.NoError(t, err)
		require.Less(t, outside.Area(), 1e-3, "piece %d lies outside (mm²)", i)
	}
	require.InDelta(t, whole.Area(), sum, 1e-3, "areas add up (mm²)")
}

var joints = []Joint{{Miter, NoSide}, {Butt, First}, {Butt, Second}, {MasonsMiter, First}, {MasonsMiter, Second}}

func TestPiecesTileTheOutlineForEveryJointAngleAndHand(t *testing.T) {
	t.Parallel()
	for _, hand := range []Hand{Right, Left} {
		for _, deg := range []float64{45, 60, 83, 90, 97.5, 120, 135, 169.5, 190.5, 210, 250, 270, 300, 315} {
			for _, j := range joints {
				if j.Kind == MasonsMiter && deg > 180 {
					continue
				}
				t.Run(fmt.Sprintf("%s %g %s %s", hand, deg, j.Kind, j.Through), func(t *testing.T) {
					top := Top{Hand: hand, Corners: []measure.Angle{measure.Angle(deg) * measure.Degree},
						Runs: []Run{{"A", 6000, 620}, {"B", 5600, 500}}}
					l, err := Lay(top, []Joint{j}, 6, 6.35)
					require.NoError(t, err)
					tiles(t, l)
				})
			}
		}
	}
}

// Chains of up to six runs with any angles and joints: whatever is not refused tiles.
func TestPiecesOfAChainTileTheOutline(t *testing.T) {
	t.Parallel()
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		top, js := drawChain(t)
		l, err := Lay(top, js, 6, 6.35)
		if err != nil {
			return // refused; the reasons are tested elsewhere
		}
		laid++
		tiles(t, l)
	})
	require.Greater(t, laid, 20, "most drawn tops were refused: the draw is too wild to test anything")
}

func drawChain(t *rapid.T) (Top, []Joint) {
	n := rapid.IntRange(1, 6).Draw(t, "runs")
	top := Top{Hand: rapid.SampledFrom([]Hand{Right, Left}).Draw(t, "hand")}
	var js []Joint
	for i := range n {
		top.Runs = append(top.Runs, Run{string(rune('A' + i)),
			measure.Length(rapid.Float64Range(1200, 4000).Draw(t, "length")),
			measure.Length(rapid.Float64Range(200, 700).Draw(t, "depth"))})
		if i == n-1 {
			break
		}
		deg := rapid.OneOf(rapid.Float64Range(60, 169), rapid.Float64Range(191, 300)).Draw(t, "angle")
		top.Corners = append(top.Corners, measure.Angle(deg)*measure.Degree)
		j := rapid.SampledFrom(joints).Draw(t, "joint")
		if deg > 180 && j.Kind == MasonsMiter {
			j = Joint{Kind: Miter}
		}
		js = append(js, j)
	}
	return top, js
}

// The mirror image has the same pieces, turned over.
func TestLeftIsTheMirrorImageOfRight(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		top, js := drawChain(t)
		top.Hand = Right
		r, errR := Lay(top, js, 6, 6.35)
		top.Hand = Left
		l, errL := Lay(top, js, 6, 6.35)
		require.Equal(t, errR, errL)
		if errR != nil {
			return
		}
		for i := range r.Pieces {
			require.Equal(t, r.Pieces[i].WallEdge, l.Pieces[i].WallEdge)
			require.Equal(t, r.Pieces[i].FrontEdge, l.Pieces[i].FrontEdge)
			require.Equal(t, r.Pieces[i].EndAngle, l.Pieces[i].EndAngle)
			require.InDelta(t, float64(r.Pieces[i].Area), float64(l.Pieces[i].Area), 1e-3)
			require.Equal(t, r.Pieces[i].Centroid.X, -l.Pieces[i].Centroid.X)
		}
	})
}

func TestLayRefusesWhatCannotBe(t *testing.T) {
	t.Parallel()
	square := 90 * measure.Degree
	cases := map[string]struct {
		top     Top
		joint   Joint
		pointer string
	}{
		"a run shorter than the depth that meets it": {
			Top{Runs: []Run{{"A", 2000, 600}, {"B", 500, 400}}, Corners: []measure.Angle{square}}, Joint{Kind: Miter},
			"/runs/1/length"},
		"a mason's miter at a reflex corner": {
			Top{Runs: []Run{{"A", 2000, 600}, {"B", 1500, 400}}, Corners: []measure.Angle{3 * square}},
			Joint{MasonsMiter, First}, "/corners/0/joint"},
		"legs of a U that run into each other": {
			Top{Runs: []Run{{"A", 2000, 600}, {"B", 1500, 400}, {"C", 2000, 600}},
				Corners: []measure.Angle{50 * measure.Degree, 50 * measure.Degree}}, Joint{Kind: Miter}, "/runs"},
		"a chain that goes once round the room and lies on its own first run": {
			Top{Runs: []Run{{"A", 1500, 500}, {"B", 1500, 500}, {"C", 1500, 500}, {"D", 1500, 500}, {"E", 1500, 500}},
				Corners: []measure.Angle{square, square, square, square}}, Joint{Butt, First}, "/runs"},
		"the same, with a last run that stops short": {
			Top{Runs: []Run{{"A", 1500, 500}, {"B", 1500, 500}, {"C", 1500, 500}, {"D", 1500, 500}, {"E", 700, 500}},
				Corners: []measure.Angle{square, square, square, square}}, Joint{Kind: Miter}, "/runs"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			js := make([]Joint, len(c.top.Corners))
			for i := range js {
				js[i] = c.joint
			}
			_, err := Lay(c.top, js, 6, 6)
			require.ErrorContains(t, err, c.pointer)
		})
	}
}

func TestTapedCorner(t *testing.T) {
	t.Parallel()
	// The 3-4-5 triangle is right-angled (Euclid I.48); a change of 1 in 5 across turns it by 5/(3·4) rad.
	theta, sens, err := TapedAngle(3*in, 4*in, 5*in, false)
	require.NoError(t, err)
	require.InDelta(t, 90, theta.Degrees(), 1e-9)
	require.InDelta(t, 5.0/12/25.4, sens, 1e-9)

	reflex, _, err := TapedAngle(3*in, 4*in, 5*in, true)
	require.NoError(t, err)
	require.InDelta(t, 270, reflex.Degrees(), 1e-9)

	for _, bad := range [][3]measure.Length{{10, 10, 40}, {10, 10, 20}, {0, 10, 10}, {10, 30, 10}} {
		_, _, err := TapedAngle(bad[0]*in, bad[1]*in, bad[2]*in, false)
		require.ErrorIs(t, err, ErrTriangle, "%v", bad)
	}
}

// The reported sensitivity is the slope of the angle itself.
func TestSensitivityIsTheSlope(t *testing.T) {
	t.Parallel()
	const a, b, c, step = 900 * mm, 1150 * mm, 1300 * mm, 0.01 * mm
	for _, reflex := range []bool{false, true} {
		lo, _, _ := TapedAngle(a, b, c-step, reflex)
		hi, _, _ := TapedAngle(a, b, c+step, reflex)
		_, sens, err := TapedAngle(a, b, c, reflex)
		require.NoError(t, err)
		require.InDelta(t, float64(hi-lo)/float64(2*step), sens, 1e-9)
	}
}

func TestAnglesThatAreNoCorner(t *testing.T) {
	t.Parallel()
	for _, ok := range []float64{45, 90, 170, 190, 270, 315} {
		require.NoError(t, CheckAngle(measure.Angle(ok)*measure.Degree), "%g", ok)
	}
	for _, bad := range []float64{0, 44.9, 170.1, 180, 189.9, 315.1, math.NaN()} {
		require.Error(t, CheckAngle(measure.Angle(bad)*measure.Degree), "%g", bad)
	}
}

func TestGapWhenCutToTheNominalAngle(t *testing.T) {
	t.Parallel()
	// 7° off square over top B's miter: 848.918·tan 7°.
	require.InDelta(t, 104.234, float64(NominalErrorGap(848.918, 83*measure.Degree)), 0.001)
	require.Zero(t, NominalErrorGap(848.918, 90*measure.Degree))
	require.Equal(t, 315*measure.Degree, NominalAngle(310*measure.Degree))
}

func BenchmarkLay(b *testing.B) {
	b.ReportAllocs()
	top := barB()
	var d Drafter
	for b.Loop() {
		d.Reset()
		if _, err := d.Lay(&top, joints[:1], 6, 6.35); err != nil {
			b.Fatal(err)
		}
	}
}

// Between a right angle and a corner of 190° the slab beyond the second would reach to the seam of the first: three
// slabs would meet there.
func TestASeamMeetsItsTwoPiecesAlone(t *testing.T) {
	t.Parallel()
	top := Top{Runs: []Run{{Name: "A", Length: 2329, Depth: 220}, {Name: "B", Length: 1360, Depth: 220},
		{Name: "C", Length: 2376, Depth: 476}},
		Corners: []measure.Angle{90 * measure.Degree, 190 * measure.Degree}}
	beside := []Joint{{Kind: Butt, Through: Second}, {Kind: Butt, Through: Second}}
	_, err := Lay(top, beside, 0, 0)
	require.ErrorContains(t, err, "Run B is too short between its corners")
	top.Runs[1].Length = 1600 // now B's front reaches over the whole of A's end
	_, err = Lay(top, beside, 0, 0)
	require.NoError(t, err)
}

// An angle that is refused is written so that the reader sees which limit it misses.
func TestARefusedAngleIsSeenToMissItsLimit(t *testing.T) {
	t.Parallel()
	for deg, said := range map[float64]string{170.01: "170.01°", 189.99: "189.99°", 315.01: "315.01°", 44.99: "44.99°",
		44.9999: "44.9999°", 170.00004: "170.00004°", 180: "180°", 315.000000004: "315.000000004°", 20.123456: "20.12°"} {
		err := CheckAngle(measure.Angle(deg) * measure.Degree)
		require.ErrorContains(t, err, said+" ", "%v", deg)
	}
}
