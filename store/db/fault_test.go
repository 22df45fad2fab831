package db

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"seamwright/service/fault"
)

func said(code string) error {
	return fmt.Errorf("write: %w", &pgconn.PgError{Code: code, ConstraintName: "price_pkey", Message: "no"})
}

// The codes are those of appendix A of PostgreSQL's documentation, from memory.
func TestWhatTheDatabaseSaysIsToldApart(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		err                       error
		away, again, between, out bool // Away, MustBeginAgain, CameBetween, Gone
		held                      bool // Held
		constraint                string
	}{
		"nothing":                    {},
		"a connection that is cut":   {err: said("08006"), away: true},
		"a server that shuts down":   {err: said("57P01"), away: true},
		"too many clients":           {err: said("53300"), away: true},
		"a statement that is ended":  {err: said("57014"), away: true, held: true},
		"a lock that others keep":    {err: said("55P03"), away: true, held: true},
		"a transaction left alone":   {err: said("25P03"), away: true, held: true},
		"a program that goes on":     {err: said("25P02")}, // after an error in a transaction: its own fault
		"a disk that is full":        {err: said("53100"), away: true},
		"a database only to be read": {err: said("25006"), away: true},
		"an end in the middle":       {err: fmt.Errorf("read: %w", io.ErrUnexpectedEOF), away: true},
		"a socket that is closed":    {err: net.ErrClosed, away: true},
		"nobody who answers":         {err: &net.OpError{Op: "dial", Err: errors.New("refused")}, away: true},
		"a wait that is over":        {err: context.DeadlineExceeded, away: true},
		"a caller who has gone":      {err: context.Canceled},
		"no row":                     {err: pgx.ErrNoRows},
		"a serialization failure":    {err: said("40001"), away: true, held: true, again: true, between: true},
		"a deadlock":                 {err: said("40P01"), away: true, held: true, again: true, between: true},
		"a row that is there":        {err: said("23505"), between: true, constraint: "price_pkey"},
		"a row that is gone":         {err: said("23503"), out: true, constraint: "price_pkey"},
		"a rule that is broken":      {err: said("23514"), constraint: "price_pkey"},
		"a value that does not fit":  {err: said("22003")},
		"a refusal to let anyone in": {err: &pgconn.ConnectError{}, away: true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, c.away, Away(c.err), "away")
			require.Equal(t, c.held, Held(c.err), "held")
			require.Equal(t, c.again, MustBeginAgain(c.err), "must begin again")
			require.Equal(t, c.between, CameBetween(c.err), "came between")
			require.Equal(t, c.out, Gone(c.err), "gone")
			require.Equal(t, c.constraint, Constraint(c.err))
		})
	}
}

func TestOnlyADatabaseThatIsAwayMakesAFault(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	require.NoError(t, Fault(ctx, nil))
	require.ErrorIs(t, Fault(ctx, pgx.ErrNoRows), pgx.ErrNoRows)
	var away *fault.Fault
	require.ErrorAs(t, Fault(ctx, said("57P01")), &away)
	require.Equal(t, fault.Unavailable, away.Kind)
	require.Equal(t, "The database is away, or was while this was done: write: : no (SQLSTATE 57P01).", away.Detail)
	require.ErrorAs(t, Fault(ctx, said("55P03")), &away)
	require.Equal(t, fault.Unavailable, away.Kind)
	require.Equal(t, "Somebody else has what this needs, and did not let go of it in time.", away.Detail)
	late, end := context.WithTimeout(ctx, 0)
	defer end()
	require.ErrorAs(t, Fault(late, context.DeadlineExceeded), &away, "the caller waits, the time is over")
	gone, cancel := context.WithCancel(ctx)
	cancel()
	require.ErrorIs(t, Fault(gone, context.DeadlineExceeded), context.DeadlineExceeded,
		"the caller has gone: nobody needs to hear of the database")
}

func TestTextsAreMadeFitForTheDatabase(t *testing.T) {
	t.Parallel()
	require.Equal(t, "oak \ufffd", Text("oak \x00"))
	require.Equal(t, "\ufffdoak", Text("\xffoak"))
	require.Equal(t, "Eiche – öl", Text("Eiche – öl"))
	require.Equal(t, []string{}, List[string](nil))
	require.Equal(t, []string{"a"}, List([]string{"a"}))
	require.Nil(t, Texts[string](nil))
	type word string
	require.Equal(t, []string{"a", "b"}, Texts([]word{"a", "b"}))
}
