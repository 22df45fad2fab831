package shelf

import (
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// editTable says how the rows of a part lie in the tables.
type editTable struct {
	read   string // the cells in order, the version, whether it is retired; all rows, or those of the keys $1
	order  string // of the rows, for an export
	lock   string // locks the rows of the keys $1; one column: whether the row belongs to another part
	put    func(b *pgx.Batch, row sheet.Row, there bool, was Present)
	hang   func(b *pgx.Batch, row sheet.Row) // writes what hangs on a row
	retire string
	users  string // names what in use refers to the row $1
}

// tableCell is a cell of a sheet and the column of a table that holds it. The first of a table is its key.
type tableCell struct {
	cell, column, kind string
	none               string // what stands in the table for an empty cell; empty: null
}

// lengthList is the kind of a column that holds a list.
const lengthList = "double precision[]"

// columnKinds are the database's words for the kinds of cells that a column holds. Other lists are rows of a table of their own.
var columnKinds = map[sheet.Kind]string{sheet.Code: "text", sheet.Text: "text", sheet.Choice: "text",
	sheet.Number:  "double precision",
	sheet.Decimal: "numeric", sheet.Whole: "integer", sheet.Truth: "boolean", sheet.Numbers: lengthList}

// cellOf is the cell of a column that lies in a table.
func cellOf(c *sheet.Column, h *sheet.Held) tableCell {
	t := tableCell{cell: c.Name, column: h.In, kind: columnKinds[c.Kind]}
	switch {
	case !c.Zero:
	case t.kind == "text":
		t.none = "''"
	default:
		t.none = "0"
	}
	return t
}

// cellsOf lists the cells of a part that lie in a table, the part's keys first in each.
func cellsOf(part *sheet.Part, table string) []tableCell {
	var cells []tableCell
	for i := range part.Columns {
		for j := range part.Columns[i].Held {
			c, h := &part.Columns[i], &part.Columns[i].Held[j]
			if h.Table == table || i < keysOf(table) {
				cells = append(cells, cellOf(c, h))
			}
		}
	}
	return cells
}

// keysOf is how many columns a table has of those that name an item: fastener has its kind as well.
func keysOf(table string) int {
	if table == "fastener" {
		return 2
	}
	return 1
}

// tablesOf lists the tables that hang on a part's own, each with one row for a thing.
func tablesOf(part *sheet.Part) (tables []string) {
	for _, c := range part.Columns {
		for _, h := range c.Held {
			if c.Kind != sheet.Sizes && c.Kind != sheet.Codes && h.Table != part.Table && !slices.Contains(tables, h.Table) {
				tables = append(tables, h.Table)
			}
		}
	}
	return tables
}

// value is the expression for the cell that is parameter n.
func (c tableCell) value(n int) string {
	text := fmt.Sprintf("nullif($%d::text, '')::%s", n, c.kind)
	if c.kind == lengthList {
		return fmt.Sprintf("string_to_array($%d::text, ' ')::%s", n, c.kind)
	}
	if c.none == "" {
		return text
	}
	return fmt.Sprintf("coalesce(%s, %s)", text, c.none)
}

// shown is the expression that reads the column of table t as a cell.
func (c tableCell) shown(t string) string {
	column := t + "." + c.column
	switch {
	case c.none == "0":
		column = fmt.Sprintf("nullif(%s, 0)::text", column)
	case c.kind == "numeric":
		column = fmt.Sprintf("trim_scale(%s)::text", column)
	case c.kind == lengthList:
		column = fmt.Sprintf("array_to_string(%s, ' ')", column)
	default:
		column += "::text"
	}
	return fmt.Sprintf("coalesce(%s, '')", column)
}

// shownRows are the expressions for cells whose table has rows of its own for them.
var shownRows = map[string]string{
	"packs": `coalesce((SELECT string_agg(trim_scale(p.size)::text, ' ' ORDER BY p.size) FROM item_pack p WHERE p.item = t.code AND p.retired_at IS NULL), '')`,
	"after": `coalesce((SELECT string_agg(a.follows::text, ' ' ORDER BY a.follows) FROM labour_standard_after a WHERE a.step = t.code), '')`,
}

// shownAll is the list of expressions for the cells of a part, whose own table is t.
func shownAll(part *sheet.Part) string {
	list := make([]string, len(part.Columns))
	for i := range part.Columns {
		c := &part.Columns[i]
		var held []string
		for j := range c.Held {
			switch h := &c.Held[j]; h.Table {
			case part.Table:
				held = append(held, cellOf(c, h).shown("t"))
			case "species_property":
				held = append(held, shownProperty(c, h))
			default:
				held = append(held, cellOf(c, h).shown(h.Table))
			}
		}
		list[i] = held[0]
		if len(held) > 1 {
			list[i] = "coalesce(nullif(" + strings.Join(held, ", ''), nullif(") + ", ''), '')"
		}
		if rows, there := shownRows[c.Name]; there {
			list[i] = rows
		}
	}
	return strings.Join(list, ", ")
}

func arguments(row sheet.Row, cells []tableCell) []any {
	list := make([]any, len(cells))
	for i, c := range cells {
		list[i] = row.Get(c.cell)
	}
	return list
}

// insertOf and updateOf write all cells; the key is the first. An updated row is in use again.
func insertOf(table string, cells []tableCell) string {
	columns, values := make([]string, len(cells)), make([]string, len(cells))
	for i, c := range cells {
		columns[i], values[i] = c.column, c.value(i+1)
	}
	return fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s)", table, strings.Join(columns, ", "), strings.Join(values, ", "))
}

func updateOf(table string, cells []tableCell, more string) string {
	return fmt.Sprintf("UPDATE %s SET %s%s WHERE %s = $1::text", table, assignments(cells), more, cells[0].column)
}

func assignments(cells []tableCell) string {
	list := make([]string, 0, len(cells))
	for i, c := range cells[1:] {
		list = append(list, c.column+" = "+c.value(i+2))
	}
	return strings.Join(list, ", ")
}

const inUseAgain = ", retired_at = NULL"

// readOf reads the rows of a part, whose own table is t, those of the keys $1 or all.
func readOf(part *sheet.Part, joins, where string) string {
	return fmt.Sprintf("SELECT %s, t.version::text, (t.retired_at IS NOT NULL)::text\nFROM %s t%s\nWHERE %s($1::text[] IS NULL OR t.code = ANY ($1))",
		shownAll(part), part.Table, joins, where)
}

// plainTable is a part that lies in one table.
func plainTable(part *sheet.Part, hang func(*pgx.Batch, sheet.Row), users string) editTable {
	cells := cellsOf(part, part.Table)
	insert, update := insertOf(part.Table, cells), updateOf(part.Table, cells, inUseAgain)
	return editTable{
		read:   readOf(part, "", ""),
		order:  " ORDER BY t.code",
		lock:   lockOf(part.Table),
		put:    func(b *pgx.Batch, row sheet.Row, there bool, _ Present) { queue(b, insert, update, row, cells, there) },
		hang:   hang,
		retire: retireOf(part.Table),
		users:  users,
	}
}

func queue(b *pgx.Batch, insert, update string, row sheet.Row, cells []tableCell, there bool) {
	if there {
		insert = update
	}
	b.Queue(insert, arguments(row, cells)...)
}

func lockOf(table string) string {
	return fmt.Sprintf("SELECT false FROM (SELECT FROM %s WHERE code = ANY ($1::text[]) ORDER BY code FOR UPDATE) locked",
		table)
}

func retireOf(table string) string {
	return fmt.Sprintf("UPDATE %s SET retired_at = now() WHERE code = $1", table)
}
