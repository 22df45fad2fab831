package jobs_test

import (
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/store/jobs"
	"seamwright/store/storetest"
)

// offer puts an offer with one revision into the database, as other rooms' tables need no room's code here.
func offer(t testing.TB, conn *pgx.Conn, id string) {
	t.Helper()
	storetest.Exec(
		t,
		conn,
		`INSERT INTO quote (id, status, origin, reference, customer_reference, customer_name, customer_email, customer_phone, customer_address, note, terms,
	  valid_until, revision, created_at, created_by, updated_at, species, currency, cost, net, total, checked_revision, checked_day)
	  VALUES ($1, 'draft', 'shop', '', '', '', '', '', '', '', '', '2026-12-31', 1, now(), 'test', now(), '{}', 'USD', 1, 1, 1, 1, '2026-11-01')`,
		id,
	)
	storetest.Exec(
		t,
		conn,
		`INSERT INTO quote_revision (quote, number, why, request, answer, catalogue_revision, priced_as_of, created_at, created_by, cost, net, total)
	  VALUES ($1, 1, 'created', '{}', '{}', 1, '2026-11-01', now(), 'test', 1, 1, 1)`,
		id,
	)
}

// A report is read as it was put; the last one of an offer counts; many are kept whole or not at all.
func TestReportsAreKeptWholeAndTheLastOneCounts(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	ctx := t.Context()
	a, b := "quote_aaaaaaaaaaaaaaaaaaaaaaaaaa", "quote_bbbbbbbbbbbbbbbbbbbbbbbbbb"
	offer(t, conn, a)
	offer(t, conn, b)
	at := time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	first := &jobs.Report{
		Quote:    a,
		Revision: 1,
		Finished: "2026-11-19",
		Note:     "dry wood",
		Steps:    []jobs.Step{{Code: "glue_up", Estimated: 60.5, Deviation: 8, Minutes: 75}},
		Materials: []jobs.Material{
			{Item: "lumber", Estimated: "100.00", Paid: "120.00", Used: "3.5"},
		},
		Defects:    []string{"a knot"},
		ReportedAt: at,
		ReportedBy: "anna",
		Catalogue:  1,
	}
	require.NoError(t, s.Jobs.Put(ctx, first))
	got, err := s.Jobs.Report(ctx, a)
	require.NoError(t, err)
	require.Equal(t, at, got.ReportedAt.UTC())
	got.ReportedAt = at
	require.Equal(t, *first, got)
	_, err = s.Jobs.Report(ctx, b)
	require.Equal(t, fault.NotFound, fault.All(err)[0].Kind)

	second := *first
	second.Steps, second.Note = []jobs.Step{{Code: "glue_up", Estimated: 60.5, Deviation: 8, Minutes: 80}}, ""
	other := second
	other.Quote, other.Finished = b, "2026-11-25"
	none := second
	none.Revision = 2
	require.Error(t, s.Jobs.Put(ctx, &other, &none), "there is no revision 2")
	_, err = s.Jobs.Report(ctx, b)
	require.Error(t, err, "all or none")
	require.NoError(t, s.Jobs.Put(ctx, &second, &other))
	all, err := s.Jobs.Reports(ctx, "", 10)
	require.NoError(t, err)
	require.Equal(t, []string{a, b}, []string{all[0].Quote, all[1].Quote})
	require.Equal(t, 80.0, all[0].Steps[0].Minutes)
	for since, want := range map[string]int{"2026-11-19": 2, "2026-11-20": 1, "2026-11-26": 0} {
		list, err := s.Jobs.Reports(ctx, catalogue.Date(since), 10)
		require.NoError(t, err)
		require.Len(t, list, want, since)
	}
	require.NoError(t, s.Jobs.Put(ctx, first))
	require.NoError(t, s.Jobs.Forget(ctx, a))
	got, err = s.Jobs.Report(ctx, a)
	require.NoError(t, err)
	require.Empty(t, got.Note)
	require.Equal(t, first.Steps, got.Steps, "figures stay")
	newest, err := s.Jobs.Reports(ctx, "", 1)
	require.NoError(t, err)
	require.Equal(t, b, newest[0].Quote)
}

func TestADismissalIsKeptOnceAStandard(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	at := time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC)
	for _, n := range []int{10, 25} {
		require.NoError(t, s.Jobs.Dismiss(t.Context(), &jobs.Dismissal{Code: "glue_up", Jobs: n, At: at, By: "anna"}))
	}
	list, err := s.Jobs.Dismissals(t.Context())
	require.NoError(t, err)
	require.Len(t, list, 1)
	require.Equal(t, 25, list[0].Jobs)
}

// The trail's changes of standards are read whether their minutes were written as numbers or as texts; what was new or
// was retired, and what belongs to other parts, changes no minutes.
func TestChangesOfStandardsAreReadFromTheTrail(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	put := func(entity, action string, before, after any, revision int) {
		storetest.Exec(t, conn, `INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
VALUES (now(), 'test', $1, 'glue_up', $2, $3, $4, $5)`,
			entity, action, before, after, revision)
	}
	was := `{"setup_low":1,"setup_likely":2,"setup_high":3,"each_low":"10","each_likely":"20","each_high":"30"}`
	is := `{"setup_low":2,"setup_likely":4,"setup_high":6,"each_low":15,"each_likely":30,"each_high":45.5}`
	put("labour-standards", "create", nil, was, 5)
	put("labour-standards", "replace", was, is, 7)
	put("labour-roles", "replace", was, is, 8)
	put("labour-standards", "retire", is, nil, 9)
	list, err := s.Jobs.Changes(t.Context())
	require.NoError(t, err)
	spread := func(low, likely, high float64) catalogue.Spread {
		return catalogue.Spread{Low: low, Likely: likely, High: high}
	}
	require.Equal(t, []jobs.Change{{Code: "glue_up", Revision: 7,
		Before: jobs.Minutes{Setup: spread(1, 2, 3), Each: spread(10, 20, 30)},
		After:  jobs.Minutes{Setup: spread(2, 4, 6), Each: spread(15, 30, 45.5)}}}, list)
}
