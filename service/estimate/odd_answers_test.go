package estimate_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/goldentest"
)

// odd are tops (invented orders) that go where the others do not: legs between two corners that are said to swing, entries
// of a base behind a moulding, a wall edge that hangs over, panels that do not carry, stock that never gets ready.
func odd() map[string]estimate.Order {
	yes, no := true, false

	stair := deskA()
	stair.Explain = true
	stair.Top.Runs = []estimate.Run{{Length: 84 * in, Depth: 25 * in}, {Length: 90 * in, Depth: 24 * in},
		{Length: 80 * in, Depth: 24 * in}, {Length: 60 * in, Depth: 22 * in}}
	stair.Top.Corners = []estimate.Corner{{Angle: 92 * measure.Degree, Restrained: &yes},
		{Angle: 128 * measure.Degree, Restrained: &no, Look: estimate.LookMitred},
		{Angle: 265 * measure.Degree, Through: estimate.ThroughSecond, Look: estimate.LookStraight}}
	stair.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in, InsideCorner: estimate.RemedyCoped}
	stair.Moisture.Making, stair.Moisture.Dry, stair.Moisture.Humid = wet(7.5), wet(6.9), wet(8.1)
	stair.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, From: 0, To: 84 * in, FromFront: far(1 * in)},
		{Run: "B", Kind: base.Cabinet, From: 0, To: 90 * in}, {Run: "D", Kind: base.Cabinet, From: 30 * in, To: 60 * in},
		{Run: "D", Kind: base.Legs, From: 10 * in, To: 12 * in}}
	stair.Site = estimate.SiteOrder{MustComeApart: true, Lift: &estimate.LiftingOrder{Lift: hardware.Lift{PerMinute: 4, Hours: 6},
		Told: estimate.LiftTold{PerMinute: true, Hours: true}},
		Way: []passage.Step{{Kind: passage.Door, Width: 200 * in, Height: 120 * in}}}

	swing := uShape() // between two corners both said to swing, and no clip holds it
	swing.Top.Corners = []estimate.Corner{{Angle: 95 * measure.Degree, Restrained: &no, Joint: plan.Miter},
		{Angle: 100 * measure.Degree, Restrained: &no, Joint: plan.Miter}}
	for i := range swing.Top.Runs {
		swing.Top.Runs[i].Depth = 560
	}
	swing.Top.Fixing = estimate.Fixing{Kind: estimate.FixInserts, FixedLine: hardware.HoldCentre}
	swing.Top.Edge = estimate.Edge{Profile: estimate.Bullnose, SquareEnds: true}
	swing.Moisture = estimate.MoistureOrder{Making: wet(7), Dry: wet(6.8), Humid: wet(7.4)}
	swing.Site = estimate.SiteOrder{Tolerances: true, Clearance: 10, Way: []passage.Step{
		{Kind: passage.Lift, Width: 1100, Depth: 2100, Height: 2300, DoorWidth: 900, DoorHeight: 2100}}}

	gallery := builtUp() // a wall edge that hangs over, over a year of a place
	gallery.Units, gallery.Explain = measure.Millimetres, true
	gallery.Top.Runs = []estimate.Run{{Name: "east", Length: 2400, Depth: 900}, {Name: "north", Length: 1500, Depth: 640}}
	gallery.Top.Corners = []estimate.Corner{{Measured: &estimate.Measured{AlongFirst: 900, AlongSecond: 900, Across: 1340}}}
	gallery.Top.Thickness = 76
	gallery.Base = []estimate.BaseOrder{{Run: "east", Kind: base.Cabinet, To: 2400, FromFront: far(20), Depth: far(380)},
		{Run: "north", Kind: base.Cabinet, To: 1500}}
	gallery.Moisture = estimate.MoistureOrder{Making: wet(9), Seasonal: &estimate.SeasonalOrder{Place: "denver_co", Rings: estimate.RingsHeartUp}}
	gallery.Finish.System = "film_varnish"
	gallery.Top.Cutouts = []estimate.Cutout{{Run: "north", Kind: "basin", Shape: plan.Round, Length: 300, Depth: 300, FromEnd: far(500),
		FromFront: 150, Mount: estimate.MountUnder}}

	rack := straight() // of panels that do not carry between their cabinets
	rack.Top.Construction, rack.Top.Thickness, rack.Top.Runs[0].Depth = estimate.Panel, 1.5*in, 24*in
	rack.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 12 * in}, {Run: "A", Kind: base.Cabinet, From: 84 * in, To: 96 * in}}
	rack.Support.Add = estimate.AddLegs
	rack.Loads = &estimate.LoadsOrder{Use: estimate.Desk, Uniform: pressure(30 * measure.PoundPerSquareFoot), Point: force(300 * measure.PoundForce)}

	stacks := straight() // stock that settles too dry, and boards that are joined beside a sink
	stacks.Top.Runs[0].Length, stacks.Top.Staves = 230*in, estimate.FingerJointed
	stacks.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 30 * in, Depth: 16 * in, FromStart: far(100 * in), FromFront: 4 * in,
		Mount: estimate.MountApron, Shape: plan.Rectangle}}
	stacks.Moisture = estimate.MoistureOrder{Dry: wet(8), Humid: wet(12), Stock: &estimate.StockOrder{Readings: []measure.Moisture{14.5, 13},
		Air: &catalogue.Air{Humidity: 75, Temperature: 21}}}
	stacks.Site = estimate.SiteOrder{Walls: []estimate.WallOrder{{Run: "A", Edge: estimate.AtEnd, Offsets: offsets(0, 0, 12*in, 0.25*in, 25*in, 0)},
		{Run: "A", Edge: estimate.AtStart, Offsets: offsets(0, 0, 25*in, 0.125*in), Left: true}}}
	return map[string]estimate.Order{"stair": stair, "swing": swing, "gallery": gallery, "rack": rack, "stacks": stacks}
}

