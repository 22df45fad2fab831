package db

import (
	"context"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"
)

// steady is by how much the database's clock, as it is heard of, may differ from what is reckoned before it counts as set: time
// does not go back by a little because an answer came late.
const steady = 10 * time.Millisecond

// clock is the database's clock, as this process knows it: whatever the machine's own clock says, all instances on one database
// have the same time.
type clock struct{ seen atomic.Pointer[sighting] }

// sighting is what the database's clock said, and when that was by the clock of this machine which only runs.
type sighting struct{ theirs, ours time.Time }

func (s *sighting) at(ours time.Time) time.Time { return s.theirs.Add(ours.Sub(s.ours)) }

// Now is the time by the database's clock: what it last said, and what has passed since by the clock of this machine that nobody
// sets. Until it has said something it is this machine's time.
func (c *clock) Now() time.Time {
	now := time.Now()
	if s := c.seen.Load(); s != nil {
		return s.at(now)
	}
	return now
}

// Ahead is how far the database's clock is ahead of this machine's, which whoever reckons with the latter has to add.
func (c *clock) Ahead() time.Duration {
	s := c.seen.Load()
	if s == nil {
		return 0
	}
	now := time.Now()
	return s.at(now).Sub(now.Round(0)) // Round: by the clock that is set
}

// Said notes what the database's clock said between a question, asked at a time of this machine, and now.
func (c *clock) Said(theirs, asked time.Time) {
	heard := time.Now()
	if s := c.seen.Load(); s != nil && !theirs.Before(s.at(asked).Add(-steady)) && !theirs.After(s.at(heard).Add(steady)) {
		return
	}
	c.seen.Store(&sighting{theirs: theirs, ours: asked.Add(heard.Sub(asked) / 2)})
}

// ask asks the database for the time.
func (c *clock) ask(ctx context.Context, on interface {
	QueryRow(ctx context.Context, sql string, values ...any) pgx.Row
}) error {
	asked := time.Now()
	var theirs time.Time
	if err := on.QueryRow(ctx, `SELECT clock_timestamp()`).Scan(&theirs); err != nil {
		return err
	}
	c.Said(theirs, asked)
	return nil
}
