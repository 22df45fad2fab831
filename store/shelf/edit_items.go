package shelf

import (
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// lockItems tells of each row whether it is of another part than the kinds say.
func lockItems(kinds []string) string {
	return "SELECT kind NOT IN (" + quotedAll(kinds) +
		") FROM (SELECT kind FROM item WHERE code = ANY ($1::text[]) ORDER BY code FOR UPDATE) locked"
}

func quotedAll(words []string) string { return "'" + strings.Join(words, "', '") + "'" }

// itemTable is a part of item and the tables of its kinds; table names that of a row.
func itemTable(part *sheet.Part, users string, table func(sheet.Row) string) editTable {
	kinds := part.Column("kind").Choices
	cells := cellsOf(part, "item")
	if part.Column("unit") == nil {
		cells = append(cells, tableCell{"unit", "unit", "text", "'each'"})
	}
	insert, update := insertOf("item", cells), updateOf("item", cells, inUseAgain)
	var joins strings.Builder
	hung := map[string][]tableCell{}
	for _, t := range tablesOf(part) {
		fmt.Fprintf(&joins, " LEFT JOIN %s ON %s.code = t.code", t, t)
		hung[t] = cellsOf(part, t)
	}
	return editTable{
		read:  readOf(part, joins.String(), "t.kind IN ("+quotedAll(kinds)+") AND "),
		order: " ORDER BY t.code",
		lock:  lockItems(kinds),
		put: func(b *pgx.Batch, row sheet.Row, there bool, _ Present) {
			queue(b, insert, update, row, cells, there)
		},
		retire: retireOf("item"),
		users:  users,
		hang: func(b *pgx.Batch, row sheet.Row) {
			t := table(row)
			b.Queue(insertOf(t, hung[t])+" ON CONFLICT (code) DO UPDATE SET "+assignments(hung[t]), arguments(row, hung[t])...)
			hangPacks(b, row)
		},
	}
}

// hangPacks never deletes a pack: prices of the past hang on it. One that is no longer sold is retired, and comes
// back when it is sold again.
func hangPacks(b *pgx.Batch, row sheet.Row) {
	const sizes = `coalesce(nullif(string_to_array($2::text, ' '), '{}')::numeric[], '{}')`
	b.Queue(`UPDATE item_pack SET retired_at = now() WHERE item = $1::text AND retired_at IS NULL AND NOT size = ANY (`+
		sizes+`)`, row.Get("code"), row.Get("packs"))
	b.Queue(`INSERT INTO item_pack (item, size) SELECT $1::text, unnest(`+sizes+`)
ON CONFLICT (item, size) DO UPDATE SET retired_at = NULL WHERE item_pack.retired_at IS NOT NULL`, row.Get("code"), row.Get("packs"))
}

func fastenerTable() editTable {
	return itemTable(sheet.Fasteners, "", func(sheet.Row) string { return "fastener" })
}

// usersOfMaterial: a sundry that goes with a finish system needs one finish of it.
const usersOfMaterial = `
SELECT 'material ' || s.code
FROM finish f
JOIN sundry s ON s.finish_system = f.system
JOIN item i ON i.code = s.code
WHERE f.code = $1 AND i.retired_at IS NULL
  AND NOT EXISTS (SELECT FROM finish o JOIN item j ON j.code = o.code WHERE o.system = f.system AND o.code <> f.code AND j.retired_at IS NULL)
ORDER BY s.code`

func materialTable() editTable {
	return itemTable(sheet.Materials, usersOfMaterial, func(row sheet.Row) string { return row.Get("kind") })
}
