package lists

import (
	"fmt"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/pricelist"
)

// Rows gives the rows of a price list one by one, each into the row that it is handed, or why a row cannot
// be used. It ends with io.EOF; another error ends the list.
type Rows interface {
	Next(row *pricelist.Row) (*pricelist.Rejection, error)
}

// List is a supplier's list and how it is to be taken.
type List struct {
	Supplier      string
	Currency      string         // ISO 4217, of rows that name none
	ListDate      catalogue.Date // the day the supplier wrote on it
	EffectiveFrom catalogue.Date // empty: the list date
	Unit          pricelist.Unit // of rows that name none; empty: the item's own
	Rows          Rows
	Understood    func() pricelist.Understood // how the list was read; called after the last row
	// Cell names the cell that a row's column stands in, for reasons to begin with; nil, or empty: the list has none.
	Cell func(line int, column string) string

	Key string // the sender's Idempotency-Key, or empty
	// a corrected list of a day that has one already; or the same once more, when not all of it was taken
	Replace bool
	DryRun  bool           // report, change nothing
	By      string         // who sends it
	Now     time.Time      // when
	Today   catalogue.Date // the shop's day

	// Effect works out what the list does to a few tops, from its price changes of the items named in EffectItems.
	// Nil: nothing is worked out.
	Effect      func(changes []Change) ([]TopEffect, error)
	EffectItems []string
}

// Change is a price that a list sets.
type Change struct {
	Item  string
	Size  money.Quantity // in the item's unit
	Price catalogue.Price
}

// TopEffect is what a list does to the cost of a reference top.
type TopEffect struct {
	Reference  string `json:"reference"`
	CostBefore string `json:"cost_before,omitempty"` // decimal; empty: it could not be reckoned
	CostAfter  string `json:"cost_after,omitempty"`
	Percent    string `json:"percent,omitempty"` // of change, decimal with two places
	Reason     string `json:"reason,omitempty"`  // why it could not be reckoned
}

// earliest and latest are the days that the table of prices takes.
const earliest, latest = "2000-01-01", "2199-12-31"

func (l *List) checkDays() error {
	var wrong fault.List
	say := func(pointer, format string, args ...any) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: fmt.Sprintf(format, args...)})
	}
	if l.ListDate < earliest || l.ListDate > latest || l.ListDate > l.Today.AddDays(31) {
		say("/list_date", "The list date %s lies before %s or more than 31 days ahead of today, %s.", l.ListDate, earliest,
			l.Today)
	}
	if l.EffectiveFrom < earliest || l.EffectiveFrom > latest || l.EffectiveFrom > l.ListDate.AddDays(731) ||
		l.EffectiveFrom < l.ListDate.AddDays(-31) {
		say("/effective_from", "The list of %s cannot take effect on %s: at most 31 days before its date and two years after it.", l.ListDate, l.EffectiveFrom)
	}
	return wrong.Err()
}
