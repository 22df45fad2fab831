// Package learning compares what finished jobs took with what was estimated: by how much each standard of work is off,
// how far jobs and steps spread, and how much of the spread a job's steps have in common. It is pure, and it changes
// nothing:
// what comes of it are proposals.
package learning

import (
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
)

// Job is a finished job.
type Job struct {
	Reference string
	Steps     []Took
}

// Took is one step of a job: the code of its standard, its estimated minutes (expected) and what it took. Both are over
// 0.
type Took struct {
	Code      string
	Estimated float64
	Deviation float64 // of the estimate, in minutes; 0: not known
	Minutes   float64

	Hardness   float64 // of the wood, N, where it scales the step; 0: it does not, or is not known
	Running    float64 // share of the estimate that it scales, 0–1: all but the setup
	Experience string  // of the maker, where it scales the step; empty: it does not, or is not known
}

// Change is one of a standard: from a revision of the catalogue on, its expected minutes are Factor times what they
// were.
type Change struct {
	Code     string
	Revision int64
	Factor   float64
}

// Changed is the change of a standard's minutes. What a job has of its setup and what of its driver's units is not kept,
// so that, where both change by different factors, that of the units counts.
func Changed(code string, revision int64, setupBefore, eachBefore, setup, each catalogue.Spread) Change {
	c := Change{Code: code, Revision: revision, Factor: 1}
	for _, v := range [...][2]float64{
		{labour.Expected(eachBefore), labour.Expected(each)}, {labour.Expected(setupBefore), labour.Expected(setup)}} {
		if v[0] > 0 && v[1] > 0 {
			c.Factor = v[1] / v[0]
			break
		}
	}
	return c
}

// Since sets the estimates of a job, made by a revision of the catalogue, to the standards and factors as they are now:
// what was learned and taken once is not learned again. What it took stays.
func (j *Job) Since(revision int64, changes []Change, turned ...FactorChange) Job {
	now := Job{Reference: j.Reference, Steps: slices.Clone(j.Steps)}
	for _, c := range changes {
		if c.Revision <= revision {
			continue
		}
		for i := range now.Steps {
			if s := &now.Steps[i]; s.Code == c.Code {
				s.Estimated, s.Deviation = s.Estimated*c.Factor, s.Deviation*c.Factor
			}
		}
	}
	for i := range turned {
		if turned[i].Revision > revision {
			for k := range now.Steps {
				turned[i].on(&now.Steps[k])
			}
		}
	}
	return now
}

// Model is what was learned. All of it is of the logarithm of minutes taken over minutes estimated.
type Model struct {
	Jobs    int
	Steps   []Step  // by code
	Between float64 // deviation of whole jobs: the same wood, hands and site
	Prior   float64 // deviation of the standards from what is true, as the steps show it together
	Share   float64 // of a step's spread, that the steps of a job have in common

	shifts [shifts]shift
}

// Step is what was learned of one standard.
type Step struct {
	Code   string
	Count  int     // jobs that say something of it
	Mean   float64 // mean log ratio, jobs' own pace taken off, wild ones down-weighted
	Weight float64 // of the evidence, n/(n + k): the rest is left to the standard as it is
	Off    float64 // Mean · Weight: by how much the standard is off
	Error  float64 // standard error of Off
	Within float64 // deviation of the step within a job
	Wild   int     // jobs whose step lies more than four deviations off, which hardly count
}

// freedom is that of Student's t distribution of the residuals: few enough degrees that a step which was interrupted,
// or
// a figure that was mistyped, hardly counts. Source: K. L. Lange, R. J. A. Little, J. M. G. Taylor, Robust Statistical
// Modeling Using the t Distribution, Journal of the American Statistical Association 84 (1989), who take 4 where
// nothing
// else is known; remembered.
const freedom = 4.0

// normalScale is the scale of Student's t distribution that fits normal residuals of deviation 1 best, the root of
//
//	E[(ν + 1)·r²/(ν·s² + r²)] = 1
//
// to ten decimals; a test finds it again. Scales are divided by it, so that they are deviations where residuals are
// normal.
const normalScale = 0.8310034938

const (
	rounds   = 60
	settled  = 1e-7
	pooled   = 4.0  // observations that the spread of all steps counts for, beside a step's own
	noSpread = 1e-6 // variance below which nothing is told apart
	wildFrom = 4.0  // deviations
	startVar = 0.1  // of logarithms; a deviation of about a third
)

