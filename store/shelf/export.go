package shelf

import (
	"context"
	"strconv"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
	"seamwright/store/db"
)

// Export hands every row in use of a part to each, in the order of its keys, all of one state of the catalogue.
func (s *Store) Export(ctx context.Context, part *sheet.Part, each func(Present) error) error {
	return pgx.BeginTxFunc(ctx, s.db.Pool, db.AsOfNow, func(tx pgx.Tx) error {
		if err := db.Extend(ctx, tx, db.ForLists); err != nil {
			return err // the statement lasts as long as somebody reads
		}
		return readPart(ctx, tx, part, nil, func(p Present) error {
			if !p.Live {
				return nil
			}
			return each(p)
		})
	})
}

// Keys are those of every row of a part, also of retired ones.
func (s *Store) Keys(ctx context.Context, part *sheet.Part) (map[string]bool, error) {
	keys := map[string]bool{}
	return keys, db.Fault(ctx, pgx.BeginTxFunc(ctx, s.db.Pool, db.AsOfNow, func(tx pgx.Tx) error {
		return readPart(ctx, tx, part, nil, func(p Present) error {
			keys[p.Row.Key()] = true
			return nil
		})
	}))
}

// readPart reads the rows of the keys, all of them when keys is nil, retired ones as well. Cells come in their
// canonical form.
func readPart(ctx context.Context, tx pgx.Tx, part *sheet.Part, keys []string, each func(Present) error) error {
	table := editTables[part]
	rows, err := tx.Query(ctx, table.read+table.order, keys)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		raw := rows.RawValues()
		p := Present{Row: part.Empty(), Live: string(raw[len(raw)-1]) == "false"}
		for i := range part.Columns {
			p.Row.Cells[i] = part.Columns[i].Canonical(string(raw[i]))
		}
		if p.Version, err = strconv.ParseInt(string(raw[len(raw)-2]), 10, 64); err != nil {
			return err
		}
		if err := each(p); err != nil {
			return err
		}
	}
	return rows.Err()
}
