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

// KeptOrder reads a request that an offer keeps.
func KeptOrder(raw []byte) (estimate.Order, error) { return wire.BindKept(raw, form, ReadOrder) }

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
	return []estimate.Assumption{{Pointer: "/pricing/as_of", Value: string(order.Pricing.AsOf),
		Why: "The request names no day, so the prices are today's (" + now.Location().String() + ")."}}
}

// builtIn says of an answer that its catalogue is the one that comes with the program.
func builtIn(cat *catalogue.Snapshot) []estimate.Assumption {
	if !cat.BuiltIn {
		return nil
	}
	return []estimate.Assumption{{Pointer: "", Value: "built_in_catalogue", Why: "There is no database: prices, rates and " +
		"times are invented demo data that come with the program, no shop's own, and nothing is kept."}}
}

// Make reads the body of a request and works out the estimate, as POST /v1/estimates does. A request that names
// no day is priced as of the day that now is in the shop's time zone.
func Make(raw []byte, cat *catalogue.Snapshot, now time.Time, explain bool) (*estimate.Estimate, error) {
	return MakeFor(context.Background(), raw, cat, now, explain)
}

// MakeFor is Make for a call, whose key is charged and which may end before the work does.
func MakeFor(ctx context.Context, raw []byte, cat *catalogue.Snapshot, now time.Time,
	explain bool) (*estimate.Estimate, error) {
	now, err := web.InShop(now, cat)
	if err != nil {
		return nil, err
	}
	order, err := OrderIn(raw)
	if err != nil {
		web.Charge(ctx, 1)
		return nil, err
	}
	order.Explain = explain
	return Work(ctx, order, cat, now)
}

// Work works out an order that was read; now has the shop's zone. Without a day it is priced as of today. It stops when the
// context ends.
func Work(ctx context.Context, order estimate.Order, cat *catalogue.Snapshot,
	now time.Time) (*estimate.Estimate, error) {
	assumed := takeDay(&order, now)
	if err := priceable(order.Pricing.AsOf, cat); err != nil {
		return nil, err
	}
	maker := borrowMaker(cat)
	est, err := maker.Make(ctx, order)
	charge(ctx, maker)
	giveBack(maker)
	if err != nil {
		return nil, err
	}
	est.Assumptions = append(append(est.Assumptions, assumed...), builtIn(cat)...)
	return est, nil
}

// compareJoints works out every joint of an order, priced like an estimate.
func compareJoints(ctx context.Context, order estimate.Order, cat *catalogue.Snapshot,
	now time.Time) (*estimate.Comparison, error) {
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
	charge(ctx, maker)
	giveBack(maker)
	if err != nil {
		return nil, err
	}
	comparison.Assumptions = append(append(comparison.Assumptions, assumed...), builtIn(cat)...)
	return comparison, nil
}

// callSteps is what one call of a key's limit stands for: about two milliseconds of a core of a small server, seven times the usual top.
// A top of three runs takes nearly as much, a chain of six up to three times, the dearest orders known 12 and 15 times.
const callSteps = 600

// charge charges a call's key for the top that a maker was at last.
func charge(ctx context.Context, m *estimate.Maker) {
	web.Charge(ctx, max(1, (m.Steps()+callSteps-1)/callSteps))
}

// priceable refuses a day whose prices are no longer at hand.
func priceable(day catalogue.Date, cat *catalogue.Snapshot) error {
	if day >= cat.PricesFrom {
		return nil
	}
	return &fault.Fault{Kind: fault.Impossible, Pointer: "/pricing/as_of",
		Detail: fmt.Sprintf("Prices are at hand from %s on; %s lies before.", cat.PricesFrom, day),
		Fix:    "The setting price_history_days says how far back they are kept at hand."}
}
