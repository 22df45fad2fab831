package estimate_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/store/demotest"
)

// The mirror image of a top costs the same and moves the same.
func TestTheMirrorImageIsTheSameTop(t *testing.T) {
	t.Parallel()
	for _, o := range []estimate.Order{deskA(), barB(), uShape()} {
		o.Top.Hand = plan.Right
		right, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		o.Top.Hand = plan.Left
		left, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		require.Equal(t, right.Price, left.Price)
		require.Equal(t, right.Bill, left.Bill)
		require.Equal(t, right.Labour, left.Labour)
		for i := range right.Runs {
			require.Equal(t, right.Runs[i].Blank, left.Runs[i].Blank)
			require.Equal(t, right.Runs[i].Movement, left.Runs[i].Movement)
		}
	}
}

// The units are how an answer is written, never how it is computed.
func TestInchesAndMillimetresGiveTheSameAnswer(t *testing.T) {
	t.Parallel()
	inches := deskA()
	metric := deskA()
	metric.Units = measure.Millimetres
	a, err := estimate.Make(inches, demotest.Catalogue(t))
	require.NoError(t, err)
	b, err := estimate.Make(metric, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, a.Price, b.Price)
	require.Equal(t, a.Lumber, b.Lumber)
	require.Equal(t, a.Corners[0].Chosen, b.Corners[0].Chosen)
	for i := range a.Runs {
		a.Runs[i].WallJoint.Text, b.Runs[i].WallJoint.Text = "", "" // a sentence, written in the order's units
		require.Equal(t, a.Runs[i], b.Runs[i])
	}
}

func TestTheSameOrderGivesTheSameEstimate(t *testing.T) {
	t.Parallel()
	o := uShape()
	o.Explain = true
	a, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	b, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, a, b)
	require.NotEmpty(t, a.Workings)
}

func TestNoChangeOfMoistureNoMovement(t *testing.T) {
	t.Parallel()
	o := barB()
	o.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(8), Humid: wet(8)}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	for _, r := range e.Runs {
		require.Zero(t, r.Movement.Range)
	}
	for _, c := range e.Corners[0].Candidates {
		require.Zero(t, c.Movement.Humid.MaxSlip)
		require.Zero(t, c.Movement.Dry.MaxOpening)
	}
}

func TestAWiderRunSlipsMore(t *testing.T) {
	t.Parallel()
	slip := func(depth measure.Length) measure.Length {
		o := barB()
		o.Top.Runs[1].Depth = depth
		o.Top.Corners[0].HoldAt = "front"
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		return candidate(&e.Corners[0], plan.Butt, plan.First).Movement.Humid.MaxSlip
	}
	require.Less(t, slip(400), slip(500))
	require.Less(t, slip(500), slip(600))
}

// Common practice: a swelling miter opens outside, a shrinking one inside.
func TestASwellingMiterOpensOutsideAShrinkingOneInside(t *testing.T) {
	t.Parallel()
	e, err := estimate.Make(deskA(), demotest.Catalogue(t))
	require.NoError(t, err)
	m := candidate(&e.Corners[0], plan.Miter, plan.NoSide).Movement
	require.EqualValues(t, "wall", m.Humid.OpensAt)
	require.EqualValues(t, "front", m.Dry.OpensAt)
}

// Common practice: a butt takes pocket screws in its end-grain piece, a moulded edge is not for a plain butt, a plain
// square one is.
func TestTheEdgeDecidesBetweenButtAndMiter(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Moisture = estimate.MoistureOrder{Making: wet(8), Dry: wet(7.2), Humid: wet(8.6)}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.NotEqual(t, plan.Butt, e.Corners[0].Chosen.Kind, "roundover")

	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	e, err = estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Equal(t, plan.Butt, e.Corners[0].Chosen.Kind, "square edge")
	chosen := candidate(&e.Corners[0], plan.Butt, e.Corners[0].Chosen.Through)
	require.EqualValues(t, "pocket_screw", chosen.Hardware.Pull.Groups[0].Kind)
}

