package shelf

import (
	"context"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// beside begins a second transaction that sees what this one sees, over a connection of the pool, and returns what ends
// it. There is none while others are answered, who have better use for the processor, nor when no connection is free
// soon: everything is then read over one.
func (s *Store) beside(ctx context.Context, tx pgx.Tx) (second pgx.Tx, done func(), err error) {
	alone := func() {}
	if db.Busy(ctx) {
		return nil, alone, nil
	}
	soon, cancel := context.WithTimeout(ctx, s.wait)
	defer cancel()
	conn, err := s.db.Pool.Acquire(soon)
	if err != nil {
		return nil, alone, nil //nolint:nilerr // the pool is in use: one connection must do
	}
	var moment string
	if err := tx.QueryRow(ctx, `SELECT pg_export_snapshot()`).Scan(&moment); err != nil {
		conn.Release()
		return nil, alone, err
	}
	second, err = conn.BeginTx(ctx, db.AsOfNow)
	if err == nil {
		_, err = second.Exec(ctx, `SET TRANSACTION SNAPSHOT '`+moment+`'`)
	}
	if err == nil {
		err = db.Extend(ctx, second, db.ForLoading)
	}
	if err != nil {
		conn.Release() // which closes it
		s.db.Log.Warn("a second connection failed, the catalogue is read over one", "error", err)
		return nil, alone, nil
	}
	return second, func() {
		_ = second.Rollback(ctx) // it only read; a connection that fails here is closed by it
		conn.Release()
	}, nil
}
