package lists

import (
	"crypto/rand"
	"strings"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/pricelist"
)

// Status is what became of a list.
type Status string

// The statuses.
const (
	Applied   Status = "applied"   // its good rows are in the catalogue
	Unchanged Status = "unchanged" // it had nothing new to say
	Held      Status = "held"      // the whole list waits for a decision
	Dismissed Status = "dismissed" // it was decided against
	DryRun    Status = "dry_run"   // nothing was changed
)

// Update is the report of a list.
type Update struct {
	ID            string // empty for a dry run
	Supplier      string
	ListDate      catalogue.Date
	EffectiveFrom catalogue.Date
	Currency      string
	Status        Status
	WouldBe       Status   // dry run: the status that it would have
	HeldBecause   []string // why the whole list is, or would be, held
	Repeated      bool     // the list had been taken before; this is the report of then
	Understood    pricelist.Understood
	Counts        Counts
	LargestMoves  []Move // at most twenty, greatest first
	Basket        []TopEffect
	FirstRows     []Row   // the first twenty that were held or rejected
	Undecided     int     // held rows that wait for a decision
	Offers        *Offers // of an applied list
	Revision      int64   // of the catalogue once this was done
	CreatedAt     time.Time
	CreatedBy     string
	DecidedAt     time.Time // zero: no decision yet
	DecidedBy     string

	number int64
}

// Counts counts the rows of a list as they were judged. Rows is the sum of the others but Missing.
type Counts struct {
	Rows      int `json:"rows"`
	New       int `json:"new"`
	Changed   int `json:"changed"`
	Unchanged int `json:"unchanged"`
	Duplicate int `json:"duplicate"` // say again what an earlier row of the list said
	Held      int `json:"held"`
	Rejected  int `json:"rejected"`
	Missing   int `json:"missing"` // packs that the list before had and this one has not
}

// Move is how far a price moves.
type Move struct {
	Item    string `json:"item"`
	Size    string `json:"pack_size"`
	Before  string `json:"before"`
	After   string `json:"after"`
	Percent string `json:"percent"`
	Held    bool   `json:"held"`
}

func newID() string { return "prices_" + strings.ToLower(rand.Text()) }

// mostFirstRows is how many rows a report shows.
const mostFirstRows = 20

// Row is a row of a list that was not simply taken.
type Row struct {
	Place  int // among the rows kept of the list; pages go by it
	Line   int
	Status RowStatus
	Column string // of the list; empty: the whole row
	Reason string
	Found  string // what stood there, its beginning
	Code   string // held rows: move, zero, negative, currency or unit
	Item   string // held rows
	Size   string // pack, decimal in the item's unit
	Amount string // the pack's price by the list, decimal
	Before string // the pack's price until then; empty: none
	Per    string // unit of the listed price
}

// RowStatus is what became of a row that was not simply taken.
type RowStatus string

// The statuses of rows.
const (
	RowHeld      RowStatus = "held"
	RowRejected  RowStatus = "rejected"
	RowApproved  RowStatus = "approved"
	RowDismissed RowStatus = "dismissed"
)