// Every line of the answer adds up to its totals, to the cent.
func addsUp(t require.TestingT, e *estimate.Estimate) {
	var materials, hardware, consumables, labour money.Amount
	for i, l := range e.Bill {
		require.Equal(t, i+1, l.Line)
		require.GreaterOrEqual(t, l.Buy.Cmp(l.Need), 0, "%s: bought %s of %s", l.Item, l.Buy, l.Need)
		switch l.Kind {
		case "lumber", "panel", "moulding":
			materials = materials.Plus(l.Amount)
		case "alignment", "pull", "fixing":
			hardware = hardware.Plus(l.Amount)
		default:
			consumables = consumables.Plus(l.Amount)
		}
	}
	for _, s := range e.Labour.Steps {
		labour = labour.Plus(s.Amount)
	}
	p := &e.Price
	same := func(want, got money.Amount, what string) {
		require.Zero(t, want.Cmp(got), "%s: %s and %s", what, want, got)
	}
	same(materials, p.Materials, "materials")
	same(hardware, p.Hardware, "hardware")
	same(consumables, p.Consumables, "consumables")
	same(labour, p.Labour, "labour")
	same(materials.Plus(hardware).Plus(consumables).Plus(labour).Plus(p.Overhead).Plus(p.Contingency), p.Cost, "cost")
	same(p.Cost.Plus(p.Margin), p.Net, "net")
	same(p.Net.Plus(p.Tax), p.Total, "total")
}

func TestLinesAddUpToTotals(t *testing.T) {
	t.Parallel()
	for _, o := range []estimate.Order{deskA(), barB(), uShape()} {
		e, err := estimate.Make(o, demotest.Catalogue(t))
		require.NoError(t, err)
		addsUp(t, mergePacks(e))
	}
}

// mergePacks joins the lines of an item bought in several pack sizes.
func mergePacks(e *estimate.Estimate) *estimate.Estimate {
	out := *e
	out.Bill = nil
	for _, l := range e.Bill {
		if n := len(out.Bill); n > 0 && out.Bill[n-1].Item == l.Item {
			out.Bill[n-1].Buy = out.Bill[n-1].Buy.Plus(l.Buy)
			out.Bill[n-1].Amount = out.Bill[n-1].Amount.Plus(l.Amount)
			continue
		}
		l.Line = len(out.Bill) + 1
		out.Bill = append(out.Bill, l)
	}
	return &out
}

// A candidate's cost difference is what asking for it would really change.
func TestCostDifferencesAreReal(t *testing.T) {
	t.Parallel()
	for name, order := range map[string]func() estimate.Order{"desk": deskA, "bar": barB} {
		auto, err := estimate.Make(order(), demotest.Catalogue(t))
		require.NoError(t, err)
		for _, c := range auto.Corners[0].Candidates {
			if !c.Feasible {
				continue
			}
			o := order()
			o.Top.Corners[0].Joint = c.Joint.Kind
			if c.Joint.Through != plan.NoSide {
				o.Top.Corners[0].Through = estimate.ThroughWish(c.Joint.Through)
			}
			asked, err := estimate.Make(o, demotest.Catalogue(t))
			require.NoError(t, err)
			require.Equal(t, c.Joint, asked.Corners[0].Chosen)
			require.Equal(t, asked.Price.Cost.String(), c.Cost.String(), "%s %v", name, c.Joint)
			require.Equal(t, asked.Price.Cost.Minus(auto.Price.Cost).String(), c.CostDifference.String(), "%s %v", name, c.Joint)
			require.InDelta(t, asked.Labour.Hours, c.LabourHours, 1e-9)
		}
	}
}

// Whatever is ordered, the answer is a fault that the sender can act on or an estimate that adds up.
func TestAnyOrderIsAnsweredOrRefused(t *testing.T) {
	cat := demotest.Catalogue(t)
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		e, err := estimate.Make(drawOrder(t), cat)
		if err != nil {
			for _, f := range fault.All(err) {
				require.Equal(t, fault.Impossible, f.Kind, "%v", f)
				require.NotEmpty(t, f.Pointer, "%v", f)
			}
			return
		}
		answered++
		addsUp(t, mergePacks(e))
		var pieces measure.Area
		for _, r := range e.Runs {
			pieces += r.Piece.Area
		}
		require.InDelta(t, float64(e.Area), float64(pieces), 1)
	})
	require.Greater(t, answered, 15, "most drawn orders were refused: the draw is too wild to test anything")
}

