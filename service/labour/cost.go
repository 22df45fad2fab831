package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// Cost returns the cost and the people's hours of the plan that Make would make, without steps and days: for
// comparing candidates. Both are exactly Make's. It does not look at the order of the standards.
func Cost(job Job, cat *catalogue.Snapshot) (cost money.Amount, hours float64, err error) {
	f, err := newFactors(&job)
	if err != nil {
		return cost, 0, err
	}
	var persons int64
	var e effort
	for i := range cat.LabourStandards {
		needed, err := e.reckon(&job, &cat.LabourStandards[i], &f, cat)
		if err != nil {
			return money.Zero, 0, err
		}
		if needed {
			cost = cost.Plus(e.amount)
			persons += e.persons()
		}
	}
	return cost, inHours(persons), nil
}

// inHours turns hundredths of a minute into hours.
func inHours(hundredths int64) float64 { return float64(hundredths) / 6000 }
