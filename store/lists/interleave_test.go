package lists_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/lists"
	"seamwright/store/storetest"
)

// plan is what becomes of the held rows of a drawn list: an answer for each pack, at once or when all lists are in.
type plan struct {
	answers [3]string // approve, dismiss, or empty: it stays held
	late    bool
}

func drawPlans(t *rapid.T, lists []drawnList) []plan {
	plans := make([]plan, len(lists))
	for i := range plans {
		for n := range plans[i].answers {
			lists[i].prices[n] = rapid.SampledFrom([]string{"", "9.80", "11", "12", "30", "31", "4"}).Draw(t, "price")
			plans[i].answers[n] = rapid.SampledFrom([]string{"approve", "approve", "dismiss", ""}).Draw(t, "answer")
		}
		if lists[i].prices == [3]string{} {
			lists[i].prices[0] = "30"
		}
		// often the same day
		lists[i].effective = rapid.SampledFrom([]catalogue.Date{"2026-11-05", "2026-11-09", "2026-11-21"}).Draw(t,
			"effective")
		plans[i].late = rapid.Bool().Draw(t, "late")
	}
	return plans
}

// decideDrawn answers for each held row by itself, in the order of the packs.
func decideDrawn(s *store.Store, id string, l drawnList, p plan) error {
	rows, err := s.Lists.Rows(context.Background(), id, []lists.RowStatus{lists.RowHeld}, 0, 10)
	if err != nil {
		return err
	}
	for _, r := range rows {
		if answer := p.answers[l.packAt(r.Line)]; answer != "" {
			if _, err := s.Lists.Decide(context.Background(), lists.Decision{ID: id, Approve: answer == "approve",
				Lines: []int{r.Line}, By: "owner", Now: noon}); err != nil {
				return err
			}
		}
	}
	return nil
}

// packAt is the pack that a line of the list is about.
func (d drawnList) packAt(line int) int {
	for n, p := range d.prices {
		if p == "" {
			continue
		}
		if line--; line == 1 { // the header is line 1
			return n
		}
	}
	panic(fmt.Sprintf("the list has no line %d more", line))
}

// said is the list as far as it counts: without rows that are held or were dismissed.
func (d drawnList) said(t testing.TB, s *store.Store, id string) drawnList {
	t.Helper()
	out := d
	for line, status := range statuses(t, s, id) {
		if status != lists.RowApproved {
			out.prices[d.packAt(line)] = ""
		}
	}
	return out
}

// Whoever sends lists and decides about their rows, at the same time and in any order: every day's price is that of
// what was said and not held back, in the order of the lists' dates. Which rows are held depends on what came before;
// the reports say which.
func TestListsAndDecisionsInAnyInterleavingGiveThePricesOfTheListsInOrder(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	loose(t, conn)
	tried, failed, approved := 0, false, 0
	rapid.Check(t, func(rt *rapid.T) {
		if tried == mostDrawn && !failed { // a failure is still made smaller
			return
		}
		defer func() { failed = failed || rt.Failed() }()
		tried++
		lists := drawLists(rt)
		plans := drawPlans(rt, lists)
		order := rapid.Permutation(indices(len(lists))).Draw(rt, "order")
		forget(t, conn)
		ids := make([]string, len(lists))
		var senders errgroup.Group
		senders.SetLimit(3)
		for _, i := range order {
			list := demoList(t, lists[i].date, lists[i].csv())
			list.EffectiveFrom = lists[i].effective
			senders.Go(func() error {
				u, err := s.Lists.TakeIn(context.Background(), list)
				if err != nil {
					return err
				}
				if ids[i] = u.ID; plans[i].late {
					return nil
				}
				return decideDrawn(s, u.ID, lists[i], plans[i])
			})
		}
		require.NoError(rt, senders.Wait())
		var deciders errgroup.Group
		deciders.SetLimit(3)
		for _, i := range order {
			deciders.Go(func() error { return decideDrawn(s, ids[i], lists[i], plans[i]) })
		}
		require.NoError(rt, deciders.Wait())
		said := make([]drawnList, len(lists))
		for i := range lists {
			said[i] = lists[i].said(t, s, ids[i])
		}
		require.Equal(rt, wanted(said), outcome(t, conn), "%+v", said)
		require.Equal(rt, wantedConfirmations(said), confirmations(t, s), "%+v", said)
		approved += storetest.One[int](t, conn, `SELECT count(*) FROM price_update_row WHERE status = 'approved'`)
	})
	require.Positive(t, approved, "some rows were held and approved")
}
