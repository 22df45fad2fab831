package hooks

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"

	"seamwright/store/db"
)

const (
	// mostWorkers is how many endpoints an instance calls at once, and workersEach how many of these calls may go to
	// the same one: a slow endpoint must not hold up the others.
	mostWorkers = 16
	workersEach = 4
	// bookTime is how long a call and its bookkeeping may take together.
	bookTime = 30 * time.Second
	// queueRescue is when a call counts as lost for the queue, which goes by the clock of the instance that leads it. It decides
	// nothing: what it sets going again too early is claimed, and what it would do too late callsLost has done.
	queueRescue = 2 * time.Minute
)

// Outgoing is what an endpoint is to be told.
type Outgoing struct {
	Delivery Delivery
	Endpoint Endpoint
}

// Outcome is what became of a call.
type Outcome struct {
	Status  int           // of the answer; 0: none came
	Failure string        // empty: it was delivered
	Wait    time.Duration // what the endpoint asks to be left alone for; 0: nothing
	Gone    bool          // the endpoint says that it wants no more
}

// Deliveries says how events are delivered.
type Deliveries struct {
	Send func(context.Context, *Outgoing) Outcome
	Now  func() time.Time
	// Wait is how long to wait after so many failed attempts; ok is false when it is to be given up.
	Wait func(failed int) (wait time.Duration, ok bool)
	// Look is how often events and jobs are looked for.
	Look time.Duration
}

// Run dispatches events and works through the queue until the context ends; calls that are under way then may
// finish. Any number of instances may do so.
func (s *Store) Run(ctx context.Context, how Deliveries) error {
	workers := river.NewWorkers()
	river.AddWorker(workers, &deliveryWorker{store: s, how: how, busy: map[string]int{}})
	client, err := river.NewClient(riverpgxv5.New(s.db.Pool), &river.Config{
		Schema: queueSchema, Workers: workers, Logger: queueLog(s.db.Log),
		Queues:   map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: mostWorkers}},
		PollOnly: true, FetchPollInterval: how.Look, FetchCooldown: min(how.Look, river.FetchCooldownDefault),
		JobTimeout: bookTime, RescueStuckJobsAfter: queueRescue, SoftStopTimeout: bookTime,
		CompletedJobRetentionPeriod: time.Hour, Test: river.TestConfig{Time: queueTime{s.db}},
	})
	if err != nil {
		return fmt.Errorf("webhooks: %w", err)
	}
	if err := client.Start(ctx); err != nil {
		if ctx.Err() != nil {
			return nil
		}
		return fmt.Errorf("webhooks: %w", err)
	}
	tick := time.NewTicker(how.Look)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			<-client.Stopped()
			return nil
		case <-tick.C:
			s.dispatchAll(ctx, how.Now)
		}
	}
}

func (s *Store) dispatchAll(ctx context.Context, now func() time.Time) {
	const together = 200
	for ctx.Err() == nil {
		n, err := s.Dispatch(ctx, now(), together)
		if err == nil {
			err = s.sendLost(ctx, now(), together)
		}
		if err != nil && ctx.Err() == nil {
			s.db.Log.Warn("events not dispatched, trying again", "error", err)
		}
		if err != nil || n < together {
			return
		}
	}
}

type deliveryWorker struct {
	river.WorkerDefaults[deliveryJob]
	store *Store
	how   Deliveries

	lock sync.Mutex
	busy map[string]int // calls under way, by endpoint
}

// NextRetry: a job that failed did so here, in the bookkeeping, and is tried again soon.
func (w *deliveryWorker) NextRetry(*river.Job[deliveryJob]) time.Time {
	return w.store.db.Now().Add(5 * time.Second)
}

// Work calls the endpoint of a delivery and writes down what became of it. Between the call and the writing the program
// can end: then the endpoint is called again, which is why it may hear of an event twice.
func (w *deliveryWorker) Work(ctx context.Context, job *river.Job[deliveryJob]) error {
	out, round, err := w.store.outgoing(ctx, job.Args.Delivery)
	if err != nil {
		return err
	}
	if out == nil || round != job.Args.Round || out.Delivery.State != Pending {
		return nil // deleted, sent again by hand, or done
	}
	now := w.how.Now()
	// What was not tried yet is due whatever the clock of the instance said that made it.
	if wait := out.Delivery.NextAt.Sub(now); wait > 0 && out.Delivery.Tries > 0 {
		return river.JobSnooze(wait)
	}
	if !out.Endpoint.Enabled {
		return w.store.giveUp(ctx, out, round, now)
	}
	if !w.enter(out.Endpoint.ID) {
		return river.JobSnooze(time.Second)
	}
	defer w.leave(out.Endpoint.ID)
	mine, err := w.store.claim(ctx, out, round)
	switch {
	case err != nil:
		return err
	case !mine:
		return river.JobSnooze(callTime / 6) // somebody else calls it
	}
	result := w.how.Send(ctx, out)
	if err := ctx.Err(); err != nil {
		w.store.release(ctx, out, round)
		return err
	}
	wait, err := w.store.note(ctx, out, round, now, w.how, result)
	if err != nil {
		w.store.release(ctx, out, round)
		return err
	}
	if wait == 0 {
		return nil
	}
	return river.JobSnooze(wait)
}

