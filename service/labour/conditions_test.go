package labour

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Each condition about the top is met by what it is about and by nothing else: one of each thing, or as little of it as there can be,
// on a top of panels with square edges.
func TestConditionsAreMetByWhatTheyAreAbout(t *testing.T) {
	t.Parallel()
	one := map[catalogue.Condition]func(*Job){
		catalogue.IfEdgeGlued:    func(j *Job) { j.EdgeGlued = true },
		catalogue.IfProfile:      func(j *Job) { j.Profiled = true },
		catalogue.IfCutout:       func(j *Job) { j.Cutouts = 1 },
		catalogue.IfShapedCutout: func(j *Job) { j.Shaped = 1 },
		catalogue.IfShownEdge:    func(j *Job) { j.ShownEdge = 0.1 },
		catalogue.IfEndJointed:   func(j *Job) { j.EndJoints = 1 },
		catalogue.IfLaminated:    func(j *Job) { j.Laminated = 0.1 },
		catalogue.IfBuiltUp:      func(j *Job) { j.BuildUps = 1 },
		catalogue.IfScribedWall:  func(j *Job) { j.Scribed = 0.1 },
		catalogue.IfBracket:      func(j *Job) { j.Brackets = 1 },
		catalogue.IfLeg:          func(j *Job) { j.Legs = 1 },
		catalogue.IfTimber:       func(j *Job) { j.Timber = 0.1 },
		catalogue.IfFinish:       func(j *Job) { j.Coats = 1 },
		catalogue.IfSlottedHoles: func(j *Job) { j.Fixings, j.Clips = 5, 4 },
		catalogue.IfLetIn:        func(j *Job) { j.LetIn = 1 },
		catalogue.IfInserts:      func(j *Job) { j.Inserts = 1 },
		"clips alone":            func(j *Job) { j.Fixings, j.Clips = 4, 4 },
		"a moulding of its own":  func(j *Job) { j.Profiled, j.Moulding = true, 1 },
	}
	for what, change := range one {
		var job Job
		change(&job)
		for when := range one {
			if _, known := conditions[when]; !known {
				continue
			}
			require.Equal(t, when == what, met(t, &job, when), "%s of a top with %s", when, what)
		}
		require.True(t, met(t, &job, catalogue.Always), what)
		require.Equal(t, !job.EdgeGlued, met(t, &job, catalogue.IfPanel), what)
		require.Equal(t, what == catalogue.IfProfile, met(t, &job, catalogue.IfProfileBefore), what)
		require.False(t, met(t, &job, catalogue.IfCorner), what)
	}
	for when, about := range conditions {
		if about&ofTop != 0 && when != catalogue.Always && when != catalogue.IfPanel {
			require.Contains(t, one, when)
		}
	}
}

// The same of corners.
func TestConditionsAreMetByTheirCorners(t *testing.T) {
	t.Parallel()
	one := map[catalogue.Condition]func(*Job, *Corner){
		catalogue.IfTemplate:      func(_ *Job, c *Corner) { c.Carry = "site_template" },
		catalogue.IfScribe:        func(_ *Job, c *Corner) { c.Carry = "scribe" },
		catalogue.IfCarvedCorner:  func(_ *Job, c *Corner) { c.Remedy = "carved" },
		catalogue.IfCopedCorner:   func(j *Job, _ *Corner) { j.Moulding = 1 },
		catalogue.IfProfileBefore: func(j *Job, _ *Corner) { j.Profiled = true },
		catalogue.IfProfileAfter:  func(j *Job, c *Corner) { j.Profiled, c.Remedy = true, "radius" },
		"a radius of nothing":     func(_ *Job, c *Corner) { c.Remedy = "radius" },
	}
	for _, k := range plan.JointKinds() {
		one[catalogue.Condition(k.Kind)] = func(_ *Job, c *Corner) { c.Joint = k.Kind }
	}
	for _, k := range catalogue.FastenerKinds() {
		when := k.Kind.Condition()
		switch {
		case when == "":
		case k.Role == catalogue.Pulls:
			one[when] = func(_ *Job, c *Corner) { c.Pulls[1] = PullParts{k.Kind, 1} }
		default:
			one[when] = func(_ *Job, c *Corner) { c.Alignment = k.Kind }
		}
	}
	for what, change := range one {
		job := Job{Corners: make([]Corner, 1)}
		change(&job, &job.Corners[0])
		for when := range one {
			if _, known := conditions[when]; known {
				require.Equal(t, when == what, met(t, &job, when), "%s at a corner with %s", when, what)
			}
		}
		require.True(t, met(t, &job, catalogue.IfCorner), what)
	}
	for when, about := range conditions {
		if about&ofTop == 0 && when != catalogue.IfCorner {
			require.Contains(t, one, when)
		}
	}
}

