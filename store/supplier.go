package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Supplier is who sells, with limits of its own where the settings' do not fit.
type Supplier struct {
	Code         string
	Name         string
	MoveLimit    string // hundredths, decimal; empty: the setting price_move_limit holds
	MissingLimit string // likewise
	HeldLimit    string // likewise
	Version      int64  // counts the changes
}

const supplierColumns = `
SELECT code::text, name::text, coalesce(trim_scale(move_limit)::text, ''), coalesce(trim_scale(missing_limit)::text, ''), coalesce(trim_scale(held_limit)::text, ''), version
FROM supplier`

// Suppliers lists the suppliers by code, at most limit of them, from the one after the code named on.
func (s *Store) Suppliers(ctx context.Context, after string, limit int) ([]Supplier, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Supplier], supplierColumns+` WHERE code > $1 ORDER BY code LIMIT $2`, after, limit)
}

// Supplier returns one supplier, or a Fault of the kind NotFound.
func (s *Store) Supplier(ctx context.Context, code string) (Supplier, error) {
	rows, err := s.db.On(ctx).Query(ctx, supplierColumns+` WHERE code = $1`, code)
	if err != nil {
		return Supplier{}, db.Fault(ctx, err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Supplier])
	if err == nil && len(list) == 0 {
		return Supplier{}, noSupplier(code)
	}
	if err != nil {
		return Supplier{}, db.Fault(ctx, err)
	}
	return list[0], nil
}

const putSupplier = `
INSERT INTO supplier (code, name, move_limit, missing_limit, held_limit)
VALUES ($1::text, $2::text, nullif($3, '')::numeric, nullif($4, '')::numeric, nullif($5, '')::numeric)
ON CONFLICT (code) DO UPDATE
  SET name = excluded.name, move_limit = excluded.move_limit, missing_limit = excluded.missing_limit, held_limit = excluded.held_limit
RETURNING version`

// PutSupplier makes a supplier or replaces what is known of one. Allow is asked whether it may, with the version of
// the one that exists (0: none); its error comes back as it is. Created says that there was none.
func (s *Store) PutSupplier(ctx context.Context, x Supplier, by string, allow func(version int64) error) (saved Supplier, created bool, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		var version int64
		err := tx.QueryRow(ctx, `SELECT coalesce((SELECT version FROM supplier WHERE code = $1 FOR NO KEY UPDATE), 0)`, x.Code).Scan(&version)
		if err != nil {
			return err
		}
		if err := allow(version); err != nil {
			return err
		}
		created = version == 0
		var before *string
		if !created {
			if err := tx.QueryRow(ctx, selectSupplierShown, x.Code).Scan(&before); err != nil {
				return err
			}
		}
		if err := tx.QueryRow(ctx, putSupplier, x.Code, x.Name, x.MoveLimit, x.MissingLimit, x.HeldLimit).Scan(&x.Version); err != nil {
			return err
		}
		return noteSupplier(ctx, tx, x.Code, by, before)
	})
	if err != nil {
		return Supplier{}, false, db.Fault(ctx, err)
	}
	return x, created, nil
}

// Article is what a supplier's own article number means: one pack of an item.
type Article struct {
	Article string
	Item    string
	Size    string // content of the pack, decimal in the item's unit
}

const selectArticles = `
SELECT article, item::text, trim_scale(size)::text
FROM supplier_article
WHERE supplier = $1 AND article > $2
ORDER BY article
LIMIT $3`

// Articles lists a supplier's article numbers in order, at most limit of them, from the one after the number named on.
func (s *Store) Articles(ctx context.Context, supplier, after string, limit int) ([]Article, error) {
	if _, err := s.Supplier(ctx, supplier); err != nil {
		return nil, err
	}
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Article], selectArticles, supplier, after, limit)
}

// checkArticles returns the places of packs that are not sold, each with the packs that the item is sold in; null: there
// is no such item.
const checkArticles = `
SELECT a.place::int - 1, CASE WHEN i.code IS NOT NULL THEN coalesce((
         SELECT string_agg(trim_scale(o.size)::text, ', ' ORDER BY o.size) FROM item_pack o WHERE o.item = i.code AND o.retired_at IS NULL), 'none') END
FROM unnest($1::text[], $2::text[]) WITH ORDINALITY a (item, size, place)
LEFT JOIN item i ON i.code = a.item AND i.retired_at IS NULL
LEFT JOIN item_pack p ON p.item = i.code AND p.size = a.size::numeric AND p.retired_at IS NULL
WHERE p.item IS NULL
ORDER BY a.place`

// putArticles: of a number that stands twice the last one counts.
const putArticles = `
INSERT INTO supplier_article AS s (supplier, article, item, size, set_by)
SELECT DISTINCT ON (a.article) $1::text, a.article, a.item, a.size::numeric, $5::text
FROM unnest($2::text[], $3::text[], $4::text[]) WITH ORDINALITY a (article, item, size, place)
ORDER BY a.article, a.place DESC
ON CONFLICT (supplier, article) DO UPDATE
  SET item = excluded.item, size = excluded.size, set_at = now(), set_by = excluded.set_by
  WHERE (s.item, s.size) IS DISTINCT FROM (excluded.item, excluded.size)`

// PutArticles says what article numbers of a supplier mean; numbers that are not named stay. It fails with Faults at
// /items/N for packs that are not sold, or NotFound for the supplier.
func (s *Store) PutArticles(ctx context.Context, supplier string, list []Article, by string) error {
	if _, err := s.Supplier(ctx, supplier); err != nil {
		return err
	}
	var articles, items, sizes []string
	for _, a := range list {
		articles, items, sizes = append(articles, a.Article), append(items, a.Item), append(sizes, a.Size)
	}
	err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		rows, _ := tx.Query(ctx, checkArticles, items, sizes) // a failed Query is reported by the loop
		var wrong fault.List
		var n int
		var packs *string
		_, err := pgx.ForEachRow(rows, []any{&n, &packs}, func() error {
			detail := fmt.Sprintf("There is no item %s on sale.", list[n].Item)
			if packs != nil {
				detail = fmt.Sprintf("%s is not sold in a pack of %s; its packs: %s.", list[n].Item, list[n].Size, *packs)
			}
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/items/%d", n), Detail: detail})
			return nil
		})
		if err != nil {
			return err
		}
		if err := wrong.Err(); err != nil {
			return err
		}
		if err := db.LockRevision(ctx, tx); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, auditArticles, by, supplier, articles, items, sizes); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, putArticles, supplier, articles, items, sizes, by)
		return err
	})
	return db.Fault(ctx, priceFault(err))
}

// DeleteArticle forgets what an article number means; a Fault of the kind NotFound when nobody has said it.
func (s *Store) DeleteArticle(ctx context.Context, supplier, article, by string) error {
	err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if err := db.LockRevision(ctx, tx); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, auditForgotten, by, supplier, article); err != nil {
			return err
		}
		tag, err := tx.Exec(ctx, `DELETE FROM supplier_article WHERE supplier = $1 AND article = $2`, supplier, article)
		if err == nil && tag.RowsAffected() == 0 {
			return &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("The supplier %q has no article %q here.", shortened(supplier, 80), shortened(article, 100))}
		}
		return err
	})
	return db.Fault(ctx, err)
}