func pressure(p measure.Pressure) *measure.Pressure { return &p }

func force(f measure.Force) *measure.Force { return &f }

func TestWholeAnswersOfOddTops(t *testing.T) {
	t.Parallel()
	for name, o := range odd() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			e, err := estimate.Make(o, demotest.Catalogue(t))
			require.NoError(t, err)
			e.Revision = 0
			shortenHardware(e.Corners)
			var p page
			p.write("", name, reflect.ValueOf(e))
			goldentest.Hold(t, "testdata/answers/"+name+".txt", p.String())
		})
	}
}

// shortenHardware leaves of the hardware of candidates that were not chosen what is bought for them.
func shortenHardware(corners []estimate.CornerResult) {
	for i := range corners {
		for k := range corners[i].Candidates {
			if c := &corners[i].Candidates[k]; c.Joint != corners[i].Chosen {
				c.Hardware = hardware.Plan{Pull: hardware.Pull{Groups: slices.Clone(c.Hardware.Pull.Groups)}} // seams that are alike share them
				for g := range c.Hardware.Pull.Groups {
					c.Hardware.Pull.Groups[g].Positions = nil
				}
			}
		}
	}
}

// The corners alone: of runs that are too long for the wood in one piece or in full-length staves, of a thickness that no
// board gives, and of a base that carries nothing.
func TestWholeComparisons(t *testing.T) {
	t.Parallel()
	joined := deskA()
	joined.Top.Runs[0].Length = 230 * in
	thick := deskA()
	thick.Top.Thickness = 3 * in
	split := deskA()
	split.Top.Construction, split.Top.Runs[0].Length = estimate.Panel, 190*in
	chain := uShape()
	chain.Top.Corners[0].Look, chain.Top.Corners[1].HoldAt = estimate.LookMitred, hardware.HoldCentre
	chain.Explain = true
	for name, o := range map[string]estimate.Order{"joined": joined, "thick": thick, "split": split, "corners": chain} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c, err := estimate.Compare(o, demotest.Catalogue(t))
			require.NoError(t, err)
			c.Revision = 0
			shortenHardware(c.Corners)
			var p page
			p.write("", name, reflect.ValueOf(c))
			goldentest.Hold(t, "testdata/answers/comparison_"+name+".txt", p.String())
		})
	}
}

