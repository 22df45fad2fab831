package lists

import (
	"context"
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

// Lists may come in any order. What a day's price is does not depend on it: it is what the supplier's newest list up
// to that day says of the pack, newest by the day it takes effect, then by its own date, then by its arrival. But only
// changed prices are written down, so that a list that comes late finds later lists that confirmed the price before
// it: from their day on that price must go on to hold. Which lists confirmed a pack is known by the few packs that
// each said nothing of (price_update_absent).

const createLater = `
CREATE TEMP TABLE price_later ON COMMIT DROP AS
SELECT number, effective_from, list_date
FROM price_update
WHERE supplier = $1 AND status IN ('applied', 'unchanged')
  AND (effective_from, list_date, number) > ($2::date, $3::date, $4::bigint)`

// createNext finds for each price to be written the first later list that speaks of the pack, and the price that is in
// force on that list's day.
const createNext = `
CREATE TEMP TABLE price_next ON COMMIT DROP AS
SELECT d.item, d.size, d.amount AS ours, n.*
FROM price_diff d
CROSS JOIN LATERAL (
  SELECT u.effective_from, p.amount, p.listed_per, p.currency
  FROM price_later u
  CROSS JOIN LATERAL (
    SELECT amount, listed_per, currency FROM price p
    WHERE p.item = d.item AND p.size = d.size AND p.supplier = $1 AND p.valid_from <= u.effective_from
    ORDER BY p.valid_from DESC LIMIT 1) p
  WHERE NOT EXISTS (SELECT FROM price_update_absent a WHERE a.update_number = u.number AND a.item = d.item AND a.size = d.size)
  ORDER BY u.effective_from, u.list_date, u.number
  LIMIT 1) n
WHERE d.verdict IN ('new', 'changed')`

// insertNewlyAbsent: later lists say nothing of packs that have no price on their day before this one.
const insertNewlyAbsent = `
WITH told AS (
INSERT INTO price_update_absent (update_number, item, size, listed)
SELECT u.number, d.item, d.size, false
FROM price_diff d
CROSS JOIN price_later u
WHERE d.verdict IN ('new', 'changed') AND d.before IS NULL
  AND NOT EXISTS (SELECT FROM price p WHERE p.item = d.item AND p.size = d.size AND p.supplier = $1::text AND p.valid_from <= u.effective_from)
ON CONFLICT DO NOTHING
RETURNING update_number, item, size)
INSERT INTO price_silence AS s (supplier, item, size, days)
SELECT $1::text, t.item, t.size, range_agg(daterange(u.effective_from, u.effective_from + 1))
FROM told t
JOIN price_later u ON u.number = t.update_number
WHERE u.effective_from > $2::date
GROUP BY t.item, t.size
ON CONFLICT (supplier, item, size) DO UPDATE SET days = s.days + excluded.days`

// dropOvertaken: a newer list of the same day has the word.
const dropOvertaken = `
UPDATE price_diff d SET verdict = 'overtaken'
FROM price_next n
WHERE n.item = d.item AND n.size = d.size AND n.effective_from = $1 AND d.verdict IN ('new', 'changed')`

// insertRestored lets the price that a later list confirmed go on from its day, where no other price begins before.
const insertRestored = `
INSERT INTO price (item, size, supplier, valid_from, currency, amount, listed_per)
SELECT n.item, n.size, $1::text, n.effective_from, n.currency, n.amount, n.listed_per
FROM price_next n
WHERE n.effective_from > $2::date
  AND NOT EXISTS (SELECT FROM price p WHERE p.item = n.item AND p.size = n.size AND p.supplier = $1::text
                  AND p.valid_from > $2::date AND p.valid_from <= n.effective_from)
ON CONFLICT (item, size, supplier, valid_from) DO NOTHING`

// applyLate makes room for a list that comes after newer ones. It runs before the list's own prices are written.
func (w *taking) applyLate(ctx context.Context) error {
	l := w.list
	tag, err := w.tx.Exec(ctx, createLater, l.Supplier, string(l.EffectiveFrom), string(l.ListDate), w.number)
	if err != nil || tag.RowsAffected() == 0 {
		return err
	}
	for _, step := range []struct {
		sql  string
		args []any
	}{
		{createNext, []any{l.Supplier}},
		{insertNewlyAbsent, []any{l.Supplier, string(l.EffectiveFrom)}},
		{dropOvertaken, []any{string(l.EffectiveFrom)}},
		{insertRestored, []any{l.Supplier, string(l.EffectiveFrom)}},
	} {
		if _, err := w.tx.Exec(ctx, step.sql, step.args...); err != nil {
			return err
		}
	}
	return nil
}

// mostLate is how many days a list may take effect before the supplier's newest one: so long it is remembered of
// what each list says nothing.
const mostLate = 62

const selectNewest = `
SELECT coalesce(max(effective_from), '2000-01-01')::text
FROM price_update
WHERE supplier = $1 AND status IN ('applied', 'unchanged')`

func (w *taking) notTooLate(ctx context.Context) error {
	var newest catalogue.Date
	if err := w.tx.QueryRow(ctx, selectNewest, w.list.Supplier).Scan(&newest); err != nil {
		return err
	}
	if w.list.EffectiveFrom < newest.AddDays(-mostLate) {
		detail := fmt.Sprintf("The list takes effect on %s, more than %d days before the newest list of %s that was applied (%s); it cannot be put in order any more.", w.list.EffectiveFrom, mostLate, w.list.Supplier, newest)
		if w.decision {
			return &fault.Fault{Kind: fault.Impossible, Detail: detail,
				Fix: "Dismiss what is held; a single price can be corrected with PUT /v1/imports/prices."}
		}
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/effective_from", Detail: detail}
	}
	return nil
}
