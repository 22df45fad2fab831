package hooks

import (
	"context"
	"encoding/json"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// State is where a delivery stands.
type State string

// The states.
const (
	Pending   State = "pending"
	Delivered State = "delivered"
	Dead      State = "dead" // given up
)

// Delivery is one event for one endpoint.
type Delivery struct {
	Number     int64
	ID         string
	Endpoint   string
	State      State
	Tries      int        // failed attempts since it was last set going
	Attempts   int        // of all times
	NextAt     *time.Time // of a pending one
	FinishedAt *time.Time
	EventID    string
	Kind       string
	Subject    string
	Happened   time.Time
	Data       json.RawMessage
}

// Attempt is one call of an endpoint.
type Attempt struct {
	Number  int
	At      time.Time
	TookMS  int
	Status  *int    // nil: no answer came
	Failure *string // nil: it was delivered
}

const deliveryColumns = `
SELECT d.number, d.id, d.endpoint, d.state, d.tries, d.attempts, d.next_at, d.finished_at, e.id, e.kind, e.subject, e.created_at, e.data
FROM webhook_delivery d JOIN event e ON e.number = d.event`

// Deliveries lists deliveries, newest first, at most limit of them: of an endpoint and in one of some states,
// unless those are empty, and before a number unless it is 0.
func (s *Store) Deliveries(ctx context.Context, endpoint string, states []State, before int64,
	limit int) ([]Delivery, error) {
	const where = ` WHERE ($1 = '' OR d.endpoint = $1) AND ($2::text[] IS NULL OR d.state = ANY ($2)) AND ($3::bigint = 0 OR d.number < $3) ORDER BY d.number DESC LIMIT $4`
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Delivery], deliveryColumns+where, pgx.QueryExecModeExec,
		endpoint, db.Texts(states), before, limit)
}

// Delivery returns one delivery with its last 100 attempts, newest first, or a Fault of the kind NotFound.
func (s *Store) Delivery(ctx context.Context, id string) (Delivery, []Attempt, error) {
	d, err := oneDelivery(ctx, s.db.On(ctx), ` WHERE d.id = $1`, id)
	if err != nil {
		return d, nil, err
	}
	// a failed Query is reported by the collector
	rows, _ := s.db.On(ctx).Query(ctx,
		`SELECT number, at, took_ms, status, failure FROM webhook_attempt WHERE delivery = $1 ORDER BY number DESC LIMIT 100`,
		d.Number)
	attempts, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Attempt])
	return d, attempts, db.Fault(ctx, err)
}

func oneDelivery(ctx context.Context, tx db.Session, where string, id any) (Delivery, error) {
	return db.One(ctx, tx, pgx.RowToStructByPos[Delivery], "There is no webhook delivery with that id.",
		deliveryColumns+where, id)
}

const selectWaitingEvents = `
SELECT number FROM event
WHERE dispatched_at IS NULL
ORDER BY number
LIMIT $1
FOR UPDATE SKIP LOCKED`

const insertDeliveries = `
INSERT INTO webhook_delivery (id, event, endpoint, next_at)
SELECT 'delivery_' || replace(gen_random_uuid()::text, '-', ''), e.number, w.id, $2
FROM event e JOIN webhook_endpoint w ON w.enabled AND (w.kinds = '{}' OR e.kind = ANY (w.kinds))
WHERE e.number = ANY ($1)
ORDER BY e.number, w.id
ON CONFLICT DO NOTHING
RETURNING number`

// Dispatch makes, of at most so many events that wait, a delivery to each endpoint that wants to hear of them, and
// puts it into the queue, in one transaction. Instances that do it at once share the work. It returns how many events
// there were.
func (s *Store) Dispatch(ctx context.Context, at time.Time, most int) (n int, err error) {
	err = pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error {
		rows, _ := tx.Query(ctx, selectWaitingEvents, most) // a failed Query is reported by the collector
		events, err := pgx.CollectRows(rows, pgx.RowTo[int64])
		if err != nil || len(events) == 0 {
			return err
		}
		rows, _ = tx.Query(ctx, insertDeliveries, events, at) // a failed Query is reported by the collector
		made, err := pgx.CollectRows(rows, pgx.RowTo[int64])
		if err != nil {
			return err
		}
		if err := s.enqueue(ctx, tx, made, 1); err != nil {
			return err
		}
		n = len(events)
		_, err = tx.Exec(ctx, `UPDATE event SET dispatched_at = $2 WHERE number = ANY ($1)`, events, at)
		return err
	})
	return n, db.Fault(ctx, err)
}

