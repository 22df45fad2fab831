package shelf

import (
	"seamwright/service/sheet"
)

// Present is a row of the catalogue as the database has it.
type Present struct {
	Row     sheet.Row
	Version int64 // counts its changes; 0 in a part without versions
	Live    bool  // not retired
}

// Write is one row to be put in, or to be retired.
type Write struct {
	Number int // the caller's number of the row, for what is wrong with it
	Row    sheet.Row
	Retire bool // only the key of the row counts
}
