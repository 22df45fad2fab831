package sheet

import (
	"encoding/json"
	"regexp"
	"strings"
)

// JSON returns the row as an object with the names of the columns: numbers as numbers, money as text, lists as lists,
// empty cells as null.
func (r Row) JSON() []byte {
	out := []byte{'{'}
	for i := range r.Part.Columns {
		if i > 0 {
			out = append(out, ',')
		}
		c := &r.Part.Columns[i]
		out = append(append(out, quoted(c.Name)...), ':')
		out = append(out, c.json(r.Cells[i])...)
	}
	return append(out, '}')
}

func (c *Column) json(cell string) string {
	switch c.Kind {
	case Numbers, Sizes:
		return "[" + strings.Join(strings.Fields(cell), ",") + "]"
	case Codes:
		words := strings.Fields(cell)
		for i := range words {
			words[i] = quoted(words[i])
		}
		return "[" + strings.Join(words, ",") + "]"
	case Number, Decimal, Whole, Truth:
		if c.Money && cell != "" {
			return quoted(inCents(cell))
		}
		if cell != "" {
			return cell
		}
	case Code, Text, Choice, Day:
		if cell != "" {
			return quoted(cell)
		}
	}
	return "null"
}

// inCents is an amount with its cents, or with four decimals when it has parts of a cent, as answers write money.
func inCents(cell string) string {
	whole, part, _ := strings.Cut(cell, ".")
	if part = strings.TrimRight(part, "0"); len(part) > 4 {
		return cell
	}
	places := 2
	if len(part) > places {
		places = 4
	}
	return whole + "." + part + strings.Repeat("0", places-len(part))
}

// MoneyAsText returns a row that JSON made, at any time, with its amounts as text: they were numbers once, and what the
// audit trail keeps is never changed.
func (p *Part) MoneyAsText(row []byte) []byte {
	for i := range p.Columns {
		c := &p.Columns[i]
		if !c.Money || len(row) == 0 {
			continue
		}
		// A quote within a text has a backslash before it, so that this finds names alone.
		number := regexp.MustCompile(`"` + c.Name + `":\s*(-?[0-9]+(?:\.[0-9]+)?)`)
		row = number.ReplaceAllFunc(row, func(found []byte) []byte {
			return []byte(`"` + c.Name + `":` + quoted(inCents(string(number.FindSubmatch(found)[1]))))
		})
	}
	return row
}

func quoted(text string) string {
	raw, err := json.Marshal(text)
	if err != nil {
		return "null" // cannot be: a string always has a form in JSON
	}
	return string(raw)
}