// Learn fits the model
//
//	y = μ_step + x·β + b_job + e,  μ ~ N(0, τ²),  b ~ t₄(0, σ_b²),  e ~ t₄(0, σ_step²)
//
// where x·β is by how much the factors of wood and experience are off (shift.go),
// to y = ln(minutes/estimated), by turns of each part given the others (expectation and maximisation), the variances by
// empirical Bayes over all steps and jobs. A standard moves by n/(n + k) of its mean residual, k = σ_step²/τ².
// Jobs' pace is
// centred, so that what all jobs have in common is the standards'. The same jobs give the same model, to the bit.
//
// Source: C. N. Morris, Parametric Empirical Bayes Inference, Journal of the American Statistical Association 78
// (1983), for
// the shrinkage; Lange, Little and Taylor (1989) for the weights (ν + 1)/(ν + r²/σ²). Both remembered.
func Learn(jobs []Job, s *catalogue.Settings) *Model {
	f := newFit(jobs, s)
	if len(f.y) == 0 {
		return &Model{Jobs: len(jobs)}
	}
	for range rounds {
		if f.turn() < settled {
			break
		}
	}
	return f.model(len(jobs))
}

// fit is the model on its way.
type fit struct {
	codes     []string
	step, job []int     // of each observation
	raw, y, w []float64 // y: what is left of raw without the shifts
	x         [shifts][]float64
	shift     [shifts]shift
	mu, muVar []float64 // by step
	within    []float64 // variance by step
	b, v      []float64 // by job, and its weight
	bVar      []float64 // what is not known of it
	between   float64
	prior     float64
}

func newFit(jobs []Job, s *catalogue.Settings) *fit {
	f := &fit{between: startVar, prior: startVar}
	for i := range jobs {
		for _, s := range jobs[i].Steps {
			f.codes = append(f.codes, s.Code)
		}
	}
	slices.Sort(f.codes)
	f.codes = slices.Clip(slices.Compact(f.codes))
	for i := range jobs {
		for _, s := range jobs[i].Steps {
			at, _ := slices.BinarySearch(f.codes, s.Code)
			f.step, f.job = append(f.step, at), append(f.job, i)
			f.raw = append(f.raw, math.Log(s.Minutes/s.Estimated))
		}
	}
	f.y = slices.Clone(f.raw)
	f.moves(jobs, s)
	f.w = filled(len(f.y), 1)
	f.mu, f.muVar, f.within = filled(len(f.codes), 0), filled(len(f.codes), 0), filled(len(f.codes), startVar)
	f.b, f.v, f.bVar = filled(len(jobs), 0), filled(len(jobs), 1), filled(len(jobs), 0)
	return f
}

func filled(n int, x float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = x
	}
	return list
}

// turn betters every part once and returns by how much the standards moved at most.
func (f *fit) turn() (moved float64) {
	f.weigh()
	f.shiftAll()
	f.paces()
	before, shifted := slices.Clone(f.mu), f.shift
	f.standards()
	f.spreads()
	for i := range f.mu {
		moved = max(moved, math.Abs(f.mu[i]-before[i]))
	}
	for k := range f.shift {
		moved = max(moved, math.Abs(f.shift[k].off-shifted[k].off))
	}
	return moved
}

// square is what is to be expected of a residual's square: what is not known of the job's pace and of the standard's
// place is part of it, or steps would seem to spread less than they do.
func (f *fit) square(i int) float64 {
	r := f.y[i] - f.mu[f.step[i]] - f.b[f.job[i]]
	return r*r + f.bVar[f.job[i]] + f.muVar[f.step[i]]
}

// weigh gives what lies far off little weight.
func (f *fit) weigh() {
	for i := range f.y {
		f.w[i] = (freedom + 1) / (freedom + f.square(i)/f.within[f.step[i]]) // Lange, Little and Taylor, 1989
	}
	for j, b := range f.b {
		f.v[j] = (freedom + 1) / (freedom + (b*b+f.bVar[j])/f.between)
	}
}

