package compare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

// The figures in the picture are the estimate's, and the chosen joint is told by more than its frame.
func TestThePictureTellsTheEstimatesFigures(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	doc, err := Draw(e, Options{})
	require.NoError(t, err)
	texts := drawtest.Read(t, doc).Texts
	all := strings.Join(texts, " ")
	chosen := 0
	for i := range e.Corners[0].Candidates {
		k := &e.Corners[0].Candidates[i]
		if k.Joint == e.Corners[0].Chosen {
			chosen++
		}
		if !k.Feasible {
			continue
		}
		require.Contains(t, texts, pen.Speech{}.Amount(k.Cost.String())+" USD")
		require.Contains(t, texts, trimmed(measure.Round(k.LabourHours, 1)))
		require.Contains(t, texts, k.Geometry.SeamLength.Phrase(e.Units))
	}
	require.Equal(t, 1, chosen)
	require.Equal(t, 1, strings.Count(strings.Join(texts[2:], " "), "Chosen, "), "texts 0 and 1 are title and description")
	require.Contains(t, all, "goes through")
	require.Contains(t, all, "Corner 1, A to B, 90°")
}

// A seam whose legs cannot swing opens, another would: each way to make a corner says its own.
func TestAWayToMakeACornerSaysWhetherItsSeamOpens(t *testing.T) {
	for _, held := range []bool{true, false} {
		o := drawtest.Desk()
		o.Moisture.Dry, o.Moisture.Humid = drawtest.Wet(7), drawtest.Wet(8)
		o.Top.Corners[0].Restrained = &held
		e := drawtest.Make(t, o)
		opens, would := 0, 0
		for i := range e.Corners[0].Candidates {
			switch k := &e.Corners[0].Candidates[i]; {
			case len(k.Geometry.SeamPath) < 2:
			case k.Movement.Restrained:
				opens++
			default:
				would++
			}
		}
		require.Equal(t, held, opens > 0)
		require.Positive(t, would, "a seam at which nothing turns")
		doc, err := Draw(e, Options{})
		require.NoError(t, err)
		all := strings.Join(drawtest.Read(t, doc).Texts, "|") + "|"
		require.Equal(t, opens, strings.Count(all, "|opens up to|"), all)
		require.Equal(t, would, strings.Count(all, "|would open up to|"), all)
	}
}

// Two pieces in one line are drawn as deep as they are, with the seam across them, whichever hand the top has.
func TestAStraightSeamIsSketchedAcrossTheTop(t *testing.T) {
	for _, hand := range []plan.Hand{plan.Left, plan.Right} {
		e := &estimate.Estimate{Runs: []estimate.RunResult{{Depth: 600}, {Depth: 600}}, Corners: []estimate.CornerResult{{Angle: 180 * measure.Degree}}}
		e.Made.Hand = hand
		b := bendOf(e, 0)
		deep := measure.Length(600).Inches()
		lo, hi := b.outline()[0], b.outline()[0]
		for _, v := range b.outline() {
			lo, hi = vector{min(lo.x, v.x), min(lo.y, v.y)}, vector{max(hi.x, v.x), max(hi.y, v.y)}
		}
		require.InDelta(t, deep, hi.y-lo.y, 1e-6)
		require.InDelta(t, 3.2*deep, hi.x-lo.x, 1e-6)
		seam := b.seam(plan.Joint{Kind: plan.Straight})
		require.InDelta(t, deep, seam[0].y-seam[1].y, 1e-6)
		require.InDelta(t, seam[0].x, seam[1].x, 1e-6)
	}
}

func TestATopWithoutACornerHasNothingToCompare(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	_, err := Draw(drawtest.Make(t, o), Options{})
	var f *fault.Fault
	require.ErrorAs(t, err, &f)
	require.Equal(t, fault.NotFound, f.Kind)
}