func drawOrder(t *rapid.T) estimate.Order {
	o := estimate.Order{Units: rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units"),
		Pricing: estimate.PricingOrder{AsOf: "2026-11-01"}}
	species := rapid.SampledFrom([]string{"maple_sugar", "oak_white", "walnut_black", "cherry_black", "cedar_western_red",
		"pine_eastern_white"})
	o.Top = estimate.Top{Species: species.Draw(t, "species"),
		Thickness: measure.Length(rapid.Float64Range(18, 60).Draw(t, "thickness")),
		Sawn:      rapid.SampledFrom([]catalogue.Sawn{"", "flat", "quarter", "rift", "mixed"}).Draw(t, "sawn"),
		Hand:      rapid.SampledFrom([]plan.Hand{"", plan.Left}).Draw(t, "hand"),
		Edge: estimate.Edge{Profile: rapid.SampledFrom([]estimate.Profile{"", "square", "chamfer", "roundover",
			"bullnose", "ogee"}).Draw(t, "profile")}}
	n := rapid.IntRange(1, 4).Draw(t, "runs")
	for i := range n {
		o.Top.Runs = append(o.Top.Runs, estimate.Run{Length: measure.Length(rapid.Float64Range(900, 4000).Draw(t, "length")),
			Depth: measure.Length(rapid.Float64Range(200, 800).Draw(t, "depth"))})
		if i > 0 {
			deg := rapid.OneOf(rapid.Float64Range(45, 170), rapid.Float64Range(190, 315), rapid.Just(90.0)).Draw(t, "angle")
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(deg) * measure.Degree,
				Restrained: rapid.SampledFrom([]*bool{nil, nil, new(true), new(false)}).Draw(t, "restrained"),
				HoldAt:     rapid.SampledFrom(holds).Draw(t, "hold"),
				Joint:      rapid.SampledFrom([]plan.JointKind{"", "", "", "butt", "miter", "masons_miter"}).Draw(t, "joint")})
		}
	}
	if rapid.Bool().Draw(t, "hole") {
		at := measure.Length(rapid.Float64Range(0, 2000).Draw(t, "from end"))
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 500, Depth: 300, FromEnd: &at, FromFront: 70}}
	}
	dry := rapid.Float64Range(3, 12).Draw(t, "dry")
	o.Moisture = estimate.MoistureOrder{Dry: wet(dry), Humid: wet(dry + rapid.Float64Range(0, 8).Draw(t, "swing"))}
	return o
}

