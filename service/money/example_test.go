package money_test

import (
	"fmt"

	"seamwright/service/money"
)

// of reads an amount and a rate as they are printed.
func of(amount, rate string) (money.Amount, money.Rate) {
	a, err := money.ParseAmount(amount)
	if err != nil {
		fmt.Println(err)
	}
	r, err := money.ParseRate(rate)
	if err != nil {
		fmt.Println(err)
	}
	return a, r
}

// "Mark up percentage", small-business column, The Arizona Republic: what costs 10.00 sells at 12.50 with a mark-up of 25 %.
func ExampleAmount_MarkedUp() {
	cost, rate := of("10.00", "25")
	fmt.Println(cost.MarkedUp(rate))
	// Output: 12.50
}

// The same column: a mark-up of 200 % on a wholesale price of 10.00 makes 30.00.
func ExampleAmount_MarkedUp_twoHundred() {
	cost, rate := of("10.00", "200")
	fmt.Println(cost.MarkedUp(rate))
	// Output: 30.00
}

// The same column: for a margin of 20 % what costs 10.00 must sell at 12.50.
func ExampleAmount_AtMargin() {
	cost, rate := of("10.00", "20")
	fmt.Println(cost.AtMargin(rate))
	// Output: 12.50 <nil>
}

// The same column: a mark-up of 25 % is a margin of 20 %, one of 300 % a margin of 75 %. So the price by either is the same.
func ExampleAmount_AtMargin_ofMarkup() {
	for _, pair := range [][2]string{{"25", "20"}, {"300", "75"}} {
		cost, markup := of("10.00", pair[0])
		_, margin := of("10.00", pair[1])
		price, err := cost.AtMargin(margin)
		fmt.Println(cost.MarkedUp(markup), price, err)
	}
	// Output:
	// 12.50 12.50 <nil>
	// 40.00 40.00 <nil>
}
