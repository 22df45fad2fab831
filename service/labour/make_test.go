package labour

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/plan"
)

func TestAStepsMinutesAndAmount(t *testing.T) {
	t.Parallel()
	p := make1(t, desk(), shop(t, catalogue.LabourStandard{
		Code: "sand", Name: "Sand", Role: "helper", Crew: 2, Driver: catalogue.PerSquareMetre,
		Setup: catalogue.Spread{Low: 5, Likely: 10, High: 20}, Each: catalogue.Spread{Low: 10, Likely: 12, High: 17},
		Note: "With the grain.",
	}))
	require.Len(t, p.Steps, 1)
	s := p.Steps[0]
	require.InDelta(t, 31, s.Minutes.Low, 1e-9)      // 5 + 10·2.6
	require.InDelta(t, 41.2, s.Minutes.Likely, 1e-9) // 10 + 12·2.6
	require.InDelta(t, 64.2, s.Minutes.High, 1e-9)   // 20 + 17·2.6
	require.Equal(t, 43.33, s.Minutes.Expected)      // 260/6 = 43.333…
	require.InDelta(t, 30.618, s.Variance, 0.0005)   // (33.2/6)²
	require.Equal(t, "43.33", s.Amount.String())     // 86.66 min at 30 an hour
	require.Equal(t, "With the grain.", s.Note)
	require.Equal(t, "30.0000", s.Rate.String())
	require.InDelta(t, 86.66/60, p.Hours, 1e-12)
	require.Equal(t, "43.33", p.Cost.String())
	require.Equal(t, 1, s.Number)
	require.Equal(t, 1, s.Day)
	require.True(t, s.Critical)
}

func TestAmountsAreRoundedHalfAwayFromZeroToTheCent(t *testing.T) {
	t.Parallel()
	// 0.5 and 1 minutes at 30.30 an hour: 0.2525 and 0.505.
	cat := shop(t, takes("a", 0.5), takes("b", 1))
	cat.LabourRoles[1].Rate = price(t, "30.30")
	p := make1(t, desk(), cat)
	require.Equal(t, "0.25", p.Steps[0].Amount.String())
	require.Equal(t, "0.51", p.Steps[1].Amount.String())
	require.Equal(t, "0.76", p.Cost.String())
}

func TestAfterPassesOnThroughStepsThatAreNotNeeded(t *testing.T) {
	t.Parallel()
	never := func(code string, after ...string) catalogue.LabourStandard {
		return catalogue.LabourStandard{Code: code, When: catalogue.IfPanel, Setup: exactly(1), After: after}
	}
	p := make1(t, desk(), shop(t,
		takes("cut", 10), takes("plane", 10),
		never("x", "cut"), never("y", "x", "plane"), never("z", "x", "y"),
		takes("join", 10, "z", "y", "cut"), takes("pack", 10, "join")))
	require.Equal(t, []string{"cut", "plane", "join", "pack"}, codes(p))
	require.Empty(t, p.Steps[0].After)
	require.Empty(t, p.Steps[1].After)
	require.Equal(t, []int{1, 2}, p.Steps[2].After)
	require.Equal(t, []int{3}, p.Steps[3].After)
}

func TestStepsKeepTheUsualOrderAsFarAsTheyCan(t *testing.T) {
	t.Parallel()
	cat := shop(t, takes("a", 1, "d"), takes("b", 1), takes("c", 1, "a"), takes("d", 1), takes("e", 1))
	require.Equal(t, []string{"b", "d", "a", "c", "e"}, codes(make1(t, desk(), cat)))
}

