package offers

import (
	"context"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// checkedTogether is how many offers are checked in one transaction.
const checkedTogether = 200

// Recheck works out anew what every open offer costs by the newest catalogue and today's prices, and notes which
// moved beyond the limit. Instances that do it at the same time share the work. It returns how many it checked, and how
// many of them are beyond the limit.
func (s *Room) Recheck(ctx context.Context) (checked, drifted int, err error) {
	cat := s.Snapshot()
	if cat == nil {
		return 0, 0, nil
	}
	day := s.Today(cat)
	limit := cat.Settings.QuoteDriftLimit
	for {
		n, err := s.Store.Offers.Check(ctx, cat.Revision, day, s.Now(), checkedTogether,
			func(q *offers.Quote, request string) *offers.Event {
				was := q.Moved != nil && beyond(*q.Moved, limit)
				s.recheck(ctx, q, request, cat, day)
				if q.Moved == nil || !beyond(*q.Moved, limit) {
					return nil
				}
				drifted++
				if was {
					return nil // said already
				}
				return s.driftEvent(q)
			})
		checked += n
		if err != nil || n == 0 {
			return checked, drifted, err
		}
	}
}

func beyond(percent, limit money.Rate) bool { return percent.Abs().Cmp(limit) >= 0 }

// recheck works one offer out by today's prices and notes what it would cost.
func (s *Room) recheck(ctx context.Context, q *offers.Quote, request string, cat *catalogue.Snapshot,
	day catalogue.Date) {
	q.CostNow, q.Moved, q.CheckFailed = nil, nil, nil
	fail := func(err error) {
		why := fault.Cut(web.ProblemOf(err).Detail, 1000)
		q.CheckFailed = &why
	}
	order, err := estimates.KeptOrder([]byte(request))
	if err != nil {
		fail(err)
		return
	}
	order.Pricing.AsOf = day
	now, err := web.InShop(s.Now(), cat)
	if err != nil {
		fail(err)
		return
	}
	est, err := estimates.Work(ctx, order, cat, now)
	if err != nil {
		fail(err)
		return
	}
	if cost := est.Price.Cost.Round(2); cost.Cmp(q.Cost) != 0 {
		drift := quote.DriftOf(q.Cost, q.Net, cost)
		q.CostNow, q.Moved = &cost, &drift.Moved
	}
}

func (s *Room) driftEvent(q *offers.Quote) *offers.Event {
	drift := quote.DriftOf(q.Cost, q.Net, *q.CostNow)
	e, err := quoteEvent("quote.drifted", q, map[string]any{"cost": q.Cost.String(), "cost_now": q.CostNow.String(),
		"moved": drift.Moved, "margin_offered": drift.MarginBefore, "margin": drift.MarginAfter})
	if err != nil {
		s.Log.Error("event not made", "cause", err.Error())
		return nil
	}
	return &e
}

// Expire moves offers that were sent and are past their validity.
func (s *Room) Expire(ctx context.Context) (expired int, err error) {
	for {
		n, err := s.Store.Offers.Expire(ctx, s.ShopToday(), s.Now(), 1000)
		expired += n
		if err != nil || n == 0 {
			return expired, err
		}
	}
}
