package shelf

import (
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/sheet"
)

// Items may be many. They and the tables of their kinds are read as they lie, and put together here: the database would
// take longer for joining and sorting them.
func (l *loading) item() query {
	var code pgtype.DriverBytes
	var m catalogue.Material
	r := l.cells().read(sheet.Materials, &m, "item").also("item.version", &m.Version)
	r.into[0] = &code // has a table of its own
	return query{"item", "SELECT " + r.columns() + " FROM item WHERE retired_at IS NULL", func(rows pgx.Rows) error {
		if err := r.scan(rows, l.stock); err != nil {
			return fmt.Errorf("row %s, %w", code, err)
		}
		l.items.add(code, m)
		return nil
	}}
}

// kinds reads the tables of the kinds of materials, each into a material of its own, and keeps what it is of.
func (l *loading) kinds() []query {
	return []query{
		l.kind("lumber", func(to, read *catalogue.Material) {
			to.Lumber = l.boards.one()
			*to.Lumber = *read.Lumber
		}),
		l.kind("panel", func(to, read *catalogue.Material) { to.Panel = copied(read.Panel) }),
		l.kind("glue", func(to, read *catalogue.Material) { to.Glue = copied(read.Glue) }),
		l.kind("finish", func(to, read *catalogue.Material) { to.Finish = copied(read.Finish) }),
		l.kind("sundry", func(to, read *catalogue.Material) { to.Sundry = copied(read.Sundry) }),
	}
}

func (l *loading) kind(table string, keep func(to, read *catalogue.Material)) query {
	var code pgtype.DriverBytes
	m := sheet.Materials.New().(*catalogue.Material)
	r := l.cells()
	r.also(table+".code::text", &code).read(sheet.Materials, m, table)
	return query{table, "SELECT " + r.columns() + " FROM " + table, func(rows pgx.Rows) error {
		if err := r.scan(rows, l.stock); err != nil {
			return fmt.Errorf("row %s, %w", code, err)
		}
		if to := l.items.material(code); to != nil {
			keep(to, m)
		}
		return nil
	}}
}

func copied[T any](v *T) *T {
	c := *v
	return &c
}

// stock reads stock lengths. Most lumber shares its lengths with other lumber, and then shares the list as well:
// a snapshot is never written to.
func (l *loading) stock(rows pgx.Rows, column int) ([]measure.Length, error) {
	raw, form := rows.RawValues()[column], rows.FieldDescriptions()[column]
	if list, ok := l.lengths[string(raw)]; ok {
		return list, nil
	}
	var list []measure.Length
	err := rows.Conn().TypeMap().Scan(form.DataTypeOID, form.Format, raw, &list)
	if err != nil {
		return nil, err
	}
	for i := 1; i < len(list); i++ {
		if list[i] <= list[i-1] {
			return nil, fmt.Errorf("the lengths %v do not rise", list)
		}
	}
	l.lengths[string(raw)] = list
	return list, nil
}
