package shelf

import (
	"fmt"
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

// same makes cells whose columns have the same name.
func same(kind, none string, names ...string) []tableCell {
	cells := make([]tableCell, len(names))
	for i, name := range names {
		cells[i] = tableCell{name, name, kind, none}
	}
	return cells
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
		return fmt.Sprintf("coalesce(nullif(%s, 0)::text, '')", column)
	case c.kind == "numeric":
		return fmt.Sprintf("coalesce(trim_scale(%s)::text, '')", column)
	}
	return fmt.Sprintf("coalesce(%s::text, '')", column)
}

func shownAll(t string, cells []tableCell) string {
	list := make([]string, len(cells))
	for i, c := range cells {
		list[i] = c.shown(t)
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

// plainTable is a part that lies in one table.
func plainTable(table string, cells []tableCell, hang func(*pgx.Batch, sheet.Row), users string) editTable {
	insert, update := insertOf(table, cells), updateOf(table, cells, inUseAgain)
	return editTable{
		read:   fmt.Sprintf("SELECT %s, t.version::text, (t.retired_at IS NOT NULL)::text FROM %s t WHERE ($1::text[] IS NULL OR t.code = ANY ($1))", shownAll("t", cells), table),
		order:  " ORDER BY t.code",
		lock:   lockOf(table),
		put:    func(b *pgx.Batch, row sheet.Row, there bool, _ Present) { queue(b, insert, update, row, cells, there) },
		hang:   hang,
		retire: retireOf(table),
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
	return fmt.Sprintf("SELECT false FROM (SELECT FROM %s WHERE code = ANY ($1::text[]) ORDER BY code FOR UPDATE) locked", table)
}

func retireOf(table string) string {
	return fmt.Sprintf("UPDATE %s SET retired_at = now() WHERE code = $1", table)
}
