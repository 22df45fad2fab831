// Package shelf keeps the catalogue: it is read into a snapshot, followed as it changes, edited a part at a time with a
// trail of who changed what, and handed out as rows.
package shelf

import (
	"context"
	"sync"
	"time"

	"seamwright/store/db"
)

// besideWithin is how long a second connection is waited for: longer than it takes to open one nearby, and shorter than
// it saves.
const besideWithin = 20 * time.Millisecond

// Store is the catalogue in an open database.
type Store struct {
	db   *db.DB
	beat *db.Aside     // see feel
	wait time.Duration // see besideWithin

	closing context.Context // done when Close was called
	close   context.CancelFunc
	watches sync.WaitGroup
}

// New is the room of that database.
func New(d *db.DB) *Store {
	s := &Store{db: d, beat: d.Aside("seamwright pulse"), wait: besideWithin}
	s.closing, s.close = context.WithCancel(context.Background())
	return s
}

// Close ends all watches and waits for them.
func (s *Store) Close() {
	s.close()
	s.watches.Wait()
}

// Revision is the catalogue's revision as the database has it now.
func (s *Store) Revision(ctx context.Context) (int64, error) {
	return db.Revision(ctx, s.db.Pool)
}
