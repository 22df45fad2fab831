package store

import (
	"context"
	"time"

	"seamwright/store/db"
)

const deleteEvents = `
DELETE FROM event e
WHERE created_at < $1 AND dispatched_at IS NOT NULL
  AND NOT EXISTS (SELECT FROM webhook_delivery d WHERE d.event = e.number AND d.state = 'pending')`

// ForgetEvents deletes events from before a time, with what became of telling them. Those stay of which nobody has been
// told yet.
func (s *Store) ForgetEvents(ctx context.Context, before time.Time) error {
	_, err := s.db.Pool.Exec(ctx, deleteEvents, before)
	return db.Fault(ctx, err)
}
