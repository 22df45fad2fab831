package learning

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
)

// usual are the settings of the factors as they are without a shop's own.
var usual = &catalogue.Settings{HardnessShare: 50, FirstTimeFactor: 1.8, SeasonedFactor: 0.85}

// shop is one whose truth is known: by how much its standards are off, how jobs and steps spread.
type shop struct {
	*rand.Rand
	off     []float64 // log of true median over estimate
	between float64
	within  []float64
}

func newShop(seed uint64, steps int, common float64) *shop {
	s := &shop{Rand: rand.New(rand.NewPCG(seed, 7)), between: 0.2}
	for range steps {
		s.off = append(s.off, common+0.25*s.NormFloat64())
		s.within = append(s.within, 0.2+0.2*s.Float64())
	}
	return s
}

// jobs makes finished jobs; each has most of the steps.
func (s *shop) jobs(n int) []Job {
	list := make([]Job, n)
	for i := range list {
		pace := s.between * s.NormFloat64()
		for k := range s.off {
			if s.Float64() < 0.2 {
				continue
			}
			estimated := 20 + 100*s.Float64()
			list[i].Steps = append(
				list[i].Steps,
				Took{Code: fmt.Sprintf("step_%02d", k), Estimated: estimated, Deviation: estimated / 6,
					Minutes: estimated * math.Exp(s.off[k]+pace+s.within[k]*s.NormFloat64())},
			)
		}
	}
	return list
}

// Simulated shops with known truth, fixed seeds: the standards' errors come to light as jobs come in, also what all
// have in
// common; spreads and the common share do, too.
func TestProposalsConvergeToTheTruth(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		common := []float64{0, 0.4, -0.3}[seed%3]
		s := newShop(seed, 30, common)
		jobs := s.jobs(800)
		last := math.Inf(1)
		for _, n := range []int{20, 200, 800} {
			m := Learn(jobs[:n], usual)
			require.Len(t, m.Steps, 30)
			var squares float64
			for k := range m.Steps {
				squares += math.Pow(m.Steps[k].Off-s.off[k], 2)
			}
			off := math.Sqrt(squares / 30)
			require.Less(t, off, last, "%d jobs", n)
			// A step's mean has the error of its own spread and of the jobs' paces, which all steps share.
			require.Less(t, off, 2.5*math.Sqrt((0.09/0.8+0.04)/float64(n)), "%d jobs", n)
			last = off
		}
		m := Learn(jobs, usual)
		require.InDelta(t, s.between, m.Between, 0.03)
		var share float64
		for k, w := range s.within {
			require.InDelta(t, w, m.Steps[k].Within, 0.2*w)
			share += s.between * s.between / (s.between*s.between + w*w) / 30
		}
		require.InDelta(t, share, m.Share, 0.1)
	}
}

// A step's own spread is found whole, also where jobs have few steps, each of which has a part in the job's pace: over
// 40 shops to within 2 %.
func TestSpreadsOfFewStepsAreFoundWhole(t *testing.T) {
	t.Parallel()
	const shops, steps = 40, 8
	within, between := 0.0, 0.0
	for seed := range uint64(shops) {
		s := newShop(700+seed, steps, 0.1)
		m := Learn(s.jobs(240), usual)
		between += math.Log(m.Between/s.between) / shops
		for k, w := range s.within {
			within += math.Log(m.Steps[k].Within/w) / (shops * steps)
		}
	}
	require.InDelta(t, 0, within, 0.02)
	require.InDelta(t, 0, between, 0.04)
}

// After 200 jobs the range of the next ones holds what it says: over ten shops 80 ± 3 points stay under P80. A single
// shop's centre is only known to σ_b/√200, which by the normal density at P80 is 100·0.28·0.014/0.21 = 1.9 points
// of coverage: each
// stays within three of these.
func TestTheRangeHoldsWhatItSaysAfterTwoHundredJobs(t *testing.T) {
	t.Parallel()
	const shops = 10
	mean := 0.0
	for seed := range uint64(shops) {
		s := newShop(100+seed, 40, 0.2)
		m := Learn(s.jobs(200), usual)
		covered := Cover(s.jobs(4000), func(j *Job) Range { return m.Ahead(j.Steps) })
		t.Logf("P50 %.1f, P80 %.1f, P90 %.1f", covered[0].Share(), covered[1].Share(), covered[2].Share())
		require.InDelta(t, 80, covered[1].Share(), 3*1.9)
		mean += covered[1].Share() / shops
	}
	require.InDelta(t, 80, mean, 3)
}

// Five wild jobs of a hundred, ten times as long in all or in some steps, or mistyped, move no standard by more than 5
// %.
func TestFiveWildJobsMoveNoStandardByMuch(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		s := newShop(200+seed, 30, 0)
		jobs := s.jobs(100)
		before := Learn(jobs, usual)
		for name, spoil := range map[string]func(i int, t *Took){
			"all of it": func(_ int, t *Took) { t.Minutes *= 10 },
			"a third":   func(i int, t *Took) { t.Minutes *= map[bool]float64{true: 20, false: 1}[i%3 == 0] },
			"mistyped":  func(_ int, t *Took) { t.Minutes /= 60 },
		} {
			wild := s.jobs(5)
			for w := range wild {
				for i := range wild[w].Steps {
					spoil(i, &wild[w].Steps[i])
				}
			}
			after := Learn(append(jobs[:len(jobs):len(jobs)], wild...), usual)
			for k := range before.Steps {
				moved := math.Expm1(math.Abs(after.Steps[k].Off - before.Steps[k].Off))
				require.Less(t, moved, 0.05, "seed %d, %s, %s", seed, name, before.Steps[k].Code)
			}
		}
	}
}

