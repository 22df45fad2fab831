package seam

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
)

// want is a row of the table worked out from the estimate alone.
type want struct {
	at         measure.Length
	cut        string
	size       measure.Length
	recess     measure.Length // elongated; 0: none
	dry, humid measure.Length
}

func wanted(c *estimate.Candidate) []want {
	held := map[string]measure.Length{"front": 0, "centre": c.Geometry.SeamLength / 2,
		"back": c.Geometry.SeamLength}[string(c.Movement.HoldAt)]
	var out []want
	add := func(cut string, at, size measure.Length) {
		far := at - held
		out = append(out, want{at: at, cut: cut, size: size, dry: c.Movement.Dry.MaxSlip * far / c.Movement.Far,
			humid: c.Movement.Humid.MaxSlip * far / c.Movement.Far})
	}
	for i, at := range c.Hardware.Alignment.Positions {
		add("slot", at, c.Hardware.Alignment.SlotWidths[i])
	}
	for _, g := range c.Hardware.Pull.Groups {
		for i, at := range g.Positions {
			if g.Kind == catalogue.DrawBolt {
				add("channel", at, g.Channels[i])
				if len(g.Recesses) > 0 {
					out[len(out)-1].recess = g.Recesses[i]
				}
			} else {
				add("hole", at, g.HoleDiameters[i])
			}
		}
	}
	slices.SortStableFunc(out, func(a, b want) int { return int(math.Copysign(1, float64(a.at-b.at))) })
	return out
}

// Every row of the table, read back from the drawing, is that of the estimate: place, cut and size, and both slides.
func TestTheTableIsTheEstimates(t *testing.T) {
	cat, rows := demotest.Catalogue(t), 0
	rapid.Check(t, func(r *rapid.T) {
		sheets(r, cat, func(e *estimate.Estimate, k int, c *estimate.Candidate) {
			doc, err := Draw(e, k, Options{Joint: &c.Joint, Narrow: true})
			require.NoError(r, err)
			got := drawtest.Read(r, doc)
			if !c.Hardware.Feasible {
				require.Empty(r, got.Rows)
				require.Contains(r, strings.Join(got.Texts, " "), "Not to be made like this")
				return
			}
			list := wanted(c)
			require.Len(r, got.Rows, len(list))
			for i, w := range list {
				cells := got.Rows[i]
				require.Equal(r, strconv.Itoa(i+1), cells[0])
				require.Equal(r, w.at.Text(e.Units), cells[1])
				cells = cells[2:]
				if c.Joint.Kind == plan.MasonsMiter {
					require.Equal(r, (w.at - c.Geometry.FrontKeep).Text(e.Units), cells[0])
					cells = cells[1:]
				}
				requireSize(r, w, cells[0], e.Units)
				requireRecess(r, w, i+1, strings.Join(got.Texts, " "), e.Units)
				requireSlide(r, w.dry, cells[1], e.Units)
				requireSlide(r, w.humid, cells[2], e.Units)
				rows++
			}
		})
	})
	require.Greater(t, rows, 150, "the draws hardly ever gave a seam")
}

// requireSize reads a size: never under the least one, nor over it by more than the step it is told in.
func requireSize(t require.TestingT, w want, cell string, units measure.System) {
	words := strings.Fields(cell)
	require.Equal(t, w.cut, words[0])
	told, err := measure.ParseLength(words[1], units)
	require.NoError(t, err)
	step := measure.Inch / 64
	switch {
	case units == measure.Millimetres && w.cut == "slot":
		step = measure.Millimetre / 2
	case units == measure.Millimetres:
		step = measure.Millimetre / 10
	case w.cut == "slot":
		step = measure.Inch / 32
	}
	require.GreaterOrEqual(t, float64(told-w.size), -1e-4, "%s for %v", cell, w.size)
	require.Less(t, float64(told-w.size), float64(step), "%s for %v", cell, w.size)
}

// requireRecess reads the length of an elongated recess from under the table.
func requireRecess(t require.TestingT, w want, number int, texts string, units measure.System) {
	_, text, found := strings.Cut(texts, "Recesses are elongated")
	_, text, told := strings.Cut(text, " No. "+strconv.Itoa(number)+" ")
	require.Equal(t, w.recess > 0, found && told)
	if w.recess == 0 {
		return
	}
	long, err := measure.ParseLength(text[:strings.IndexAny(text, " ,")-dot(text)], units)
	require.NoError(t, err, text)
	require.GreaterOrEqual(t, float64(long-w.recess), -1e-4, "%s for %v", text, w.recess)
	require.Less(t, float64(long-w.recess), float64(measure.Inch/32), "%s for %v", text, w.recess)
}

// dot is one when the first word ends a sentence.
func dot(text string) int {
	if strings.HasSuffix(text[:strings.IndexAny(text, " ,")], ".") {
		return 1
	}
	return 0
}

// requireSlide reads an arrow and a figure.
func requireSlide(t require.TestingT, w measure.Length, cell string, units measure.System) {
	half := 0.0005
	if units == measure.Millimetres {
		half = 0.005
	}
	told := 0.0
	if words := strings.Fields(cell); len(words) == 2 {
		v, err := strconv.ParseFloat(words[1], 64)
		require.NoError(t, err)
		told = v
		if words[0] == "←" {
			told = -v
		} else {
			require.Equal(t, "→", words[0])
		}
	} else {
		require.Equal(t, "0", cell)
	}
	require.InDelta(t, w.In(units), told, half+1e-6)
}

