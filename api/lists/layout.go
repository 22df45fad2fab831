package lists

import (
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
)

// layout is how the lists of a supplier look, as answers show it.
type layout struct {
	Sheet       *string   `json:"sheet"`
	HeaderLine  *int      `json:"header_line"`
	Columns     layoutMap `json:"columns"`
	Units       []word    `json:"units"`
	Separator   *string   `json:"separator"`
	DecimalSign *string   `json:"decimal_sign"`
	Currency    *string   `json:"currency"`
	Unit        *string   `json:"unit"`
}

// layoutMap is the header of each column, or null for the plain name.
type layoutMap struct {
	Article  *string `json:"article"`
	Item     *string `json:"item"`
	Price    *string `json:"price"`
	Currency *string `json:"currency"`
	Per      *string `json:"per"`
	PackOf   *string `json:"pack_of"`
}

type word struct {
	Word string         `json:"word"`
	Unit pricelist.Unit `json:"unit"`
}

func shownLayout(l *pricelist.Layout) *layout {
	if l == nil {
		return nil
	}
	header := func(column string) *string {
		for _, h := range l.Columns {
			if h.Column == column {
				return &h.Header
			}
		}
		return nil
	}
	shown := &layout{Sheet: wire.Maybe(l.Sheet), Columns: layoutMap{header("article"), header("item"), header("price"),
		header("currency"), header("per"), header("pack_of")},
		Units:     wire.Shown(l.Words, func(w *pricelist.Word) word { return word{w.Word, w.Unit} }),
		Separator: wire.Maybe(l.Separator), DecimalSign: wire.Maybe(l.DecimalSign), Currency: wire.Maybe(l.Currency),
		Unit: wire.Maybe(string(l.Unit))}
	if l.HeaderLine > 0 {
		shown.HeaderLine = &l.HeaderLine
	}
	return shown
}

// readLayout reads how the supplier's lists look; nil: null, or not there.
func readLayout(supplier *wire.Object) *pricelist.Layout {
	if supplier.Null("list_layout") {
		return nil
	}
	o := supplier.Child("list_layout")
	l := &pricelist.Layout{Sheet: line(o, "sheet"), Separator: line(o, "separator"), DecimalSign: line(o, "decimal_sign"),
		Currency: line(o, "currency"), Unit: pricelist.Unit(line(o, "unit"))}
	if !o.Null("header_line") {
		l.HeaderLine = o.Whole("header_line")
	}
	if !o.Null("columns") {
		columns := o.Child("columns")
		for _, name := range pricelist.Columns() {
			if header := line(columns, name); header != "" {
				l.Columns = append(l.Columns, pricelist.Heading{Column: name, Header: header})
			}
		}
	}
	l.Words = wire.Each(o.Children("units"), func(w *wire.Object) pricelist.Word {
		return pricelist.Word{Word: w.Line("word"), Unit: pricelist.Unit(w.Text("unit"))}
	})
	return l
}

// line is a text on one line; empty: null, or not there.
func line(o *wire.Object, key string) string {
	if o.Null(key) {
		return ""
	}
	return o.Line(key)
}

// checkLayout refuses a layout that cannot be followed.
func checkLayout(l *pricelist.Layout) error {
	if l == nil {
		return nil
	}
	faults := fault.All(l.Check())
	if len(faults) == 0 {
		return nil
	}
	for _, f := range faults {
		f.Pointer = "/list_layout" + f.Pointer
	}
	return web.RefuseAll(web.UnfitPrices, faults)
}
