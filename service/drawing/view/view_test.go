package view

import (
	"bytes"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

func straight() estimate.Order {
	o := drawtest.Desk()
	from, further := 14*measure.Inch, 60*measure.Inch
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "hob", Length: 28 * measure.Inch, Depth: 19 * measure.Inch,
		FromStart: &from, FromFront: 3 * measure.Inch},
		// open at the front
		{Run: "A", Kind: "sink", Length: 22 * measure.Inch, Depth: 18 * measure.Inch, FromStart: &further}}
	return o
}

// An eye that looks at a point has it in the middle; what is farther away stands higher and is smaller; upright lines are upright.
func TestTheEyeSeesInPerspective(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(r, "angle")
		from := spot{math.Cos(angle), math.Sin(angle)}
		e := lookAt(spot{300, -200}, from, 2000)
		middle := e.see(spot{300, -200}.at(0))
		require.InDelta(r, 0, middle.X, 1e-9)
		near, far := e.see(spot{300, -200}.plus(from.times(400)).at(0)), e.see(spot{300, -200}.minus(from.times(400)).at(0))
		require.Greater(r, near.Y, middle.Y)
		require.Less(r, far.Y, middle.Y)
		p := spot{rapid.Float64Range(-900, 900).Draw(r, "x"), rapid.Float64Range(-900, 900).Draw(r, "y")}
		low, high := e.see(p.at(-40)), e.see(p.at(250))
		require.InDelta(r, low.X, high.X, 1e-9)
		require.Greater(r, low.Y, high.Y)
		side := from.left().times(100)
		wide := func(at spot) float64 { return math.Abs(e.see(at.plus(side).at(0)).X - e.see(at.minus(side).at(0)).X) }
		require.Greater(r, wide(spot{300, -200}.plus(from.times(400))), wide(spot{300, -200}.minus(from.times(400))))
	})
}

// Whatever the top, all of it stands on the paper, every side that is drawn turns to the eye, and names lie on their pieces.
func TestAnyTopIsSeen(t *testing.T) {
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		o := drawtest.Desk()
		o.Top.Runs = nil
		o.Top.Corners = nil
		o.Top.Edge = estimate.Edge{Profile: estimate.Square}
		for i := range rapid.IntRange(1, 5).Draw(r, "runs") {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: string(rune('A' + i)),
				Length: measure.Length(rapid.Float64Range(1400, 3000).Draw(r, "length")), Depth: 600})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners,
					estimate.Corner{Angle: measure.Angle(rapid.SampledFrom([]float64{90, 90, 135, 225, 270, 112}).Draw(r,
						"angle")) * measure.Degree})
			}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		v := &picture{body: bodyOf(e), o: Options{Width: 84, Height: 62}}
		v.eye = v.seenFrom()
		w, h := v.fit()
		require.LessOrEqual(r, h, 62.0+1e-9)
		require.LessOrEqual(r, w, 84.0+1e-9)
		require.Positive(r, area(v.outline), "against the clock")
		for _, p := range v.all(append(flat(v.outline), raised(v.outline, -v.thick)...)) {
			require.True(r, p.X > 0 && p.X < w && p.Y > 0 && p.Y < h, "%v leaves the paper", p)
		}
		for _, s := range v.facing(v.eye) {
			low, high := v.at(between(s.a, s.b, 0.5).at(-v.thick)), v.at(between(s.a, s.b, 0.5).at(0))
			require.Greater(r, low.Y, high.Y)
		}
		_, err = Draw(e, Options{})
		require.NoError(r, err)
	})
}

// A cut-out that goes through the front leaves the front open there, and only there.
func TestAFrontIsOpenWhereACutOutGoesThrough(t *testing.T) {
	for _, from := range []measure.Length{46 * measure.Inch, 60 * measure.Inch, 71 * measure.Inch} {
		o := straight()
		o.Top.Cutouts[1].FromStart = &from
		b := bodyOf(drawtest.Make(t, o))
		length := 0.0
		for _, s := range b.edge {
			if !s.end {
				length += s.b.minus(s.a).length()
			}
		}
		require.InDelta(t, (96-22)*25.4, length, 0.1)
		require.Len(t, b.cut, 2)
		require.False(t, b.cut[0].open[0] || b.cut[0].open[1] || b.cut[0].open[2] || b.cut[0].open[3])
	}
}