func TestCatalogueFaultsNameTheStandard(t *testing.T) {
	t.Parallel()
	crew := takes("glue", 1)
	crew.Crew = -1
	role := takes("glue", 1)
	role.Role = "wizard"
	condition := takes("glue", 1)
	condition.When = "moon"
	driver := takes("glue", 1)
	driver.Driver = "moon"
	unneeded := driver
	unneeded.When = catalogue.IfPanel
	spread := takes("glue", 1)
	spread.Setup.Low = 2
	wait := takes("glue", 1)
	wait.WaitHours = -1
	many, high, endless, late := takes("glue", 1), takes("glue", 1), takes("glue", 1.01e9), takes("glue", 1)
	many.Crew, high.Setup.High, late.WaitHours = 101, 0.5, 1.7e7
	for name, c := range map[string]struct {
		standards []catalogue.LabourStandard
		says      string
	}{
		"unknown role": {[]catalogue.LabourStandard{role},
			`labour standard glue: unknown role "wizard"`},
		"unknown condition": {[]catalogue.LabourStandard{condition},
			`labour standard glue: unknown condition "moon"`},
		"unknown driver": {[]catalogue.LabourStandard{driver},
			`labour standard glue: unknown driver "moon"`},
		"unknown driver of a step not needed": {[]catalogue.LabourStandard{unneeded},
			`labour standard glue: unknown driver "moon"`},
		"crew": {[]catalogue.LabourStandard{crew}, "labour standard glue: a crew of -1"},
		"minutes out of order": {[]catalogue.LabourStandard{spread},
			"labour standard glue: 2, 1 and 1 minutes"},
		"a crew too many":      {[]catalogue.LabourStandard{many}, "labour standard glue: a crew of 101"},
		"less at most":         {[]catalogue.LabourStandard{high}, "labour standard glue: 1, 1 and 0.5 minutes"},
		"centuries":            {[]catalogue.LabourStandard{endless}, "1.01e+09 minutes"},
		"a wait for centuries": {[]catalogue.LabourStandard{late}, "a wait of 1.7e+07 hours"},
		"wait": {[]catalogue.LabourStandard{wait},
			"labour standard glue: a wait of -1 hours"},
		"follows nothing that is there": {[]catalogue.LabourStandard{takes("glue", 1, "saw")},
			`labour standard glue follows "saw", which the catalogue does not have`},
		"follows itself": {[]catalogue.LabourStandard{takes("glue", 1, "glue")},
			"labour standard glue follows itself"},
		"follows itself through others": {[]catalogue.LabourStandard{takes("a", 1), takes("glue", 1, "c", "a"),
			takes("c", 1, "d"), takes("d", 1, "glue")}, "labour standard glue follows itself"},
		"circle among steps that nobody needs": {[]catalogue.LabourStandard{{Code: "glue", When: catalogue.IfPanel,
			After: []string{"c"}}, {Code: "c", When: catalogue.IfPanel, After: []string{"glue"}}},
			"labour standard glue follows itself"},
	} {
		_, err := Make(desk(), shop(t, c.standards...))
		require.ErrorContains(t, err, c.says, name)
	}
}

func TestAHundredPeopleAreACrew(t *testing.T) {
	t.Parallel()
	crowd := takes("carry", 1)
	crowd.Crew = 100
	require.InDelta(t, 100./60, make1(t, desk(), shop(t, crowd)).Hours, 1e-12)
}

func TestUnknownToolsAndHoursAreRefused(t *testing.T) {
	t.Parallel()
	cat := shop(t, takes("cut", 1))
	job := desk()
	job.Tool = "axe"
	_, err := Make(job, cat)
	require.ErrorContains(t, err, `unknown seam-cutting tool "axe"`)
	_, _, err = NewTally(cat).Cost(&job)
	require.ErrorContains(t, err, `unknown seam-cutting tool "axe"`)
	job = desk()
	job.Experience = ""
	_, err = Make(job, cat)
	require.ErrorContains(t, err, `unknown experience ""`)
	cat.Settings.HoursPerDay = 0
	_, err = Make(desk(), cat)
	require.ErrorContains(t, err, "0 working hours a day")
	cat.Settings.HoursPerDay = 24.1
	_, err = Make(desk(), cat)
	require.ErrorContains(t, err, "24.1 working hours a day")
}

