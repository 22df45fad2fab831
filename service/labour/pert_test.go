package labour

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"seamwright/service/catalogue"
	"seamwright/service/publishedtest"
)

type activity struct {
	code     string
	times    catalogue.Spread // weeks
	mean     float64
	variance string // as printed; empty: not printed
	after    []string
}

// activities reads a published project. The source stands in the head of the file.
func activities(t *testing.T, file string, least int) []activity {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + file)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"activity", "low", "likely", "high", "mean", "variance", "after"}, rows[0])
	var out []activity
	for _, row := range rows[1:] {
		var n [4]float64
		for i := range n {
			n[i], err = strconv.ParseFloat(row[i+1], 64)
			require.NoError(t, err)
		}
		out = append(out, activity{
			code: row[0], times: catalogue.Spread{Low: n[0], Likely: n[1], High: n[2]}, mean: n[3], variance: row[5],
			after: strings.Fields(row[6]),
		})
	}
	require.GreaterOrEqual(t, len(out), least)
	return out
}

// Anderson, Sweeney, Williams and others, An Introduction to Management Science (2014), ch. 9, Table 9.4 and
// eqs. 9.4-9.5 (Porta-Vac: times read, means from memory but for activity A); Hillier, Lieberman, Introduction to
// Operations Research (Reliable Construction Co.: all from memory).
func TestExpectedTimesArePublishedMeans(t *testing.T) {
	t.Parallel()
	read := 0
	for file, least := range map[string]int{"pert_porta_vac.csv": 10, "pert_reliable.csv": 14} {
		for _, a := range activities(t, file, least) {
			require.InDelta(t, Expected(a.times), a.mean, 1e-12, "%s %s", file, a.code)
			if a.variance != "" {
				require.Equal(t, a.variance, strconv.FormatFloat(Variance(a.times), 'f', 2, 64))
				read += 2 // where the variance is printed, the mean was read too
			}
		}
	}
	publishedtest.Compared(t, "pert_porta_vac.csv", read)
}

// The same projects run through Make, a week of them as an hour of ours. The critical paths and their variances
// are from memory of the same books; the networks too.
func TestCriticalPathsOfPublishedProjects(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file     string
		path     string
		weeks    float64
		variance float64
		half     float64 // of the last digit printed
		total    float64
	}{
		{"pert_porta_vac.csv", "A E H I J", 17, 2.72, 0.005, 32},
		{"pert_reliable.csv", "A B C E F J L N", 44, 9, 1e-9, 79},
	} {
		var standards []catalogue.LabourStandard
		for _, a := range activities(t, c.file, 10) {
			standards = append(standards, catalogue.LabourStandard{Code: a.code, After: a.after, Setup: catalogue.Spread{
				Low: a.times.Low * 60, Likely: a.times.Likely * 60, High: a.times.High * 60,
			}})
		}
		p := make1(t, desk(), shop(t, standards...))
		var path []string
		variance := 0.0
		for _, s := range p.Steps {
			if s.Critical {
				path = append(path, s.Code)
				variance += s.Variance / 3600
			}
		}
		require.Equal(t, c.path, strings.Join(path, " "), c.file)
		require.InDelta(t, c.weeks, p.CriticalPathHours, 1e-12, c.file)
		require.InDelta(t, c.variance, variance, c.half, c.file)
		require.InDelta(t, c.total, p.Hours, 1e-12, c.file)
	}
}

// The common share of the steps' spread: none, all, and between.
func TestTheCostsDeviationHasTheCommonShare(t *testing.T) {
	t.Parallel()
	for share, want := range map[float64]float64{0: math.Sqrt(12*12 + 8*8), 1: 12 + 8,
		0.4: math.Sqrt(0.6*(12*12+8*8) + 0.4*20*20)} {
		cat := shop(t,
			// σ 15 min at 48 an hour: 12
			catalogue.LabourStandard{Code: "one", Setup: catalogue.Spread{Low: 30, Likely: 60, High: 120}},
			// σ 5 min of two: 8
			catalogue.LabourStandard{Code: "two", Crew: 2, Setup: catalogue.Spread{Low: 30, Likely: 30, High: 60}},
		)
		cat.Settings.CommonShare = share
		require.InDelta(t, want, make1(t, desk(), cat).CostDeviation, 1e-9)
	}
}