// Over any tops no text lies on another or leaves the sheet, and what callers name stays text.
func TestAnyTopsAreCompared(t *testing.T) {
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		o := drawtest.Desk()
		o.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(r, "units")
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Left, plan.Right}).Draw(r, "hand")
		n := rapid.IntRange(2, 4).Draw(r, "runs")
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range n {
			o.Top.Runs = append(o.Top.Runs,
				estimate.Run{Name: rapid.SampledFrom([]string{"", "A", "<script>", strings.Repeat("W", 30), "שולחן", "🪵"}).Draw(r,
					"name") + string(rune('a'+i)),
					Length: 90 * measure.Inch, Depth: measure.Length(rapid.Float64Range(250, 700).Draw(r, "depth"))})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners,
					estimate.Corner{Angle: measure.Angle(rapid.SampledFrom([]float64{60, 88.5, 90, 120, 135, 170, 225, 270}).Draw(r,
						"angle")) * measure.Degree})
			}
		}
		o.Reference = rapid.SampledFrom([]string{"", "Harbour", strings.Repeat("Long ", 40), "<b>&amp;"}).Draw(r, "reference")
		e, err := estimate.Make(o, cat)
		if err != nil {
			r.Skip("no such top")
		}
		opt := Options{Narrow: rapid.Bool().Draw(r, "narrow")}
		p, w, h, err := draw(e, opt)
		require.NoError(r, err)
		require.Empty(r, drawtest.Collisions(p.Boxes()))
		for _, b := range p.Boxes() {
			if b.X0 < 0 || b.Y0 < 0 || b.X1 > w || b.Y1 > h {
				r.Fatalf("%q leaves the sheet", b.Text)
			}
		}
		doc, err := Draw(e, opt)
		require.NoError(r, err)
		require.NotContains(r, drawtest.Read(r, doc).Elements, "script")
	})
}

func BenchmarkDraw(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	for b.Loop() {
		if _, err := Draw(e, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A fact stands on one line where there is room, else its figure stands under its name: lines are 1.45 of their letters apart.
func TestAFactTakesOneLineOrTwo(t *testing.T) {
	for w, lines := range map[float64]int{80: 1, 20: 2} {
		var p picture
		end := p.fact(5, 10, w, [2]string{"pull of the seam", "809 lbf"})
		require.InDelta(t, 10+float64(lines)*2.9*1.45, end, 1e-9)
		boxes := p.Boxes()
		require.Len(t, boxes, 2)
		require.Empty(t, drawtest.Collisions(boxes))
		require.InDelta(t, 5+w, boxes[1].X1, 1e-9)
		require.Equal(t, lines == 2, boxes[0].Y1 < boxes[1].Y1)
	}
}

// A joint's score is in points, but one point, to either side.
func TestPointsOfAScore(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	p := &picture{e: e}
	k := estimate.Candidate{Feasible: true}
	for score, text := range map[int]string{0: "0 points", 1: "1 point", -1: "−1 point", 2: "2 points", -2: "−2 points", 11: "11 points"} {
		k.Score = score
		require.Equal(t, text, p.standing(0, &k))
		chosen := k
		chosen.Joint = e.Corners[0].Chosen
		require.Equal(t, "Chosen, "+text, p.standing(0, &chosen))
	}
	k.Feasible = false
	require.Equal(t, "Excluded", p.standing(0, &k))
	k.Hardware.Reason = "No bolt has room."
	require.Equal(t, "Cannot be made: No bolt has room.", p.standing(0, &k))
	k.Hardware.Feasible = true
	require.Equal(t, "Excluded", p.standing(0, &k))
}

// What pulls is counted from one part on.
func TestOnePartThatPullsIsCounted(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	k := *e.Corners[0].ChosenCandidate()
	groups := k.Hardware.Pull.Groups[:1:1]
	for count, text := range map[int]string{0: "", 1: "1", 2: "2"} {
		one := groups[0]
		one.Count = count
		k.Hardware.Pull.Groups = append(groups[:0:0], one)
		got := ""
		for _, f := range (&picture{e: e}).facts(&k) {
			if f[0] == "pull parts" {
				got = f[1]
			}
		}
		require.Equal(t, text, got)
	}
}