func TestTheOrderOfTheCataloguesListDoesNotMatter(t *testing.T) {
	t.Parallel()
	cat := workshop(t)
	want := make1(t, desk(), cat)
	random := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		random.Shuffle(len(cat.LabourStandards), func(i, j int) {
			cat.LabourStandards[i], cat.LabourStandards[j] = cat.LabourStandards[j], cat.LabourStandards[i]
		})
		before := cat.LabourStandards[0].Code
		require.Equal(t, want, make1(t, desk(), cat))
		require.Equal(t, before, cat.LabourStandards[0].Code, "the catalogue itself must stay as it is")
	}
}

func TestCostAgreesWithMake(t *testing.T) {
	t.Parallel()
	cat := workshop(t)
	jobs := map[string]Job{"desk": desk(), "straight": desk(), "panels": desk(), "butt": desk(), "hard": desk()}
	change := func(name string, f func(*Job)) { j := jobs[name]; f(&j); jobs[name] = j }
	change("straight", func(j *Job) { j.Corners = nil })
	change("panels", func(j *Job) { j.EdgeGlued = false; j.Staves, j.StaveRun, j.GlueRun = 0, 0, 0 })
	change("butt", func(j *Job) {
		j.Corners = []Corner{{Joint: plan.Butt, Seam: 650, Carry: "scribe", Remedy: "carved", Alignment: catalogue.LooseTenon,
			AlignmentCount: 4, Pulls: [2]PullParts{{catalogue.PocketScrew, 3}}}}
	})
	change("hard", func(j *Job) { j.Hardness, j.Thickness, j.Tool, j.Experience = 7000, 60, "hand_saw", "first_time" })
	costs := map[string]bool{}
	for name, j := range jobs {
		p := make1(t, j, cat)
		cost, hours, err := NewTally(cat).Cost(&j)
		require.NoError(t, err)
		require.Equal(t, p.Cost, cost, name)
		require.Equal(t, p.Hours, hours, name)
		costs[cost.String()] = true
	}
	require.Len(t, costs, len(jobs), "the jobs must differ, or this shows nothing")
}

func TestACatalogueWithoutStandardsGivesAnEmptyPlan(t *testing.T) {
	t.Parallel()
	p := make1(t, desk(), shop(t))
	require.Empty(t, p.Steps)
	require.Zero(t, p.WorkingDays)
	require.Equal(t, "0.00", p.Cost.String())
}

