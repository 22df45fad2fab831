package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// The parts of the audit trail that are no parts of the catalogue's tables.
const (
	AuditSuppliers    = "suppliers"
	AuditArticles     = "supplier-articles"
	AuditPriceUpdates = "price-updates"
	AuditLetterhead   = "letterhead"
)

// auditSupplier notes that a supplier was made or replaced; $3 is what it was, null: there was none.
const auditSupplier = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1, 'suppliers', s.code, CASE WHEN $3::json IS NULL THEN 'create' ELSE 'replace' END, $3::json, s.shown, r.revision
FROM (SELECT code::text, json_build_object('code', code, 'name', name, 'move_limit', move_limit, 'missing_limit', missing_limit, 'held_limit', held_limit) AS shown FROM supplier) s,
     catalogue_revision r
WHERE s.code = $2 AND s.shown::text IS DISTINCT FROM $3::text`

const selectSupplierShown = `
SELECT json_build_object('code', code, 'name', name, 'move_limit', move_limit, 'missing_limit', missing_limit, 'held_limit', held_limit)::text
FROM supplier WHERE code = $1`

func noteSupplier(ctx context.Context, tx pgx.Tx, code, by string, before *string) error {
	if err := db.LockRevision(ctx, tx); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, auditSupplier, by, code, before)
	return err
}

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

// auditPrices notes a list in one entry, or a decision about what was held of it: $3 is what the list was before.
const auditPrices = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $2, 'price-updates', u.id, CASE WHEN $3::json IS NULL THEN 'create' ELSE 'replace' END, $3::json,
       json_build_object('supplier', u.supplier, 'list_date', u.list_date, 'status', u.status, 'counts', u.counts,
         'undecided', (SELECT count(*) FROM price_update_row w WHERE w.update_number = u.number AND w.status = 'held')), u.revision
FROM price_update u
WHERE u.number = $1`
