package labour

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// The shop of these tests and all its figures are invented.

func price(t testing.TB, s string) money.UnitPrice {
	t.Helper()
	p, err := money.ParseUnitPrice(s)
	require.NoError(t, err)
	return p
}

// shop returns a catalogue of these standards, with two roles and a working day of eight hours. A standard that
// leaves role, crew, condition or driver open is one maker's work, once, for every top.
func shop(t testing.TB, standards ...catalogue.LabourStandard) *catalogue.Snapshot {
	t.Helper()
	for i := range standards {
		s := &standards[i]
		if s.Role == "" {
			s.Role = "maker"
		}
		if s.Crew == 0 {
			s.Crew = 1
		}
		if s.When == "" {
			s.When = catalogue.Always
		}
		if s.Driver == "" {
			s.Driver = catalogue.PerTop
		}
		if s.Order == 0 {
			s.Order = i + 1
		}
	}
	cat := &catalogue.Snapshot{
		LabourRoles: []catalogue.LabourRole{
			{Code: "helper", Name: "Helper", Rate: price(t, "30")},
			{Code: "maker", Name: "Maker", Rate: price(t, "48")},
		},
		LabourStandards: standards,
	}
	cat.Settings.HoursPerDay = 8
	cat.Settings.HardnessShare, cat.Settings.FirstTimeFactor, cat.Settings.SeasonedFactor = 50, 1.8, 0.85
	return cat.Index()
}

// exactly is a spread without spread.
func exactly(minutes float64) catalogue.Spread {
	return catalogue.Spread{Low: minutes, Likely: minutes, High: minutes}
}

// takes is a standard that takes so many minutes, once.
func takes(code string, minutes float64, after ...string) catalogue.LabourStandard {
	return catalogue.LabourStandard{Code: code, Setup: exactly(minutes), After: after}
}

// desk is an L-shaped top with one miter: a job with something of everything.
func desk() Job {
	return Job{
		EdgeGlued: true, Pieces: 2, Staves: 14, StaveRun: 30 * measure.Metre, GlueRun: 24 * measure.Metre,
		Area: 2.6 * measure.SquareMetre, EdgeRun: 4 * measure.Metre, Profiled: true, Mass: 70 * measure.Kilogram,
		Thickness: 1.5 * measure.Inch, Hardness: 4500, Fixings: 16, Cutouts: 1,
		Coats: 3, CoatArea: 5.6 * measure.SquareMetre, DryHours: 12, ClampHours: 4,
		Tool: "track_saw", Experience: "practised",
		Corners: []Corner{{
			Joint: plan.Miter, Seam: 900 * measure.Millimetre, Carry: "site_template",
			Alignment: catalogue.Biscuit, AlignmentCount: 5, Pulls: [2]PullParts{{catalogue.DrawBolt, 4}},
		}},
	}
}

func make1(t testing.TB, job Job, cat *catalogue.Snapshot) Plan {
	t.Helper()
	p, err := Make(job, cat)
	require.NoError(t, err)
	return p
}

func codes(p Plan) []string {
	out := make([]string, 0, len(p.Steps))
	for _, s := range p.Steps {
		out = append(out, s.Code)
	}
	return out
}
