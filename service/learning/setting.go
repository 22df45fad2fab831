package learning

import (
	"fmt"
	"math"
	"strconv"

	"seamwright/service/basket"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Figure is what effects of a proposal are of.
type Figure string

// The figures.
const (
	OfCost Figure = "cost" // of the top
	OfP90  Figure = "p90"  // upper end of the price's range
)

// Setting is what the jobs propose for one of the shop's settings.
type Setting struct {
	Code    string // of the proposal: setting.common_share
	Key     string
	Change  bool // false: it may stay as it is, and Why says why
	Why     string
	Before  float64
	After   float64 // as proposed; as before when nothing is to change
	Jobs    int     // that tell of it
	Learned float64 // what the jobs say alone, and what that lies between with a chance of 95 percent
	Low     float64
	High    float64
	Figure  Figure
	Effects []basket.Effect // on the reference tops, of this proposal alone; nil when nothing is to change
}

// What it takes to propose a change of a setting. Common practice.
const (
	leastForSpread = 20   // jobs that a spread is learned from
	shareMoves     = 0.05 // least change of the common share
	yieldMoves     = 1.0  // of the yield, percent points
	spreadMoves    = 1.0  // of the wood's spread, percent points
	priorShare     = 1.0  // deviation of the logit of a shop's common share from the setting
	priorYield     = 0.15 // deviation of the logarithm of a shop's yield from the setting
)

// twoSided is the quantile of the standard normal distribution at 97.5 percent.
const twoSided = 1.959963985

// scaleVariance is that of the logarithm of a squared scale, times observations, where residuals have Student's t
// distribution with 4 degrees: 2·(ν + 3)/ν. Source: Lange, Little and Taylor (1989), information of the scale; remembered.
const scaleVariance = 2 * (freedom + 3) / freedom

// Wood is the wood of a job: board feet by the grades' least yields, and board feet used.
type Wood struct{ Expected, Used float64 }

// Settings are what the jobs propose for the settings of a catalogue that they tell of.
func (m *Model) Settings(wood []Wood, cat *catalogue.Snapshot, day catalogue.Date) []Setting {
	var list []Setting
	if s, ok := m.commonShare(cat.Settings.CommonShare); ok {
		list = append(list, s)
	}
	list = append(list, m.factors(&cat.Settings)...)
	if len(wood) > 0 {
		f := settleWood(wood)
		list = append(list, f.yield(cat.Settings.LumberYield), f.spread(cat.Settings.YieldSpread))
	}
	for i := range list {
		s := &list[i]
		s.Code = "setting." + s.Key
		if s.Change {
			effects := basket.Between
			if s.Figure == OfP90 {
				effects = basket.BetweenRanges
			}
			s.Effects = effects(cat, withSetting(cat, s), day)
		}
	}
	return list
}

// commonShare judges the share of the steps' spread that a job's steps have in common. Its uncertainty is that of the
// two variances that it is made of, the one known from jobs, the other from their steps:
//
//	var(ln(ρ/(1 − ρ))) = 2·(ν + 3)/ν · (1/jobs + 1/steps)
//
// It moves towards what the jobs say by the weight of that evidence against a prior round the setting.
func (m *Model) commonShare(setting float64) (s Setting, ok bool) {
	steps := 0
	for i := range m.Steps {
		steps += m.Steps[i].Count
	}
	if m.Jobs == 0 || steps == 0 {
		return s, false
	}
	variance := scaleVariance * (1/float64(m.Jobs) + 1/float64(steps)) // delta method
	at := logit(m.Share)
	s = Setting{Key: "common_share", Before: setting, Jobs: m.Jobs, Learned: expit(at), Figure: OfP90}
	s.Low, s.High = expit(at-twoSided*math.Sqrt(variance)), expit(at+twoSided*math.Sqrt(variance))
	weight := priorShare * priorShare / (priorShare*priorShare + variance)
	s.After = measure.Round(expit(weight*at+(1-weight)*logit(setting)), 2)
	s.judge(leastForSpread, shareMoves, 100, "a job's steps have %s %% of their spread in common")
	return s, true
}

// logit keeps away from both ends.
func logit(p float64) float64 {
	p = min(max(p, 0.005), 0.995)
	return math.Log(p / (1 - p))
}

func expit(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

// level is where logarithms lie that are as robust as steps are: one of each job.
type level struct {
	n         int
	mean, dev float64
	error     float64 // standard error of the mean
	sided     float64 // so many of them on either side hold it with a chance of 95 percent
}

// settleWood fits Student's t distribution to ln(used/expected), as Learn does for steps.
//
// Source: Lange, Little and Taylor (1989), with the information of the location, (ν + 1)/(ν + 3)/σ²; R. A. Fisher, E. A.
// Cornish, The Percentile Points of Distributions Having Known Cumulants, Technometrics 2 (1960), for the quantile of few
// jobs, z + (z³ + z)/(4·(n − 1)). Both remembered.
func settleWood(wood []Wood) level {
	l := level{n: len(wood)}
	scale := startVar
	for range rounds {
		var sum, weights, squares float64
		for _, w := range wood {
			r := math.Log(w.Used/w.Expected) - l.mean
			v := (freedom + 1) / (freedom + r*r/scale) // Lange, Little and Taylor, 1989
			sum, weights, squares = sum+v*r, weights+v, squares+v*r*r
		}
		l.mean += sum / weights
		scale = max(squares/float64(max(l.n-1, 1)), noSpread)
	}
	l.dev = math.Sqrt(scale) / normalScale
	l.error = math.Sqrt(scale * (freedom + 3) / (freedom + 1) / float64(l.n))
	l.sided = twoSided
	if l.n > 1 {
		l.sided += (math.Pow(twoSided, 3) + twoSided) / (4 * float64(l.n-1)) // Cornish and Fisher
	}
	return l
}

// yield judges how much of the grades' least yield boards really give, in percent. Of a log-normal variable the mean
// lies above the median by half the variance.
func (l level) yield(setting float64) Setting {
	percent := func(mean float64) float64 { return 100 / math.Exp(mean+l.dev*l.dev/2) } // mean of the log-normal distribution
	s := Setting{Key: "lumber_yield", Before: setting, Jobs: l.n, Figure: OfCost, Learned: percent(l.mean),
		Low: percent(l.mean + l.sided*l.error), High: percent(l.mean - l.sided*l.error)}
	weight := priorYield * priorYield / (priorYield*priorYield + l.error*l.error)
	after := math.Exp(weight*math.Log(s.Learned) + (1-weight)*math.Log(setting))
	s.After = measure.Round(min(max(after, leastYield), mostYield), 1)
	s.judge(leastJobs, yieldMoves, 1, "boards gave %s %% of their grades' least yields")
	return s
}

// The bounds of the setting lumber_yield.
const (
	leastYield = 30
	mostYield  = 130
)

// spread judges the deviation of the wood's cost, in percent.
func (l level) spread(setting float64) Setting {
	percent := func(dev float64) float64 { return 100 * math.Sqrt(math.Expm1(dev*dev)) } // of the log-normal distribution
	half := twoSided / 2 * math.Sqrt(scaleVariance/float64(l.n))
	s := Setting{Key: "yield_spread", Before: setting, Jobs: l.n, Figure: OfP90, Learned: percent(l.dev),
		Low: percent(l.dev * math.Exp(-half)), High: percent(l.dev * math.Exp(half))}
	s.After = measure.Round(min(s.Learned, mostSpread), 1)
	s.judge(leastForSpread, spreadMoves, 1, "the wood that jobs took has a deviation of %s %%")
	return s
}

// mostSpread is the greatest yield_spread.
const mostSpread = 50

// judge says whether a change is proposed; says is the finding, with the place of its figure times a factor.
func (s *Setting) judge(least int, moves, factor float64, says string) {
	number := func(x float64) string {
		return strconv.FormatFloat(measure.Round(factor*x, 0), 'f', -1, 64)
	}
	found := fmt.Sprintf(says, number(s.Learned))
	switch {
	case s.Jobs < least:
		s.Why = fmt.Sprintf("Jobs that tell of it: %d; at least %d are needed.", s.Jobs, least)
	case s.Low <= s.Before && s.Before <= s.High:
		s.Why = fmt.Sprintf("By %d jobs %s, between %s and %s: the setting lies within.", s.Jobs, found, number(s.Low), number(s.High))
	case math.Abs(s.After-s.Before) < moves:
		s.Why = fmt.Sprintf("By %d jobs %s: the setting is near enough.", s.Jobs, found)
	default:
		s.Change = true
		s.Why = fmt.Sprintf("By %d jobs %s, between %s and %s.", s.Jobs, found, number(s.Low), number(s.High))
		return
	}
	s.After = s.Before
}

// withSetting is a copy of a catalogue with a setting's proposal taken; the catalogue itself stays as it is.
func withSetting(cat *catalogue.Snapshot, s *Setting) *catalogue.Snapshot {
	after := *cat
	switch s.Key {
	case "common_share":
		after.Settings.CommonShare = s.After
	case "lumber_yield":
		after.Settings.LumberYield = s.After
	case "yield_spread":
		after.Settings.YieldSpread = s.After
	case hardnessShare:
		after.Settings.HardnessShare = s.After
	case firstTimeFactor:
		after.Settings.FirstTimeFactor = s.After
	case seasonedFactor:
		after.Settings.SeasonedFactor = s.After
	}
	return after.Index()
}
