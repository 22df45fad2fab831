package shelf

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/sheet"
)

// cells reads rows into the fields of one thing of a part, as the list of its columns says. One serves all rows of a query.
type cells struct {
	texts texts
	exprs []string
	into  []any // for the driver
	lists []list
}

// list is a list of lengths, which the driver does not read: most come again and again.
type list struct {
	place int
	name  string
	into  *[]measure.Length
}

// read adds the columns of a part that the thing has and that lie in one of the tables.
func (r *cells) read(part *sheet.Part, thing any, tables ...string) *cells {
	for i := range part.Columns {
		c := &part.Columns[i]
		for j := range c.Held {
			h := &c.Held[j]
			if h.Field != nil && (slices.Contains(tables, h.Table) || c.Kind == sheet.Codes) {
				r.add(c, h, h.Field(thing))
			}
		}
	}
	return r
}

// also adds another column.
func (r *cells) also(expr string, into any) *cells {
	r.exprs, r.into = append(r.exprs, expr), append(r.into, into)
	return r
}

// add adds a column. Measures are of a domain, which the driver would have sent and read as text: so every kind is named.
func (r *cells) add(c *sheet.Column, h *sheet.Held, field any) {
	column := h.Table + "." + h.In
	orZero := func(kind, zero string) string {
		if c.Empty && !c.Zero {
			return fmt.Sprintf("coalesce(%s::%s, %s)", column, kind, zero)
		}
		return column + "::" + kind
	}
	switch v := field.(type) {
	case *string:
		if c.For == "" && (c.Kind == sheet.Text || c.Name == "code") { // as many as rows
			r.also(orZero("text", "''"), v)
			return
		}
		r.also(orZero("text", "''"), &sharedText{r.texts, v})
	case *[]measure.Length:
		r.lists = append(r.lists, list{len(r.into), c.Name, v})
		r.also(column, nil)
	case *measure.Area:
		r.also(orZero("float8", "0"), number{set: func(x float64) { *v = measure.Area(x) * measure.SquareMetre }})
	case *measure.Fraction:
		r.also(orZero("float8", "0"), number{set: func(x float64) { *v = measure.Fraction(x / 12) }})
	case *money.Rate:
		r.also(column+"::float8", number{set: func(x float64) { *v = rateOf(x) }})
	case *money.UnitPrice:
		r.also(column+"::text", unitPrice{v})
	case *[]string: // what a step follows
		r.also(fmt.Sprintf("ARRAY(SELECT %s::text FROM %s WHERE step = labour_standard.code ORDER BY %s)", column, h.Table,
			column), v)
	case *bool:
		r.also(column, v)
	case *int:
		r.also(orZero("int8", "0"), v)
	case sheet.If:
		r.also(column+"::float8", number{set: func(x float64) { know(v, x) }, unknown: true})
	case *measure.Length: // the driver takes longer for a type that it does not know
		r.also(orZero("float8", "0"), (*float64)(v))
	case *measure.Force:
		r.also(orZero("float8", "0"), (*float64)(v))
	default:
		r.also(orZero("float8", "0"), v)
	}
}

func (r *cells) columns() string { return strings.Join(r.exprs, ", ") }

// scan reads a row; stock reads its lists.
func (r *cells) scan(rows pgx.Rows, stock func(pgx.Rows, int) ([]measure.Length, error)) error {
	if err := rows.Scan(r.into...); err != nil {
		return err
	}
	for _, l := range r.lists {
		var err error
		if *l.into, err = stock(rows, l.place); err != nil {
			return fmt.Errorf("column %s: %w", l.name, err)
		}
	}
	return nil
}

// sharedText keeps a text that comes again and again once.
type sharedText struct {
	texts texts
	into  *string
}

func (t *sharedText) ScanBytes(raw []byte) error {
	*t.into = t.texts.once(raw)
	return nil
}

// number takes a number that is not one as it lies in the table.
type number struct {
	set     func(x float64)
	unknown bool // it may be null
}

func (n number) ScanFloat64(x pgtype.Float8) error {
	switch {
	case x.Valid:
		n.set(x.Float64)
	case !n.unknown:
		return errors.New("a number is missing")
	}
	return nil
}

// know sets a number that is known by that.
func know(known sheet.If, x float64) {
	*known.There = known.Is
	switch v := known.Value.(type) {
	case *float64:
		*v = x
	case *measure.Temperature:
		*v = measure.Celsius(x)
	case *money.Rate:
		*v = rateOf(x)
	}
}

// rateOf is the exact rate of a number that lies in the table with four decimals.
func rateOf(x float64) money.Rate { return money.Rate(money.RoundQuantity(x, 4)) }

type unitPrice struct{ into *money.UnitPrice }

func (p unitPrice) ScanText(text pgtype.Text) (err error) {
	*p.into, err = money.ParseUnitPrice(text.String)
	return err
}
