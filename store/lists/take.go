package lists

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/store/db"
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
WHERE s.code = $1 AND c.key = 'currency' AND m.key = 'price_move_limit' AND i.key = 'price_missing_limit' AND h.key = 'price_held_limit'`

// run reads the list into a staging table of the connection, without a lock on anything, and then does the rest in
// one transaction under the supplier's lock.
func (w *taking) run(ctx context.Context) (*Update, error) {
	if w.list.Key != "" {
		free, err := w.holdKey(ctx)
		if err != nil {
			return nil, err
		}
		defer free()
	}
	if err := w.readRails(ctx); err != nil {
		return nil, err
	}
	if err := w.read(ctx); err != nil {
		return nil, err
	}
	var update *Update
	err := pgx.BeginFunc(ctx, w.conn, func(tx pgx.Tx) error {
		w.tx = tx
		var err error
		update, err = w.take(ctx)
		if err == nil && w.list.DryRun {
			return errDry // nothing of it stays
		}
		return err
	})
	if err != nil && !errors.Is(err, errDry) {
		return nil, err
	}
	return update, nil
}

const keyLock = `hashtextextended('price list ' || $1 || ' ' || $2, 0)`

// holdKey keeps the sender's key from being used twice at a time, for as long as the list is worked on.
func (w *taking) holdKey(ctx context.Context) (free func(), err error) {
	var mine bool
	err = w.conn.QueryRow(ctx, `SELECT pg_try_advisory_lock(`+keyLock+`)`, w.list.Supplier, w.list.Key).Scan(&mine)
	if err != nil {
		return nil, fmt.Errorf("hold the key: %w", err)
	}
	if !mine {
		return nil, db.ErrKeyInUse
	}
	return func() {
		// A connection that cannot do it is broken and ends, and the lock with it.
		_, _ = w.conn.Exec(ctx, `SELECT pg_advisory_unlock(`+keyLock+`)`, w.list.Supplier, w.list.Key)
	}, nil
}

var errDry = errors.New("dry run")

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
const lockSupplier = `SELECT FROM supplier WHERE code = $1 FOR NO KEY UPDATE`

// take judges the list and applies it, or holds it.
func (w *taking) take(ctx context.Context) (*Update, error) {
	if _, err := w.tx.Exec(ctx, lockSupplier, w.list.Supplier); err != nil {
		return nil, err
	}
	if before, err := w.before(ctx); before != nil || err != nil {
		return before, err
	}
	if err := w.notTooLate(ctx); err != nil {
		return nil, err
	}
	if err := w.judge(ctx); err != nil {
		return nil, err
	}
	update := w.report()
	if err := w.describe(ctx, update); err != nil {
		return nil, err
	}
	if w.list.DryRun {
		update.Status, update.WouldBe = DryRun, update.Status
		update.Undecided = update.Counts.Held
		var err error
		if update.FirstRows, err = w.dryRows(ctx); err != nil {
			return nil, err
		}
		update.Revision, err = db.Revision(ctx, w.tx)
		return update, err
	}
	return update, w.record(ctx, update)
}

const selectBefore = updateColumns + `
FROM price_update u
WHERE u.supplier = $1 AND u.idempotency_key = $2`

const selectSameDay = updateColumns + `
FROM price_update u
WHERE u.supplier = $1 AND u.list_date = $2
ORDER BY u.number DESC
LIMIT 1`

// before finds the list among those that were taken, by its key or by its day and rows. It fails when the key or the
// day belongs to another list.
func (w *taking) before(ctx context.Context) (*Update, error) {
	if w.list.Key != "" {
		u, content, err := oneUpdate(ctx, w.tx, selectBefore, w.list.Supplier, w.list.Key)
		switch {
		case err != nil:
			return nil, err
		case u != nil && !bytes.Equal(content, w.stage.content):
			return nil, &db.KeyReusedError{Detail: fmt.Sprintf("The Idempotency-Key was sent with another list before, %s of %s. Send every list with a key of its own.", u.ID, u.ListDate)}
		case u != nil:
			return w.again(ctx, u)
		}
	}
	u, content, err := oneUpdate(ctx, w.tx, selectSameDay, w.list.Supplier, w.list.ListDate)
	switch {
	case err != nil || u == nil:
		return nil, err
	case bytes.Equal(content, w.stage.content) && w.list.Replace && !u.Whole():
		return nil, nil // an article may be known since, or a decision be wrong
	case bytes.Equal(content, w.stage.content):
		return w.again(ctx, u)
	case !w.list.Replace && !w.list.DryRun && (u.Status == Applied || u.Status == Unchanged):
		return nil, &fault.Fault{Kind: fault.Conflict, Detail: fmt.Sprintf("Another list of %s with the date %s has been taken, %s.", w.list.Supplier, w.list.ListDate, u.ID), Fix: "If this one corrects it, send it with replace=true: its prices then go over those of the first."}
	}
	return nil, nil
}

// Whole reports whether nothing of the list was held or rejected.
func (u *Update) Whole() bool {
	return (u.Status == Applied || u.Status == Unchanged) && u.Counts.Held+u.Counts.Rejected == 0
}

func (w *taking) again(ctx context.Context, u *Update) (*Update, error) {
	u.Repeated = true
	return u, fillUpdate(ctx, w.tx, u)
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
	if w.list.EffectiveFrom < newest.Before(mostLate) {
		late := &fault.Fault{Kind: fault.Impossible, Pointer: "/effective_from", Detail: fmt.Sprintf("The list takes effect on %s, more than %d days before the newest list of %s that was applied (%s); it cannot be put in order any more.", w.list.EffectiveFrom, mostLate, w.list.Supplier, newest)}
		if w.decision {
			late.Pointer, late.Fix = "", "Dismiss what is held; a single price can be corrected with PUT /v1/imports/prices."
		}
		return late
	}
	return nil
}

// report is the report of what was judged.
func (w *taking) report() *Update {
	l, j := w.list, &w.judged
	u := &Update{
		ID: newID(), Supplier: l.Supplier, ListDate: l.ListDate, EffectiveFrom: l.EffectiveFrom, Currency: l.Currency,
		HeldBecause: append([]string{}, j.because...), Counts: j.counts, CreatedAt: l.Now.UTC(), CreatedBy: l.By, Status: Applied,
	}
	if l.Understood != nil {
		u.Understood = l.Understood()
	}
	switch {
	case len(j.because) > 0:
		u.Status = Held
	case j.counts.New+j.counts.Changed+j.counts.Held == 0:
		u.Status = Unchanged
	}
	if l.DryRun {
		u.ID = ""
	}
	return u
}

func shortened(text string, most int) string {
	if len(text) <= most {
		return text
	}
	for most > 0 && text[most]&0xC0 == 0x80 {
		most--
	}
	return text[:most] + "…"
}