// Where slabs are lifted at least as many come as the heaviest piece needs; cost and hours follow, the time on the
// clock does not.
func TestCrewsCanLift(t *testing.T) {
	t.Parallel()
	cat := shop(t, catalogue.LabourStandard{Code: "carry", Crew: 2, Lifts: true, Setup: exactly(60)},
		catalogue.LabourStandard{Code: "sand", Setup: exactly(60)})
	for heaviest, want := range map[int]struct {
		crew  int
		hours float64
		cost  string
	}{0: {2, 3, "144.00"}, 1: {2, 3, "144.00"}, 5: {5, 6, "288.00"}} {
		job := desk()
		job.Heaviest = heaviest
		p := make1(t, job, cat)
		require.Equal(t, want.crew, p.Steps[0].Crew)
		require.Equal(t, 1, p.Steps[1].Crew)
		require.InDelta(t, want.hours, p.Hours, 1e-9)
		require.Equal(t, want.cost, p.Cost.String())
		require.InDelta(t, 2, p.CriticalPathHours, 2)
	}
}

// What the customer does himself is not in the plan, whoever it was meant for.
func TestStepsThatTheCustomerDoesAreLeftOut(t *testing.T) {
	t.Parallel()
	cat := shop(t, takes("saw", 10), catalogue.LabourStandard{Code: "drive", Setup: exactly(5),
		Gives: catalogue.Delivering},
		catalogue.LabourStandard{Code: "join", Setup: exactly(5), Gives: catalogue.Joining},
		catalogue.LabourStandard{Code: "fit", Setup: exactly(5), Gives: catalogue.Fitting, After: []string{"join"}})
	job := desk()
	require.Equal(t, []string{"saw", "drive", "join", "fit"}, codes(make1(t, job, cat)))
	job.Assembled = true
	require.Equal(t, []string{"saw", "drive"}, codes(make1(t, job, cat)))
}

// The skewness of a step is that of the beta distribution with PERT's mean and deviation, by a library's moments of it.
func TestSkewnessIsThatOfPERTsBeta(t *testing.T) {
	t.Parallel()
	for _, m := range []Minutes{{Low: 0, Likely: 25, High: 100}, {Low: 10, Likely: 60, High: 100},
		{Low: 5, Likely: 5, High: 20}, {Low: 3, Likely: 9, High: 9}, {Low: 1, Likely: 2, High: 3}} {
		b := pertBeta(&m)
		require.InDelta(t, Expected(catalogue.Spread{Low: m.Low, Likely: m.Likely, High: m.High}),
			m.Low+(m.High-m.Low)*b.Mean(), 1e-9)
		require.InDelta(t, (m.High-m.Low)/6, (m.High-m.Low)*b.StdDev(), 1e-9)
		require.InDelta(t, b.Skewness(), skewness(&m), 1e-9)
	}
	require.Zero(t, skewness(&Minutes{Low: 4, Likely: 4, High: 4}))
}

// pertBeta is the beta distribution on 0 to 1 with PERT's mean and PERT's deviation of a sixth.
func pertBeta(m *Minutes) skewedBeta {
	mean := (Expected(catalogue.Spread{Low: m.Low, Likely: m.Likely, High: m.High}) - m.Low) / (m.High - m.Low)
	n := mean*(1-mean)*36 - 1
	return skewedBeta{distuv.Beta{Alpha: mean * n, Beta: (1 - mean) * n}}
}

// skewedBeta adds what the library has not: the skewness of a beta distribution, 2(β − α)√(α + β + 1) / ((α + β +
// 2)√(αβ)).
//
// Source: N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions 2 (1995), chapter 25 (from
// memory).
type skewedBeta struct{ distuv.Beta }

func (b skewedBeta) Skewness() float64 {
	return 2 * (b.Beta.Beta - b.Alpha) * math.Sqrt(b.Alpha+b.Beta.Beta+
		1) / ((b.Alpha + b.Beta.Beta + 2) * math.Sqrt(b.Alpha*b.Beta.Beta))
}

// Worked by hand: two steps of deviation 1 and skewness 1 that share half their spread. Σσ = 2, so each counts (½·1 +
// ½·2)² = 2.25 times.
func TestTheCostsThirdMomentHasTheCommonShare(t *testing.T) {
	t.Parallel()
	for share, want := range map[float64]float64{0: 2, 0.5: 4.5, 1: 8} {
		s := spread{share: share, parts: []part{{1, 1}, {1, 1}}}
		_, third := s.moments()
		require.InDelta(t, want, third, 1e-12, "share %g", share)
	}
}
