package hooks

import (
	"context"
	"encoding/json"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Event is something that happened.
type Event struct {
	Number   int64
	ID       string
	Kind     string
	Subject  string
	Happened time.Time
	Data     json.RawMessage
}

// Span says which events are meant. Tests of endpoints are none.
type Span struct {
	Kinds   []string   // none: all
	Subject string     // empty: of everything
	Since   *time.Time // happened then or later
	Until   *time.Time // and before
	After   int64      // number of the event before the first; 0: from the beginning
	Most    int
}

const eventColumns = `SELECT number, id, kind, subject, created_at, data FROM event`

const inSpan = ` WHERE kind <> 'webhook.test' AND ($1::text[] = '{}' OR kind = ANY ($1)) AND ($2 = '' OR subject = $2)
  AND ($3::timestamptz IS NULL OR created_at >= $3) AND ($4::timestamptz IS NULL OR created_at < $4) AND number > $5
ORDER BY number
LIMIT $6`

func (s *Span) values() []any {
	return []any{pgx.QueryExecModeExec, db.List(s.Kinds), s.Subject, s.Since, s.Until, s.After, s.Most}
}

// Events lists what happened, oldest first. They are kept as long as Forget leaves them.
func (s *Store) Events(ctx context.Context, span Span) ([]Event, error) {
	return db.All(ctx, s.db.On(ctx), pgx.RowToStructByPos[Event], eventColumns+inSpan, span.values()...)
}

// EventNumber is the number of the event with that id, or a Fault of the kind NotFound.
func (s *Store) EventNumber(ctx context.Context, id string) (int64, error) {
	return db.One(ctx, s.db.On(ctx), pgx.RowTo[int64], "There is no event with that id; events are kept for 30 days.",
		`SELECT number FROM event WHERE id = $1 AND kind <> 'webhook.test'`, id)
}

// Replayed is what became of telling an endpoint of a span.
type Replayed struct {
	Found  int    // events of the span, at most its limit
	Queued int    // of these, those that are told now
	Last   string // id of the last one found; empty: none was
}

// replay makes a delivery of each event that the endpoint has none of, and sets those that are over going again: dead ones, and
// with $4 what was delivered, too. What is still under way stays. It answers with each delivery and its round.
const replay = `
INSERT INTO webhook_delivery AS d (id, event, endpoint, next_at)
SELECT 'delivery_' || replace(gen_random_uuid()::text, '-', ''), number, $2, $3
FROM unnest($1::bigint[]) AS number
ORDER BY number
ON CONFLICT (event, endpoint) DO UPDATE
  SET state = 'pending', tries = 0, round = d.round + 1, next_at = excluded.next_at, finished_at = NULL, calling_until = NULL
  WHERE d.state = 'dead' OR $4 AND d.state = 'delivered'
RETURNING number, round`

// Replay tells an endpoint of the events of a span, or of those with the ids, of the kinds that it takes. Again tells it of what it
// took already, too. It fails with a Fault of the kind Conflict when the endpoint is switched off.
func (s *Store) Replay(ctx context.Context, endpoint string, ids []string, span Span, again bool, at time.Time) (r Replayed, err error) {
	err = pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) error {
		e, err := oneEndpoint(ctx, tx, endpointColumns+` WHERE id = $1 FOR SHARE`, endpoint)
		if err != nil {
			return err
		}
		if !e.Enabled {
			return &fault.Fault{Kind: fault.Conflict, Detail: "The endpoint is switched off.", Fix: "Switch it on first."}
		}
		events, err := eventsOf(ctx, tx, ids, span)
		if err != nil {
			return err
		}
		var numbers []int64
		for i := range events {
			r.Found, r.Last = r.Found+1, events[i].ID
			if e.Wants(events[i].Kind) {
				numbers = append(numbers, events[i].Number)
			}
		}
		r.Queued, err = s.replayAll(ctx, tx, endpoint, numbers, again, at)
		return err
	})
	return r, db.Fault(ctx, err)
}

// eventsOf finds what is to be told: a span, or events by their ids, each of which must be there.
func eventsOf(ctx context.Context, tx pgx.Tx, ids []string, span Span) ([]Event, error) {
	query, values := eventColumns+inSpan, span.values()
	if ids != nil {
		query, values = eventColumns+` WHERE id = ANY ($1) AND kind <> 'webhook.test' ORDER BY number`, []any{ids}
	}
	rows, _ := tx.Query(ctx, query, values...) // a failed Query is reported by the collector
	events, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Event])
	if err != nil || ids == nil {
		return events, err
	}
	there := map[string]bool{}
	for i := range events {
		there[events[i].ID] = true
	}
	for _, id := range ids {
		if !there[id] {
			return nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no event " + fault.Cut(id, 64) + "; events are kept for 30 days."}
		}
	}
	return events, nil
}

func (s *Store) replayAll(ctx context.Context, tx pgx.Tx, endpoint string, events []int64, again bool, at time.Time) (int, error) {
	rows, _ := tx.Query(ctx, replay, events, endpoint, at, again) // a failed Query is reported by the collector
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[going])
	if err != nil {
		return 0, err
	}
	return len(list), s.enqueueAll(ctx, tx, list)
}
