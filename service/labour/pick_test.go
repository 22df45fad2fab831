package labour

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// threeCorners is a top with a miter with biscuits and bolts, a butt with screws and a bolt whose edge is routed
// after joining, and a mason's miter with tenons.
func threeCorners() Job {
	j := desk()
	j.EdgeRun = 6 * measure.Metre
	j.Corners = []Corner{
		{Joint: plan.Miter, Seam: 900, Carry: "site_template", Alignment: catalogue.Biscuit, AlignmentCount: 5, Pulls: [2]PullParts{{catalogue.DrawBolt, 4}}},
		{Joint: plan.Butt, Seam: 650, Carry: "scribe", Remedy: "radius", Alignment: catalogue.Biscuit, AlignmentCount: 3,
			Pulls: [2]PullParts{{catalogue.PocketScrew, 2}, {catalogue.DrawBolt, 1}}},
		{Joint: plan.MasonsMiter, Seam: 700, Carry: "none", Alignment: catalogue.LooseTenon, AlignmentCount: 4, Pulls: [2]PullParts{{catalogue.PocketScrew, 3}}},
	}
	return j
}

func TestUnitsAreCountedWhereTheConditionFits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		when   catalogue.Condition
		driver catalogue.Driver
		want   float64
	}{
		{catalogue.Always, catalogue.PerTop, 1},
		{catalogue.Always, catalogue.PerPiece, 2},
		{catalogue.Always, catalogue.PerCorner, 3},
		{catalogue.Always, catalogue.PerSeamMetre, 2.25},
		{catalogue.Condition(plan.Miter), catalogue.PerSeamMetre, 0.9},
		{catalogue.Condition(plan.Butt), catalogue.PerSeamMetre, 0.65},
		{catalogue.Condition(plan.MasonsMiter), catalogue.PerSeamMetre, 0.7},
		{catalogue.Condition(plan.MasonsMiter), catalogue.PerTop, 1},
		{catalogue.IfCorner, catalogue.PerCorner, 3},
		{catalogue.IfTemplate, catalogue.PerCorner, 1},
		{catalogue.IfTemplate, catalogue.PerSeamMetre, 0.9},
		{catalogue.IfScribe, catalogue.PerSeamMetre, 0.65},
		{catalogue.IfCorner, catalogue.PerAlignment, 12},
		{catalogue.Condition(catalogue.Biscuit), catalogue.PerAlignment, 8},
		{catalogue.Condition(catalogue.Biscuit), catalogue.PerCorner, 2},
		{catalogue.Condition(catalogue.LooseTenon), catalogue.PerAlignment, 4},
		{catalogue.Condition(catalogue.Biscuit), catalogue.PerPull, 7},
		{catalogue.IfCorner, catalogue.PerPull, 10},
		{catalogue.Condition(catalogue.PocketScrew), catalogue.PerPull, 5},
		{catalogue.Condition(catalogue.PocketScrew), catalogue.PerCorner, 2},
		{catalogue.Condition(catalogue.DrawBolt), catalogue.PerPull, 5},
		{catalogue.Condition(catalogue.DrawBolt), catalogue.PerSeamMetre, 1.55},
		{catalogue.IfEdgeGlued, catalogue.PerStave, 14},
		{catalogue.IfEdgeGlued, catalogue.PerStaveMetre, 30},
		{catalogue.IfEdgeGlued, catalogue.PerGlueMetre, 24},
		{catalogue.IfPanel, catalogue.PerPiece, 0},
		{catalogue.Always, catalogue.PerSquareMetre, 2.6},
		{catalogue.Always, catalogue.PerFixing, 16},
		{catalogue.Always, catalogue.PerHundredweight, 0.7},
		{catalogue.IfCutout, catalogue.PerCutout, 1},
		{catalogue.IfFinish, catalogue.PerCoat, 3},
		{catalogue.IfFinish, catalogue.PerCoatSquare, 16.8},
		{catalogue.IfProfile, catalogue.PerEdgeMetre, 6},
		{catalogue.IfProfileBefore, catalogue.PerEdgeMetre, 4},
		{catalogue.IfProfileAfter, catalogue.PerEdgeMetre, 2},
		{catalogue.IfProfileAfter, catalogue.PerCorner, 1},
		{catalogue.IfCarvedCorner, catalogue.PerCorner, 0},
		{catalogue.IfCopedCorner, catalogue.PerEdgeMetre, 0},
	} {
		job := threeCorners()
		got, err := unitsOf(&job, &catalogue.LabourStandard{When: c.when, Driver: c.driver})
		require.NoError(t, err)
		require.InDelta(t, c.want, got, 1e-12, "%s per %s", c.when, c.driver)
	}
}