// An edge's profile takes half of the thickness at most, as a bullnose does.
func TestAProfileTakesHalfTheThickness(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	for size, want := range map[measure.Length]measure.Length{0: 0, measure.Inch / 4: measure.Inch / 4,
		measure.Inch: 0.75 * measure.Inch} {
		e.Made.ProfileSize = size
		require.InDelta(t, float64(want), bodyOf(e).profile, 1e-9)
	}
}

// A view fits into what it is asked for, and fills its width or height; of which one is not said, neither counts.
func TestAViewFillsItsRoom(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	for asked, room := range map[[2]float64][2]float64{{60, 40}: {60, 40}, {120, 200}: {120, 200}, {}: {84, 62}, {120, 0}: {84, 62},
		{0, 120}: {84, 62}} {
		raw, err := Draw(e, Options{Width: asked[0], Height: asked[1]})
		require.NoError(t, err)
		var w, h float64
		_, err = fmt.Sscanf(string(raw[bytes.Index(raw, []byte("viewBox")):]), `viewBox="0 0 %g %g"`, &w, &h)
		require.NoError(t, err)
		require.True(t, w <= room[0]+0.01 && h <= room[1]+0.01, "%v: %v by %v", asked, w, h)
		require.True(t, w > room[0]-0.1 || h > room[1]-0.1, "%v: %v by %v", asked, w, h)
	}
}

func TestWhatLiesInAConvexPolygon(t *testing.T) {
	square := []pen.Point{pen.At(0, 0), pen.At(4, 0), pen.At(4, 4), pen.At(0, 4)}
	got := within([]pen.Point{pen.At(-2, 1), pen.At(6, 1), pen.At(6, 3), pen.At(-2, 3)}, square)
	require.InDelta(t, 8, math.Abs(turns(got))/2, 1e-9)
	require.Empty(t, within([]pen.Point{pen.At(5, 5), pen.At(6, 5), pen.At(6, 6)}, square))
}

// Each golden file was looked at: an outer corner, two holes of which one is open at the front, a narrow leg, a built-up edge.
func TestGoldenViews(t *testing.T) {
	outer := drawtest.Desk()
	outer.Top.Corners[0] = estimate.Corner{Angle: 255 * measure.Degree}
	narrow := drawtest.Bar()
	narrow.Top.Runs = []estimate.Run{{Name: "A", Length: 2300, Depth: 600}, {Name: "B", Length: 1400, Depth: 600},
		{Name: "C", Length: 2400, Depth: 600}}
	narrow.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree}, {Angle: 90 * measure.Degree}}
	for name, order := range map[string]estimate.Order{"straight": straight(), "narrow_u": narrow, "counter": drawtest.Counter(), "outer": outer,
		"furnished": drawtest.Furnished(), "bar": drawtest.FurnishedBar()} {
		got, err := Draw(drawtest.Make(t, order), Options{Width: 84, Height: 62})
		require.NoError(t, err)
		path := "testdata/" + name + ".svg"
		goldentest.Hold(t, path, got)
	}
}

func TestNoOutlineNoView(t *testing.T) {
	_, err := Draw(&estimate.Estimate{}, Options{})
	require.ErrorContains(t, err, "no outline")
}

func TestAViewSaysNothingToMeasure(t *testing.T) {
	raw, err := Draw(drawtest.Make(t, drawtest.Counter()), Options{})
	require.NoError(t, err)
	for _, text := range drawtest.Read(t, raw).Texts[2:] {
		require.NotRegexp(t, `\d`, text)
	}
}

func BenchmarkDraw(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Draw(e, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// Places are multiplied in all three directions.
func TestPlacesAreMultiplied(t *testing.T) {
	require.InDelta(t, 1*4+2*5+3*6, place{1, 2, 3}.dot(place{4, 5, 6}), 1e-12)
}

// A view names all of a top's pieces or none.
func TestAViewNamesAllPiecesOrNone(t *testing.T) {
	long := straight()
	long.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: long.Top.Runs[0].Length / 2}}
	named, bare := 0, 0
	for name, order := range map[string]estimate.Order{"desk": drawtest.Desk(), "counter": drawtest.Counter(), "bar": drawtest.Bar(), "long": long} {
		e := drawtest.Make(t, order)
		for width := 15.0; width <= 200; width += 5 {
			raw, err := Draw(e, Options{Width: width, Height: width})
			require.NoError(t, err)
			switch got := bytes.Count(raw, []byte("<text")); got {
			case 0:
				bare++
			case len(e.Runs):
				named++
			default:
				require.Fail(t, "some pieces alone", "%s, %g wide: %d of %d", name, width, got, len(e.Runs))
			}
		}
	}
	require.Positive(t, named)
	require.Positive(t, bare)
}
