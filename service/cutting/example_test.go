package cutting_test

import (
	"fmt"

	"seamwright/service/cutting"
)

// V. Chvátal, Linear Programming (1983), ch. 13 (lengths and demand read in teaching texts, not in the book): rolls of
// 100 in are cut to 45, 36, 31 and 14 in. No plan takes fewer than 453: the dual prices 1/2, 1/2, 1/4 and 0 fit every
// pattern and give 452.25.
func ExampleSolve_rolls() {
	plan, err := cutting.Solve(cutting.Problem{
		Demands: []cutting.Demand{{Length: 45, Count: 97}, {Length: 36, Count: 610}, {Length: 31, Count: 395},
			{Length: 14, Count: 211}},
		Stocks:         []cutting.Stock{{Length: 100, Cost: 1}},
		StripsPerBoard: 1,
	}, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.Cost, plan.Optimal)
	// Output: 453 true
}
