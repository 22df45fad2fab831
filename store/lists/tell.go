package lists

import (
	"context"
	"fmt"
)

const emitUpdate = `
SELECT emit_event('event_' || replace(gen_random_uuid()::text, '-', ''), 'price_update.' || u.status, u.id,
  jsonb_build_object('supplier', u.supplier, 'list_date', u.list_date, 'status', u.status, 'counts', u.counts), $2)
FROM price_update u
WHERE u.number = $1`

// tell writes the event that a list was applied, held or dismissed.
func (w *taking) tell(ctx context.Context, u *Update) error {
	if _, err := w.tx.Exec(ctx, emitUpdate, u.number, w.list.Now); err != nil {
		return fmt.Errorf("tell of the list: %w", err)
	}
	return nil
}
