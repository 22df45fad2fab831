package lists

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/money"
)

// taking is one list, or a decision about one, on its way into the catalogue.
type taking struct {
	conn  *pgx.Conn
	list  *List
	rails rails
	stage stage // what was read
	tx    pgx.Tx

	inForce *pricesInForce // lists only

	number   int64 // of the update; unknown before it is written down
	judged   judged
	decision bool // somebody approved the rows: limits do not hold them
}

// rails is what guards a supplier's prices.
type rails struct {
	currency                 string
	move, missing, heldShare money.Rate
}

const selectRails = `
SELECT c.value, coalesce(s.move_limit::text, m.value), coalesce(s.missing_limit::text, i.value), coalesce(s.held_limit::text, h.value)
FROM supplier s, setting c, setting m, setting i, setting h
WHERE s.code = $1 AND s.retired_at IS NULL AND c.key = 'currency' AND m.key = 'price_move_limit' AND i.key = 'price_missing_limit' AND h.key = 'price_held_limit'`

// judged is what came of a list's rows.
type judged struct {
	counts  Counts
	because []string // why the whole list is held
}

func (w *taking) readRails(ctx context.Context) error {
	var move, missing, held string
	err := w.conn.QueryRow(ctx, selectRails, w.list.Supplier).Scan(&w.rails.currency, &move, &missing, &held)
	if errors.Is(err, pgx.ErrNoRows) {
		return noSupplier(w.list.Supplier)
	}
	if err != nil {
		return fmt.Errorf("read guard rails: %w", err)
	}
	for _, r := range []struct {
		text string
		into *money.Rate
	}{{move, &w.rails.move}, {missing, &w.rails.missing}, {held, &w.rails.heldShare}} {
		if *r.into, err = money.ParseRate(r.text); err != nil {
			return fmt.Errorf("read guard rails: %w", err)
		}
	}
	return nil
}

// lockSupplier makes whoever writes prices of one supplier queue, lists and edits alike: whoever has it sees all that
// came before. Readers and foreign keys pass.
const lockSupplier = `SELECT FROM supplier WHERE code = $1 AND retired_at IS NULL FOR NO KEY UPDATE`

// lock locks the supplier, who may have been retired since the list came in.
func (w *taking) lock(ctx context.Context) error {
	tag, err := w.tx.Exec(ctx, lockSupplier, w.list.Supplier)
	if err == nil && tag.RowsAffected() == 0 {
		err = noSupplier(w.list.Supplier)
	}
	return err
}
