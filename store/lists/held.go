package lists

import (
	"cmp"
	"context"
	"slices"

	"github.com/jackc/pgx/v5"

	"seamwright/service/pricelist"
	"seamwright/store/db"
)

// heldColumns are what is kept of a held row, with the reason; $1 is the catalogue's currency, $2 the limit.
const heldColumns = `
  line,
  CASE WHEN hold LIKE 'currency%' THEN 'currency' WHEN hold IS NULL AND before_per <> per THEN 'per' ELSE 'price' END,
  CASE WHEN hold = 'zero' THEN 'The price is zero, or would be with four decimals.'
       WHEN hold = 'negative' THEN 'The price is under zero.'
       WHEN hold LIKE 'currency%' THEN format('The currency is %s; the catalogue''s prices are in %s, and prices are not converted.', substr(hold, 10), $1::text)
       WHEN before_per <> per THEN format('The price is for another unit than the supplier''s last one: %s instead of %s. With it the pack costs %s instead of %s.', per, before_per, amount, before)
       ELSE format('The price moves by %s %%, from %s to %s; the limit is %s %%.', round((amount - before) * 100 / before, 1), before, amount, $2::text) END,
  CASE WHEN hold LIKE 'currency%' THEN 'currency' WHEN hold IS NOT NULL THEN hold WHEN before_per <> per THEN 'unit' ELSE 'move' END,
  item, size, amount, before, per`

// insertHeld keeps the held rows. Their places follow those of the rejected ones.
const insertHeld = `
INSERT INTO price_update_row (line, list_column, reason, code, item, size, amount, before_amount, listed_per, update_number, place, status)
SELECT` + heldColumns + `, $3, $4::int + row_number() OVER (ORDER BY line), 'held'
FROM price_diff
WHERE verdict = 'held'`

// insertRows keeps the first rejected rows and all held ones.
func (w *taking) insertRows(ctx context.Context) error {
	rejections := w.stage.rejections
	slices.SortStableFunc(rejections, compareLines)
	columns := []string{"update_number", "place", "line", "status", "list_column", "reason", "found"}
	_, err := w.tx.CopyFrom(ctx, pgx.Identifier{"price_update_row"}, columns,
		pgx.CopyFromSlice(len(rejections), func(i int) ([]any, error) {
			r := &rejections[i]
			return []any{w.number, i + 1, r.Line, RowRejected, db.Text(r.Column), db.Text(r.Reason), db.Text(r.Text)}, nil
		}))
	if err != nil || w.judged.counts.Held == 0 {
		return err
	}
	_, err = w.tx.Exec(ctx, insertHeld, w.rails.currency, w.rails.move.String(), w.number, len(rejections))
	return err
}

const selectHeldNow = `
SELECT` + heldColumns + `
FROM price_diff
WHERE verdict = 'held'
ORDER BY line
LIMIT 20`

// dryRows are the rows that a dry run shows.
func (w *taking) dryRows(ctx context.Context) ([]Row, error) {
	rejections := w.stage.rejections
	slices.SortStableFunc(rejections, compareLines)
	var out []Row
	for i := range rejections[:min(len(rejections), mostFirstRows)] {
		r := &rejections[i]
		out = append(out, Row{Line: r.Line, Status: RowRejected, Column: r.Column, Reason: db.Text(r.Reason),
			Found: db.Text(r.Text)})
	}
	rows, err := w.tx.Query(ctx, selectHeldNow, w.rails.currency, w.rails.move.String())
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		r := Row{Status: RowHeld}
		var before *string
		if err := rows.Scan(&r.Line, &r.Column, &r.Reason, &r.Code, &r.Item, &r.Size, &r.Amount, &before,
			&r.Per); err != nil {
			return nil, err
		}
		if before != nil {
			r.Before = *before
		}
		out = append(out, r)
	}
	for i := range out {
		out[i].Place = i + 1
	}
	return out[:min(len(out), mostFirstRows)], rows.Err()
}

func compareLines(a, b pricelist.Rejection) int { return cmp.Compare(a.Line, b.Line) }
