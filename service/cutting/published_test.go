package cutting_test

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/cutting"
	"seamwright/service/measure"
)

const published = "../../testdata/published"

// The rolls of V. Chvátal's chapter 13 and the 5600 mm paper rolls; the head of the file says what was read
// and why the optima are certain.
func TestPublishedInstancesReachTheirProvenOptimum(t *testing.T) {
	t.Parallel()
	problems, optima := readRolls(t)
	require.Len(t, problems, 2)
	for name, p := range problems {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			plan, err := cutting.Solve(*p, 0)
			require.NoError(t, err)
			requireFeasible(t, *p, plan)
			require.InDelta(t, optima[name], plan.Cost, 1e-9)
			require.True(t, plan.Optimal)
		})
	}
}

func readRolls(t *testing.T) (map[string]*cutting.Problem, map[string]float64) {
	t.Helper()
	f, err := os.Open(filepath.Join(published, "cutting_published.csv"))
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	problems, optima := map[string]*cutting.Problem{}, map[string]float64{}
	for _, row := range rows[1:] {
		var n [4]int
		for i := range n {
			n[i], err = strconv.Atoi(row[i+1])
			require.NoError(t, err)
		}
		p := problems[row[0]]
		if p == nil {
			p = &cutting.Problem{StripsPerBoard: 1, Stocks: []cutting.Stock{{Length: measure.Length(n[0]), Cost: 1}}}
			problems[row[0]], optima[row[0]] = p, float64(n[1])
		}
		p.Demands = append(p.Demands, cutting.Demand{Length: measure.Length(n[2]), Count: n[3]})
	}
	return problems, optima
}

// instance is a row of cutting_optima.json, in millimetres and money.
type instance struct {
	Name    string  `json:"name"`
	Strips  int     `json:"strips_per_board"`
	Kerf    float64 `json:"kerf"`
	Demands []struct {
		Length float64 `json:"length"`
		Count  int     `json:"count"`
	} `json:"demands"`
	Stocks []struct {
		Length float64 `json:"length"`
		Cost   float64 `json:"cost"`
	} `json:"stocks"`
	Optimum float64 `json:"optimum"`
}

func (i *instance) problem() cutting.Problem {
	p := cutting.Problem{StripsPerBoard: i.Strips, Kerf: measure.Length(i.Kerf)}
	for _, d := range i.Demands {
		p.Demands = append(p.Demands, cutting.Demand{Length: measure.Length(d.Length), Count: d.Count})
	}
	for _, s := range i.Stocks {
		p.Stocks = append(p.Stocks, cutting.Stock{Length: measure.Length(s.Length), Cost: s.Cost})
	}
	return p
}

// The optima are those of an independent exact solver; the file says which, and the model.
func TestPlansCostWhatAnExactSolverFound(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(published, "cutting_optima.json"))
	require.NoError(t, err)
	var file struct {
		Source    string     `json:"source"`
		Instances []instance `json:"instances"`
	}
	require.NoError(t, json.Unmarshal(text, &file))
	require.GreaterOrEqual(t, len(file.Instances), 30)
	for _, i := range file.Instances {
		t.Run(i.Name, func(t *testing.T) {
			t.Parallel()
			p := i.problem()
			plan, err := cutting.Solve(p, 0)
			require.NoError(t, err)
			requireFeasible(t, p, plan)
			require.InDelta(t, i.Optimum, plan.Cost, 0.001)
			require.True(t, plan.Optimal)
		})
	}
}
