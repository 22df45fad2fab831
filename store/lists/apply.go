package lists

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/money"
	"seamwright/store/db"
)

// insertPrices writes the changed prices and nothing else. A price of the same day is corrected.
const insertPrices = `
INSERT INTO price (item, size, supplier, valid_from, currency, amount, listed_per)
SELECT item, size, $1, $2, $3, amount, per
FROM price_diff
WHERE verdict IN ('new', 'changed')
ORDER BY item, size
ON CONFLICT (item, size, supplier, valid_from) DO UPDATE
  SET currency = excluded.currency, amount = excluded.amount, listed_per = excluded.listed_per`

// insertAbsent writes down of what the list says nothing.
const insertAbsent = `
INSERT INTO price_update_absent (update_number, item, size, listed)
SELECT $1, item, size, line IS NOT NULL
FROM price_diff
WHERE before IS NOT NULL AND verdict IN ('missing', 'conflict', 'held')
ON CONFLICT DO NOTHING`

// deleteOldAbsent forgets what only a list that is too late could ask.
const deleteOldAbsent = `
DELETE FROM price_update_absent a
USING price_update u
WHERE u.number = a.update_number AND u.supplier = $1
  AND u.effective_from < (SELECT max(effective_from) FROM price_update WHERE supplier = $1 AND status IN ('applied', 'unchanged')) - $2::int`

// auditPrices notes a list in one entry, or a decision about what was held of it: $3 is what the list was before.
const auditPrices = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $2, 'price-updates', u.id, CASE WHEN $3::json IS NULL THEN 'create' ELSE 'replace' END, $3::json,
       json_build_object('supplier', u.supplier, 'list_date', u.list_date, 'status', u.status, 'counts', u.counts,
         'undecided', (SELECT count(*) FROM price_update_row w WHERE w.update_number = u.number AND w.status = 'held')), u.revision
FROM price_update u
WHERE u.number = $1`

// record writes the update down and, unless it is held whole, its prices.
func (w *taking) record(ctx context.Context, u *Update) error {
	if err := w.insert(ctx, u); err != nil {
		return err
	}
	if err := w.insertRows(ctx); err != nil {
		return fmt.Errorf("keep held and rejected rows: %w", err)
	}
	if u.Status == Held {
		if err := w.keepStage(ctx); err != nil {
			return fmt.Errorf("keep the held list: %w", err)
		}
	} else if err := w.apply(ctx); err != nil {
		return err
	}
	if err := w.noteRevision(ctx, u); err != nil {
		return err
	}
	if _, err := w.tx.Exec(ctx, auditPrices, w.number, u.CreatedBy, nil); err != nil {
		return fmt.Errorf("note the list: %w", err)
	}
	if u.Status != Unchanged {
		if err := w.tell(ctx, u); err != nil {
			return err
		}
	}
	return fillUpdate(ctx, w.tx, u)
}

// apply puts the judged prices into the history, in the place that the list's days give it.
func (w *taking) apply(ctx context.Context) error {
	if err := w.applyLate(ctx); err != nil {
		return fmt.Errorf("put the list among later ones: %w", err)
	}
	if w.judged.counts.New+w.judged.counts.Changed > 0 {
		if _, err := w.tx.Exec(ctx, insertPrices, w.list.Supplier, w.list.EffectiveFrom, w.rails.currency); err != nil {
			return fmt.Errorf("write prices: %w", err)
		}
	}
	if !w.decision {
		if _, err := w.tx.Exec(ctx, insertAbsent, w.number); err != nil {
			return fmt.Errorf("note what the list lacks: %w", err)
		}
	}
	if err := w.confirm(ctx); err != nil {
		return fmt.Errorf("note what the list confirms: %w", err)
	}
	_, err := w.tx.Exec(ctx, deleteOldAbsent, w.list.Supplier, mostLate)
	return err
}

// noteRevision notes the revision that this transaction makes.
func (w *taking) noteRevision(ctx context.Context, u *Update) error {
	if err := db.RaiseRevision(ctx, w.tx); err != nil {
		return err
	}
	var err error
	if u.Revision, err = db.Revision(ctx, w.tx); err != nil {
		return err
	}
	_, err = w.tx.Exec(ctx, `UPDATE price_update SET revision = $2 WHERE number = $1`, w.number, u.Revision)
	return err
}

const insertUpdate = `
INSERT INTO price_update (id, supplier, list_date, effective_from, currency, content, idempotency_key, status, held_because,
                          understood, counts, largest_moves, basket, revision, created_at, created_by)
VALUES ($1, $2, $3, $4, $5, $6, nullif($7, ''), $8, $9, $10, $11, $12, $13, 0, $14, $15)
RETURNING number`

func (w *taking) insert(ctx context.Context, u *Update) error {
	var texts [4][]byte
	for i, v := range []any{u.Understood, u.Counts, u.LargestMoves, u.Basket} {
		var err error
		if texts[i], err = json.Marshal(v); err != nil {
			return err
		}
	}
	err := w.tx.QueryRow(ctx, insertUpdate, u.ID, u.Supplier, string(u.ListDate), string(u.EffectiveFrom), u.Currency,
		w.stage.content, w.list.Key,
		u.Status, u.HeldBecause, texts[0], texts[1], texts[2], texts[3], u.CreatedAt, u.CreatedBy).Scan(&w.number)
	u.number = w.number
	if err != nil {
		return fmt.Errorf("write down the update: %w", err)
	}
	return nil
}

const selectMoves = `
SELECT item, size::text, before::text, amount::text, round((amount - before) * 100 / before, 1)::text, verdict = 'held'
FROM price_diff
WHERE before IS NOT NULL AND line IS NOT NULL AND amount <> before AND (hold IS NULL OR hold IN ('zero', 'negative'))
ORDER BY abs((amount - before) / before) DESC, line
LIMIT 20`

const selectChanges = `
SELECT item, size::text, amount::text
FROM price_diff
WHERE verdict IN ('new', 'changed') AND item = ANY ($1)`

// describe works out the largest moves and what the list does to the reference tops.
func (w *taking) describe(ctx context.Context, u *Update) error {
	rows, _ := w.tx.Query(ctx, selectMoves) // a failed Query is reported by the collector
	var err error
	if u.LargestMoves, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Move]); err != nil || w.list.Effect == nil {
		return err
	}
	rows, _ = w.tx.Query(ctx, selectChanges, w.list.EffectItems)
	changes, err := pgx.CollectRows(rows, w.change)
	if err != nil {
		return err
	}
	u.Basket, err = w.list.Effect(changes)
	return err
}

func (w *taking) change(row pgx.CollectableRow) (Change, error) {
	c := Change{Price: catalogue.Price{Supplier: w.list.Supplier, ValidFrom: w.list.EffectiveFrom}}
	var size, amount string
	if err := row.Scan(&c.Item, &size, &amount); err != nil {
		return c, err
	}
	var err error
	if c.Size, err = money.ParseQuantity(size); err != nil {
		return c, err
	}
	c.Price.Amount, err = money.ParseUnitPrice(amount)
	return c, err
}
