package main

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"sync"
	"syscall"
	"time"
)

const (
	// quick is the bound of what is promised to be quick, on a machine that others may keep busy. What is measured is said.
	quick = 12 * time.Second
	// noticed is the same for a loss that is promised to be noticed within two seconds.
	noticed = 8 * time.Second
)

// scenarios is every fault, in the order in which they are played.
var scenarios = []scenario{
	{"lock", "somebody keeps an offer's row; 24 calls want to change it", lock},
	{"stopped", "the database is stopped (SIGSTOP) and goes on", stopped},
	{"silent", "the line of one instance swallows everything", silent},
	{"forgotten", "the open connections of one instance are forgotten on the way, in the middle of writes", forgotten},
	{"resets", "the line of one instance resets a connection at each twentieth piece", resets},
	{"slow", "every piece of one instance's line takes 100 ms", slow},
	{"crash", "the database is killed (kill -9) under writers", crash},
	{"killed", "an instance is killed (kill -9) under writers", killed},
	{"lists", "the database ends at once (SIGQUIT) while price lists are taken in", lists},
	{"readonly", "the database turns read-only, as after a failover", readonly},
	{"races", "the same key, and the same list, eight times at once on both instances", races},
	{"keys", "a key is revoked at the one instance while the other cannot ask", revoked},
	{"clocks", "the clock of one instance's machine is an hour ahead, then two days", clocks},
	{"failures", "a hundred bad keys from an address that good ones come from", failures},
	{"readers", "four batches whose caller reads nothing", readers},
	{"end", "an instance is asked to end (SIGTERM) under 20 clients", end},
	{"calls", "requests made at random from the specification", callsAtRandom},
}

// offer stores one and returns its id and tag.
func (s *stage) offer(ctx context.Context, i *instance) (id, tag string, err error) {
	a := i.call(ctx, http.MethodPost, "/v1/quotes", `{"estimate": `+fmt.Sprintf(order, "one")+`}`)
	if a.status != http.StatusCreated {
		return "", "", fmt.Errorf("store an offer: %d %w %s", a.status, a.err, a.body)
	}
	return a.text("id"), a.header.Get("ETag"), nil
}

// probes are calls that a fault must not hold up for long: reads and a write that need the database, and an estimate that
// does not.
func (s *stage) probes(ctx context.Context, r *report, what string, i *instance, database int) {
	slowest := time.Duration(0)
	for _, c := range []struct {
		method, path, body string
		want               int
	}{
		{http.MethodGet, "/v1/quotes", "", database}, {http.MethodGet, "/v1/keys", "", database},
		{http.MethodPost, "/v1/quotes", `{"estimate": ` + fmt.Sprintf(order, s.reference("probe")) + `}`, database},
		{http.MethodPost, "/v1/estimates", fmt.Sprintf(order, "probe"), http.StatusOK},
	} {
		a := i.call(ctx, c.method, c.path, c.body)
		slowest = max(slowest, a.took)
		want := c.want
		if want == http.StatusOK && c.method == http.MethodPost && c.path == "/v1/quotes" {
			want = http.StatusCreated
		}
		if a.status != want {
			r.broken("%s %s at %s got %d in place of %d (%v)", c.method, c.path, i.name, a.status, want, a.err)
		}
		if a.status == http.StatusServiceUnavailable && a.header.Get("Retry-After") == "" {
			r.broken("503 without Retry-After")
		}
	}
	r.say("%s at %s: slowest other answer %.2f s", what, i.name, slowest.Seconds())
	if slowest > quick {
		r.broken("an answer took %.1f s", slowest.Seconds())
	}
}

