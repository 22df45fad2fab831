// Package pricelist reads suppliers' price lists: rows of article, price and the unit that the price is for, in CSV,
// NDJSON or JSON, or as the cells of a sheet that somebody else reads. It reads a stream row by row in bounded memory, says what it understood (encoding, separator, decimal
// sign) instead of guessing in silence, and turns a bad row into a rejection with line, column and reason instead of an
// error.
package pricelist

// Unit is what a listed price is for.
type Unit string

// The units that a price list may use.
const (
	Each              Unit = "each"
	Hundred           Unit = "hundred"
	Thousand          Unit = "thousand"
	BoardFoot         Unit = "board_foot"
	ThousandBoardFeet Unit = "thousand_board_feet"
	CubicMetre        Unit = "cubic_metre"
	RunningFoot       Unit = "running_foot"
	RunningMetre      Unit = "running_metre"
	SquareFoot        Unit = "square_foot"
	SquareMetre       Unit = "square_metre"
	Litre             Unit = "litre"
	Gallon            Unit = "gallon" // US liquid gallon
	Kilogram          Unit = "kilogram"
	Pound             Unit = "pound"
	Pack              Unit = "pack" // of PackOf units of the item's own
)

// Row is one listed price, as the supplier wrote it. Exactly one of Article and Item is set.
type Row struct {
	Line     int    // in the list, from 1; a JSON list counts its rows; of a workbook the row of its sheet
	Article  string // the supplier's own number
	Item     string // or the shop's code
	Price    string // exact decimal text with a point, validated; may be zero or negative: the guard rails judge that
	Currency string // ISO 4217; empty: the list's
	Per      Unit   // empty: the list's default unit, or the item's own
	// exact decimal text; content of one pack in the item's own unit; only with Per = Pack, or naming which pack of the
	// item
	PackOf string
}

// Rejection is a row that cannot be used.
type Rejection struct {
	Line   int
	Column string // name of the column, or empty for the whole row
	Reason string // what is wrong and what was expected
	Text   string // the start of what stood there, bounded, printable
}

// Understood is how a list was read.
type Understood struct {
	Format      string   // csv, xlsx, ndjson or json
	Sheet       string   // of a workbook: which was read
	Encoding    string   // utf-8, or utf-8 with a byte order mark
	Separator   string   // CSV: "," ";" or tab
	DecimalSign string   // "." or ","; empty as long as no price has needed one. Of a workbook: in its texts
	Columns     []string // columns or members that are used, by their plain names
	Ignored     []string // CSV and workbooks: columns of the header that are not used, as written
	// which of these the sender stated, or the supplier's layout says ("format", "encoding", "sheet", "header_line", "columns",
	// "separator", "decimal_sign"); the others were recognised
	Stated []string
}