// What a shop's catalogue lacks, and what is said of it: of a thing that must be had the order is refused, of one that the
// answer can do without it is told.
func TestWhatACatalogueLacks(t *testing.T) {
	t.Parallel()
	without := func(cat *catalogue.Snapshot, kinds ...catalogue.FastenerKind) {
		cat.Fasteners = slices.DeleteFunc(slices.Clone(cat.Fasteners), func(f catalogue.Fastener) bool { return slices.Contains(kinds, f.Kind) })
	}
	material := func(cat *catalogue.Snapshot, is func(*catalogue.Material) bool) {
		cat.Materials = slices.DeleteFunc(slices.Clone(cat.Materials), func(m catalogue.Material) bool { return is(&m) })
	}
	sundry := func(cat *catalogue.Snapshot, driver catalogue.Driver) {
		material(cat, func(m *catalogue.Material) bool { return m.Sundry != nil && m.Sundry.Driver == driver })
	}
	species := func(cat *catalogue.Snapshot, change func(*catalogue.Species)) {
		cat.Species = slices.Clone(cat.Species)
		for i := range cat.Species {
			if cat.Species[i].Code == "maple_sugar" {
				change(&cat.Species[i])
			}
		}
	}
	hung := func(o *estimate.Order) {
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96 * in, FromFront: far(10 * in), Depth: far(10 * in)},
			{Run: "B", Kind: base.Cabinet, To: 72 * in}}
	}
	legs := func(o *estimate.Order) {
		hung(o)
		o.Base = append(o.Base[1:], estimate.BaseOrder{Run: "A", Kind: base.Legs, From: 6 * in, To: 9 * in, Supply: true},
			estimate.BaseOrder{Run: "A", Kind: base.Legs, From: 90 * in, To: 93 * in, Supply: true})
	}
	var said strings.Builder
	for _, c := range []struct {
		name string
		cat  func(*catalogue.Snapshot)
		with func(*estimate.Order)
	}{
		{"no glue", func(s *catalogue.Snapshot) { material(s, func(m *catalogue.Material) bool { return m.Glue != nil }) }, nil},
		{"no clips", func(s *catalogue.Snapshot) { without(s, catalogue.SlottedClip) }, nil},
		{"no legs that are told", func(s *catalogue.Snapshot) { without(s, catalogue.SupportLeg) }, legs},
		{"no legs and no brackets", func(s *catalogue.Snapshot) { without(s, catalogue.SupportLeg, catalogue.SupportBracket) }, hung},
		{"no timber", func(s *catalogue.Snapshot) { sundry(s, catalogue.PerTimberMetre) }, hung},
		{"no cover strip", func(s *catalogue.Snapshot) { sundry(s, catalogue.PerCoverMetre) }, nil},
		{"no moulding", func(s *catalogue.Snapshot) { sundry(s, catalogue.PerMouldingMetre) }, func(o *estimate.Order) {
			o.Top.Edge = estimate.Edge{Profile: estimate.Ogee, Size: 0.5 * in, InsideCorner: estimate.RemedyCoped}
		}},
		{"no tax regions", func(s *catalogue.Snapshot) { s.TaxRegions = nil }, func(o *estimate.Order) { o.Pricing.Region = "invented_north" }},
		{"no movement of a wood", func(s *catalogue.Snapshot) {
			species(s, func(w *catalogue.Species) {
				*w = catalogue.Species{Code: w.Code, Name: w.Name, Group: w.Group, GravityGreen: w.GravityGreen, Gravity12: w.Gravity12}
			})
		}, func(o *estimate.Order) { o.Top.Corners[0].Glue = true }},
		{"no weight of a wood", func(s *catalogue.Snapshot) {
			species(s, func(w *catalogue.Species) { w.GravityGreen, w.Gravity12 = catalogue.Property{}, catalogue.Property{} })
		}, hung},
		{"no draw bolts", func(s *catalogue.Snapshot) { without(s, catalogue.DrawBolt) }, nil},
		{"no pull parts", func(s *catalogue.Snapshot) { without(s, catalogue.DrawBolt, catalogue.PocketScrew) }, nil},
		{"no alignment parts", func(s *catalogue.Snapshot) { without(s, catalogue.Biscuit, catalogue.LooseTenon, catalogue.Dowel) }, nil},
	} {
		cat := *demotest.Catalogue(t)
		c.cat(&cat)
		o := deskA()
		if c.with != nil {
			c.with(&o)
		}
		e, err := estimate.Make(o, cat.Index())
		if err != nil {
			fmt.Fprintf(&said, "%s\n\t%s\n", c.name, strings.ReplaceAll(err.Error(), "\n", "\n\t"))
			continue
		}
		fmt.Fprintf(&said, "%s\n\tis made for %s\n", c.name, e.Price.Total)
		for _, w := range e.Warnings {
			fmt.Fprintf(&said, "\t%s %s %s: %s\n", w.Severity, w.Code, w.Pointer, w.Text)
		}
		for i := range e.Runs {
			fmt.Fprintf(&said, "\t%s: %s\n", e.Runs[i].Name, e.Runs[i].WallJoint.Text)
		}
	}
	goldentest.Hold(t, "testdata/answers/lacks.txt", said.String())
}
