package main

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"
)

// pace is what a writer rests after each answer: this is no test of load.
const pace = 20 * time.Millisecond

const order = `{"units": "in", "reference": %q, "top": {"species": "maple_sugar", "thickness": 1.5, "runs": [{"length": 96, "depth": 25.5}]}}`

// writers store offers, one after the other each, and send each again under its Idempotency-Key until it is acknowledged.
// They know what was, and what they never learned.
type writers struct {
	stage *stage
	stop  chan struct{}
	all   sync.WaitGroup

	mu       sync.Mutex
	acked    []string
	open     []string // sent and not acknowledged
	statuses map[int]int
	slowest  time.Duration
	unsaid   int // refusals without a word of when to come again
}

// write starts so many writers at each of the instances.
func (s *stage) write(ctx context.Context, each int, at ...*instance) *writers {
	w := &writers{stage: s, stop: make(chan struct{}), statuses: map[int]int{}}
	for _, i := range at {
		for n := range each {
			name := s.reference(fmt.Sprint("writer ", i.name, n))
			w.all.Go(func() { w.run(ctx, i, name) })
		}
	}
	return w
}

func (w *writers) stopped() bool {
	select {
	case <-w.stop:
		return true
	default:
		return false
	}
}

func (w *writers) run(ctx context.Context, i *instance, name string) {
	for n := 0; !w.stopped() && ctx.Err() == nil; n++ {
		reference := fmt.Sprintf("%s/%d", name, n)
		body := `{"estimate": ` + fmt.Sprintf(order, reference) + `, "reference": ` + fmt.Sprintf("%q", reference) + `}`
		done := false
		for !done && ctx.Err() == nil {
			a := i.call(ctx, http.MethodPost, "/v1/quotes", body, "Idempotency-Key", reference)
			done = a.status == http.StatusCreated
			w.note(a)
			if !done && w.stopped() {
				break
			}
			time.Sleep(pace)
		}
		w.mu.Lock()
		if done {
			w.acked = append(w.acked, reference)
		} else {
			w.open = append(w.open, reference)
		}
		w.mu.Unlock()
	}
}

func (w *writers) note(a reply) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.statuses[a.status]++
	w.slowest = max(w.slowest, a.took)
	if (a.status == http.StatusServiceUnavailable || a.status == http.StatusConflict) &&
		a.header.Get("Retry-After") == "" {
		w.unsaid++
	}
}

const countReferences = `
SELECT count(*) FILTER (WHERE n = 0), count(*) FILTER (WHERE n > 1), coalesce(sum(n), 0)::int
FROM (SELECT r, count(q.id) AS n FROM unnest($1::text[]) r LEFT JOIN quote q ON q.reference = r GROUP BY r) t`

// end stops the writers and counts: what was acknowledged must be there once, what was not at most once.
func (w *writers) end(ctx context.Context, r *report) {
	close(w.stop)
	w.all.Wait()
	lost, doubled, kept, err := w.tally(ctx, w.acked)
	_, doubledToo, _, failed := w.tally(ctx, w.open)
	switch {
	case err != nil || failed != nil:
		r.broken("counting failed: %v %v", err, failed)
	case lost+doubled+doubledToo > 0:
		r.broken("%d lost, %d doubled", lost, doubled+doubledToo)
	case len(w.acked) == 0:
		r.broken("nothing was written")
	}
	if w.unsaid > 0 {
		r.broken("%d refusals without Retry-After", w.unsaid)
	}
	if n := w.failures(); n > 0 {
		r.broken("%d answers of 500", n)
	}
	r.say("%d acknowledged = %d kept, %d lost, %d doubled, %d left open; answers %s; slowest %.2f s", len(w.acked), kept,
		lost, doubled+doubledToo, len(w.open), w.answers(), w.slowest.Seconds())
}

func (w *writers) tally(ctx context.Context, references []string) (lost, doubled, kept int, err error) {
	for range 50 { // the database may be starting
		if err = w.stage.database.QueryRow(ctx, countReferences, references).Scan(&lost, &doubled, &kept); err == nil {
			return lost, doubled, kept, nil
		}
		time.Sleep(200 * time.Millisecond)
	}
	return 0, 0, 0, err
}

func (w *writers) failures() (n int) {
	for status, times := range w.statuses {
		if status >= 500 && status != http.StatusServiceUnavailable {
			n += times
		}
	}
	return n
}

// answers lists how often each status came.
func (w *writers) answers() string {
	var statuses []int
	for status := range w.statuses {
		statuses = append(statuses, status)
	}
	slices.Sort(statuses)
	var all []string
	for _, status := range statuses {
		name := fmt.Sprint(status)
		if status == 0 {
			name = "none"
		}
		all = append(all, fmt.Sprintf("%d × %s", w.statuses[status], name))
	}
	return strings.Join(all, ", ")
}
