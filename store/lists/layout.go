package lists

import (
	"context"
	"encoding/json"
	"fmt"

	"seamwright/service/pricelist"
	"seamwright/store/db"
)

// layoutRow is a layout as the database keeps it, and as the trail shows it.
type layoutRow struct {
	Sheet       string            `json:"sheet,omitempty"`
	HeaderLine  int               `json:"header_line,omitempty"`
	Columns     map[string]string `json:"columns,omitempty"` // headers by the columns' plain names
	Units       []wordRow         `json:"units,omitempty"`
	Separator   string            `json:"separator,omitempty"`
	DecimalSign string            `json:"decimal_sign,omitempty"`
	Currency    string            `json:"currency,omitempty"`
	Unit        string            `json:"unit,omitempty"`
}

type wordRow struct {
	Word string `json:"word"`
	Unit string `json:"unit"`
}

// layoutText is a layout for the database; nil: there is none.
func layoutText(l *pricelist.Layout) (*string, error) {
	if l == nil {
		return nil, nil
	}
	row := layoutRow{Sheet: l.Sheet, HeaderLine: l.HeaderLine, Columns: map[string]string{}, Separator: l.Separator,
		DecimalSign: l.DecimalSign, Currency: l.Currency, Unit: string(l.Unit)}
	for _, h := range l.Columns {
		row.Columns[h.Column] = h.Header
	}
	for _, w := range l.Words {
		row.Units = append(row.Units, wordRow{w.Word, string(w.Unit)})
	}
	text, err := json.Marshal(row)
	if err != nil {
		return nil, err
	}
	written := string(text)
	return &written, nil
}

// layoutOf reads a layout of the database; nil: there is none.
func layoutOf(code string, text *string) (*pricelist.Layout, error) {
	if text == nil {
		return nil, nil
	}
	var row layoutRow
	if err := json.Unmarshal([]byte(*text), &row); err != nil {
		return nil, fmt.Errorf("layout of the lists of %s: %w", code, err)
	}
	l := &pricelist.Layout{Sheet: row.Sheet, HeaderLine: row.HeaderLine, Separator: row.Separator, DecimalSign: row.DecimalSign,
		Currency: row.Currency, Unit: pricelist.Unit(row.Unit)}
	for _, name := range pricelist.Columns() {
		if header := row.Columns[name]; header != "" {
			l.Columns = append(l.Columns, pricelist.Heading{Column: name, Header: header})
		}
	}
	for _, w := range row.Units {
		l.Words = append(l.Words, pricelist.Word{Word: w.Word, Unit: pricelist.Unit(w.Unit)})
	}
	return l, nil
}

// Layout is how the lists of a supplier look; nil: plain names, or no such supplier, which taking a list in says.
func (s *Store) Layout(ctx context.Context, code string) (*pricelist.Layout, error) {
	list, err := db.All(ctx, s.db.On(ctx), scanSupplier, supplierColumns+` WHERE code = $1 AND retired_at IS NULL`, code)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	return list[0].Layout, nil
}