// workshop is an invented catalogue of the size of a real one.
func workshop(t testing.TB) *catalogue.Snapshot {
	s := func(code string, when catalogue.Condition, driver catalogue.Driver, setup, each, wait float64,
		after ...string) catalogue.LabourStandard {
		wide := func(m float64) catalogue.Spread { return catalogue.Spread{Low: m * 0.7, Likely: m, High: m * 1.9} }
		return catalogue.LabourStandard{Code: code, When: when, Driver: driver, Setup: wide(setup), Each: wide(each),
			WaitHours: wait, After: after, ByExperience: true}
	}
	list := []catalogue.LabourStandard{
		s("measure", catalogue.Always, catalogue.PerTop, 20, 10, 0),
		s("template", catalogue.IfTemplate, catalogue.PerCorner, 10, 50, 0, "measure"),
		s("choose", catalogue.IfEdgeGlued, catalogue.PerStave, 10, 3, 0, "measure"),
		s("rip", catalogue.IfEdgeGlued, catalogue.PerStaveMetre, 10, 1.5, 0, "choose"),
		s("joint", catalogue.IfEdgeGlued, catalogue.PerStaveMetre, 10, 2, 0, "rip"),
		s("glue", catalogue.IfEdgeGlued, catalogue.PerGlueMetre, 20, 2.5, 6, "joint"),
		s("inspect", catalogue.IfPanel, catalogue.PerPiece, 5, 5, 0, "measure"),
		s("flatten", catalogue.Always, catalogue.PerSquareMetre, 15, 22, 0, "glue", "inspect"),
		s("trim", catalogue.Always, catalogue.PerPiece, 5, 12, 0, "flatten"),
		s("cut_miter", catalogue.Condition(plan.Miter), catalogue.PerSeamMetre, 30, 25, 0, "trim", "template"),
		s("cut_butt", catalogue.Condition(plan.Butt), catalogue.PerSeamMetre, 15, 15, 0, "trim"),
		s("cut_masons", catalogue.Condition(plan.MasonsMiter), catalogue.PerSeamMetre, 60, 60, 0, "trim", "template"),
		s("biscuits", catalogue.Condition(catalogue.Biscuit), catalogue.PerAlignment, 10, 3, 0, "cut_miter", "cut_butt",
			"cut_masons"),
		s("tenons", catalogue.Condition(catalogue.LooseTenon), catalogue.PerAlignment, 10, 4, 0, "cut_miter", "cut_butt",
			"cut_masons"),
		s("pockets", catalogue.Condition(catalogue.PocketScrew), catalogue.PerPull, 10, 6, 0, "biscuits", "tenons"),
		s("bolts", catalogue.Condition(catalogue.DrawBolt), catalogue.PerPull, 15, 14, 0, "biscuits", "tenons"),
		s("profile_before", catalogue.IfProfileBefore, catalogue.PerEdgeMetre, 15, 6, 0, "trim"),
		s("dry_fit", catalogue.IfCorner, catalogue.PerCorner, 10, 30, 0, "pockets", "bolts", "profile_before"),
		s("profile_after", catalogue.IfProfileAfter, catalogue.PerEdgeMetre, 20, 8, 0, "dry_fit"),
		s("carve", catalogue.IfCarvedCorner, catalogue.PerCorner, 10, 60, 0, "profile_after"),
		s("cope", catalogue.IfCopedCorner, catalogue.PerCorner, 20, 60, 0, "dry_fit"),
		s("scribe", catalogue.IfScribe, catalogue.PerCorner, 20, 40, 0, "dry_fit"),
		s("cutouts", catalogue.IfCutout, catalogue.PerCutout, 15, 35, 0, "dry_fit"),
		s("sand", catalogue.Always, catalogue.PerSquareMetre, 10, 25, 0, "profile_after", "carve", "cope", "scribe",
			"cutouts", "dry_fit", "profile_before"),
		s("finish", catalogue.IfFinish, catalogue.PerCoatSquare, 20, 6, 24, "sand"),
		s("base", catalogue.Always, catalogue.PerFixing, 10, 3, 0, "measure"),
		s("carry", catalogue.Always, catalogue.PerHundredweight, 15, 30, 0, "finish"),
		s("assemble", catalogue.IfCorner, catalogue.PerCorner, 15, 40, 0, "carry"),
		s("fix", catalogue.Always, catalogue.PerFixing, 10, 4, 0, "assemble", "carry", "base"),
		s("clean", catalogue.Always, catalogue.PerTop, 15, 10, 0, "fix"),
	}
	for i := range list {
		list[i].Order = 10 * (i + 1)
		switch list[i].Code {
		case "cut_miter", "cut_butt", "cut_masons":
			list[i].ByTool, list[i].ByHardness, list[i].ByThickness = true, true, true
		case "carry", "glue":
			list[i].Crew = 2
		case "sand", "base":
			list[i].Role = "helper"
		}
	}
	return shop(t, list...)
}

func BenchmarkMake(b *testing.B) {
	cat, job := workshop(b), desk()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Make(job, cat); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCost(b *testing.B) {
	cat, job := workshop(b), desk()
	tally := NewTally(cat)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := tally.Cost(&job); err != nil {
			b.Fatal(err)
		}
	}
}
