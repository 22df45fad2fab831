package estimate

import "seamwright/service/catalogue"

// Make works out a whole estimate. Faults carry pointers into the request; all that are found in one stage come at once.
func Make(order Order, cat *catalogue.Snapshot) (*Estimate, error) {
	w, err := resolve(order, cat)
	if err != nil {
		return nil, err
	}
	chosen, err := w.chooseCorners()
	if err != nil {
		return nil, err
	}
	return w.assemble(chosen)
}

// Compare works out the corners alone: every candidate with its findings, hardware and cost.
func Compare(order Order, cat *catalogue.Snapshot) (*Comparison, error) {
	w, err := resolve(order, cat)
	if err != nil {
		return nil, err
	}
	chosen, err := w.chooseCorners()
	if err != nil {
		return nil, err
	}
	w.assumeLines(chosen.options)
	w.warnCorners(chosen)
	return &Comparison{Units: order.Units, Currency: w.set.Currency, Revision: cat.Revision, PricedAsOf: order.Pricing.AsOf,
		Assumptions: w.assumptions, Corners: chosen.corners, Warnings: w.warnings, Cautions: w.cautions(0),
		Sources: w.sources(), Workings: w.workings, Conditioning: &w.conditioning}, nil
}
