package hooks

import (
	"context"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

const (
	// callTime is how long a call may have been under way, by the database's clock, before it counts as lost with its instance.
	callTime = time.Minute
	// releaseWithin is how long the database may take to hear that nobody calls any more.
	releaseWithin = 2 * time.Second
)

// claimCall notes that an endpoint is called, unless somebody else does so.
const claimCall = `
UPDATE webhook_delivery
SET calling_until = now() + $3::interval
WHERE number = $1 AND round = $2 AND state = 'pending' AND (calling_until IS NULL OR calling_until < now())`

// claim says whether this instance may make a call now. What became of it is noted, or it counts as lost after callTime.
func (s *Store) claim(ctx context.Context, out *Outgoing, round int) (bool, error) {
	tag, err := s.db.Pool.Exec(ctx, claimCall, out.Delivery.Number, round, callTime)
	return tag.RowsAffected() == 1, err
}

// release ends a claim of whose call nothing could be noted, so that it is made again soon. What cannot be released, as the database is
// away, counts as lost after callTime.
func (s *Store) release(ctx context.Context, out *Outgoing, round int) {
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), releaseWithin)
	defer cancel()
	_, err := s.db.Pool.Exec(ctx, `UPDATE webhook_delivery SET calling_until = NULL WHERE number = $1 AND round = $2`, out.Delivery.Number, round)
	if err != nil {
		s.db.Log.Warn("a call of a webhook endpoint is made again in a minute", "delivery", out.Delivery.ID, "error", err)
	}
}

// callsLost finds calls of which nothing was noted in their time, as their instance has ended, and sets them going again. Jobs of
// the round before do nothing.
const callsLost = `
UPDATE webhook_delivery d
SET round = round + 1, next_at = $1, calling_until = NULL
FROM (SELECT number FROM webhook_delivery WHERE calling_until < now() AND state = 'pending' LIMIT $2 FOR UPDATE SKIP LOCKED) lost
WHERE d.number = lost.number
RETURNING d.number, d.round`

// sendLost sends, of at most so many calls that were lost with their instance, each again.
func (s *Store) sendLost(ctx context.Context, at time.Time, most int) error {
	err := pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error {
		rows, _ := tx.Query(ctx, callsLost, at, most) // a failed Query is reported by the collector
		lost, err := pgx.CollectRows(rows, pgx.RowToStructByPos[going])
		if err != nil || len(lost) == 0 {
			return err
		}
		s.db.Log.Log(ctx, slog.LevelWarn, "calls of webhook endpoints were lost, sending again", "deliveries", len(lost))
		return s.enqueueAll(ctx, tx, lost)
	})
	return db.Fault(ctx, err)
}

// going is a delivery that was set going, and its round.
type going struct {
	Number int64
	Round  int
}

// enqueueAll puts a job for each into the queue.
func (s *Store) enqueueAll(ctx context.Context, tx pgx.Tx, list []going) error {
	rounds := map[int][]int64{}
	for _, d := range list {
		rounds[d.Round] = append(rounds[d.Round], d.Number)
	}
	for round, deliveries := range rounds {
		if err := s.enqueue(ctx, tx, deliveries, round); err != nil {
			return err
		}
	}
	return nil
}
