package lists

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"golang.org/x/sync/errgroup"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// TakeIn takes in a price list, whole or not at all. Lists of one supplier queue; lists of different
// suppliers, and readers, are not held up. The same list sent again (the same rows for the same supplier and day, or
// the same key) changes nothing and returns the first report.
//
// It fails with a Fault: NotFound for an unknown supplier, Impossible for dates that cannot be, Conflict for another
// list of the same day without Replace, Unavailable without a database; with a db.KeyReusedError for a key that another
// list has, and with db.ErrKeyInUse. An error of the rows comes back as it is.
func (s *Store) TakeIn(ctx context.Context, list List) (*Update, error) {
	if list.EffectiveFrom == "" {
		list.EffectiveFrom = list.ListDate
	}
	if err := list.checkDays(); err != nil {
		return nil, err
	}
	var update *Update
	err := s.onOwnConnection(ctx, func(conn *pgx.Conn) error {
		work := &taking{conn: conn, list: &list}
		var err error
		update, err = work.run(s.db.Politely(ctx))
		return err
	})
	return update, err
}

// run reads the list into a staging table of the connection, without a lock on anything, and then does the rest in
// one transaction under the supplier's lock.
func (w *taking) run(ctx context.Context) (*Update, error) {
	if w.list.Key != "" {
		free, err := w.lockKey(ctx)
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

// lockKey keeps the sender's key from being used twice at a time, for as long as the list is worked on.
func (w *taking) lockKey(ctx context.Context) (free func(), err error) {
	var mine bool
	err = w.conn.QueryRow(ctx, `SELECT pg_try_advisory_lock(`+keyLock+`)`, w.list.Supplier, w.list.Key).Scan(&mine)
	if err != nil {
		return nil, fmt.Errorf("lock the key: %w", err)
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

// take judges the list and applies it, or holds it.
func (w *taking) take(ctx context.Context) (*Update, error) {
	if err := w.lock(ctx); err != nil {
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
		return nil, &fault.Fault{Kind: fault.Conflict,
			Detail: fmt.Sprintf("Another list of %s with the date %s has been taken, %s.", w.list.Supplier, w.list.ListDate,
				u.ID), Fix: "If this one corrects it, send it with replace=true: its prices then go over those of the first."}
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

// report is the report of what was judged.
func (w *taking) report() *Update {
	l, j := w.list, &w.judged
	u := &Update{
		ID: newID(), Supplier: l.Supplier, ListDate: l.ListDate, EffectiveFrom: l.EffectiveFrom, Currency: l.Currency,
		HeldBecause: append([]string{}, j.because...), Counts: j.counts, CreatedAt: l.Now.UTC(), CreatedBy: l.By,
		Status: Applied,
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

// read reads the list, without a lock on anything. Meanwhile the connection reads the prices that are in force.
func (w *taking) read(ctx context.Context) error {
	known, err := readKnown(ctx, w.conn, w.list.Supplier)
	if err != nil {
		return err
	}
	w.stage = stage{resolver: resolver{ctx: ctx, conn: w.conn, known: known.reader()}, list: w.list,
		currency: w.rails.currency, hash: sha256.New()}
	var beside errgroup.Group
	w.stage.beside = beside.Wait
	beside.Go(func() error { return w.readBeside(ctx) })
	err = w.stage.read()
	return cmp.Or(err, beside.Wait()) // the list's own trouble is the one to tell of
}
