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

// instance is a row of cutting_optima.json or purchase_optima.json, in millimetres and money.
type instance struct {
	Name    string  `json:"name"`
	Strips  int     `json:"strips_per_board"`
	Kerf    float64 `json:"kerf"`
	Demands []struct {
		Length float64 `json:"length"`
		Count  int     `json:"count"`
	} `json:"demands"`
	Stocks []struct {
		Length  float64 `json:"length"`
		Cost    float64 `json:"cost"`
		Content float64 `json:"content"`
	} `json:"stocks"`
	Content float64 `json:"content"`
	Optimum float64 `json:"optimum"`
}

func (i *instance) problem() cutting.Problem {
	p := cutting.Problem{StripsPerBoard: i.Strips, Kerf: measure.Length(i.Kerf), Content: i.Content}
	for _, d := range i.Demands {
		p.Demands = append(p.Demands, cutting.Demand{Length: measure.Length(d.Length), Count: d.Count})
	}
	for _, s := range i.Stocks {
		p.Stocks = append(p.Stocks, cutting.Stock{Length: measure.Length(s.Length), Cost: s.Cost, Content: s.Content})
	}
	return p
}

// readOptima reads instances with the optima of an independent exact solver; the file says which, and the model.
func readOptima(t *testing.T, name string, least int) []instance {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(published, name))
	require.NoError(t, err)
	var file struct {
		Source    string     `json:"source"`
		Instances []instance `json:"instances"`
	}
	require.NoError(t, json.Unmarshal(text, &file))
	require.GreaterOrEqual(t, len(file.Instances), least)
	return file.Instances
}

func TestPlansCostWhatAnExactSolverFound(t *testing.T) {
	t.Parallel()
	for _, i := range readOptima(t, "cutting_optima.json", 30) {
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

// Purchases that hold the pieces and reach a content, by the board foot and at other prices.
func TestPurchasesCostWhatAnExactSolverFound(t *testing.T) {
	t.Parallel()
	for _, i := range readOptima(t, "purchase_optima.json", 60) {
		p := i.problem()
		plan, err := cutting.Solve(p, 0)
		require.NoError(t, err)
		requireFeasible(t, p, plan)
		requireBetween(t, &i, plan)
		require.True(t, plan.Optimal, i.Name)
	}
}

// requireBetween holds a plan, proved or not, against the optimum: it costs the optimum when it is proved, and the
// optimum lies between its bound and its cost when it is not.
func requireBetween(t *testing.T, i *instance, plan cutting.Plan) {
	t.Helper()
	require.LessOrEqual(t, plan.LowerBound, i.Optimum+0.001, i.Name)
	require.GreaterOrEqual(t, plan.Cost, i.Optimum-0.001, i.Name)
	if plan.Optimal {
		require.InDelta(t, i.Optimum, plan.Cost, 0.001, i.Name)
	}
}

// The bound of a plan that was given up early comes from boxes of purchases with limits on the boards, and from linear
// programs that were not finished: none may lie above the optimum.
func TestTheBoundOfAnUnprovedPlanIsNeverAboveTheOptimum(t *testing.T) {
	t.Parallel()
	unproved := 0
	for _, name := range []string{"cutting_optima.json", "purchase_optima.json"} {
		for _, i := range readOptima(t, name, 30) {
			p := i.problem()
			for budget := 1; budget < 3000; budget = budget*3/2 + 1 {
				plan, err := cutting.Solve(p, budget)
				require.NoError(t, err)
				requireFeasible(t, p, plan)
				requireBetween(t, &i, plan)
				if !plan.Optimal {
					unproved++
				}
			}
		}
	}
	require.Greater(t, unproved, 100)
}
