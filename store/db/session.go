package db

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// Session is the database as a statement sees it: the pool, or a transaction that is under way.
type Session interface {
	Reader
	Starter
	Exec(ctx context.Context, sql string, arguments ...any) (pgconn.CommandTag, error)
	SendBatch(ctx context.Context, batch *pgx.Batch) pgx.BatchResults
	CopyFrom(ctx context.Context, table pgx.Identifier, columns []string, rows pgx.CopyFromSource) (int64, error)
}

// Reader is what can be asked: a transaction, a connection or a pool.
type Reader interface {
	Query(ctx context.Context, sql string, arguments ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, arguments ...any) pgx.Row
}

// Starter is what a transaction, or within one a savepoint, can begin on.
type Starter interface {
	Begin(ctx context.Context) (pgx.Tx, error)
}

// AsOfNow is a transaction in which everything is as it was at one moment.
var AsOfNow = pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}

type transactionKey struct{}

// Within returns a context whose statements belong to the transaction.
func Within(ctx context.Context, tx pgx.Tx) context.Context {
	return context.WithValue(ctx, transactionKey{}, tx)
}

// On returns where the statements of a context go: its transaction (see Within), or else the pool. What begins on a
// transaction is a savepoint of it.
func (d *DB) On(ctx context.Context) Session {
	if tx, ok := TransactionOf(ctx); ok {
		return tx
	}
	return d.Pool
}

// TransactionOf returns the transaction to which a context's statements belong, if there is one.
func TransactionOf(ctx context.Context) (pgx.Tx, bool) {
	tx, ok := ctx.Value(transactionKey{}).(pgx.Tx)
	return tx, ok
}
