// Package lists takes in the price lists of suppliers: a list is read, held against the prices in force, judged, and
// put into the history of prices at its place, or held until somebody decides. It keeps the suppliers and what their
// article numbers mean, too.
package lists

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"golang.org/x/sync/semaphore"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// mostLists is how many lists are read at once; more wait. Each takes a connection of its own.
const mostLists = 4

// Store is suppliers and their lists in an open database.
type Store struct {
	db    *db.DB
	slots *semaphore.Weighted // see mostLists
}

// New is the room of that database.
func New(d *db.DB) *Store { return &Store{d, semaphore.NewWeighted(mostLists)} }

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
	conn, err := s.db.Dial(ctx, "seamwright prices", db.ForLists, db.Settings{"temp_buffers": "32MB", "work_mem": "96MB"})
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
		return &fault.Fault{Kind: fault.Conflict,
			Detail: "The catalogue changed while the list was read: something that a row speaks of is gone.",
			Fix:    "Send the list again."}
	case errors.As(err, &answered) && db.Away(err): // a sender's broken stream is no matter of the database
		return db.Unavailable(err)
	}
	return err
}

// shortened is the beginning of a text that a sender made overlong.
func shortened(text string, most int) string {
	if len(text) <= most {
		return text
	}
	for most > 0 && text[most]&0xC0 == 0x80 {
		most--
	}
	return text[:most] + "…"
}
