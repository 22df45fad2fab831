package learning

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
	"seamwright/service/measure"
)

// The settings of the factors.
const (
	hardnessShare   = "hardness_share"
	firstTimeFactor = "first_time_factor"
	seasonedFactor  = "seasoned_factor"
)

// FactorSettings are the settings whose changes since an estimate its steps are set to.
func FactorSettings() []string { return []string{hardnessShare, firstTimeFactor, seasonedFactor} }

// FactorChange is one of a setting of the factors, from a revision of the catalogue on.
type FactorChange struct {
	Key      string
	Revision int64
	Before   float64
	After    float64
}

// on sets a step to the factor as it became. What it took stays.
func (c *FactorChange) on(t *Took) {
	by := 1.0
	switch {
	case c.Key == hardnessShare && t.Running > 0:
		h := measure.Force(t.Hardness)
		turned := labour.HardnessFactor(h, c.After) / labour.HardnessFactor(h, c.Before)
		by = 1 + t.Running*(turned-1)
		t.Running *= turned / by
	case c.Key == firstTimeFactor && t.Experience == "first_time", c.Key == seasonedFactor && t.Experience == "seasoned":
		by = c.After / c.Before
	}
	t.Estimated, t.Deviation = t.Estimated*by, t.Deviation*by
}

// What it takes to propose a change of a factor. Common practice.
const (
	leastForFactor = 10 // jobs on either side of it
	hardnessMoves  = 5  // percent points
	factorMoves    = 0.05
)

// Bounds of the settings, as the catalogue has them.
var factorBounds = map[string][2]float64{hardnessShare: {0, 200}, firstTimeFactor: {1, 4}, seasonedFactor: {0.4, 1.2}}

// factors judges the share of the wood's hardness and the makers' factors. A factor of which no job tells anything is
// left out.
func (m *Model) factors(s *catalogue.Settings) (list []Setting) {
	for k, one := range [shifts]struct {
		key, says string
		before    float64
		factor    float64 // on the figure in the sentence
		moves     float64
		places    int
		of        func(off float64) float64 // the setting when it is off by that
	}{
		byHardness: {hardnessShare, "%s %% of what a wood is harder or softer by goes into the minutes", s.HardnessShare, 1, hardnessMoves, 0,
			func(off float64) float64 { return s.HardnessShare + 100*off }},
		byFirst: {firstTimeFactor, "a first-timer takes %s %% of a practised maker's minutes", s.FirstTimeFactor, 100, factorMoves, 2,
			func(off float64) float64 { return s.FirstTimeFactor * math.Exp(off) }},
		bySeasoned: {seasonedFactor, "a seasoned maker takes %s %% of a practised one's minutes", s.SeasonedFactor, 100, factorMoves, 2,
			func(off float64) float64 { return s.SeasonedFactor * math.Exp(off) }},
	} {
		t := &m.shifts[k]
		if t.jobs == 0 || t.error == 0 {
			continue
		}
		sided := twoSided + (math.Pow(twoSided, 3)+twoSided)/(4*float64(max(t.jobs-1, 1))) // Cornish and Fisher, 1960
		low, high := factorBounds[one.key][0], factorBounds[one.key][1]
		p := Setting{Key: one.key, Before: one.before, Jobs: t.jobs, Figure: OfCost, Learned: max(one.of(t.alone), 0),
			Low: max(one.of(t.alone-sided*t.error), 0), High: max(one.of(t.alone+sided*t.error), 0)}
		p.After = measure.Round(min(max(one.of(t.off), low), high), one.places)
		p.judge(leastForFactor, one.moves, one.factor, one.says)
		list = append(list, p)
	}
	return list
}