func lock(ctx context.Context, s *stage, r *report) {
	id, tag, err := s.offer(ctx, s.both[0])
	if err != nil {
		r.broken("%v", err)
		return
	}
	holder, err := s.database.Begin(ctx)
	if err == nil {
		_, err = holder.Exec(ctx, `SELECT FROM quote WHERE id = $1 FOR UPDATE`, id)
	}
	if err != nil {
		r.broken("keep the row: %v", err)
		return
	}
	var waiting sync.WaitGroup
	var mu sync.Mutex
	answers, slowest := map[int]int{}, time.Duration(0)
	for n := range 24 {
		waiting.Go(func() {
			a := s.both[n%2].call(ctx, http.MethodPost, "/v1/quotes/"+id+"/status", `{"status": "sent"}`, "If-Match", tag,
				"Idempotency-Key", s.key[:8]+fmt.Sprint(n))
			mu.Lock()
			defer mu.Unlock()
			answers[a.status]++
			slowest = max(slowest, a.took)
		})
	}
	time.Sleep(time.Second) // all of them wait now
	for _, i := range s.both {
		if a := i.call(ctx, http.MethodGet, "/v1/quotes", ""); a.took > quick ||
			a.status != http.StatusOK && a.status != http.StatusServiceUnavailable {
			r.broken("a reader at %s got %d after %.1f s", i.name, a.status, a.took.Seconds())
		} else {
			r.say("a reader beside them at %s: %d in %.2f s", i.name, a.status, a.took.Seconds())
		}
	}
	waiting.Wait()
	r.say("those who waited: %v, slowest %.2f s", answers, slowest.Seconds())
	if answers[http.StatusServiceUnavailable] != 24 {
		r.broken("not all of them were refused with 503")
	}
	if slowest > quick {
		r.broken("somebody waited %.1f s", slowest.Seconds())
	}
	for _, i := range s.both {
		s.probes(ctx, r, "the row still kept", i, http.StatusOK)
	}
	if err := holder.Rollback(ctx); err != nil {
		r.broken("%v", err)
	}
	if a := s.both[1].call(ctx, http.MethodPost, "/v1/quotes/"+id+"/status", `{"status": "sent"}`, "If-Match", tag,
		"Idempotency-Key", s.key[:8]+"0"); a.status != http.StatusOK {
		r.broken("sent again with the key of a refusal: %d", a.status)
	}
	if n := s.count(ctx, r, `SELECT count(*) FROM quote_move WHERE quote = $1 AND after = 'sent'`, id); n != 1 {
		r.broken("%d moves", n)
	}
}

// away waits until an instance says that the database is lost, holds what it then answers, eases the trouble and waits until
// all is well.
func (s *stage) away(ctx context.Context, r *report, i *instance, for_ time.Duration, ease func() error) {
	took, err := i.until(ctx, "degraded", 30*time.Second)
	if err != nil {
		r.broken("%v", err)
	}
	r.within("noticed", took, noticed)
	s.probes(ctx, r, "meanwhile", i, http.StatusServiceUnavailable)
	time.Sleep(for_)
	if err := ease(); err != nil {
		r.broken("%v", err)
	}
	if took, err = i.until(ctx, "ready", 30*time.Second); err != nil {
		r.broken("%v", err)
	}
	r.say("ready again after %.2f s", took.Seconds())
	s.probes(ctx, r, "afterwards", i, http.StatusOK)
}

func stopped(ctx context.Context, s *stage, r *report) {
	w := s.write(ctx, 2, s.both[:]...)
	time.Sleep(time.Second)
	if err := s.signal(syscall.SIGSTOP, true); err != nil {
		r.broken("%v", err)
	}
	s.away(ctx, r, s.both[0], times(s.options, 8*time.Second, time.Second),
		func() error { return s.signal(syscall.SIGCONT, true) })
	w.end(ctx, r)
}

func silent(ctx context.Context, s *stage, r *report) {
	w := s.write(ctx, 2, s.both[:]...)
	time.Sleep(time.Second)
	s.both[1].line.Silence()
	s.away(ctx, r, s.both[1], times(s.options, 40*time.Second, time.Second), s.both[1].line.Mend)
	w.end(ctx, r)
}

