package labour_test

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
)

// D. R. Anderson, D. J. Sweeney, T. A. Williams and others, An Introduction to Management Science (2014), ch. 9, Table
// 9.4 and eqs. 9.4-9.5: activity A of the Porta-Vac project takes 4, 5 or 12 weeks: 6 are expected.
func ExampleExpected() {
	fmt.Printf("%.0f weeks\n", labour.Expected(catalogue.Spread{Low: 4, Likely: 5, High: 12}))
	// Output: 6 weeks
}

// The same activity: its variance is 1.78.
func ExampleVariance() {
	fmt.Printf("%.2f\n", labour.Variance(catalogue.Spread{Low: 4, Likely: 5, High: 12}))
	// Output: 1.78
}
