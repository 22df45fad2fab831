package labour

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Factors on the minutes of a standard that asks for them. They multiply each other. Those of wood and tool count for
// the running time, the minutes per driver unit: a fence is set as fast for hard wood. Experience is the hand's, and
// counts for the whole step. All of them are common practice: a shop that knows better sets its own minutes in the
// catalogue, and its share of the wood's hardness and its makers' factors in its settings.
var (
	// 1 for a wood as hard as black walnut; a share of what a wood is harder or softer by, half of it as a rule, goes into
	// the minutes.
	hardnessFactor = growth{Reference: 4500 /* N, side hardness */, Least: 0.85, Most: 1.3}
	// 1 for a top of 1-1/2 in; half of what a top is thicker or thinner by goes into the minutes.
	thicknessFactor = growth{Reference: float64(1.5 * measure.Inch), Share: 0.5, Least: 0.8, Most: 1.6}
	toolFactor      = choice{{"track_saw", 1}, {"panel_saw", 1.1}, {"router", 1.1}, {"circular_saw", 1.25},
		{"hand_saw", 1.8}}
)

// growth is a factor that is 1 at the reference and differs from 1 by a share of the relative difference from
// the reference, within bounds.
type growth struct{ Reference, Share, Least, Most float64 }

func (g growth) at(x float64) float64 {
	return min(max(1+g.Share*(x-g.Reference)/g.Reference, g.Least), g.Most)
}

// Harder is by how much of the reference's hardness a wood is harder (positive) or softer; 0 for one that is not known.
func Harder(hardness measure.Force) float64 {
	if !(hardness > 0) {
		return 0
	}
	return (hardness.Newtons() - hardnessFactor.Reference) / hardnessFactor.Reference
}

// HardnessFactor is the factor on the running time of steps that ask for the wood's hardness, by the shop's share of it
// in percent (setting hardness_share).
func HardnessFactor(hardness measure.Force, share float64) float64 {
	if !(hardness > 0) {
		return 1
	}
	g := hardnessFactor
	g.Share = share / 100
	return g.at(hardness.Newtons())
}

// ExperienceFactor is the factor on the whole of steps that ask for the maker's experience. The standards are the times
// of a practised maker; a first-timer takes 1.5 to 2 times as long (common practice). What is no experience is an error.
func ExperienceFactor(experience string, s *catalogue.Settings) (float64, error) {
	switch experience {
	case "first_time":
		return s.FirstTimeFactor, nil
	case "practised":
		return 1, nil
	case "seasoned":
		return s.SeasonedFactor, nil
	}
	return 0, fmt.Errorf("labour: unknown experience %q", experience)
}

// choice is a factor by name.
type choice []struct {
	name   string
	factor float64
}

func (c choice) of(name, what string) (float64, error) {
	for i := range c {
		if c[i].name == name {
			return c[i].factor, nil
		}
	}
	return 0, fmt.Errorf("labour: unknown %s %q", what, name)
}

// factors are a job's.
type factors struct{ hardness, thickness, tool, experience float64 }

// newFactors works out the job's factors. A hardness that is not known counts as the reference's.
func newFactors(j *Job, s *catalogue.Settings) (factors, error) {
	f := factors{hardness: HardnessFactor(j.Hardness, s.HardnessShare), thickness: thicknessFactor.at(j.Thickness.Millimetres())}
	var err error
	if f.tool, err = toolFactor.of(j.Tool, "seam-cutting tool"); err != nil {
		return f, err
	}
	f.experience, err = ExperienceFactor(j.Experience, s)
	return f, err
}

// on returns the products of the factors that the standard asks for: on its running time beside the setup, and on the
// whole of it.
func (f *factors) on(s *catalogue.LabourStandard) (running, whole float64) {
	product := 1.0
	if s.ByHardness {
		product *= f.hardness
	}
	if s.ByThickness {
		product *= f.thickness
	}
	if s.ByTool {
		product *= f.tool
	}
	if s.ByExperience {
		return product, f.experience
	}
	return product, 1
}
