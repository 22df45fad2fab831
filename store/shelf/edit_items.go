package shelf

import (
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// itemCells are the cells of the table item that fasteners and materials share; a fastener's unit is each.
var itemCells = []tableCell{{"code", "code", "text", ""}, {"kind", "kind", "text", ""}, {"name", "name", "text", ""}, {"unit", "unit", "text", "'each'"},
	{"source", "source", "text", ""}, {"note", "note", "text", "''"}}

const shownPacks = `coalesce((SELECT string_agg(trim_scale(p.size)::text, ' ' ORDER BY p.size) FROM item_pack p WHERE p.item = t.code AND p.retired_at IS NULL), '')`

// lockItems tells of each row whether it is of another part than the kinds say.
func lockItems(kinds []string) string {
	return fmt.Sprintf("SELECT kind NOT IN ('%s') FROM (SELECT kind FROM item WHERE code = ANY ($1::text[]) ORDER BY code FOR UPDATE) locked", strings.Join(kinds, "', '"))
}

// itemTable is a part of item and the tables of its kinds.
func itemTable(part *sheet.Part, shown, joins, users string, tables map[string][]tableCell) editTable {
	kinds := part.Column("kind").Choices
	insert, update := insertOf("item", itemCells), updateOf("item", itemCells, inUseAgain)
	return editTable{
		read: fmt.Sprintf(`SELECT %s, t.version::text, (t.retired_at IS NOT NULL)::text
FROM item t %s WHERE t.kind IN ('%s') AND ($1::text[] IS NULL OR t.code = ANY ($1))`, shown, joins, strings.Join(kinds, "', '")),
		order: " ORDER BY t.code",
		lock:  lockItems(kinds),
		put: func(b *pgx.Batch, row sheet.Row, there bool, _ Present) {
			queue(b, insert, update, row, itemCells, there)
		},
		retire: retireOf("item"),
		users:  users,
		hang: func(b *pgx.Batch, row sheet.Row) {
			table := row.Get("kind")
			if part == sheet.Fasteners {
				table = "fastener"
			}
			cells := tables[table]
			b.Queue(insertOf(table, cells)+" ON CONFLICT (code) DO UPDATE SET "+assignments(cells), arguments(row, cells)...)
			hangPacks(b, row)
		},
	}
}

// hangPacks never deletes a pack: prices of the past hang on it. One that is no longer sold is retired, and comes
// back when it is sold again.
func hangPacks(b *pgx.Batch, row sheet.Row) {
	const sizes = `coalesce(nullif(string_to_array($2::text, ' '), '{}')::numeric[], '{}')`
	b.Queue(`UPDATE item_pack SET retired_at = now() WHERE item = $1::text AND retired_at IS NULL AND NOT size = ANY (`+sizes+`)`, row.Get("code"), row.Get("packs"))
	b.Queue(`INSERT INTO item_pack (item, size) SELECT $1::text, unnest(`+sizes+`)
ON CONFLICT (item, size) DO UPDATE SET retired_at = NULL WHERE item_pack.retired_at IS NOT NULL`, row.Get("code"), row.Get("packs"))
}

var fastenerCells = slices.Concat([]tableCell{{"code", "code", "text", ""}, {"kind", "kind", "text", ""}},
	same("double precision", "0", sheet.Measures()...), []tableCell{{"may_mix_with_bolts", "may_mix_with_bolt", "boolean", ""}})

func fastenerTable() editTable {
	shown := strings.Join([]string{"t.code::text", "t.kind", "t.name::text", "t.source::text", "t.note", shownPacks, shownAll("f", fastenerCells[2:])}, ", ")
	return itemTable(sheet.Fasteners, shown, "JOIN fastener f ON f.code = t.code", "", map[string][]tableCell{"fastener": fastenerCells})
}

const float = "double precision"

var codeCell = tableCell{"code", "code", "text", ""}

// materialTables has the cells of each kind in the order of the sheet.
var materialTables = map[string][]tableCell{
	"lumber": {codeCell, {"species", "species", "text", ""}, {"rough_thickness_mm", "rough_thickness_mm", float, ""},
		{"surfaced_thickness_mm", "surfaced_thickness_mm", float, ""}, {"grade", "grade", "text", ""}, {"clear_twelfths", "clear_twelfths", "smallint", ""},
		{"stock_lengths_mm", "stock_lengths_mm", lengthList, ""}, {"working_width_mm", "working_width_mm", float, ""}},
	"panel": {codeCell, {"species", "species", "text", ""}, {"panel_thickness_mm", "thickness_mm", float, ""}, {"panel_width_mm", "width_mm", float, ""}, {"panel_length_mm", "length_mm", float, ""}},
	"glue":  {codeCell, {"spread_m2", "spread_m2", float, ""}, {"clamp_hours", "clamp_hours", float, ""}},
	"finish": {codeCell, {"system", "system", "text", ""}, {"coverage_m2", "coverage_m2", float, ""}, {"dry_hours", "dry_hours", float, ""},
		{"coats", "coats", "integer", ""}, {"self_heats", "self_heat", "boolean", ""}, {"cure_days", "cure_days", float, ""}},
	"sundry": {codeCell, {"driver", "driver", "text", ""}, {"use", "used", float, ""}, {"with_finish", "finish_system", "text", ""}, {"by_use", "by_use", "boolean", ""}},
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
	kinds := []string{"lumber", "panel", "glue", "finish", "sundry"}
	shown := []string{"t.code::text", "t.kind", "t.name::text", "t.unit", "t.source::text", "t.note", shownPacks, "coalesce(lumber.species::text, panel.species::text, '')"}
	var joins strings.Builder
	for _, kind := range kinds {
		fmt.Fprintf(&joins, " LEFT JOIN %s ON %s.code = t.code", kind, kind)
		for _, c := range materialTables[kind] {
			switch c.cell {
			case "code", "species":
			case "stock_lengths_mm":
				shown = append(shown, "coalesce(array_to_string(lumber.stock_lengths_mm, ' '), '')")
			default:
				shown = append(shown, c.shown(kind))
			}
		}
	}
	return itemTable(sheet.Materials, strings.Join(shown, ", "), joins.String(), usersOfMaterial, materialTables)
}