func TestEdgesAreProfiledBeforeOrAfterJoining(t *testing.T) {
	t.Parallel()
	corners := func(remedies ...string) []Corner {
		var out []Corner
		for _, r := range remedies {
			if r == "miter" {
				out = append(out, Corner{Joint: plan.Miter})
			} else {
				out = append(out, Corner{Joint: plan.Butt, Remedy: r})
			}
		}
		return out
	}
	for name, c := range map[string]struct {
		corners              []Corner
		before, after, coped float64 // of an edge of 4 m
	}{
		"straight":               {nil, 4, 0, 0},
		"miter":                  {corners("miter"), 4, 0, 0},
		"mason's miter":          {[]Corner{{Joint: plan.MasonsMiter}}, 4, 0, 0},
		"butt with radius":       {corners("radius"), 0, 4, 0},
		"butt, carved":           {corners("carved"), 0, 4, 0},
		"miter and radius":       {corners("miter", "radius"), 2, 2, 0},
		"miters, carved, radius": {corners("miter", "miter", "carved", "radius"), 2, 2, 0},
	} {
		job := desk()
		job.Corners = c.corners
		for when, want := range map[catalogue.Condition]float64{
			catalogue.IfProfileBefore: c.before, catalogue.IfProfileAfter: c.after, catalogue.IfCopedCorner: c.coped,
		} {
			got, err := unitsOf(&job, &catalogue.LabourStandard{When: when, Driver: catalogue.PerEdgeMetre})
			require.NoError(t, err)
			require.InDelta(t, want, got, 1e-12, "%s: %s", name, when)
		}
	}
	moulded := desk() // an applied moulding: nothing is cut into the wood, at whatever corner
	moulded.Corners, moulded.Moulding = corners("miter", "coped"), 4400
	for when, want := range map[catalogue.Condition]float64{catalogue.IfProfile: 0, catalogue.IfProfileBefore: 0,
		catalogue.IfProfileAfter: 0, catalogue.IfCopedCorner: 2} {
		got, err := unitsOf(&moulded, &catalogue.LabourStandard{When: when, Driver: catalogue.PerCorner})
		require.NoError(t, err)
		require.InDelta(t, want, got, 1e-12, when)
	}
	run, err := unitsOf(&moulded, &catalogue.LabourStandard{When: catalogue.IfCopedCorner,
		Driver: catalogue.PerMouldingMetre})
	require.NoError(t, err)
	require.InDelta(t, 4.4, run, 1e-12)
	plain := desk()
	plain.Profiled = false
	for _, when := range []catalogue.Condition{catalogue.IfProfile, catalogue.IfProfileBefore, catalogue.IfProfileAfter} {
		got, err := unitsOf(&plain, &catalogue.LabourStandard{When: when, Driver: catalogue.PerEdgeMetre})
		require.NoError(t, err)
		require.Zero(t, got, when)
	}
}

