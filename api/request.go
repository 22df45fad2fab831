package api

import (
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
)

var estimateForm = formOf("EstimateRequest")

// ParseEstimateRequest reads the body of a request for an estimate, with every check that the service makes. The
// day in now (UTC) is the day of the prices when the request names none; MakeEstimate takes the shop's instead. It
// fails with faults that say everything that is wrong.
func ParseEstimateRequest(raw []byte, now time.Time) (estimate.Order, error) {
	order, err := bind(raw, estimateForm, readOrder)
	if err != nil {
		return estimate.Order{}, err
	}
	takeDay(&order, now.UTC())
	return order, nil
}

// takeDay puts in today when an order names no day for its prices, and says so.
func takeDay(order *estimate.Order, now time.Time) []estimate.Assumption {
	if order.Pricing.AsOf != "" {
		return nil
	}
	order.Pricing.AsOf = today(now)
	return []estimate.Assumption{{Pointer: "/pricing/as_of", Value: string(order.Pricing.AsOf), Why: "The request names no day, so the prices are today's (" + now.Location().String() + ")."}}
}

// MakeEstimate reads the body of a request and works out the estimate, as POST /v1/estimates does. A request that names
// no day is priced as of the day that now is in the shop's time zone.
func MakeEstimate(raw []byte, cat *catalogue.Snapshot, now time.Time, explain bool) (*estimate.Estimate, error) {
	now, err := inShop(now, cat)
	if err != nil {
		return nil, err
	}
	order, err := bind(raw, estimateForm, readOrder)
	if err != nil {
		return nil, err
	}
	order.Explain = explain
	return makeEstimate(order, cat, now)
}

// makeEstimate works out an order that was read; now has the shop's zone. Without a day it is priced as of today.
func makeEstimate(order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Estimate, error) {
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	defer giveBack(maker)
	est, err := maker.Make(order)
	if err != nil {
		return nil, err
	}
	est.Assumptions = append(est.Assumptions, assumed...)
	return est, nil
}

// compareJoints works out every joint of an order, priced like an estimate.
func compareJoints(order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Comparison, error) {
	now, err := inShop(now, cat)
	if err != nil {
		return nil, err
	}
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	defer giveBack(maker)
	comparison, err := maker.Compare(order)
	if err != nil {
		return nil, err
	}
	comparison.Assumptions = append(comparison.Assumptions, assumed...)
	return comparison, nil
}
