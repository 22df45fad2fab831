package estimate

import (
	"fmt"

	"seamwright/service/price"
)

// warnPrice says where discounts and extra lines leave less than the top costs.
func (w *work) warnPrice(p *price.Price) {
	if p.Adjusted == nil || !p.Margin.IsNegative() {
		return
	}
	w.warn("under_cost", Serious, "/pricing", fmt.Sprintf("With its discounts and extra lines the price of %s is under the cost of %s.",
		p.Net, p.Cost))
}
