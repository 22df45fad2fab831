package lists

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/store/db"
)

// Supplier is who sells, with limits of its own where the settings' do not fit.
type Supplier struct {
	Code         string
	Name         string
	MoveLimit    *money.Rate       // nil: the setting price_move_limit holds
	MissingLimit *money.Rate       // likewise
	HeldLimit    *money.Rate       // likewise
	Layout       *pricelist.Layout // of its lists; nil: plain names
	Version      int64             // counts the changes
}

const supplierColumns = `
SELECT code::text, name::text, coalesce(trim_scale(move_limit)::text, ''), coalesce(trim_scale(missing_limit)::text, ''), coalesce(trim_scale(held_limit)::text, ''), list_layout::text, version
FROM supplier`

func scanSupplier(row pgx.CollectableRow) (x Supplier, err error) {
	var move, missing, held string
	var layout *string
	if err := row.Scan(&x.Code, &x.Name, &move, &missing, &held, &layout, &x.Version); err != nil {
		return x, err
	}
	if x.Layout, err = layoutOf(x.Code, layout); err != nil {
		return x, err
	}
	for _, limit := range []struct {
		text string
		into **money.Rate
	}{{move, &x.MoveLimit}, {missing, &x.MissingLimit}, {held, &x.HeldLimit}} {
		if limit.text == "" {
			continue
		}
		rate, err := money.ParseRate(limit.text)
		if err != nil {
			return x, fmt.Errorf("limit of the supplier %s: %w", x.Code, err)
		}
		*limit.into = &rate
	}
	return x, nil
}

// limitText is a limit for the database; empty: none of its own.
func limitText(r *money.Rate) string {
	if r == nil {
		return ""
	}
	return r.String()
}

// Suppliers lists the suppliers in use by code, at most limit of them, from the one after the code named on.
func (s *Store) Suppliers(ctx context.Context, after string, limit int) ([]Supplier, error) {
	return db.All(ctx, s.db.On(ctx), scanSupplier, supplierColumns+` WHERE code > $1 AND retired_at IS NULL ORDER BY code LIMIT $2`, after, limit)
}

// Supplier returns one supplier in use, or a Fault of the kind NotFound.
func (s *Store) Supplier(ctx context.Context, code string) (Supplier, error) {
	list, err := db.All(ctx, s.db.On(ctx), scanSupplier, supplierColumns+` WHERE code = $1 AND retired_at IS NULL`, code)
	if err != nil {
		return Supplier{}, err
	}
	if len(list) == 0 {
		return Supplier{}, noSupplier(code)
	}
	return list[0], nil
}

const putSupplier = `
INSERT INTO supplier (code, name, move_limit, missing_limit, held_limit, list_layout)
VALUES ($1::text, $2::text, nullif($3, '')::numeric, nullif($4, '')::numeric, nullif($5, '')::numeric, $6::json)
ON CONFLICT (code) DO UPDATE
  SET name = excluded.name, move_limit = excluded.move_limit, missing_limit = excluded.missing_limit, held_limit = excluded.held_limit, list_layout = CASE WHEN $7 THEN supplier.list_layout ELSE excluded.list_layout END, retired_at = NULL
RETURNING version, list_layout::text`

func noSupplier(code string) error {
	return &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no supplier %q.", shortened(code, 80)),
		Fix: "PUT /v1/suppliers/{code} makes one; GET /v1/suppliers lists those there are."}
}

// auditSupplier notes that a supplier was made, replaced or put back into use; $3 is what it was, null: there was none.
const auditSupplier = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'suppliers', s.code, $4, $3::json, s.shown, r.revision
FROM (SELECT code::text, json_build_object('code', code, 'name', name, 'move_limit', move_limit, 'missing_limit', missing_limit, 'held_limit', held_limit, 'list_layout', list_layout) AS shown FROM supplier) s,
     catalogue_revision r
WHERE s.code = $2 AND ($4 = 'restore' OR s.shown::text IS DISTINCT FROM $3::text)`

const selectSupplierShown = `
SELECT json_build_object('code', code, 'name', name, 'move_limit', move_limit, 'missing_limit', missing_limit, 'held_limit', held_limit, 'list_layout', list_layout)::text
FROM supplier WHERE code = $1`

func noteSupplier(ctx context.Context, tx pgx.Tx, code, by, action string, before *string) error {
	if err := db.RaiseRevision(ctx, tx); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, auditSupplier, by, code, before, action)
	return err
}

// PutSupplier makes a supplier or replaces what is known of one. Allow is asked whether it may, with the version of
// the one in use (0: none); its error comes back as it is. With keepLayout the layout of one that is known stays. Created says
// that there was none in use: a retired one comes back with its article numbers.
func (s *Store) PutSupplier(ctx context.Context, x Supplier, keepLayout bool, by string,
	allow func(version int64) error) (saved Supplier, created bool, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		now, err := lockKnown(ctx, tx, x.Code)
		if err != nil {
			return err
		}
		if err := allow(now.version); err != nil {
			return err
		}
		action := "replace"
		switch created = now.version == 0; {
		case created && now.known:
			action = "restore"
		case created:
			action = "create"
		}
		var before *string
		if now.known {
			if err := tx.QueryRow(ctx, selectSupplierShown, x.Code).Scan(&before); err != nil {
				return err
			}
		}
		layout, err := layoutText(x.Layout)
		if err != nil {
			return err
		}
		if err := tx.QueryRow(ctx, putSupplier, x.Code, x.Name, limitText(x.MoveLimit), limitText(x.MissingLimit),
			limitText(x.HeldLimit), layout, keepLayout).Scan(&x.Version, &layout); err != nil {
			return err
		}
		if x.Layout, err = layoutOf(x.Code, layout); err != nil {
			return err
		}
		return noteSupplier(ctx, tx, x.Code, by, action, before)
	})
	if err != nil {
		return Supplier{}, false, db.Fault(ctx, err)
	}
	return x, created, nil
}
