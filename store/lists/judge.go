package lists

import (
	"context"
	"fmt"
)

// createPairs makes the table of what a list says otherwise than the prices in force do: packs with a row of the list,
// a price in force, or both.
const createPairs = `
CREATE TEMP TABLE price_pair (
  item text COLLATE "C" NOT NULL, size numeric(12, 4) NOT NULL, line int, amount numeric(20, 4), per text COLLATE "C",
  hold text COLLATE "C", before numeric(14, 4), before_per text COLLATE "C") ON COMMIT DROP`

// insertPairs pairs rows that were held with the prices in force.
const insertPairs = `
WITH in_force AS (` + selectInForce + `)
INSERT INTO price_pair
SELECT coalesce(s.item, c.item::text), coalesce(s.size, c.size), s.line, s.amount, s.per, s.hold, c.amount, c.listed_per
FROM price_stage s
FULL JOIN in_force c ON c.item = s.item AND c.size = s.size
WHERE s.item IS NULL OR c.item IS NULL OR s.hold IS NOT NULL OR s.amount <> c.amount OR c.listed_per <> s.per`

// createDiff judges the pairs. Rows that somebody approved are not held for moving or for their unit ($2), and say
// nothing of packs that are not among them.
const createDiff = `
CREATE TEMP TABLE price_diff ON COMMIT DROP AS
SELECT item, size, line, amount, per, hold, before, before_per,
       CASE
         WHEN line IS NULL THEN 'missing'
         WHEN hold = 'conflict' THEN 'conflict'
         WHEN hold IS NOT NULL THEN 'held'
         WHEN before IS NULL THEN 'new'
         WHEN $2 AND before_per <> per THEN 'held'
         WHEN $2 AND abs(amount - before) * 100 > $1::numeric * before THEN 'held'
         ELSE 'changed' END AS verdict
FROM price_pair`

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
func (w *taking) judge(ctx context.Context) error {
	l, j := w.list, &w.judged
	if err := w.compare(ctx); err != nil {
		return fmt.Errorf("compare the list: %w", err)
	}
	var before int64
	if err := w.tx.QueryRow(ctx, selectListBefore, l.Supplier, l.EffectiveFrom, l.ListDate).Scan(&before); err != nil {
		return err
	}
	c := &j.counts
	c.Rows, c.Duplicate, c.Rejected = w.stage.rows, w.stage.duplicate, w.stage.rejected
	var unknown int // packs that had no price before
	if err := w.tx.QueryRow(ctx, selectVerdicts, before).Scan(&c.New, &c.Changed, &c.Held, &c.Missing,
		&unknown); err != nil {
		return err
	}
	c.Unchanged = w.stage.staged - c.New - c.Changed - c.Held
	had := w.stage.staged - unknown + c.Missing
	j.because = w.overall(c, had)
	return nil
}

// compare fills the tables of pairs and of what is to be done about them.
func (w *taking) compare(ctx context.Context) error {
	_, err := w.tx.Exec(ctx, createPairs)
	if err == nil && w.decision {
		_, err = w.tx.Exec(ctx, insertPairs, w.list.Supplier, w.list.EffectiveFrom)
	} else if err == nil {
		err = w.pair(ctx)
	}
	if err == nil {
		_, err = w.tx.Exec(ctx, createDiff, w.rails.move.String(), !w.decision)
	}
	return err
}

// overall says why the list is held whole; nothing: it is not.
func (w *taking) overall(c *Counts, had int) (because []string) {
	if w.decision {
		return nil
	}
	if w.rails.missing.Exceeded(c.Missing, had) {
		because = append(because, fmt.Sprintf("%d of %d prices of the list before %s missing, more than %s %%.", c.Missing,
			had, are(c.Missing), w.rails.missing))
	}
	if w.rails.heldShare.Exceeded(c.Held+c.Rejected, c.Rows) {
		because = append(because, fmt.Sprintf("%d of %d rows %s held or rejected, more than %s %%.", c.Held+c.Rejected,
			c.Rows, are(c.Held+c.Rejected), w.rails.heldShare))
	}
	return because
}

// are is the verb for so many.
func are(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
