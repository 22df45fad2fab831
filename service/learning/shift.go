package learning

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
	"seamwright/service/measure"
)

// The shifts: what a job's wood and maker do to its steps beside the factors of the estimate.
const (
	byHardness = iota // of the share of the wood's hardness, 1 for 100 percent
	byFirst           // of the logarithm of a first-timer's factor
	bySeasoned        // of a seasoned maker's
	shifts
)

// shift is by how much one factor is off.
type shift struct {
	jobs  int     // on the smaller side: of another wood than the most usual, of that experience or of others
	off   float64 // with what was thought before
	error float64 // standard error of it without that; 0: the jobs do not tell
	alone float64 // off, without what was thought before
}

// priorShift is the deviation of a shop's share of hardness, and of the logarithms of its makers' factors, from the
// settings. Common practice.
const priorShift = 0.3

// moves fills in how each observation moves with each factor, to the first order, and takes the step's mean off: what
// all jobs have in common is the standards'.
func (f *fit) moves(jobs []Job, s *catalogue.Settings) {
	for k := range f.x {
		f.x[k] = make([]float64, 0, len(f.raw))
	}
	for i := range jobs {
		for _, t := range jobs[i].Steps {
			f.x[byHardness] = append(f.x[byHardness], t.byShare(s.HardnessShare))
			f.x[byFirst] = append(f.x[byFirst], is(t.Experience, "first_time"))
			f.x[bySeasoned] = append(f.x[bySeasoned], is(t.Experience, "seasoned"))
		}
	}
	f.count(jobs)
	for k := range f.x {
		if f.shift[k].jobs == 0 { // nothing beside which it could be seen
			clear(f.x[k])
			continue
		}
		sum, n := filled(len(f.codes), 0), filled(len(f.codes), 0)
		for i, x := range f.x[k] {
			sum[f.step[i]] += x
			n[f.step[i]]++
		}
		for i := range f.x[k] {
			f.x[k][i] -= sum[f.step[i]] / n[f.step[i]]
		}
	}
}

func is(a, b string) float64 {
	if a == b {
		return 1
	}
	return 0
}

// byShare is the derivative of the logarithm of the estimate by the share of the wood's hardness, at a share in percent;
// 0 where the factor lies at one of its bounds.
func (t *Took) byShare(share float64) float64 {
	h := measure.Force(t.Hardness)
	factor := labour.HardnessFactor(h, share)
	more := labour.HardnessFactor(h, share+1)
	return 100 * t.Running * (more - factor) / factor
}

// count counts the jobs on the smaller side of each factor.
func (f *fit) count(jobs []Job) {
	woods, told := map[float64]int{}, 0
	of := [shifts]int{}
	known := 0
	for i := range jobs {
		hardness, experience := 0.0, ""
		for _, t := range jobs[i].Steps {
			hardness, experience = max(hardness, t.Hardness), max(experience, t.Experience)
		}
		if hardness > 0 {
			woods[hardness]++
			told++
		}
		switch experience {
		case "first_time":
			of[byFirst]++
		case "seasoned":
			of[bySeasoned]++
		case "":
			continue
		}
		known++
	}
	most := 0
	for _, n := range woods {
		most = max(most, n)
	}
	f.shift[byHardness].jobs = told - most
	for _, k := range [...]int{byFirst, bySeasoned} {
		f.shift[k].jobs = min(of[k], known-of[k])
	}
}

// shiftAll fits the factors with the jobs' paces left open, by weighted least squares (C. R. Henderson, Estimation of
// Variance and Covariance Components, Biometrics 9 (1953), remembered: a random effect is integrated out by taking its
// part off the normal equations):
//
//	A = Σ_job (Xᵀ·P·X − (Xᵀ·P·1)(1ᵀ·P·X)/(1ᵀ·P·1 + v/σ_b²)),  β = (A + Λ)⁻¹·g
//
// P has the precisions of the observations, Λ what was thought before. Of residuals with Student's t distribution the
// information is (ν + 1)/(ν + 3) of that (Lange, Little and Taylor, 1989).
func (f *fit) shiftAll() {
	if f.shift[byHardness].jobs+f.shift[byFirst].jobs+f.shift[bySeasoned].jobs == 0 {
		return
	}
	a, g := f.normal()
	lambda := 1 / (priorShift * priorShift)
	for k := range a {
		a[k][k] += lambda
	}
	inverse := invert(a)
	for k := range f.shift {
		s := &f.shift[k]
		s.off, s.error, s.alone = 0, 0, 0
		for l := range g {
			s.off += inverse[k][l] * g[l]
		}
		if told := 1/inverse[k][k] - lambda; told > 1e-9*lambda { // what the jobs say of it, the others left open
			s.alone = s.off * (told + lambda) / told
			s.error = math.Sqrt((freedom + 3) / (freedom + 1) / told)
		}
	}
	for i := range f.y {
		f.y[i] = f.raw[i]
		for k := range f.shift {
			f.y[i] -= f.shift[k].off * f.x[k][i]
		}
	}
}

// normal are the normal equations of the factors.
func (f *fit) normal() (a [shifts][shifts]float64, g [shifts]float64) {
	jobs := len(f.b)
	sum, rest := filled(jobs, 0), filled(jobs, 0)
	var xs [shifts][]float64
	for k := range xs {
		xs[k] = filled(jobs, 0)
	}
	for i, j := range f.job {
		p := f.w[i] / f.within[f.step[i]]
		r := f.raw[i] - f.mu[f.step[i]]
		sum[j] += p
		rest[j] += p * r
		for k := range xs {
			px := p * f.x[k][i]
			xs[k][j] += px
			g[k] += px * r
			for l := range xs {
				a[k][l] += px * f.x[l][i]
			}
		}
	}
	for j := range jobs {
		open := sum[j] + f.v[j]/f.between
		for k := range xs {
			g[k] -= xs[k][j] * rest[j] / open
			for l := range xs {
				a[k][l] -= xs[k][j] * xs[l][j] / open
			}
		}
	}
	return a, g
}

// invert inverts a symmetric positive definite matrix by Gauss and Jordan; with what was thought before on its diagonal
// it always is one.
func invert(a [shifts][shifts]float64) (b [shifts][shifts]float64) {
	for k := range b {
		b[k][k] = 1
	}
	for k := range a {
		pivot := a[k][k]
		for l := range a {
			a[k][l] /= pivot
			b[k][l] /= pivot
		}
		for r := range a {
			if r == k {
				continue
			}
			m := a[r][k]
			for l := range a {
				a[r][l] -= m * a[k][l]
				b[r][l] -= m * b[k][l]
			}
		}
	}
	return b
}