func TestAStepWithNothingToDoIsLeftOut(t *testing.T) {
	t.Parallel()
	job := desk()
	job.Fixings, job.Corners = 0, nil
	p := make1(t, job, shop(t,
		catalogue.LabourStandard{Code: "fix", Driver: catalogue.PerFixing, Setup: exactly(10)},
		catalogue.LabourStandard{Code: "fit", Driver: catalogue.PerSeamMetre, Setup: exactly(10)},
		catalogue.LabourStandard{Code: "template", When: catalogue.IfTemplate, Setup: exactly(10)},
		catalogue.LabourStandard{Code: "sand", Driver: catalogue.PerSquareMetre, Setup: exactly(10)},
	))
	require.Equal(t, []string{"sand"}, codes(p))
}

func TestWaits(t *testing.T) {
	t.Parallel()
	coat := catalogue.LabourStandard{When: catalogue.IfFinish, Driver: catalogue.PerCoatSquare, WaitHours: 24}
	glue := catalogue.LabourStandard{When: catalogue.IfEdgeGlued, Driver: catalogue.PerGlueMetre, WaitHours: 6}
	noWait := catalogue.LabourStandard{When: catalogue.IfEdgeGlued, Driver: catalogue.PerGlueMetre}
	soon := catalogue.LabourStandard{When: catalogue.IfEdgeGlued, Driver: catalogue.PerGlueMetre, WaitHours: 0.5}
	rest := catalogue.LabourStandard{When: catalogue.Always, Driver: catalogue.PerHundredweight, WaitHours: 24}
	restSoon := catalogue.LabourStandard{When: catalogue.Always, Driver: catalogue.PerHundredweight, WaitHours: 0.5}
	layers := catalogue.LabourStandard{When: catalogue.IfLaminated, Driver: catalogue.PerLaminatedSquare, WaitHours: 0.5}
	carried := catalogue.LabourStandard{When: catalogue.Always, Driver: catalogue.PerHundredweight}
	sand := catalogue.LabourStandard{When: catalogue.IfFinish, Driver: catalogue.PerCoat, WaitHours: 1}
	for name, c := range map[string]struct {
		standard     catalogue.LabourStandard
		coats        int
		drying, glue float64
		want         float64
	}{
		"three coats dry twice between":         {coat, 3, 12, 0, 48},
		"one coat has nothing between":          {coat, 1, 12, 0, 24},
		"glue that sets soon":                   {glue, 3, 12, 4, 6},
		"glue that sets late":                   {glue, 3, 12, 20, 20},
		"glue lines prepared, nothing glued up": {noWait, 3, 12, 20, 0},
		"sanding between coats":                 {sand, 3, 12, 0, 1},
		"glue with half an hour of its own":     {soon, 3, 12, 4, 4},
		"layers glued up":                       {layers, 3, 12, 4, 4},
		"wood that rests by hours of its own":   {restSoon, 3, 12, 0, 90},
		"two coats dry once between":            {coat, 2, 12, 0, 36},
		"wood that must rest":                   {rest, 3, 12, 0, 90},
		"wood carried in, no rest asked for":    {carried, 3, 12, 0, 0},
	} {
		job := desk()
		job.Coats, job.DryHours, job.ClampHours, job.RestHours = c.coats, c.drying, c.glue, 90
		require.InDelta(t, c.want, job.wait(waitsOf(&c.standard), c.standard.WaitHours), 1e-12, name)
	}
}

// One coat is a finish.
func TestATopWithOneCoatIsFinished(t *testing.T) {
	t.Parallel()
	wipe := catalogue.LabourStandard{When: catalogue.IfFinish, Driver: catalogue.PerTop}
	for coats, want := range []float64{0, 1, 1} {
		job := desk()
		job.Coats = coats
		units, err := unitsOf(&job, &wipe)
		require.NoError(t, err)
		require.Equal(t, want, units, "%d coats", coats)
	}
}

// unitsOf is the driver units of one standard.
func unitsOf(j *Job, s *catalogue.LabourStandard) (float64, error) {
	n := newNeeds([]catalogue.LabourStandard{*s})
	n.look(j)
	a, err := n.ask(j, 0, s)
	return a.units, err
}
