package store

import (
	"context"
	"fmt"

	"seamwright/service/money"
)

// judged is what came of a list's rows.
type judged struct {
	counts  PriceCounts
	because []string // why the whole list is held
}

// createDiff compares the staged rows with the prices that are in force when the list takes effect, and keeps what is
// not simply the same. What is in force is the newest price for all but those packs whose newest price comes later
// still. Rows that somebody approved are not held for moving or for their unit, and say nothing of packs that are
// not among them.
const createDiff = `
CREATE TEMP TABLE price_diff ON COMMIT DROP AS
WITH in_force AS (
  SELECT item, size, amount, listed_per
  FROM price_latest
  WHERE supplier = $1 AND valid_from <= $2
  UNION ALL
  SELECT l.item, l.size, p.amount, p.listed_per
  FROM price_latest l
  CROSS JOIN LATERAL (
    SELECT amount, listed_per FROM price p
    WHERE p.item = l.item AND p.size = l.size AND p.supplier = l.supplier AND p.valid_from <= $2
    ORDER BY p.valid_from DESC LIMIT 1) p
  WHERE l.supplier = $1 AND l.valid_from > $2)
SELECT coalesce(s.item, c.item::text) AS item, coalesce(s.size, c.size) AS size, s.line, s.amount, s.per, s.hold,
       c.amount AS before, c.listed_per AS before_per,
       CASE
         WHEN s.item IS NULL THEN 'missing'
         WHEN s.hold = 'conflict' THEN 'conflict'
         WHEN s.hold IS NOT NULL THEN 'held'
         WHEN c.item IS NULL THEN 'new'
         WHEN $4 AND c.listed_per <> s.per THEN 'held'
         WHEN $4 AND abs(s.amount - c.amount) * 100 > $3::numeric * c.amount THEN 'held'
         ELSE 'changed' END AS verdict
FROM price_stage s
FULL JOIN in_force c ON c.item = s.item AND c.size = s.size
WHERE s.item IS NULL OR c.item IS NULL OR s.hold IS NOT NULL OR s.amount <> c.amount OR c.listed_per <> s.per`

// dropUnsaid leaves out what a few approved rows say nothing of.
const dropUnsaid = `DELETE FROM price_diff WHERE line IS NULL`

// selectVerdicts counts; a pack that the list before lacked already is not missing once more.
const selectVerdicts = `
SELECT count(*) FILTER (WHERE verdict = 'new'), count(*) FILTER (WHERE verdict = 'changed'), count(*) FILTER (WHERE verdict = 'held'),
       count(*) FILTER (WHERE verdict = 'missing' AND NOT EXISTS (
         SELECT FROM price_update_absent a
         WHERE a.update_number = $1 AND a.item = d.item AND a.size = d.size AND NOT a.listed)),
       count(*) FILTER (WHERE line IS NOT NULL AND before IS NULL AND verdict <> 'conflict')
FROM price_diff d`

const selectListBefore = `
SELECT coalesce(max(number), 0)
FROM (SELECT number FROM price_update
      WHERE supplier = $1 AND status IN ('applied', 'unchanged') AND (effective_from, list_date) <= ($2, $3)
      ORDER BY effective_from DESC, list_date DESC, number DESC LIMIT 1) u`

// judge compares the list with the catalogue, counts, and decides whether it must be held whole.
func (w *priceWork) judge(ctx context.Context) error {
	l, j := w.list, &w.judged
	_, err := w.tx.Exec(ctx, createDiff, l.Supplier, l.EffectiveFrom, w.rails.move.String(), !w.decision)
	if err != nil {
		return fmt.Errorf("compare the list: %w", err)
	}
	var before int64
	if err := w.tx.QueryRow(ctx, selectListBefore, l.Supplier, l.EffectiveFrom, l.ListDate).Scan(&before); err != nil {
		return err
	}
	c := &j.counts
	c.Rows, c.Duplicate, c.Rejected = w.stage.rows, w.stage.duplicate, w.stage.rejected
	var unknown int // packs that had no price before
	if err := w.tx.QueryRow(ctx, selectVerdicts, before).Scan(&c.New, &c.Changed, &c.Held, &c.Missing, &unknown); err != nil {
		return err
	}
	c.Unchanged = w.stage.staged - c.New - c.Changed - c.Held
	had := w.stage.staged - unknown + c.Missing
	j.because = w.overall(c, had)
	return nil
}

// overall says why the list is held whole; nothing: it is not.
func (w *priceWork) overall(c *PriceCounts, had int) (because []string) {
	if w.decision {
		return nil
	}
	if over(c.Missing, had, w.rails.missing) {
		because = append(because, fmt.Sprintf("%d of %d prices of the list before are missing, more than %s %%.", c.Missing, had, w.rails.missing))
	}
	if over(c.Held+c.Rejected, c.Rows, w.rails.heldShare) {
		because = append(because, fmt.Sprintf("%d of %d rows are held or rejected, more than %s %%.", c.Held+c.Rejected, c.Rows, w.rails.heldShare))
	}
	return because
}

// over reports whether part is more of the whole than so many hundredths.
func over(part, whole int, limit money.Rate) bool {
	hundredths, err := money.ParseQuantity(limit.String())
	return err == nil && whole > 0 && money.Count(100*part).Cmp(hundredths.Times(whole)) > 0
}