// The figures about the corner stand on the sheet as the estimate has them.
func TestTheSheetTellsCutsAndSeasons(t *testing.T) {
	e := drawtest.Make(t, drawtest.DryBar())
	c := &e.Corners[0].Candidates[0]
	for i := range e.Corners[0].Candidates {
		if e.Corners[0].Candidates[i].Joint == e.Corners[0].Chosen {
			c = &e.Corners[0].Candidates[i]
		}
	}
	doc, err := Draw(e, 0, Options{})
	require.NoError(t, err)
	texts := drawtest.Read(t, doc).Texts
	for _, want := range []string{"83°", "7°", "2600", "1288", "2020", "1214", "510", "38", "19, mitred", "front end, 0",
		"← 1.60", "→ 1.98", "0.24", "0.20", "wall", "front", "+0.03°", "−0.02°"} {
		require.Contains(t, texts, want)
	}
	require.InDelta(t, 1.98, float64(c.Movement.Humid.MaxSlip), 0.005)
	require.InDelta(t, 0.24, float64(c.Movement.Humid.MaxOpening), 0.005)
	all := strings.Join(texts, " ")
	require.Contains(t, all, "Old mill reception bar")
	require.Contains(t, all, "from below, as they lie face down on the bench: seen from above, A and B change sides")
	require.Contains(t, all, "No glue in this seam")
	for _, step := range e.Labour.Steps {
		if step.Code == "seam_cut_masons" || step.Code == "bore_pockets" || step.Code == "site_template" ||
			step.Code == "profile_edges_before" {
			require.Contains(t, texts, step.Name)
			require.Contains(t, texts, strconv.Itoa(step.Number))
		}
		if step.Code == "glue_up" || step.Code == "bore_draw_bolts" || step.Code == "hand_over" {
			require.NotContains(t, texts, step.Name)
		}
	}
	// Steps stand in the order of the plan.
	last := -1
	for _, step := range e.Labour.Steps {
		if i := slices.Index(texts, step.Name); i >= 0 {
			require.Greater(t, i, last)
			last = i
		}
	}
}

// Names and references of callers are text, whatever they are.
func TestHostileTextIsText(t *testing.T) {
	names := []string{`<script>alert(1)</script>`, "אבגד \u202e<b>", strings.Repeat("long name ", 20), "🪵👩‍🔧🏠",
		"]]>&amp;\"'", "\x00\x1b\ufffe x"}
	for _, name := range names {
		o := drawtest.Desk()
		o.Reference, o.Top.Runs[0].Name = name, name
		e := drawtest.Make(t, o)
		for _, narrow := range []bool{false, true} {
			doc, err := Draw(e, 0, Options{Narrow: narrow})
			require.NoError(t, err)
			got := drawtest.Read(t, doc)
			for _, element := range got.Elements {
				require.Contains(t, []string{"svg", "title", "desc", "g", "text", "line", "rect", "ellipse", "polyline", "polygon"},
					element)
			}
			require.NotContains(t, string(doc), "<script")
			require.NotContains(t, string(doc), "\u202e")
			s, err := newSheet(e, 0, Options{Narrow: narrow})
			require.NoError(t, err)
			s.draw()
			require.Empty(t, drawtest.Collisions(s.Boxes()))
		}
	}
	o := drawtest.Desk()
	o.Top.Runs[0].Name = names[0]
	doc, err := Draw(drawtest.Make(t, o), 0, Options{})
	require.NoError(t, err)
	require.Contains(t, strings.Join(drawtest.Read(t, doc).Texts, " "), "<script>alert(1)</sc")
}

func TestTheSameEstimateGivesTheSameBytes(t *testing.T) {
	e := drawtest.Make(t, drawtest.DryBar())
	a, err := Draw(e, 0, Options{})
	require.NoError(t, err)
	b, err := Draw(e, 0, Options{})
	require.NoError(t, err)
	require.Equal(t, a, b)
	require.Contains(t, string(a), `role="img"`)
}

func TestWhatCannotBeDrawnIsSaid(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	_, err := Draw(e, 1, Options{})
	require.ErrorContains(t, err, "There is no corner 2; this top has 1.")
	_, err = Draw(e, -1, Options{})
	require.Error(t, err)
	_, err = Draw(e, 0, Options{Joint: &plan.Joint{Kind: "dovetail"}})
	require.ErrorContains(t, err, "was not worked out")
	r := drawtest.Make(t, drawtest.Reflex())
	_, err = Draw(r, 0, Options{Joint: &plan.Joint{Kind: plan.MasonsMiter, Through: plan.First}})
	require.ErrorContains(t, err, "no seam to draw")
}

func BenchmarkDraw(b *testing.B) {
	list := []*estimate.Estimate{drawtest.Make(b, drawtest.Desk()), drawtest.Make(b, drawtest.DryBar()), drawtest.Make(b, butt()),
		drawtest.Make(b, drawtest.Long())}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := Draw(list[i%len(list)], 0, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// What slides is in proportion to the distance from where the pieces are held; nothing does where nothing is far from there.
func TestWhatSlidesAtAPlace(t *testing.T) {
	c := &estimate.Candidate{}
	c.Geometry.SeamLength, c.Movement.Far = 600, 600
	require.InDelta(t, 1.5, float64(slideAt(c, 300, 3)), 1e-9, "held in front")
	c.Movement.HoldAt = hardware.HoldBack
	require.InDelta(t, -1.5, float64(slideAt(c, 300, 3)), 1e-9)
	require.InDelta(t, 0, float64(slideAt(c, 600, 3)), 1e-9)
	c.Movement.HoldAt, c.Movement.Far = hardware.HoldCentre, 300
	require.InDelta(t, 3, float64(slideAt(c, 600, 3)), 1e-9)
	require.InDelta(t, -3, float64(slideAt(c, 0, 3)), 1e-9)
	c.Movement.Far = 0
	require.Zero(t, slideAt(c, 100, 3))
}
