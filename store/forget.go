package store

import (
	"context"
	"time"
)

// ForgetEvents deletes events from before a time: whoever wants to hear of them has had the chance.
func (s *Store) ForgetEvents(ctx context.Context, before time.Time) error {
	_, err := s.pool.Exec(ctx, `DELETE FROM event WHERE created_at < $1`, before)
	return readFault(ctx, err)
}