// paces fits the pace of each job, centred on the weighted mean of all, and the variance between jobs.
func (f *fit) paces() {
	sum, precision := filled(len(f.b), 0), filled(len(f.b), 0)
	for i := range f.y {
		p := f.w[i] / f.within[f.step[i]]
		sum[f.job[i]] += p * (f.y[i] - f.mu[f.step[i]])
		precision[f.job[i]] += p
	}
	var mean, weight float64
	for j := range f.b {
		if precision[j] > 0 {
			f.bVar[j] = 1 / (precision[j] + f.v[j]/f.between)
			f.b[j] = sum[j] * f.bVar[j]
			mean, weight = mean+f.v[j]*f.b[j], weight+f.v[j]
		}
	}
	mean /= weight
	var squares, n float64
	for j := range f.b {
		if precision[j] > 0 {
			f.b[j] -= mean
			squares += f.v[j] * (f.b[j]*f.b[j] + f.bVar[j])
			n++
		}
	}
	f.between = max(squares/n, noSpread)
}

// standards moves each standard by n/(n + k) of its mean residual, and fits how far the standards are off together.
func (f *fit) standards() {
	sum, weight := f.sums()
	var squares float64
	for s := range f.mu {
		k := f.within[s] / f.prior
		f.mu[s] = sum[s] / (weight[s] + k)
		f.muVar[s] = f.within[s] / (weight[s] + k)
		squares += f.mu[s]*f.mu[s] + f.muVar[s]
	}
	f.prior = max(squares/float64(len(f.mu)), noSpread)
}

// sums are the weighted residuals of each step, paces taken off, and their weights.
func (f *fit) sums() (sum, weight []float64) {
	sum, weight = filled(len(f.mu), 0), filled(len(f.mu), 0)
	for i := range f.y {
		sum[f.step[i]] += f.w[i] * (f.y[i] - f.b[f.job[i]])
		weight[f.step[i]] += f.w[i]
	}
	return sum, weight
}

// spreads fits each step's variance within jobs; few observations lean on those of all steps.
func (f *fit) spreads() {
	squares, n := filled(len(f.mu), 0), filled(len(f.mu), 0)
	var all float64
	for i := range f.y {
		square := f.w[i] * f.square(i)
		squares[f.step[i]] += square
		n[f.step[i]]++
		all += square
	}
	all /= float64(len(f.y))
	for s := range f.within {
		f.within[s] = max((squares[s]+pooled*all)/(n[s]+pooled), noSpread)
	}
}

func (f *fit) model(jobs int) *Model {
	m := &Model{
		Jobs:    jobs,
		Steps:   make([]Step, len(f.codes)),
		Between: math.Sqrt(f.between) / normalScale,
		Prior:   math.Sqrt(f.prior),
		shifts:  f.shift,
	}
	sum, weight := f.sums()
	for s := range m.Steps {
		k := f.within[s] / f.prior
		m.Steps[s] = Step{Code: f.codes[s], Mean: sum[s] / weight[s], Weight: weight[s] / (weight[s] + k), Off: f.mu[s],
			Error: math.Sqrt(f.muVar[s]), Within: math.Sqrt(f.within[s]) / normalScale}
	}
	for i := range f.y {
		s := &m.Steps[f.step[i]]
		s.Count++
		if math.Abs(f.y[i]-f.mu[f.step[i]]-f.b[f.job[i]]) > wildFrom*s.Within {
			s.Wild++
		}
	}
	var share float64
	for s := range m.Steps {
		share += f.between / (f.between + f.within[s])
	}
	m.Share = share / float64(len(m.Steps))
	return m
}

// Deviation is that of a step's log ratio, of the job's pace and its own together.
func (m *Model) Deviation(s *Step) float64 { return math.Hypot(m.Between, s.Within) }

// Factor is by how much the expected minutes of a step are to be multiplied. Minutes are skewed: of a log-normal
// variable
// the mean lies above the median by half the variance,
//
//	exp(Off + (σ_b² + σ_step²)/2)
//
// Source: mean of the log-normal distribution.
func (m *Model) Factor(s *Step) float64 {
	d := m.Deviation(s)
	return math.Exp(s.Off + d*d/2) // mean of the log-normal distribution
}

// Relative is the deviation of a step's minutes as a share of their mean, √(exp(σ²) − 1). Source: as Factor.
func (m *Model) Relative(s *Step) float64 {
	d := m.Deviation(s)
	return math.Sqrt(math.Expm1(d * d)) // coefficient of variation of the log-normal distribution
}
