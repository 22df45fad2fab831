package cutting_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/cutting"
)

// What each solver spends, finds and proves is written down, so that a change by which a search takes longer, proves less or
// buys other boards at the same cost is seen by whoever makes it. That what it finds is right the other tests hold. Steps
// are counted, so that the machine's load does not matter; where a compiler fuses multiplications with additions the
// linear programs may take other ways, so that it is written down for amd64 alone.
func TestSearchesTakeWhatIsWrittenDown(t *testing.T) {
	t.Parallel()
	var said strings.Builder
	search := func(name string, p cutting.Problem, budgets ...int64) {
		for _, budget := range budgets {
			small, large, err := cutting.Searches(&p, budget)
			require.NoError(t, err)
			var both cutting.Purchase
			require.NoError(t, new(cutting.Yard).Buy(&p, int(budget/1000), &both))
			fmt.Fprintf(&said, "%s, %d: small %v %d %d %v, large %v %d %d %d %v, both %v %d %v\n", name, budget, small.Done, small.Spent,
				small.Cost, small.Boards, large.Done, large.Spent, large.Cost, large.Bound, large.Boards, both.Optimal, both.Spent,
				both.Boards)
		}
	}
	for _, name := range []string{"cutting_optima.json", "purchase_optima.json"} {
		for _, i := range readOptima(t, name, 30) {
			search(i.Name, i.problem(), 20_000, 1_000_000)
		}
	}
	for _, f := range families {
		search(f.name, f.problem(20, 5), 100_000, 2_000_000)
		search(f.name+", forty", f.problem(40, 1), 4_000_000)
		search(f.name+", sixty", f.problem(60, 2), 10_000_000)
	}
	for _, c := range [][3]int{{1, 7, 1}, {1, 120, 1}, {1, 121, 1}, {2, 7, 2}, {3, 7, 4}, {3, 7, 5}, {4, 7, 2}, {6, 3, 1}, {7, 3, 1}} {
		search(fmt.Sprint("shop ", c), shop(c[0], c[1], c[2]), 20_000, 1_000_000)
	}
	file := filepath.Join("testdata", "effort.txt")
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(said.String()), 0o600))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, strings.Split(string(want), "\n"), strings.Split(said.String(), "\n"),
		"run UPDATE_GOLDEN=1 go test ./service/cutting and look at the difference")
}
