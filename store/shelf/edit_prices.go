package shelf

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// priceTable locks the suppliers, as their price lists do.
func priceTable() editTable {
	return editTable{
		read: `SELECT t.item::text, trim_scale(t.size)::text, t.supplier::text, t.valid_from::text, t.currency, trim_scale(t.amount)::text, '0', 'false' FROM price t
WHERE ($1::text[] IS NULL OR t.item = ANY (SELECT split_part(k, ' ', 1) FROM unnest($1::text[]) k))`,
		order: " ORDER BY t.item, t.size, t.supplier, t.valid_from",
		lock:  `SELECT false FROM (SELECT FROM supplier WHERE code = ANY (SELECT split_part(k, ' ', 3) FROM unnest($1::text[]) k) ORDER BY code FOR NO KEY UPDATE) locked`,
		put: func(b *pgx.Batch, row sheet.Row, there bool, _ Present) {
			sql := `INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES ($1::text, $2::text::numeric, $3::text, $4::text::date, $5::text, $6::text::numeric)`
			if there {
				sql = `UPDATE price SET currency = $5::text, amount = $6::text::numeric WHERE item = $1::text AND size = $2::text::numeric AND supplier = $3::text AND valid_from = $4::text::date`
			}
			list := make([]any, len(row.Cells))
			for i, cell := range row.Cells {
				list[i] = cell
			}
			b.Queue(sql, list...)
			b.Queue(silenceByHand, list[:4]...)
		},
	}
}

// silenceByHand: a price that comes by hand with a day of the past goes over what lists on later days said, until the
// next price; they do not confirm it. Its arguments are those of a row of prices.
const silenceByHand = `
INSERT INTO price_silence AS s (supplier, item, size, days)
SELECT $3::text, $1::text, $2::text::numeric, datemultirange(daterange($4::text::date + 1, e.ends))
FROM (
  SELECT least(max(day) + 1, (SELECT min(valid_from) FROM price WHERE item = $1::text AND size = $2::text::numeric AND supplier = $3::text AND valid_from > $4::text::date)) AS ends
  FROM price_list_day
  WHERE supplier = $3::text
  HAVING max(day) > $4::text::date) e
WHERE e.ends > $4::text::date + 1
ON CONFLICT (supplier, item, size) DO UPDATE SET days = s.days + excluded.days`

// selectMoved finds the prices that move by more than their supplier's limit from what is in force on their day: the
// price that they correct, or the last one before it. The first price of a pack moves nothing.
const selectMoved = `
SELECT k.place::int, round((k.amount - p.amount) * 100 / p.amount, 1)::text, trim_scale(p.amount)::text, r.most::text
FROM (
  SELECT item, size::numeric, supplier, day::date, amount::numeric, place
  FROM unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::text[]) WITH ORDINALITY u (item, size, supplier, day, amount, place)
) k
CROSS JOIN LATERAL (
  SELECT coalesce(trim_scale(s.move_limit), m.value::numeric) AS most FROM supplier s, setting m WHERE s.code = k.supplier AND m.key = 'price_move_limit'
) r
CROSS JOIN LATERAL (
  SELECT amount FROM price
  WHERE item = k.item AND size = k.size AND supplier = k.supplier AND valid_from <= k.day
  ORDER BY valid_from DESC LIMIT 1
) p
WHERE abs(k.amount - p.amount) * 100 > r.most * p.amount
ORDER BY k.place`

// moved says which rows move a price too far. The rows must be sound by themselves.
func moved(ctx context.Context, tx pgx.Tx, writes []Write) (wrong []sheet.Wrong, err error) {
	of := func(column string) (cells []string) {
		for _, w := range writes {
			cells = append(cells, w.Row.Get(column))
		}
		return cells
	}
	// a failed Query is reported by the loop
	rows, _ := tx.Query(ctx, selectMoved, of("item"), of("size"), of("supplier"), of("valid_from"), of("amount"))
	var place int
	var percent, before, most string
	_, err = pgx.ForEachRow(rows, []any{&place, &percent, &before, &most}, func() error {
		w := writes[place-1]
		wrong = append(wrong, sheet.Wrong{Row: w.Number, Column: "amount",
			Detail: fmt.Sprintf("The price moves by %s %%, from %s to %s; the limit of the supplier %s is %s %%. "+
				"If that is right, load the file with allow_moves=true.", percent, before, w.Row.Get("amount"),
				w.Row.Get("supplier"), most)})
		return nil
	})
	return wrong, err
}
