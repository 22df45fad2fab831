package lists

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

const updateColumns = `
SELECT u.number, u.id, u.supplier::text, u.list_date::text, u.effective_from::text, u.currency, u.content, u.status, u.held_because,
       u.understood, u.counts, u.largest_moves, u.basket, u.revision, u.created_at, u.created_by, u.decided_at, coalesce(u.decided_by, '')`

func scanUpdate(row pgx.Row) (*Update, []byte, error) {
	var u Update
	var content, understood, counts, moves, basket []byte
	var decided *time.Time
	err := row.Scan(&u.number, &u.ID, &u.Supplier, &u.ListDate, &u.EffectiveFrom, &u.Currency, &content, &u.Status,
		&u.HeldBecause,
		&understood, &counts, &moves, &basket, &u.Revision, &u.CreatedAt, &u.CreatedBy, &decided, &u.DecidedBy)
	if err != nil {
		return nil, nil, err
	}
	u.CreatedAt = u.CreatedAt.UTC()
	if decided != nil {
		u.DecidedAt = decided.UTC()
	}
	return &u, content, errors.Join(json.Unmarshal(understood, &u.Understood), json.Unmarshal(counts, &u.Counts),
		json.Unmarshal(moves, &u.LargestMoves), json.Unmarshal(basket, &u.Basket))
}

// oneUpdate returns the update that a query finds and the hash of its rows, or nil.
func oneUpdate(ctx context.Context, on db.Reader, sql string, args ...any) (*Update, []byte, error) {
	u, content, err := scanUpdate(on.QueryRow(ctx, sql, args...))
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil, nil
	}
	return u, content, err
}

const selectUndecided = `SELECT count(*) FROM price_update_row WHERE update_number = $1 AND status = 'held'`

// fillUpdate adds the first rows, how many wait for a decision, and how the open offers stand.
func fillUpdate(ctx context.Context, on db.Reader, u *Update) error {
	if err := on.QueryRow(ctx, selectUndecided, u.number).Scan(&u.Undecided); err != nil {
		return err
	}
	var err error
	if u.FirstRows, err = readRows(ctx, on, u.number, nil, 0, mostFirstRows); err != nil || u.Status != Applied {
		return err
	}
	u.Offers, err = offersSince(ctx, on, u.Revision)
	return err
}

const selectUpdateRows = `
SELECT place, line, status, list_column, reason, found, code, coalesce(item, ''), coalesce(size::text, ''),
       coalesce(amount::text, ''), coalesce(before_amount::text, ''), coalesce(listed_per, '')
FROM price_update_row
WHERE update_number = $1 AND ($2::text[] IS NULL OR status = ANY ($2)) AND place > $3
ORDER BY place
LIMIT $4`

func readRows(ctx context.Context, on db.Reader, number int64, statuses []RowStatus, after, limit int) ([]Row, error) {
	rows, _ := on.Query(ctx, selectUpdateRows, number, db.Texts(statuses), after, limit) // a failed Query is reported by the collector
	return pgx.CollectRows(rows, pgx.RowToStructByPos[Row])
}

const selectUpdates = updateColumns + `
FROM price_update u
WHERE ($1 = '' OR u.supplier = $1) AND ($2::text[] IS NULL OR u.status = ANY ($2)) AND ($3 = 0 OR u.number < $3)
ORDER BY u.number DESC
LIMIT $4`

// Updates lists the lists that were taken in, newest first: those of a supplier and in some states when they are named,
// at most limit of them, from the one after the number that next returned on. Next is 0 behind the last one.
func (s *Store) Updates(ctx context.Context, supplier string, statuses []Status, after int64,
	limit int) (list []*Update, next int64, err error) {
	rows, err := s.db.On(ctx).Query(ctx, selectUpdates, supplier, db.Texts(statuses), after, limit+1)
	if err != nil {
		return nil, 0, db.Fault(ctx, err)
	}
	list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (*Update, error) {
		u, _, err := scanUpdate(row)
		return u, err
	})
	if err != nil {
		return nil, 0, db.Fault(ctx, err)
	}
	if len(list) > limit {
		list = list[:limit]
		next = list[limit-1].number
	}
	return list, next, nil
}

const selectUpdate = updateColumns + ` FROM price_update u WHERE u.id = $1`

// Update returns the report of one list; a Fault of the kind NotFound when there is none.
func (s *Store) Update(ctx context.Context, id string) (*Update, error) {
	u, _, err := oneUpdate(ctx, s.db.Pool, selectUpdate, id)
	switch {
	case err != nil:
		return nil, db.Fault(ctx, err)
	case u == nil:
		return nil, noUpdate(id)
	}
	return u, db.Fault(ctx, fillUpdate(ctx, s.db.Pool, u))
}

// Rows lists the held and rejected rows of a list, from the place after the one named on; with statuses only
// those of them.
func (s *Store) Rows(ctx context.Context, id string, statuses []RowStatus, after, limit int) ([]Row, error) {
	u, _, err := oneUpdate(ctx, s.db.Pool, selectUpdate, id)
	switch {
	case err != nil:
		return nil, db.Fault(ctx, err)
	case u == nil:
		return nil, noUpdate(id)
	}
	rows, err := readRows(ctx, s.db.Pool, u.number, statuses, after, limit)
	return rows, db.Fault(ctx, err)
}

func noUpdate(id string) error {
	return &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no price update %q.", shortened(id, 80)),
		Fix: "GET /v1/price-updates lists those there are."}
}
