package learning

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
	"seamwright/store/demotest"
)

// A proposed spread has the mean and the deviation that were learned, as the PERT approximation reckons them.
func TestAProposedSpreadHasWhatWasLearned(t *testing.T) {
	t.Parallel()
	for _, was := range []catalogue.Spread{{Low: 25, Likely: 40, High: 70}, {Low: 30, Likely: 30, High: 30}, {Low: 0, Likely: 1, High: 20}} {
		for _, factor := range []float64{0.7, 1.3} {
			for _, relative := range []float64{0.1, 0.25} {
				is := spreadAs(was, factor, relative)
				want := factor * labour.Expected(was)
				require.InDelta(t, want, labour.Expected(is), 0.1, "%v %v %v", was, factor, is)
				require.InDelta(t, relative*labour.Expected(is), math.Sqrt(labour.Variance(is)), 0.06)
				require.True(t, 0 <= is.Low && is.Low <= is.Likely && is.Likely <= is.High, "%v", is)
			}
		}
	}
	require.Equal(t, catalogue.Spread{}, spreadAs(catalogue.Spread{}, 2, 0.2))
}

// A shop whose glue-ups take half as long again, and whose finishing is as estimated: the one is proposed, with its
// effect
// on every reference top; the other stays; what one job tells of is not enough.
func TestProposalsNameWhatIsOffAndLeaveTheRest(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	s := newShop(5, 2, 0)
	s.off = []float64{math.Log(1.5) - 0.02, -0.02 - 0.02}
	s.within = []float64{0.2, 0.2}
	jobs := s.jobs(150)
	names := map[string]string{"step_00": "glue_up", "step_01": "site_template"}
	for i := range jobs {
		for k := range jobs[i].Steps {
			jobs[i].Steps[k].Code = names[jobs[i].Steps[k].Code]
		}
	}
	jobs[0].Steps = append(
		jobs[0].Steps,
		Took{Code: "site_visit", Estimated: 30, Minutes: 300},
		Took{Code: "no_standard", Estimated: 1, Minutes: 1},
	)
	list := Learn(jobs, usual).Proposals(cat, "2026-11-01")
	require.Len(t, list, 3)
	by := map[string]Proposal{}
	for _, p := range list {
		by[p.Code] = p
	}
	glue := by["glue_up"]
	require.True(t, glue.Change, glue.Why)
	require.InDelta(t, 1.5, glue.Factor, 0.12)
	require.Len(t, glue.Effects, 3)
	for _, e := range glue.Effects {
		require.Empty(t, e.Reason)
		require.Positive(t, e.After.Cmp(e.Before), "dearer")
	}
	want := glue.Factor * labour.Expected(glue.EachBefore)
	require.InDelta(t, want, labour.Expected(glue.Each), 0.1)
	require.Equal(t, With(cat, &glue).LabourStandards[0].Code, cat.LabourStandards[0].Code)
	for _, code := range []string{"site_template", "site_visit"} {
		require.False(t, by[code].Change, by[code].Why)
		require.Equal(t, by[code].EachBefore, by[code].Each)
		require.Nil(t, by[code].Effects)
	}
	require.Contains(t, by["site_visit"].Why, "Jobs that tell of it: 1")
}
