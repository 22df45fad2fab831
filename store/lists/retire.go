package lists

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// knownSupplier is what there is under a code.
type knownSupplier struct {
	known   bool  // in use, or retired
	version int64 // 0: not in use
}

// lockKnown locks a supplier until the transaction ends, in use or not.
func lockKnown(ctx context.Context, tx pgx.Tx, code string) (now knownSupplier, err error) {
	err = tx.QueryRow(ctx, `SELECT CASE WHEN retired_at IS NULL THEN version ELSE 0 END FROM supplier WHERE code = $1 FOR NO KEY UPDATE`,
		code).Scan(&now.version)
	if errors.Is(err, pgx.ErrNoRows) {
		return now, nil
	}
	now.known = true
	return now, err
}

// mostUndecided is how many lists a refusal to retire names.
const mostUndecided = 20

const selectHeldLists = `
SELECT id
FROM price_update u
WHERE supplier = $1 AND (status = 'held' OR EXISTS (SELECT FROM price_update_row r WHERE r.update_number = u.number AND r.status = 'held'))
ORDER BY number
LIMIT $2`

// decided fails when a list of a supplier waits for a decision: nobody could approve it afterwards.
func decided(ctx context.Context, tx pgx.Tx, code string) error {
	rows, _ := tx.Query(ctx, selectHeldLists, code, mostUndecided+1) // a failed Query is reported by the collector
	held, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil || len(held) == 0 {
		return err
	}
	more := ""
	if len(held) > mostUndecided {
		held, more = held[:mostUndecided], " and more"
	}
	return &fault.Fault{Kind: fault.Conflict,
		Detail: fmt.Sprintf("Of the supplier %s something is still held: %s%s.", code, strings.Join(held, ", "), more),
		Fix:    "Approve or dismiss it first."}
}

const auditRetired = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'suppliers', $2, 'retire', $3::json, NULL, revision FROM catalogue_revision
RETURNING revision`

// Retire takes a supplier out of use. Prices that it gave stay in force until another's come, and age; its lists stay, and
// so do its article numbers, which come back with it. Allow is asked with its version; its error comes back as it is. It
// returns the catalogue's revision then. It fails with a Fault: NotFound for a supplier that is not in use, Conflict while
// something of its lists is held.
func (s *Store) Retire(ctx context.Context, code, by string, allow func(version int64) error) (revision int64, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		now, err := lockKnown(ctx, tx, code)
		if err != nil {
			return err
		}
		if now.version == 0 {
			return noSupplier(code)
		}
		if err := allow(now.version); err != nil {
			return err
		}
		if err := decided(ctx, tx, code); err != nil {
			return err
		}
		var before string
		if err := tx.QueryRow(ctx, selectSupplierShown, code).Scan(&before); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE supplier SET retired_at = clock_timestamp() WHERE code = $1`, code); err != nil {
			return err
		}
		if err := db.RaiseRevision(ctx, tx); err != nil {
			return err
		}
		return tx.QueryRow(ctx, auditRetired, by, code, before).Scan(&revision)
	})
	return revision, db.Fault(ctx, err)
}
