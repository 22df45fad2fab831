package pricelist

import (
	"strings"
	"unicode"
)

// longestName is how many bytes an article number or an item code may have.
const longestName = 100

// most decimal digits of numbers in a list, before and after the point.
const (
	priceWhole, pricePlaces = 12, 6
	packWhole, packPlaces   = 7, 4
)

// checks makes rows of cells, the same for every format.
type checks struct {
	currency string          // of rows without one
	unit     Unit            // of rows without one
	words    map[string]Unit // what the supplier calls units
	decimals decimals
	numbers  [columns]bool // cells that hold numbers, not texts: their decimal sign is the point
}

// plainNumbers reads numbers that are no texts.
var plainNumbers = decimals{sign: '.', plain: true}

// number reads a cell's number.
func (c *checks) number(in *cells, kind column, whole, places int) (plain, reason string) {
	if c.numbers[kind] {
		text := in[kind]
		if kind == priceColumn {
			text = worked(text)
		}
		return plainNumbers.read(text, whole, places)
	}
	return c.decimals.read(in[kind], whole, places)
}

// row fills a row from cells; the rejection says what cannot be used. The line is already in row.
func (c *checks) row(row *Row, in *cells) *Rejection {
	row.Article, row.Item, row.Currency, row.Per = in[articleColumn], in[itemColumn], in[currencyColumn],
		Unit(in[perColumn])
	if r := c.who(row); r != nil {
		return r
	}
	var reason string
	if row.Price, reason = c.number(in, priceColumn, priceWhole, pricePlaces); reason != "" {
		return reject(row.Line, "price", reason, in[priceColumn])
	}
	if row.Currency == "" {
		row.Currency = c.currency
	} else if !isCurrency(row.Currency) {
		return reject(row.Line, "currency", "a currency is written as a code of ISO 4217 such as USD or EUR", row.Currency)
	}
	if row.Per == "" {
		row.Per = c.unit
	} else if unit, ok := c.words[plainly(string(row.Per))]; ok {
		row.Per = unit
	} else if !row.Per.known() {
		return reject(row.Line, "per", "the unit is not known; it is one of "+unitNames(), string(row.Per))
	}
	if in[packOfColumn] == "" {
		row.PackOf = ""
		return nil
	}
	return c.packOf(row, in)
}

// who checks that exactly one of the supplier's and the shop's name for the thing is there.
func (c *checks) who(row *Row) *Rejection {
	switch {
	case row.Article == "" && row.Item == "":
		return reject(row.Line, "article", "neither an article number nor an item code is there", "")
	case row.Article != "" && row.Item != "":
		return reject(row.Line, "item", "both an article number and an item code are there; give one of them", row.Item)
	case row.Article != "" && !isName(row.Article):
		return reject(row.Line, "article", "an article number has at most 100 bytes and no control characters", row.Article)
	case row.Item != "" && !isName(row.Item):
		return reject(row.Line, "item", "an item code has at most 100 bytes and no control characters", row.Item)
	}
	return nil
}

// packOf checks the content of a pack that is given. Without a unit it could name the pack or be what the price is for:
// that is not guessed.
func (c *checks) packOf(row *Row, in *cells) *Rejection {
	text := in[packOfColumn]
	if row.Per == "" {
		return reject(row.Line, "per",
			"pack_of is given and per is not: say whether the price is per pack or per another unit", text)
	}
	var reason string
	if row.PackOf, reason = c.number(in, packOfColumn, packWhole, packPlaces); reason != "" {
		return reject(row.Line, "pack_of", reason, text)
	}
	if n, ok := millionths(row.PackOf); !ok || n <= 0 || n > mostPack {
		return reject(row.Line, "pack_of", "a pack holds more than nothing and at most 1000000", text)
	}
	return nil
}

func isCurrency(text string) bool {
	return len(text) == 3 && isCapital(text[0]) && isCapital(text[1]) && isCapital(text[2])
}

func isCapital(c byte) bool { return 'A' <= c && c <= 'Z' }

// isName reports whether a text can be a number or code: not long, nothing in it that cannot be seen.
func isName(text string) bool {
	if len(text) > longestName {
		return false
	}
	for i := 0; i < len(text); i++ {
		if text[i] < ' ' || text[i] >= 0x7f {
			return strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
		}
	}
	return true
}

// known reports whether a list may use the unit.
func (u Unit) known() bool {
	switch u {
	case Each, Hundred, Thousand, BoardFoot, ThousandBoardFeet, CubicMetre, RunningFoot, RunningMetre, SquareFoot,
		SquareMetre,
		Litre, Gallon, Kilogram, Pound, Pack:
		return true
	}
	return false
}

// Units are the units that a price list may use.
func Units() []Unit {
	return []Unit{Each, Hundred, Thousand, BoardFoot, ThousandBoardFeet, CubicMetre, RunningFoot, RunningMetre, SquareFoot,
		SquareMetre,
		Litre, Gallon, Kilogram, Pound, Pack}
}

func unitNames() string { return listed(Units(), "or") }

// listed is a list in words: a, b or c.
func listed[T ~string](list []T, last string) string {
	var b strings.Builder
	for i, s := range list {
		switch {
		case i > 0 && i == len(list)-1:
			b.WriteString(" " + last + " ")
		case i > 0:
			b.WriteString(", ")
		}
		b.WriteString(string(s))
	}
	return b.String()
}
