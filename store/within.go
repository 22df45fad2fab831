package store

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// session is the database as a statement sees it: the pool, or a transaction that is under way.
type session interface {
	Begin(ctx context.Context) (pgx.Tx, error)
	Exec(ctx context.Context, sql string, arguments ...any) (pgconn.CommandTag, error)
	Query(ctx context.Context, sql string, arguments ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, arguments ...any) pgx.Row
	SendBatch(ctx context.Context, batch *pgx.Batch) pgx.BatchResults
	CopyFrom(ctx context.Context, table pgx.Identifier, columns []string, rows pgx.CopyFromSource) (int64, error)
}

// starter is what a transaction, or within one a savepoint, can begin on.
type starter interface {
	Begin(ctx context.Context) (pgx.Tx, error)
}

type transactionKey struct{}

// within returns a context whose statements belong to the transaction.
func within(ctx context.Context, tx pgx.Tx) context.Context {
	return context.WithValue(ctx, transactionKey{}, tx)
}

// db returns where the statements of a context go: its transaction (see within), or else the pool. What begins on a
// transaction is a savepoint of it.
func (s *Store) db(ctx context.Context) session {
	if tx, ok := transactionOf(ctx); ok {
		return tx
	}
	return s.pool
}

func transactionOf(ctx context.Context) (pgx.Tx, bool) {
	tx, ok := ctx.Value(transactionKey{}).(pgx.Tx)
	return tx, ok
}