func met(t *testing.T, j *Job, when catalogue.Condition) bool {
	t.Helper()
	units, err := unitsOf(j, &catalogue.LabourStandard{When: when, Driver: catalogue.PerTop})
	require.NoError(t, err)
	return units > 0
}

// Each driver counts its own: no two of the numbers are alike.
func TestEveryDriverCountsItsOwn(t *testing.T) {
	t.Parallel()
	job := Job{
		Pieces: 2, Staves: 3, StaveRun: 5 * measure.Metre, GlueRun: 7 * measure.Metre, Area: 11 * measure.SquareMetre, EndJoints: 13,
		Laminated: 17 * measure.SquareMetre, BuildUps: 19, EdgeRun: 23 * measure.Metre, Mass: 2900 * measure.Kilogram, Fixings: 31, Clips: 37,
		Moulding: 41 * measure.Metre, Sealant: 0.043 * measure.CubicMetre, CoverStrip: 47 * measure.Metre, Cutouts: 53, Shaped: 59,
		CutEdge: 61 * measure.Metre, ShownEdge: 67 * measure.Metre, Scribed: 71 * measure.Metre, Brackets: 73, Legs: 79,
		Timber: 83 * measure.Metre, Coats: 4, CoatArea: 89 * measure.SquareMetre,
		Corners: []Corner{
			{Joint: plan.Miter, Seam: 90 * measure.Metre, AlignmentCount: 40, Pulls: [2]PullParts{{catalogue.DrawBolt, 60}, {catalogue.PocketScrew, 30}}},
			{Joint: plan.Butt, Seam: 7 * measure.Metre, AlignmentCount: 61, Pulls: [2]PullParts{{catalogue.PocketScrew, 13}}},
			{Joint: plan.Straight, Seam: 10 * measure.Metre, AlignmentCount: 8, Pulls: [2]PullParts{{catalogue.DrawBolt, 10}}},
			{Joint: plan.Butt}, {Joint: plan.Butt}, {Joint: plan.Butt}, {Joint: plan.Butt}, {Joint: plan.Butt},
		},
	}
	want := map[catalogue.Driver]float64{
		catalogue.PerTop: 1, catalogue.PerPiece: 2, catalogue.PerStave: 3, catalogue.PerStaveMetre: 5, catalogue.PerGlueMetre: 7,
		catalogue.PerSquareMetre: 11, catalogue.PerEndJoint: 13, catalogue.PerLaminatedSquare: 17, catalogue.PerBuildUpPiece: 19,
		catalogue.PerEdgeMetre: 23, catalogue.PerHundredweight: 29, catalogue.PerFixing: 31, catalogue.PerClip: 37, catalogue.PerMouldingMetre: 41,
		catalogue.PerSealantLitre: 43, catalogue.PerCoverMetre: 47, catalogue.PerCutout: 53, catalogue.PerShapedCutout: 59,
		catalogue.PerCutEdgeMetre: 61, catalogue.PerShownEdgeMetre: 67, catalogue.PerScribedMetre: 71, catalogue.PerBracket: 73, catalogue.PerLeg: 79,
		catalogue.PerTimberMetre: 83, catalogue.PerCoat: 4, catalogue.PerCoatSquare: 4 * 89,
		catalogue.PerSeamMetre: 107, catalogue.PerAlignment: 109, catalogue.PerPull: 113,
	}
	for driver, n := range want {
		got, err := job.Count(driver)
		require.NoError(t, err)
		require.InDelta(t, n, got, 1e-9, driver)
		got, err = unitsOf(&job, &catalogue.LabourStandard{When: catalogue.Always, Driver: driver})
		require.NoError(t, err)
		require.InDelta(t, n, got, 1e-9, "%s of a standard", driver)
	}
	corners, err := job.Count(catalogue.PerCorner)
	require.NoError(t, err)
	require.Equal(t, 7.0, corners, "a straight seam is no corner")
	_, err = job.Count("moon")
	require.ErrorContains(t, err, "moon")
}

// Expected minutes are rounded to a hundredth, halves up.
func TestMinutesAreRoundedToHundredths(t *testing.T) {
	t.Parallel()
	for minutes, want := range map[float64]float64{12.345: 12.35, 12.3451: 12.35, 12.3449: 12.34, 0.005: 0.01, 0.0049: 0} {
		p := make1(t, desk(), shop(t, takes("a", minutes)))
		require.Equal(t, want, p.Steps[0].Minutes.Expected, "%g", minutes)
	}
}