func (w *deliveryWorker) enter(endpoint string) bool {
	w.lock.Lock()
	defer w.lock.Unlock()
	if w.busy[endpoint] >= workersEach {
		return false
	}
	w.busy[endpoint]++
	return true
}

func (w *deliveryWorker) leave(endpoint string) {
	w.lock.Lock()
	defer w.lock.Unlock()
	if w.busy[endpoint]--; w.busy[endpoint] == 0 {
		delete(w.busy, endpoint)
	}
}

// outgoing reads what a job is about; nil when it was deleted.
func (s *Store) outgoing(ctx context.Context, number int64) (out *Outgoing, round int, err error) {
	err = pgx.BeginTxFunc(ctx, s.db.Pool, db.AsOfNow, func(tx pgx.Tx) error {
		// a failed Query is reported by the collector
		rows, _ := tx.Query(ctx, deliveryColumns+` WHERE d.number = $1`, number)
		found, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Delivery])
		if err != nil || len(found) == 0 {
			return err
		}
		e, err := oneEndpoint(ctx, tx, endpointColumns+` WHERE id = $1`, found[0].Endpoint)
		if err != nil {
			return err
		}
		out = &Outgoing{Delivery: found[0], Endpoint: e}
		return tx.QueryRow(ctx, `SELECT round FROM webhook_delivery WHERE number = $1`, number).Scan(&round)
	})
	return out, round, err
}

// updateDelivery counts an attempt, and leaves the rest alone of what was sent again by hand in the meantime.
const updateDelivery = `
UPDATE webhook_delivery
SET attempts = attempts + 1,
    state = CASE round WHEN $2 THEN $3 ELSE state END, tries = CASE round WHEN $2 THEN $4 ELSE tries END,
    next_at = CASE round WHEN $2 THEN $5 ELSE next_at END, finished_at = CASE round WHEN $2 THEN $6 ELSE finished_at END,
    calling_until = CASE round WHEN $2 THEN NULL ELSE calling_until END
WHERE number = $1`

// insertAttempt comes after updateDelivery, whose lock gives each attempt a number of its own.
const insertAttempt = `
INSERT INTO webhook_attempt (delivery, number, at, took_ms, status, failure)
SELECT number, attempts, $2, $3, nullif($4, 0), nullif($5, '')
FROM webhook_delivery
WHERE number = $1`

// switchOff ends an endpoint that asked for it.
const switchOff = `
UPDATE webhook_endpoint
SET enabled = false, disabled_why = 'It answered 410 Gone.', version = version + 1, updated_at = $2
WHERE id = $1 AND enabled`

// note writes an attempt down. It returns how long to wait for the next one; 0 when there is none.
func (s *Store) note(ctx context.Context, out *Outgoing, round int, began time.Time, how Deliveries,
	result Outcome) (wait time.Duration, err error) {
	d, now := &out.Delivery, how.Now()
	state, tries := Delivered, d.Tries
	if result.Failure != "" {
		tries++
		var again bool
		if wait, again = how.Wait(tries); !again || result.Gone {
			wait, state = 0, Dead
		} else {
			wait, state = max(wait, result.Wait), Pending
		}
	}
	var next, finished *time.Time
	if at := now.Add(wait); state == Pending {
		next = &at
	} else {
		finished = &now
	}
	batch := &pgx.Batch{}
	batch.Queue(updateDelivery, d.Number, round, state, tries, next, finished)
	batch.Queue(insertAttempt, d.Number, began, max(now.Sub(began).Milliseconds(), 0), result.Status, result.Failure)
	if result.Gone {
		batch.Queue(switchOff, d.Endpoint, now)
	}
	err = pgx.BeginFunc(ctx, s.db.Pool, func(tx pgx.Tx) error { return tx.SendBatch(ctx, batch).Close() })
	if err == nil && result.Failure != "" {
		s.db.Log.Log(ctx, slog.LevelWarn, "webhook not delivered", "endpoint", d.Endpoint, "delivery", d.ID, "state", state,
			"why", result.Failure)
	}
	return wait, err
}

// giveUp ends a delivery whose endpoint was switched off.
func (s *Store) giveUp(ctx context.Context, out *Outgoing, round int, now time.Time) error {
	_, err := s.db.Pool.Exec(ctx, `UPDATE webhook_delivery SET state = 'dead', next_at = NULL, finished_at = $3 WHERE number = $1 AND round = $2`, out.Delivery.Number, round, now)
	return err
}
