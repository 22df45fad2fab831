// Package lists takes in the price lists of suppliers: a list is read, held against the prices in force, judged, and put into
// the history of prices at its place, or held until somebody decides. It keeps the suppliers and what their article numbers
// mean, too.
package lists

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"golang.org/x/sync/semaphore"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
	"seamwright/store/db"
)

// Store is suppliers and their lists in an open database.
type Store struct {
	db    *db.DB
	slots *semaphore.Weighted // see mostLists
}

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d, semaphore.NewWeighted(mostLists)} }

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

	Key     string         // the sender's Idempotency-Key, or empty
	Replace bool           // a corrected list of a day that has one already; or the same once more, when not all of it was taken
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
	Size  string // decimal, in the item's unit
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

// The states of a price update.
const (
	Applied   = "applied"   // its good rows are in the catalogue
	Unchanged = "unchanged" // it had nothing new to say
	Held      = "held"      // the whole list waits for a decision
	Dismissed = "dismissed" // it was decided against
	DryRun    = "dry_run"   // nothing was changed
)

// Update is the report of a list.
type Update struct {
	ID            string // empty for a dry run
	Supplier      string
	ListDate      catalogue.Date
	EffectiveFrom catalogue.Date
	Currency      string
	Status        string
	WouldBe       string   // dry run: the status that it would have
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

// mostLists is how many lists are read at once; more wait. Each takes a connection of its own.
const mostLists = 4

// TakeIn takes in a price list, whole or not at all. Lists of one supplier queue; lists of different
// suppliers, and readers, are not held up. The same list sent again (the same rows for the same supplier and day, or
// the same key) changes nothing and returns the first report.
//
// It fails with a Fault: NotFound for an unknown supplier, Impossible for dates that cannot be, Conflict for another
// list of the same day without Replace, Unavailable without a database; with a db.KeyReusedError for a key that another
// list has, and with db.ErrKeyInUse. An error of the rows comes back as it is.
func (s *Store) TakeIn(ctx context.Context, list List) (*Update, error) {
	if list.EffectiveFrom == "" {
		list.EffectiveFrom = list.ListDate
	}
	if err := list.checkDays(); err != nil {
		return nil, err
	}
	var update *Update
	err := s.onOwnConnection(ctx, func(conn *pgx.Conn) error {
		work := &taking{conn: conn, list: &list}
		var err error
		update, err = work.run(s.db.Politely(ctx))
		return err
	})
	return update, err
}

// Lend lends a connection of its own for decisions about lists that belong to a transaction of the caller's. They may
// take long, and a slow sender must take none from the pool.
func (s *Store) Lend(ctx context.Context, use func(db.Starter) error) error {
	return s.onOwnConnection(ctx, func(conn *pgx.Conn) error { return use(conn) })
}

// onOwnConnection lends a connection of its own, so that a slow sender takes none from the pool.
func (s *Store) onOwnConnection(ctx context.Context, use func(*pgx.Conn) error) error {
	if err := s.slots.Acquire(ctx, 1); err != nil {
		return db.Unavailable(err)
	}
	defer s.slots.Release(1)
	conn, err := s.db.Dial(ctx, map[string]string{"application_name": "seamwright prices", "temp_buffers": "32MB", "work_mem": "96MB"})
	if err != nil {
		return db.Unavailable(err)
	}
	defer db.HangUp(conn)
	err = use(conn)
	if err != nil && conn.IsClosed() && ctx.Err() == nil {
		return db.Unavailable(err)
	}
	return listFault(err)
}

// listFault turns what the database says of a change made meanwhile into a fault.
func listFault(err error) error {
	var answered *pgconn.PgError
	switch {
	case db.Gone(err):
		return &fault.Fault{Kind: fault.Conflict, Detail: "The catalogue changed while the list was read: something that a row speaks of is gone.", Fix: "Send the list again."}
	case errors.As(err, &answered) && db.Away(err): // a sender's broken stream is no matter of the database
		return db.Unavailable(err)
	}
	return err
}

// earliest and latest are the days that the table of prices takes.
const earliest, latest = "2000-01-01", "2199-12-31"

func (l *List) checkDays() error {
	var wrong fault.List
	say := func(pointer, format string, args ...any) {
		wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer, Detail: fmt.Sprintf(format, args...)})
	}
	if l.ListDate < earliest || l.ListDate > latest || l.ListDate > l.Today.Before(-31) {
		say("/list_date", "The list date %s lies before %s or more than 31 days ahead of today, %s.", l.ListDate, earliest, l.Today)
	}
	if l.EffectiveFrom < earliest || l.EffectiveFrom > latest || l.EffectiveFrom > l.ListDate.Before(-731) || l.EffectiveFrom < l.ListDate.Before(31) {
		say("/effective_from", "The list of %s cannot take effect on %s: at most 31 days before its date and two years after it.", l.ListDate, l.EffectiveFrom)
	}
	return wrong.Err()
}

func newID() string { return "prices_" + strings.ToLower(rand.Text()) }
