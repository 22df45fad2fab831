package season

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

// The figures on the chart, read back from it, are the estimate's.
func TestTheChartTellsTheEstimatesFigures(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	doc, err := Draw(e, 0, Options{})
	require.NoError(t, err)
	texts := drawtest.Read(t, doc).Texts
	m := &e.Runs[0].Movement
	require.InDelta(t, 0.2287, m.ToHumid.Inches(), 0.00005)
	for _, want := range []string{"humid: +0.229 in", "dry: −0.120 in", "as made: 0", "moisture 7.5 %", "moisture 6.2 %",
		"moisture 10.0 %", "25-1/2 in wide", "25-23/32 in wide", "25-3/8 in wide"} {
		require.Contains(t, texts, want)
	}
	all := strings.Join(texts, " ")
	require.Contains(t, all, "changes its width by 0.349 in, and its length by only 0.019 in")
	require.Contains(t, all, "Only the dry and the humid season are computed")
	require.Contains(t, all, "Sugar maple, flat-sawn")

	doc, err = DrawSeam(e, 0, Options{})
	require.NoError(t, err)
	texts = drawtest.Read(t, doc).Texts
	for _, want := range []string{"humid: 0.323 in", "dry: 0.169 in", "opens at the wall end", "opens at the front end",
		"shut"} {
		require.Contains(t, texts, want)
	}
	require.Contains(t, strings.Join(texts, " "), "the seam opens, as its legs cannot swing")

	b := drawtest.Make(t, drawtest.Bar())
	doc, err = Draw(b, 1, Options{Narrow: true})
	require.NoError(t, err)
	texts = drawtest.Read(t, doc).Texts
	require.InDelta(t, -4.37, float64(b.Runs[1].Movement.ToDry), 0.005)
	require.Contains(t, texts, "dry: −4.37 mm")
	require.Contains(t, texts, "495.6 mm wide")
}

// Over any seasons no label lies on another or leaves the sheet, every figure is the estimate's, and the curve runs
// between the two computed values.
func TestAnySeasonsAreTold(t *testing.T) {
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		o := drawtest.Desk()
		o.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(r, "units")
		o.Top.Runs[0].Depth = measure.Length(rapid.Float64Range(150, 1200).Draw(r, "depth"))
		o.Top.Corners[0].Joint = rapid.SampledFrom([]plan.JointKind{estimate.AutoJoint, plan.Butt, plan.Miter}).Draw(r,
			"joint")
		o.Top.Edge = estimate.Edge{Profile: estimate.Square}
		dry := rapid.Float64Range(5, 11).Draw(r, "dry")
		o.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(rapid.Float64Range(5, 14).Draw(r, "making")),
			Dry: drawtest.Wet(dry), Humid: drawtest.Wet(dry + rapid.Float64Range(0, 5).Draw(r, "swing"))}
		if rapid.Bool().Draw(r, "the months of the year") {
			o.Moisture.Seasonal = &estimate.SeasonalOrder{}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		for run := range e.Runs {
			for _, narrow := range []bool{false, true} {
				c, err := ofRun(e, run, pen.Speech{})
				require.NoError(r, err)
				checkChart(r, c, narrow)
				texts := strings.Join(drawtest.Read(r, c.draw(Options{Narrow: narrow})).Texts, "|")
				require.Contains(r, texts, told("humid: ", e.Runs[run].Movement.ToHumid, e.Units))
				require.Contains(r, texts, told("dry: ", e.Runs[run].Movement.ToDry, e.Units))
				inDry, inHumid := c.seasonTimes()
				require.InDelta(r, float64(e.Runs[run].Movement.ToDry), float64(c.on(inDry)), 1e-6)
				require.InDelta(r, float64(e.Runs[run].Movement.ToHumid), float64(c.on(inHumid)), 1e-6)
				require.InDelta(r, float64(c.on(0)), float64(c.on(1)), 1e-9)
			}
		}
		c, err := ofSeam(e, 0, nil, pen.Speech{})
		require.NoError(r, err)
		checkChart(r, c, true)
	})
}

