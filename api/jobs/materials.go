package jobs

import (
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/learning"
	"seamwright/service/money"
	"seamwright/service/takeoff"
	"seamwright/store/jobs"
)

// woodOf is the wood of the jobs that tell of their boards' yield: what they used of lumber, where the yield decided
// what was to be bought. Where the lengths of the boards did, what is left over is no matter of the wood.
func woodOf(reports []jobs.Report, cat *catalogue.Snapshot) []learning.Wood {
	var list []learning.Wood
	for i := range reports {
		var w learning.Wood
		for _, m := range reports[i].Materials {
			material := cat.MaterialByCode(m.Item)
			used := decimal(m.Used)
			if !m.ByYield || used <= 0 || material == nil || material.Lumber == nil {
				continue
			}
			w.Expected += takeoff.ByLeastYield(m.Net, material.Lumber)
			w.Used += takeoff.BoardFeetIn(used, material.Unit)
		}
		if w.Expected > 0 {
			list = append(list, w)
		}
	}
	return list
}

// paidIn is what the jobs paid for items, beside what these would have cost by the price of the estimate. What was
// bought is what the estimate bought, unless the report says otherwise.
func paidIn(reports []jobs.Report) []learning.Paid {
	var list []learning.Paid
	for i := range reports {
		for _, m := range reports[i].Materials {
			bought := decimal(m.Bought)
			if bought == 0 {
				bought = decimal(m.Buy)
			}
			price, err := money.ParseUnitPrice(m.Price)
			if err != nil {
				continue // of an item that the estimate's bill does not have in one line
			}
			p := learning.Paid{Job: i, Item: m.Item, Size: m.Pack, Supplier: m.Supplier, ValidFrom: m.ValidFrom,
				Price: price, ReallyPaid: decimal(m.Paid)}
			if pack := decimal(m.Pack); pack > 0 {
				p.ByPrice = bought / pack * price.Float()
			}
			if p.ByPrice > 0 && p.ReallyPaid > 0 {
				list = append(list, p)
			}
		}
	}
	return list
}

// decimal is a kept decimal, which was checked when it came, as a number; 0 where none was told.
func decimal(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0
	}
	return x
}
