package db

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
)

// All reads all rows that a query finds, each by a function (pgx.RowToStructByPos, for one).
func All[T any](ctx context.Context, on Reader, row pgx.RowToFunc[T], sql string, args ...any) ([]T, error) {
	rows, _ := on.Query(ctx, sql, args...) // a failed Query is reported by the collector
	list, err := pgx.CollectRows(rows, row)
	return list, Fault(ctx, err)
}

// One reads the one row that a query finds. When there is none it fails with a Fault of the kind NotFound that says so
// in the words given.
func One[T any](ctx context.Context, on Reader, row pgx.RowToFunc[T], none, sql string, args ...any) (T, error) {
	rows, _ := on.Query(ctx, sql, args...) // a failed Query is reported by the collector
	one, err := pgx.CollectExactlyOneRow(rows, row)
	if errors.Is(err, pgx.ErrNoRows) {
		return one, &fault.Fault{Kind: fault.NotFound, Detail: none}
	}
	return one, Fault(ctx, err)
}
