package drawtest

import (
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Any draws an order at random: one to six runs of any depths, inner and outer corners, either hand and either system of units, with
// cut-outs. Some of them cannot be made.
func Any(t *rapid.T) estimate.Order {
	o := Desk()
	o.Reference = "Drawn at random"
	o.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(t, "units")
	o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Right, plan.Left}).Draw(t, "hand")
	o.Top.Construction = rapid.SampledFrom([]estimate.Construction{estimate.EdgeGlued, estimate.EdgeGlued,
		estimate.EdgeGlued, estimate.Panel}).Draw(t, "construction")
	o.Top.Edge.SquareEnds = rapid.Bool().Draw(t, "square ends")
	if rapid.IntRange(0, 4).Draw(t, "moulding") == 0 {
		o.Top.Edge.InsideCorner = estimate.RemedyCoped
	}
	n := rapid.IntRange(1, 6).Draw(t, "runs")
	o.Top.Runs, o.Top.Corners = nil, nil
	for i := range n {
		name := string(rune('A' + i))
		r := estimate.Run{Name: name, Length: measure.Length(rapid.IntRange(1500, 2700).Draw(t, "length")),
			Depth: measure.Length(rapid.IntRange(250, 680).Draw(t, "depth"))}
		r.Species = rapid.SampledFrom([]string{"maple_sugar", "maple_sugar", "walnut_black", "oak_white"}).Draw(t, "species")
		r.Sawn = rapid.SampledFrom([]catalogue.Sawn{catalogue.FlatSawn, catalogue.QuarterSawn, catalogue.RiftSawn}).Draw(t,
			"sawn")
		o.Top.Runs = append(o.Top.Runs, r)
		if i > 0 {
			angle := rapid.OneOf(rapid.Float64Range(70, 165), rapid.Float64Range(195, 285), rapid.Just(90.0)).Draw(t, "angle")
			joint := rapid.SampledFrom([]plan.JointKind{estimate.AutoJoint, plan.Butt, plan.Miter, plan.MasonsMiter}).Draw(t,
				"joint")
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(angle) * measure.Degree, Joint: joint})
		}
		if rapid.IntRange(0, 2).Draw(t, "cut-out") == 0 {
			from := measure.Length(rapid.IntRange(150, int(r.Length)-700).Draw(t, "from"))
			o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: name, Kind: "sink",
				Length:    measure.Length(rapid.IntRange(100, 500).Draw(t, "long")),
				Depth:     measure.Length(rapid.IntRange(50, int(r.Depth)-150).Draw(t, "deep")),
				FromStart: &from, FromFront: measure.Length(rapid.IntRange(50, 90).Draw(t, "front"))})
		}
	}
	return o
}
