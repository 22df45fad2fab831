package shelf

import (
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/sheet"
)

// things reads the things of a part that lie in its own table and those that hang on it, in an order.
func things[T any](l *loading, part *sheet.Part, order string, into *[]T, version func(*T) *int64) query {
	thing := new(T)
	tables, joins := []string{part.Table}, ""
	for _, t := range tablesOf(part) {
		if t != "species_property" { // a row for each property
			tables, joins = append(tables, t), joins+fmt.Sprintf(" JOIN %s ON %s.code = %s.code", t, t, part.Table)
		}
	}
	r := l.cells()
	r.read(part, thing, tables...).also(part.Table+".version", version(thing))
	sql := fmt.Sprintf("SELECT %s\nFROM %s%s\nWHERE %s.retired_at IS NULL\nORDER BY %s", r.columns(), part.Table, joins,
		part.Table, order)
	return query{part.Table, sql, func(rows pgx.Rows) error {
		*thing = *new(T) // nothing of the row before stays
		err := r.scan(rows, l.stock)
		*into = append(*into, *thing)
		return err
	}}
}