// The scale of the t distribution that fits a standard normal variable best, by integration with the midpoint rule.
func TestTheScaleOfNormalResiduals(t *testing.T) {
	t.Parallel()
	const h = 1e-4
	sum := 0.0
	for r := -10 + h/2; r < 10; r += h {
		density := math.Exp(-r*r/2) / math.Sqrt(2*math.Pi)
		sum += h * density * (freedom + 1) * r * r / (freedom*normalScale*normalScale + r*r)
	}
	require.InDelta(t, 1, sum, 1e-9)
}

// What was taken of earlier jobs is not learned again: their estimates count as they would be made now, the ones of
// later jobs as they were made, and what jobs took stays.
func TestEstimatesOfBeforeAChangeCountAsThoseOfAfterIt(t *testing.T) {
	t.Parallel()
	spread := func(x float64) catalogue.Spread { return catalogue.Spread{Low: x, Likely: x, High: x} }
	none := catalogue.Spread{}
	changes := []Change{
		Changed("a", 5, spread(10), spread(20), spread(99), spread(30)), // the units count
		Changed("a", 8, none, spread(30), none, spread(15)),
		Changed("b", 8, spread(10), none, spread(12), none),
		Changed("c", 8, spread(10), none, none, spread(5)), // from once to each: nothing to compare
	}
	require.Equal(t, []Change{{"a", 5, 1.5}, {"a", 8, 0.5}, {"b", 8, 1.2}, {"c", 8, 1}}, changes)
	step := func(code string, estimated, deviation, minutes float64) Took {
		return Took{Code: code, Estimated: estimated, Deviation: deviation, Minutes: minutes}
	}
	job := Job{Reference: "x", Steps: []Took{step("a", 100, 10, 90), step("b", 50, 5, 60), step("c", 7, 1, 8), step("d", 7, 1, 8)}}
	before := slices.Clone(job.Steps)
	require.Equal(t, []Took{step("a", 75, 7.5, 90), step("b", 60, 6, 60), step("c", 7, 1, 8), step("d", 7, 1, 8)}, job.Since(4, changes).Steps)
	require.Equal(t, []Took{step("a", 50, 5, 90), step("b", 60, 6, 60), step("c", 7, 1, 8), step("d", 7, 1, 8)}, job.Since(5, changes).Steps)
	require.Equal(t, before, job.Since(8, changes).Steps)
	require.Equal(t, before, job.Steps)
}

// One step alone, by hand: with no spread between jobs to tell apart, a standard moves by n/(n + k) of its mean.
func TestAStandardMovesByItsEvidence(t *testing.T) {
	t.Parallel()
	s := newShop(3, 20, 0)
	for _, n := range []int{2, 5, 50} {
		for _, step := range Learn(s.jobs(n), usual).Steps {
			require.InDelta(t, step.Mean*step.Weight, step.Off, 0.02)
			require.Greater(t, step.Weight, 0.0)
			require.Less(t, step.Weight, 1.0)
			require.Less(t, math.Abs(step.Off), math.Abs(step.Mean)+1e-9)
		}
	}
	few, many := Learn(s.jobs(3), usual), Learn(s.jobs(300), usual)
	require.Less(t, few.Steps[0].Weight, many.Steps[0].Weight)
	require.Equal(t, &Model{}, Learn(nil, usual))
}

// What order jobs stand in changes nothing but noise, and the same jobs give the same model.
func TestTheSameJobsGiveTheSameModel(t *testing.T) {
	t.Parallel()
	s := newShop(9, 15, 0.1)
	jobs := s.jobs(60)
	again := Learn(jobs, usual)
	require.Equal(t, again, Learn(jobs, usual))
	turned := make([]Job, len(jobs))
	for i := range jobs {
		turned[len(jobs)-1-i] = jobs[i]
	}
	a, b := Learn(jobs, usual), Learn(turned, usual)
	for k := range a.Steps {
		require.InDelta(t, a.Steps[k].Off, b.Steps[k].Off, 1e-9)
	}
}

// Two steps of 60 ± 20 and 40 ± 10 minutes, half of it in common: σ² = 0.5·500 + 0.5·900 = 700. Against 200,000
// draws of a
// log-normal variable with these moments.
func TestARangeByHandAndAgainstDraws(t *testing.T) {
	t.Parallel()
	r := RangeOf([]float64{60, 40}, []float64{20, 10}, 0.5)
	s2 := math.Log(1 + 700.0/10000)
	require.InDelta(t, 100*math.Exp(-s2/2), r[0], 1e-9)
	draw := rand.New(rand.NewPCG(1, 2))
	var under [3]float64
	const draws = 200_000
	for range draws {
		x := 100 * math.Exp(math.Sqrt(s2)*draw.NormFloat64()-s2/2)
		for i := range under {
			if x <= r[i] {
				under[i] += 100.0 / draws
			}
		}
	}
	require.InDeltaSlice(t, []float64{50, 80, 90}, under[:], 0.5)
	require.Equal(t, Range{}, RangeOf(nil, nil, 0.4))
}

// BenchmarkLearn is 5,000 jobs of 40 steps, in several woods and by several makers.
func BenchmarkLearn(b *testing.B) {
	s := newShop(1, 50, 0.1)
	jobs := s.varied(5000, usual)
	b.ReportAllocs()
	for b.Loop() {
		require.Equal(b, 5000, Learn(jobs, usual).Jobs)
	}
}
