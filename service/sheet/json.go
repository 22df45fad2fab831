package sheet

import (
	"encoding/json"
	"strings"
)

// JSON returns the row as an object with the names of the columns: numbers as numbers, lists as lists, empty cells
// as null.
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

func quoted(text string) string {
	raw, err := json.Marshal(text)
	if err != nil {
		return "null" // cannot be: a string always has a form in JSON
	}
	return string(raw)
}
