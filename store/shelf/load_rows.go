package shelf

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// query is a query and what reads each of its rows.
type query struct {
	table string
	sql   string
	read  func(pgx.Rows) error
}

// readAll sends queries at once and reads the rows of each.
func readAll(ctx context.Context, tx pgx.Tx, queries []query) error {
	b := &pgx.Batch{}
	for _, q := range queries {
		b.Queue(q.sql).Query(func(rows pgx.Rows) error {
			defer rows.Close()
			for n := 1; rows.Next(); n++ {
				if n%db.Breath == 0 {
					db.GiveWay(ctx)
				}
				if err := q.read(rows); err != nil {
					return fmt.Errorf("table %s: %w", q.table, err)
				}
			}
			return rows.Err()
		})
	}
	return tx.SendBatch(ctx, b).Close()
}

// texts keeps texts that come again and again once.
type texts map[string]string

// once returns the text, always the same copy of it.
func (t texts) once(raw []byte) string {
	if s, ok := t[string(raw)]; ok {
		return s
	}
	s := string(raw)
	t[s] = s
	return s
}