func BenchmarkMake(b *testing.B) {
	cat := demotest.Catalogue(b)
	for name, o := range map[string]estimate.Order{"desk": deskA(), "bar": barB(), "straight": straight()} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			maker := estimate.NewMaker(cat) // as the service does, which keeps its makers
			for b.Loop() {
				if _, err := maker.Make(b.Context(), o); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDesks is desks of which none has the lengths of another: a shop's usual depth, wood and edge.
func BenchmarkDesks(b *testing.B) {
	cat := demotest.Catalogue(b)
	b.ReportAllocs()
	maker := estimate.NewMaker(cat)
	i := 0
	for b.Loop() {
		o := deskA()
		o.Top.Runs[0].Length += measure.Length(i%97) * in / 4
		o.Top.Runs[1].Length += measure.Length(i%89) * in / 4
		i++
		if _, err := maker.Make(b.Context(), o); err != nil {
			b.Fatal(err)
		}
	}
}

// Slabs of slightly different depth share the panels that hold both.
func TestPanelsAreSharedByRunsOfOneWidth(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Construction = estimate.Panel
	o.Top.Runs[0].Length, o.Top.Runs[1].Length, o.Top.Runs[1].Depth = 60*in, 50*in, 25*in
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.Len(t, e.Lumber, 1)
	require.Len(t, e.Lumber[0].Boards, 1, "both from one panel")
	require.Equal(t, 1, e.Lumber[0].Boards[0].Buy)
	addsUp(t, mergePacks(e))
}

// The workings give the values of the answer, with every input that the formula names, and known sources.
func TestWorkingsAreTheAnswersNumbers(t *testing.T) {
	t.Parallel()
	o := barB()
	o.Explain = true
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	byName := map[string]estimate.Working{}
	for _, w := range e.Workings {
		require.True(t, source.Known(w.Source), "%s names %q", w.Name, w.Source)
		byName[w.Name] = w
	}
	c := candidate(&e.Corners[0], plan.MasonsMiter, plan.First)
	require.InDelta(t, float64(c.Movement.Humid.MaxSlip), byName["largest slip, humid A–B"].Value, 1e-9)
	require.InDelta(t, float64(c.Geometry.SeamLength), byName["seam length A–B"].Value, 1e-9)
	require.InDelta(t, e.Price.Net.Float(), byName["net price"].Value, 1e-9)
	// By hand from its own inputs: ε·s·sin² θ.
	w := byName["largest slip, humid A–B"]
	in := map[string]float64{}
	for _, i := range w.Inputs {
		in[i.Name] = i.Value
	}
	sin := math.Sin(in["corner angle θ"] * math.Pi / 180)
	require.InDelta(t, w.Value, in["strain ε of run B"]*in["distance s from the held point"]*sin*sin, 1e-5)
}

func TestFaultsOfAllCornersComeAtOnce(t *testing.T) {
	t.Parallel()
	o := uShape()
	o.Top.Corners[0].Glue = true
	o.Top.Corners[1].Pull = catalogue.Dowel
	_, err := estimate.Make(o, demotest.Catalogue(t))
	faults := fault.All(err)
	require.Len(t, faults, 2)
	require.Equal(t, "/top/corners/0/glue", faults[0].Pointer)
	require.Equal(t, "/top/corners/1/pull", faults[1].Pointer)
}

// Glue, dowels and rigid fixing are refused with the numbers that speak against them.
func TestWhatHoldsAMovingSeamFastIsRefusedWithTheNumbers(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change  func(*estimate.Order)
		pointer string
		says    []string
	}{
		"glue": {func(o *estimate.Order) { o.Top.Corners[0].Glue = true }, "/top/corners/0/glue",
			[]string{"slides by up to", "mm", "split"}},
		"dowels": {func(o *estimate.Order) { o.Top.Corners[0].Alignment = catalogue.Dowel }, "/top/corners/0/alignment",
			[]string{"round hole", "mm"}},
		"rigid fixing": {func(o *estimate.Order) { o.Top.Fixing.Kind = estimate.FixRigid }, "/top/fixing/kind",
			[]string{"run A is 620 mm deep", "over the year"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o := barB()
			c.change(&o)
			_, err := estimate.Make(o, demotest.Catalogue(t))
			f := fault.All(err)[0]
			require.Equal(t, fault.Impossible, f.Kind)
			require.Equal(t, c.pointer, f.Pointer)
			for _, part := range c.says {
				require.Contains(t, strings.ToLower(f.Detail), strings.ToLower(part))
			}
		})
	}
}

// A joint that is asked for and excluded is refused with the reason and the best alternative.
func TestAnExcludedJointIsRefusedWithTheBestAlternative(t *testing.T) {
	t.Parallel()
	o := barB()
	o.Top.Corners[0].Joint = plan.Miter
	_, err := estimate.Make(o, demotest.Catalogue(t))
	f := fault.All(err)[0]
	require.Equal(t, "/top/corners/0/joint", f.Pointer)
	require.Contains(t, f.Detail, "miss each other by 2.6 mm")
	require.Contains(t, f.Fix, "a mason's miter with run A through")
}

// Cut-outs over or near every seam: refused at the corner and at the cut-out.
func TestACutoutOverTheSeamIsRefused(t *testing.T) {
	t.Parallel()
	o := deskA()
	at := 1 * in
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 80 * in, Depth: 20 * in, FromEnd: &at,
		FromFront: 3 * in}}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	var pointers []string
	for _, f := range fault.All(err) {
		pointers = append(pointers, f.Pointer)
	}
	joint := "/top/corners/0/joint"
	require.Equal(t, []string{joint, joint, joint, joint, joint, joint, "/top/cutouts/0"}, pointers,
		"that none is possible, what excludes each, the cut-out")
}