func told(season string, l measure.Length, units measure.System) string {
	places := 3
	if units == measure.Millimetres {
		places = 2
	}
	v := measure.Round(l.In(units), places)
	if l == 0 {
		return season + "0"
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	switch {
	case v > 0:
		text = "+" + text
	case v < 0:
		text = "−" + text[1:]
	}
	return season + text + " " + units.String()
}

func checkChart(t require.TestingT, c *chart, narrow bool) {
	c.draw(Options{Narrow: narrow})
	require.Empty(t, drawtest.Collisions(c.Boxes()))
	w := paperWidth
	if narrow {
		w = phoneWidth
	}
	for _, b := range c.Boxes() {
		require.True(t, b.X0 > 0 && b.X1 < w+2*space && b.Y0 > 0, "%q leaves the sheet: %v", b.Text, b)
	}
	c.Pen.Reset()
}

func TestHostileNamesAreText(t *testing.T) {
	for _, name := range []string{`<script>alert(1)</script>`, "אבגד\u202e", strings.Repeat("long ", 40), "🪵👩‍🔧",
		"]]>&amp;", "x\x00\x1b"} {
		o := drawtest.Desk()
		o.Top.Runs[0].Name = name
		e := drawtest.Make(t, o)
		for _, narrow := range []bool{false, true} {
			c, err := ofRun(e, 0, pen.Speech{})
			require.NoError(t, err)
			checkChart(t, c, narrow)
			c, err = ofSeam(e, 0, nil, pen.Speech{})
			require.NoError(t, err)
			checkChart(t, c, narrow)
			doc, err := Draw(e, 0, Options{Narrow: narrow})
			require.NoError(t, err)
			require.NotContains(t, string(doc), "<script")
			drawtest.Read(t, doc)
		}
	}
}

func TestWhatCannotBeChartedIsSaid(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	_, err := Draw(e, 2, Options{})
	require.ErrorContains(t, err, "There is no run 3; this top has 2.")
	_, err = DrawSeam(e, 1, Options{})
	require.ErrorContains(t, err, "There is no corner 2; this top has 1.")
	_, err = DrawSeam(e, 0, Options{Joint: &plan.Joint{Kind: "dovetail"}})
	require.ErrorContains(t, err, "was not worked out")
	a, err := DrawSeam(e, 0, Options{Joint: &plan.Joint{Kind: plan.Butt, Through: plan.First}})
	require.NoError(t, err)
	require.Contains(t, string(a), "how far it slides")
}

func BenchmarkDraw(b *testing.B) {
	list := []*estimate.Estimate{drawtest.Make(b, drawtest.Desk()), drawtest.Make(b, drawtest.Bar())}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := Draw(list[i%len(list)], i%2, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A change is as long on every chart, whatever else is drawn: a small one looks small.
func TestSmallMovementsLookSmall(t *testing.T) {
	small := drawtest.Desk()
	small.Moisture.Dry, small.Moisture.Humid = drawtest.Wet(7.3), drawtest.Wet(7.7)
	deep := drawtest.Desk()
	deep.Top.Runs, deep.Top.Corners = deep.Top.Runs[:1], nil
	deep.Top.Runs[0].Depth = 48 * measure.Inch
	for name, o := range map[string]estimate.Order{"small": small, "usual": drawtest.Desk(), "bar": drawtest.Bar(),
		"deep": deep} {
		e := drawtest.Make(t, o)
		c, err := ofRun(e, 0, pen.Speech{})
		require.NoError(t, err)
		a := c.axis(10)
		require.InDelta(t, magnified, a.scale, 1e-12, name)
		require.InDelta(t, float64(e.Runs[0].Movement.Range)*magnified, a.at(c.dry.change)-a.at(c.humid.change), 1e-9, name)
		require.Greater(t, a.at(max(c.dry.change, c.humid.change, 0)), 10.0, name)
		require.Less(t, a.at(min(c.dry.change, c.humid.change, 0)), 10+a.height, name)
	}
	green := deep
	green.Top.Runs[0].Depth, green.Moisture.Making, green.Moisture.Dry = 60*measure.Inch, drawtest.Wet(16), drawtest.Wet(4)
	c, err := ofRun(drawtest.Make(t, green), 0, pen.Speech{})
	require.NoError(t, err)
	require.LessOrEqual(t, c.axis(0).height, plotMost, "what would fill more than a page is drawn smaller")
}

// The numbers of the axis stand where they say: each is read back from the chart.
func TestTheAxisHasNumbers(t *testing.T) {
	for name, o := range map[string]estimate.Order{"desk": drawtest.Desk(), "bar": drawtest.Bar()} {
		e := drawtest.Make(t, o)
		c, err := ofRun(e, 0, pen.Speech{})
		require.NoError(t, err)
		c.draw(Options{})
		numbers := 0
		var zero float64
		read := map[float64]float64{}
		for _, b := range c.Boxes() {
			if b.X1 > space+axisRoom {
				continue
			}
			if v, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "+", "").Replace(b.Text), 64); err == nil {
				read[v] = (b.Y0 + b.Y1) / 2
				numbers++
				if v == 0 {
					zero = (b.Y0 + b.Y1) / 2
				}
			}
		}
		require.Greater(t, numbers, 3, name)
		for v, y := range read {
			require.InDelta(t, zero-v*map[measure.System]float64{measure.Inches: 25.4,
				measure.Millimetres: 1}[e.Units]*magnified, y, 0.02, "%s: %g", name, v)
		}
	}
}

// What the sketch shows is what was reckoned: a gap of the seam, taken from the drawn pieces and divided by how much larger than it is
// all is drawn, is the estimate's opening, which joint works out by its own formula. Pieces that swing stay shut.
func TestTheSketchOpensAsTheSeamDoes(t *testing.T) {
	restrained, free := drawtest.Desk(), drawtest.Desk()
	yes, no := true, false
	free.Moisture.Dry, free.Moisture.Humid = drawtest.Wet(7), drawtest.Wet(8)
	restrained.Top.Corners[0].Restrained, free.Top.Corners[0].Restrained = &yes, &no
	for name, o := range map[string]estimate.Order{"restrained": restrained, "free": free} {
		e := drawtest.Make(t, o)
		s := sketchOf(e, 0)
		require.NotNil(t, s)
		s.times = 0.001 // so that formulas for small angles hold
		for _, humid := range []bool{false, true} {
			m := &s.opens.Movement
			season := m.Dry
			if humid {
				season = m.Humid
			}
			a, b := &s.legs[0], &s.legs[1]
			pieces := s.pieces(humid)
			gap := 0.0
			for _, end := range s.seam {
				gap = max(gap, nearestCorner(a, pieces[0], end).minus(nearestCorner(b, pieces[1], end)).length())
			}
			if m.Restrained {
				require.InDelta(t, 1, gap/s.times/abs(float64(season.MaxOpening)), 0.01, "%s, humid %t", name, humid)
			} else {
				require.InDelta(t, 0, gap/s.times, 0.01, "%s, humid %t", name, humid)
			}
		}
	}
}

// A seam whose legs cannot swing opens; one whose legs can would only. The title says which, as the words under it do.
func TestTheTitleSaysWhetherTheSeamOpens(t *testing.T) {
	for _, held := range []bool{true, false} {
		o := drawtest.Desk()
		o.Moisture.Dry, o.Moisture.Humid = drawtest.Wet(7), drawtest.Wet(8)
		o.Top.Corners[0].Restrained = &held
		e := drawtest.Make(t, o)
		require.Equal(t, held, candidateOf(e).Movement.Restrained)
		doc, err := DrawSeam(e, 0, Options{})
		require.NoError(t, err)
		texts := strings.Join(drawtest.Read(t, doc).Texts, "|")
		require.Equal(t, held, strings.Contains(texts, "how far it opens"), texts)
		require.Equal(t, held, strings.Contains(texts, "By this much the seam opens, as its legs cannot swing."), texts)
		require.Equal(t, !held, strings.Contains(texts, "how far it would open"), texts)
	}
}

// candidateOf is the chosen joint of the first corner.
func candidateOf(e *estimate.Estimate) *estimate.Candidate {
	for i := range e.Corners[0].Candidates {
		if k := &e.Corners[0].Candidates[i]; k.Joint == e.Corners[0].Chosen {
			return k
		}
	}
	return nil
}

// nearestCorner is where a corner of the leg went that was at that end of the seam.
func nearestCorner(l *leg, moved []spot, end spot) spot {
	best := 0
	for i, p := range l.outline {
		if p.minus(end).length() < l.outline[best].minus(end).length() {
			best = i
		}
	}
	return moved[best]
}

func (a spot) length() float64 { return math.Hypot(a.x, a.y) }

func abs(x float64) float64 { return max(x, -x) }

// Of a straight top the sketch shows the middle, 1.7 times as long as it is deep; of one that is shorter all of it.
func TestTheSketchOfAStraightTop(t *testing.T) {
	for length, shown := range map[measure.Length]measure.Length{96 * measure.Inch: 1.7 * 25.5 * measure.Inch, 30 * measure.Inch: 30 * measure.Inch} {
		o := drawtest.Desk()
		o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
		o.Top.Runs[0].Length = length
		s := sketchOf(drawtest.Make(t, o), 0)
		require.Len(t, s.legs, 1)
		l := &s.legs[0]
		require.InDelta(t, float64(shown), l.wall[1].minus(l.wall[0]).length(), 0.1)
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range l.outline {
			along := p.minus(l.wall[0]).dot(l.along)
			low, high = min(low, along), max(high, along)
		}
		require.InDelta(t, 0, low, 0.1)
		require.InDelta(t, float64(shown), high, 0.1)
	}
}