func forgotten(ctx context.Context, s *stage, r *report) {
	w := s.write(ctx, 3, s.both[1])
	healthy := s.write(ctx, 1, s.both[0])
	time.Sleep(time.Second)
	s.both[1].line.Forget()
	a := s.both[0].call(ctx, http.MethodGet, "/v1/settings/tax", "")
	edit := s.both[0].call(ctx, http.MethodPut, "/v1/settings/tax", `{"value": "`+fmt.Sprint(time.Now().Unix()%20+1)+`"}`,
		"If-Match", a.header.Get("ETag"))
	began := time.Now()
	if edit.status != http.StatusOK {
		r.broken("an edit at A got %d: %s", edit.status, edit.body)
	}
	for time.Since(began) < 30*time.Second {
		if b := s.both[1].call(ctx, http.MethodGet, "/v1/settings/tax", ""); b.status == http.StatusOK &&
			string(b.body) != string(a.body) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	r.within("a change at A is in use at B", time.Since(began), quick)
	// What was under way keeps its locks until the database ends the transaction that nobody comes back to.
	time.Sleep(times(s.options, 15*time.Second, 12*time.Second))
	if n := s.count(ctx, r, `SELECT count(*) FROM pg_stat_activity WHERE state LIKE 'idle in transaction%' AND state_change < now() - interval '12 s'`); n > 0 {
		r.broken("%d transactions are left open", n)
	}
	healthy.end(ctx, r)
	w.end(ctx, r)
}

func resets(ctx context.Context, s *stage, r *report) {
	s.both[1].line.ResetSome(0.05)
	w := s.write(ctx, 4, s.both[1])
	time.Sleep(times(s.options, 20*time.Second, 4*time.Second))
	if err := s.both[1].line.Mend(); err != nil {
		r.broken("%v", err)
	}
	w.end(ctx, r)
}

func slow(ctx context.Context, s *stage, r *report) {
	s.both[1].line.Delay(100 * time.Millisecond)
	w := s.write(ctx, 2, s.both[1])
	time.Sleep(times(s.options, 20*time.Second, 6*time.Second))
	if a := s.both[1].call(ctx, http.MethodPost, "/v1/estimates", fmt.Sprintf(order, "slow")); a.status != http.StatusOK {
		r.broken("an estimate got %d", a.status)
	} else {
		r.say("an estimate meanwhile in %.3f s", a.took.Seconds())
	}
	w.end(ctx, r)
}

func crash(ctx context.Context, s *stage, r *report) {
	w := s.write(ctx, 2, s.both[:]...)
	for range times(s.options, 5, 1) {
		time.Sleep(time.Second)
		if err := s.signal(syscall.SIGKILL, false); err != nil {
			r.broken("%v", err)
		}
		// A killed postmaster leaves its children, which notice; the private server is then started again.
		began := time.Now()
		if _, err := s.both[0].until(ctx, "degraded", 5*time.Second); err != nil {
			r.say("it was back before it was missed")
		}
		for _, i := range s.both {
			if _, err := i.until(ctx, "ready", time.Minute); err != nil {
				r.broken("%v", err)
			}
		}
		r.say("both ready %.2f s after the kill", time.Since(began).Seconds())
	}
	time.Sleep(time.Second)
	w.end(ctx, r)
}

func killed(ctx context.Context, s *stage, r *report) {
	w := s.write(ctx, 2, s.both[:]...)
	var took []string
	for n := range times(s.options, 10, 2) {
		time.Sleep(500 * time.Millisecond)
		d, err := s.both[n%2].restart(ctx)
		if err != nil {
			r.broken("%v", err)
			return
		}
		took = append(took, fmt.Sprintf("%.2f", d.Seconds()))
	}
	r.say("started again in %v s", took)
	w.end(ctx, r)
}

func readonly(ctx context.Context, s *stage, r *report) {
	change := func(value string) error {
		admin, err := s.administrator(ctx)
		if err != nil {
			return err
		}
		defer admin.Close(ctx) //nolint:errcheck // it has said what it had to
		for _, sql := range []string{`ALTER SYSTEM SET default_transaction_read_only = ` + value, `SELECT pg_reload_conf()`} {
			if _, err := admin.Exec(ctx, sql); err != nil {
				return err
			}
		}
		return nil
	}
	w := s.write(ctx, 2, s.both[:]...)
	time.Sleep(time.Second)
	if err := change("on"); err != nil {
		r.broken("%v", err)
	}
	s.away(ctx, r, s.both[0], time.Second, func() error { return change("off") })
	if _, err := s.both[1].until(ctx, "ready", 30*time.Second); err != nil {
		r.broken("%v", err)
	}
	w.end(ctx, r)
}

func races(ctx context.Context, s *stage, r *report) {
	rounds := times(s.options, 20, 3)
	for range rounds {
		reference := s.reference("race")
		body := `{"estimate": ` + fmt.Sprintf(order, reference) + `, "reference": "` + reference + `"}`
		var all sync.WaitGroup
		statuses := make([]int, 8)
		for n := range statuses {
			all.Go(func() {
				statuses[n] = s.both[n%2].call(ctx, http.MethodPost, "/v1/quotes", body, "Idempotency-Key", reference).status
			})
		}
		all.Wait()
		if !slices.Contains(statuses, http.StatusCreated) {
			r.broken("nobody was answered: %v", statuses)
		}
		if n := s.count(ctx, r, `SELECT count(*) FROM quote WHERE reference = $1`, reference); n != 1 {
			r.broken("%d offers of one key", n)
		}
		for _, status := range statuses {
			if status != http.StatusCreated && status != http.StatusConflict {
				r.broken("a repeat got %d", status)
			}
		}
	}
	r.say("%d rounds: one offer of each key", rounds)
	s.raceLists(ctx, r, rounds)
}
