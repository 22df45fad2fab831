package learning

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
	"seamwright/service/measure"
)

// varied makes a shop's jobs of several woods and makers, estimated by the usual factors, while the true ones are
// others. Half of the steps ask for the wood, and half of these and of the others for the hand.
func (s *shop) varied(n int, truth *catalogue.Settings) []Job {
	jobs := s.jobs(n)
	woods := []float64{4500, 4500, 3800, 5400, 6450, 5700, 2400}
	for i := range jobs {
		hardness := woods[s.IntN(len(woods))]
		experience := []string{"practised", "practised", "practised", "first_time", "seasoned"}[s.IntN(5)]
		for k := range jobs[i].Steps {
			t := &jobs[i].Steps[k]
			by := 1.0
			if t.Code[6]%2 == 0 {
				t.Hardness, t.Running = hardness, 0.6+0.4*s.Float64()
				is := labour.HardnessFactor(measure.Force(hardness), truth.HardnessShare)
				was := labour.HardnessFactor(measure.Force(hardness), usual.HardnessShare)
				by *= 1 + t.Running*(is/was-1)
			}
			if t.Code[6]%4 < 2 {
				t.Experience = experience
				is, _ := labour.ExperienceFactor(experience, truth)
				was, _ := labour.ExperienceFactor(experience, usual)
				by *= is / was
			}
			t.Minutes *= by
		}
	}
	return jobs
}

// Shops with known truth, fixed seeds: what the jobs say of each factor comes ever nearer to it, its interval holds it
// about as often as it says, a setting that is right is left alone, and one that is wrong is moved towards the truth.
func TestFactorsOfWoodAndHandAreProposedWhereTheyAreWrong(t *testing.T) {
	t.Parallel()
	const shops = 120
	held, moved := map[string]int{}, map[string]int{}
	was, left := map[string]float64{}, map[string]float64{}
	var off [2]float64
	for seed := range uint64(shops) {
		s := newShop(3000+seed, 16, 0.1)
		truth := &catalogue.Settings{HardnessShare: 35 + 40*s.Float64(), FirstTimeFactor: 1.4 + 1.2*s.Float64(), SeasonedFactor: 0.7 + 0.4*s.Float64()}
		jobs := s.varied(320, truth)
		is := map[string]float64{hardnessShare: truth.HardnessShare, firstTimeFactor: truth.FirstTimeFactor, seasonedFactor: truth.SeasonedFactor}
		for i, n := range []int{40, 320} {
			list := Learn(jobs[:n], usual).factors(usual)
			require.Len(t, list, 3)
			for _, p := range list {
				if p.Low <= is[p.Key] && is[p.Key] <= p.High {
					held[p.Key]++
				}
				if p.Key == firstTimeFactor {
					off[i] += math.Pow(math.Log(p.Learned/is[p.Key]), 2) / shops
				}
				if !p.Change {
					require.Equal(t, p.Before, p.After)
					continue
				}
				moved[p.Key]++
				was[p.Key] += math.Abs(p.Before - is[p.Key])
				left[p.Key] += math.Abs(p.After - is[p.Key])
			}
		}
	}
	t.Logf("held %v of %d, moved %v, were off %v and are %v, learned off %.3f %.3f", held, 2*shops, moved, was, left, math.Sqrt(off[0]), math.Sqrt(off[1]))
	for key, n := range held {
		require.InDelta(t, 95, 100*float64(n)/(2*shops), 4.3, "%s: three standard errors of a share of 95 %% in 240", key)
		require.Greater(t, moved[key], shops/4, key)
		require.Less(t, left[key], was[key]/2, "%s: proposals, taken together", key)
	}
	require.Less(t, off[1], off[0]/2, "eight times the jobs")
}

// Settings that are right are left alone: one in twenty is moved by chance, as its interval says, and hardly by much.
func TestFactorsThatAreRightStay(t *testing.T) {
	t.Parallel()
	const shops = 100
	moved := 0
	for seed := range uint64(shops) {
		s := newShop(7000+seed, 16, 0.1)
		for _, p := range Learn(s.varied(200, usual), usual).factors(usual) {
			if p.Change {
				moved++
			}
		}
	}
	t.Logf("moved %d of %d", moved, 3*shops)
	require.LessOrEqual(t, moved, 3*shops*87/1000, "5 % and three standard errors")
}

// Few jobs, one wood and one maker, or reports of before it was kept tell of no factor; a proposal that was taken is not
// made again from the same jobs.
func TestFactorsNeedJobsThatTellThemApart(t *testing.T) {
	t.Parallel()
	require.Empty(t, Learn(newShop(5, 16, 0).jobs(100), usual).factors(usual), "nothing is known of wood and maker")
	s := newShop(6, 16, 0)
	truth := &catalogue.Settings{HardnessShare: 50, FirstTimeFactor: 2.6, SeasonedFactor: 0.85}
	jobs := s.varied(300, truth)
	for _, p := range Learn(jobs[:12], usual).factors(usual) {
		require.False(t, p.Change)
		require.Contains(t, p.Why, "at least 10")
	}
	var first *Setting
	for _, p := range Learn(jobs, usual).factors(usual) {
		if p.Key == firstTimeFactor {
			first = &p
		}
	}
	require.True(t, first.Change, first.Why)
	require.InDelta(t, 2.6, first.After, 0.25)

	taken := *usual
	taken.FirstTimeFactor = first.After
	now := make([]Job, len(jobs))
	for i := range jobs {
		now[i] = jobs[i].Since(3, nil, FactorChange{firstTimeFactor, 4, usual.FirstTimeFactor, first.After},
			FactorChange{firstTimeFactor, 3, 1, 9}) // of before
	}
	for _, p := range Learn(now, &taken).factors(&taken) {
		require.False(t, p.Key == firstTimeFactor && p.Change, p.Why)
	}
	same := s.varied(50, usual)
	for i := range same {
		for k := range same[i].Steps {
			same[i].Steps[k].Hardness, same[i].Steps[k].Experience = 4500, "first_time"
		}
	}
	require.Empty(t, Learn(same, usual).factors(usual), "one wood and one maker")
}

// By hand: a step of 100 minutes, half of it setup, in a wood a fifth harder than the reference. From half of it to all
// of it the running half goes from 1.1 to 1.2 times, so that the step takes 50 + 50·1.2/1.1 minutes.
func TestAStepIsSetToAFactorThatChanged(t *testing.T) {
	t.Parallel()
	job := Job{Steps: []Took{{Code: "a", Estimated: 100, Deviation: 10, Minutes: 120, Hardness: 5400, Running: 0.5},
		{Code: "b", Estimated: 50, Deviation: 5, Minutes: 60, Experience: "seasoned"}}}
	now := job.Since(1, nil, FactorChange{hardnessShare, 2, 50, 100}, FactorChange{seasonedFactor, 2, 0.8, 1}).Steps
	require.InDelta(t, 50+50*1.2/1.1, now[0].Estimated, 1e-9)
	require.InDelta(t, 10*now[0].Estimated/100, now[0].Deviation, 1e-9)
	require.InDelta(t, 50*1.2/1.1/now[0].Estimated, now[0].Running, 1e-9)
	require.Equal(t, 120.0, now[0].Minutes)
	require.InDelta(t, 62.5, now[1].Estimated, 1e-9)
	require.InDelta(t, 100.0, job.Steps[0].Estimated, 0, "what was reported stays")
}
