package labour

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
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
	for file, least := range map[string]int{"pert_porta_vac.csv": 10, "pert_reliable.csv": 14} {
		for _, a := range activities(t, file, least) {
			require.InDelta(t, Expected(a.times), a.mean, 1e-12, "%s %s", file, a.code)
			if a.variance != "" {
				require.Equal(t, a.variance, strconv.FormatFloat(Variance(a.times), 'f', 2, 64))
			}
		}
	}
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

func TestTheCostsDeviationIsThatOfIndependentSteps(t *testing.T) {
	t.Parallel()
	p := make1(t, desk(), shop(t,
		catalogue.LabourStandard{Code: "one", Setup: catalogue.Spread{Low: 30, Likely: 60, High: 120}},         // σ 15 min at 48 an hour: 12
		catalogue.LabourStandard{Code: "two", Crew: 2, Setup: catalogue.Spread{Low: 30, Likely: 30, High: 60}}, // σ 5 min of two: 8
	))
	require.InDelta(t, math.Sqrt(12*12+8*8), p.CostDeviation, 1e-9)
}
