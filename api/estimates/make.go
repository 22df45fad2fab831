package estimates

import (
	"context"
	"fmt"
	"time"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
)

var form = wire.FormOf("EstimateRequest")

// OrderIn reads the body of a request for an estimate.
func OrderIn(raw []byte) (estimate.Order, error) { return wire.Bind(raw, form, ReadOrder) }

// Parse reads the body of a request for an estimate, with every check that the service makes. The
// day in now (UTC) is the day of the prices when the request names none; MakeEstimate takes the shop's instead. It
// fails with faults that say everything that is wrong.
func Parse(raw []byte, now time.Time) (estimate.Order, error) {
	order, err := OrderIn(raw)
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
	order.Pricing.AsOf = web.DayOf(now)
	return []estimate.Assumption{{Pointer: "/pricing/as_of", Value: string(order.Pricing.AsOf), Why: "The request names no day, so the prices are today's (" + now.Location().String() + ")."}}
}

// Make reads the body of a request and works out the estimate, as POST /v1/estimates does. A request that names
// no day is priced as of the day that now is in the shop's time zone.
func Make(raw []byte, cat *catalogue.Snapshot, now time.Time, explain bool) (*estimate.Estimate, error) {
	now, err := web.InShop(now, cat)
	if err != nil {
		return nil, err
	}
	order, err := OrderIn(raw)
	if err != nil {
		return nil, err
	}
	order.Explain = explain
	return Work(context.Background(), order, cat, now)
}

// Work works out an order that was read; now has the shop's zone. Without a day it is priced as of today. It stops when the
// context ends.
func Work(ctx context.Context, order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Estimate, error) {
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	est, err := maker.Make(ctx, order)
	giveBack(maker)
	if err != nil {
		return nil, err
	}
	est.Assumptions = append(est.Assumptions, assumed...)
	return est, nil
}

// compareJoints works out every joint of an order, priced like an estimate.
func compareJoints(ctx context.Context, order estimate.Order, cat *catalogue.Snapshot, now time.Time) (*estimate.Comparison, error) {
	now, err := web.InShop(now, cat)
	if err != nil {
		return nil, err
	}
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	comparison, err := maker.Compare(ctx, order)
	giveBack(maker)
	if err != nil {
		return nil, err
	}
	comparison.Assumptions = append(comparison.Assumptions, assumed...)
	return comparison, nil
}

// priceable refuses a day whose prices are no longer at hand.
func priceable(day catalogue.Date, cat *catalogue.Snapshot) error {
	if day >= cat.PricesFrom {
		return nil
	}
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/pricing/as_of", Detail: fmt.Sprintf("Prices are at hand from %s on; %s lies before.", cat.PricesFrom, day),
		Fix: "The setting price_history_days says how far back they are kept at hand."}
}