// enqueue puts a job for each delivery into the queue.
func (s *Store) enqueue(ctx context.Context, tx pgx.Tx, deliveries []int64, round int) error {
	if len(deliveries) == 0 {
		return nil
	}
	jobs := make([]river.InsertManyParams, len(deliveries))
	for i, number := range deliveries {
		jobs[i] = river.InsertManyParams{Args: deliveryJob{Delivery: number, Round: round}}
	}
	_, err := s.queue.InsertManyFastTx(ctx, tx, jobs)
	return err
}

const resetDelivery = `
UPDATE webhook_delivery
SET state = 'pending', tries = 0, round = round + 1, next_at = $2, finished_at = NULL, calling_until = NULL
WHERE number = $1
RETURNING round`

// Resend sets a delivery going again at once, whatever became of it.
func (s *Store) Resend(ctx context.Context, id string, at time.Time) (d Delivery, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		if d, err = oneDelivery(ctx, tx, ` WHERE d.id = $1 FOR UPDATE OF d`, id); err != nil {
			return err
		}
		var round int
		if err := tx.QueryRow(ctx, resetDelivery, d.Number, at).Scan(&round); err != nil {
			return err
		}
		if err := s.enqueue(ctx, tx, []int64{d.Number}, round); err != nil {
			return err
		}
		d, err = oneDelivery(ctx, tx, ` WHERE d.number = $1`, d.Number)
		return err
	})
	return d, db.Fault(ctx, err)
}

const insertTest = `
WITH told AS (
  INSERT INTO event (id, kind, subject, data, created_at, dispatched_at)
  VALUES ($1, 'webhook.test', $2, '{}', $3, $3)
  RETURNING number
)
INSERT INTO webhook_delivery (id, event, endpoint, next_at)
SELECT 'delivery_' || replace(gen_random_uuid()::text, '-', ''), number, $2, $3 FROM told
RETURNING number`

// Test sends one endpoint an event that means nothing else.
func (s *Store) Test(ctx context.Context, endpoint, event string, at time.Time) (d Delivery, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		e, err := oneEndpoint(ctx, tx, endpointColumns+` WHERE id = $1 FOR SHARE`, endpoint)
		if err != nil {
			return err
		}
		if !e.Enabled {
			return &fault.Fault{Kind: fault.Conflict, Detail: "The endpoint is switched off.", Fix: "Switch it on first."}
		}
		var number int64
		if err := tx.QueryRow(ctx, insertTest, event, endpoint, at).Scan(&number); err != nil {
			return err
		}
		if err := s.enqueue(ctx, tx, []int64{number}, 1); err != nil {
			return err
		}
		d, err = oneDelivery(ctx, tx, ` WHERE d.number = $1`, number)
		return err
	})
	return d, db.Fault(ctx, err)
}

const deleteEvents = `
DELETE FROM event e
WHERE created_at < now() - $1::interval AND dispatched_at IS NOT NULL
  AND NOT EXISTS (SELECT FROM webhook_delivery d WHERE d.event = e.number AND d.state = 'pending')`

// ForgetMetadata takes what another system kept with a quote out of the events about it, with the transaction of ctx.
func (s *Store) ForgetMetadata(ctx context.Context, quote string) error {
	_, err := s.db.On(ctx).Exec(ctx, `UPDATE event SET data = jsonb_set(data, '{metadata}', '{}') WHERE subject = $1 AND data ? 'metadata'`,
		quote)
	return db.Fault(ctx, err)
}

// Forget deletes events that were kept for so long, with what became of telling them. Those stay of which nobody has been
// told yet.
func (s *Store) Forget(ctx context.Context, kept time.Duration) error {
	_, err := s.db.Pool.Exec(ctx, deleteEvents, kept)
	return db.Fault(ctx, err)
}
