package labour

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// usualFactors are the settings of the factors as they are without a shop's own.
func usualFactors() *catalogue.Settings {
	return &catalogue.Settings{HardnessShare: 50, FirstTimeFactor: 1.8, SeasonedFactor: 0.85}
}

// A shop's own share and factors are used: three quarters of 20 % harder are 15 %.
func TestAShopsOwnFactors(t *testing.T) {
	t.Parallel()
	s := &catalogue.Settings{HardnessShare: 75, FirstTimeFactor: 2.2, SeasonedFactor: 0.7}
	job := desk()
	job.Hardness, job.Experience = 5400, "first_time"
	f, err := newFactors(&job, s)
	require.NoError(t, err)
	require.InDelta(t, 1.15, f.hardness, 1e-12)
	require.InDelta(t, 2.2, f.experience, 1e-12)
	job.Experience = "seasoned"
	f, err = newFactors(&job, s)
	require.NoError(t, err)
	require.InDelta(t, 0.7, f.experience, 1e-12)
	require.InDelta(t, 0.2, Harder(5400), 1e-12)
	require.Zero(t, Harder(0))
}

func TestFactorsOfHardnessAndThickness(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		hardness measure.Force
		want     float64
	}{{4500, 1}, {5400, 1.1}, {3600, 0.9}, {1700, 0.85}, {9000, 1.3}, {0, 1}} {
		job := desk()
		job.Hardness = c.hardness
		f, err := newFactors(&job, usualFactors())
		require.NoError(t, err)
		require.InDelta(t, c.want, f.hardness, 1e-12, "%g N", float64(c.hardness))
	}
	for _, c := range []struct {
		thickness measure.Length
		want      float64
	}{{1.5 * measure.Inch, 1}, {2.25 * measure.Inch, 1.25}, {0.75 * measure.Inch, 0.8}, {4 * measure.Inch, 1.6}} {
		job := desk()
		job.Thickness = c.thickness
		f, err := newFactors(&job, usualFactors())
		require.NoError(t, err)
		require.InDelta(t, c.want, f.thickness, 1e-12, "%g mm", float64(c.thickness))
	}
}

// Hardness, thickness and tool count for the running time only: the setup of an hour stays; experience for the whole
// step.
func TestAStandardTakesOnlyTheFactorsItAsksFor(t *testing.T) {
	t.Parallel()
	job := desk()
	job.Hardness, job.Thickness, job.Tool, job.Experience = 5400, 2.25*measure.Inch, "hand_saw", "first_time"
	for _, c := range []struct {
		standard catalogue.LabourStandard
		want     float64
	}{
		{catalogue.LabourStandard{}, 100},
		{catalogue.LabourStandard{ByHardness: true}, 60 + 40*1.1},
		{catalogue.LabourStandard{ByThickness: true}, 60 + 40*1.25},
		{catalogue.LabourStandard{ByTool: true}, 60 + 40*1.8},
		{catalogue.LabourStandard{ByExperience: true}, 180},
		{catalogue.LabourStandard{ByHardness: true, ByThickness: true, ByTool: true, ByExperience: true}, 1.8 * (60 + 40*1.1*1.25*1.8)},
	} {
		c.standard.Code, c.standard.Setup, c.standard.Each = "cut", exactly(60), exactly(40)
		p := make1(t, job, shop(t, c.standard))
		require.InDelta(t, c.want, p.Steps[0].Minutes.Likely, 1e-9)
		require.InDelta(t, c.want, p.Steps[0].Minutes.Expected, 1e-9)
	}
}

func TestEveryToolAndEachExperienceHasItsFactor(t *testing.T) {
	t.Parallel()
	for tool, want := range map[string]float64{"track_saw": 1, "panel_saw": 1.1, "router": 1.1, "circular_saw": 1.25,
		"hand_saw": 1.8} {
		for experience, times := range map[string]float64{"first_time": 1.8, "practised": 1, "seasoned": 0.85} {
			job := desk()
			job.Tool, job.Experience = tool, experience
			f, err := newFactors(&job, usualFactors())
			require.NoError(t, err)
			require.Equal(t, factors{hardness: 1, thickness: 1, tool: want, experience: times}, f)
		}
	}
}
