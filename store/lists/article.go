package lists

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/store/db"
)

// Article is what a supplier's own article number means: one pack of an item.
type Article struct {
	Article string
	Item    string
	Size    money.Quantity // content of the pack, in the item's unit
}

func scanArticle(row pgx.CollectableRow) (a Article, err error) {
	var size string
	if err := row.Scan(&a.Article, &a.Item, &size); err != nil {
		return a, err
	}
	a.Size, err = money.ParseQuantity(size)
	return a, err
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
	return db.All(ctx, s.db.On(ctx), scanArticle, selectArticles, supplier, after, limit)
}

// checkArticles returns the places of packs that are not sold, each with the packs that the item is sold in; null:
// there is no such item.
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

// auditArticles notes what is about to become of article numbers; it comes before the change.
const auditArticles = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'supplier-articles', $2 || ' ' || a.article, CASE WHEN s.article IS NULL THEN 'create' ELSE 'replace' END,
       CASE WHEN s.article IS NOT NULL THEN json_build_object('item', s.item, 'pack_size', trim_scale(s.size)) END,
       json_build_object('item', a.item, 'pack_size', trim_scale(a.size)), r.revision
FROM (
  SELECT DISTINCT ON (a.article) a.article, a.item, a.size::numeric, a.place
  FROM unnest($3::text[], $4::text[], $5::text[]) WITH ORDINALITY a (article, item, size, place)
  ORDER BY a.article, a.place DESC
) a
LEFT JOIN supplier_article s ON s.supplier = $2 AND s.article = a.article
CROSS JOIN catalogue_revision r
WHERE (s.item, s.size) IS DISTINCT FROM (a.item, a.size)
ORDER BY a.place`

const auditForgotten = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'supplier-articles', supplier || ' ' || article, 'retire', json_build_object('item', item, 'pack_size', trim_scale(size)), NULL, r.revision
FROM supplier_article, catalogue_revision r
WHERE supplier = $2 AND article = $3`

// PutArticles says what article numbers of a supplier mean; numbers that are not named stay. It fails with Faults at
// /items/N for packs that are not sold, or NotFound for the supplier.
func (s *Store) PutArticles(ctx context.Context, supplier string, list []Article, by string) error {
	if _, err := s.Supplier(ctx, supplier); err != nil {
		return err
	}
	var articles, items, sizes []string
	for _, a := range list {
		articles, items, sizes = append(articles, a.Article), append(items, a.Item), append(sizes, a.Size.String())
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
	return db.Fault(ctx, listFault(err))
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
			return &fault.Fault{Kind: fault.NotFound,
				Detail: fmt.Sprintf("The supplier %q has no article %q here.", shortened(supplier, 80), shortened(article, 100))}
		}
		return err
	})
	return db.Fault(ctx, err)
}
