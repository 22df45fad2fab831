package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// revoked takes a key away at A while B cannot ask the database: B trusts it for the time that it was told to, and then says
// that it cannot know.
func revoked(ctx context.Context, s *stage, r *report) {
	a, b := s.both[0], s.both[1]
	const trust = 4 * time.Second
	b.kill()
	if err := b.start(ctx, "--key-trust", trust.String()); err != nil {
		r.broken("%v", err)
		return
	}
	made := a.call(ctx, http.MethodPost, "/v1/keys", `{"name": "short", "scopes": ["estimate"]}`)
	with := *b
	with.key = made.text("key")
	ask := func() int {
		return with.call(ctx, http.MethodPost, "/v1/estimates", fmt.Sprintf(order, "key")).status
	}
	took, ok := await(20*time.Second, func() bool { return ask() == http.StatusOK })
	if !ok {
		r.broken("B never knew the key")
	}
	r.say("B knows a key of A after %.2f s", took.Seconds())
	b.line.Silence()
	if gone := a.call(ctx, http.MethodDelete, "/v1/keys/"+made.text("id"), ""); gone.status != http.StatusNoContent {
		r.broken("revoke: %d", gone.status)
	}
	if took, ok = await(30*time.Second, func() bool { return ask() == http.StatusServiceUnavailable }); !ok {
		r.broken("B trusts its keys for ever")
	}
	r.within(fmt.Sprintf("B, which trusts keys for %s, stops", trust), took, trust+quick)
	if err := b.line.Mend(); err != nil {
		r.broken("%v", err)
	}
	if took, ok = await(30*time.Second, func() bool { return ask() == http.StatusUnauthorized }); !ok {
		r.broken("the key is good again")
	}
	r.say("and refuses it %.2f s after the line is back", took.Seconds())
	if _, err := b.restart(ctx); err != nil {
		r.broken("%v", err)
	}
}

func await(most time.Duration, happened func() bool) (time.Duration, bool) {
	for began := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		if happened() {
			return time.Since(began), true
		}
		if time.Since(began) > most {
			return most, false
		}
	}
}

func failures(ctx context.Context, s *stage, r *report) {
	bad := *s.both[0]
	bad.key = "seam_secret_guess"
	counts := map[int]int{}
	for range 100 {
		counts[bad.call(ctx, http.MethodGet, "/v1/species", "").status]++
	}
	r.say("bad keys got %v", counts)
	if a := s.both[0].call(ctx, http.MethodGet, "/v1/species", ""); a.status != http.StatusOK {
		r.broken("a good key of the address got %d", a.status)
	}
	if counts[http.StatusTooManyRequests] == 0 || counts[http.StatusUnauthorized]+
		counts[http.StatusTooManyRequests] != 100 {
		r.broken("bad keys were not held back")
	}
}

// readers start batches and read nothing of them. Their places must come free.
func readers(ctx context.Context, s *stage, r *report) {
	i := s.both[0]
	lineOf := strings.ReplaceAll(fmt.Sprintf(order, "batch"), "\n", " ") + "\n"
	began := time.Now()
	for range 4 + 2 { // two of them are refused
		conn, err := net.Dial("tcp", i.address)
		if err != nil {
			r.broken("%v", err)
			return
		}
		defer conn.Close()
		go func() { // ends when the service hangs up
			_, _ = fmt.Fprintf(conn, "POST /v1/estimates/batch HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\nContent-Type: application/x-ndjson\r\nTransfer-Encoding: chunked\r\n\r\n", i.key)
			for {
				if _, err := fmt.Fprintf(conn, "%x\r\n%s\r\n", len(lineOf), lineOf); err != nil {
					return
				}
			}
		}()
	}
	time.Sleep(time.Second) // the four are in
	batch := func() int {
		return i.call(ctx, http.MethodPost, "/v1/estimates/batch", lineOf, "Content-Type", "application/x-ndjson").status
	}
	if _, ok := await(quick, func() bool { return batch() == http.StatusTooManyRequests }); !ok {
		r.broken("a fifth batch of the key was taken")
	}
	took, ok := await(2*time.Minute, func() bool { return batch() == http.StatusOK })
	if !ok {
		r.broken("batches that nobody reads keep their places for %.0f s", took.Seconds())
	}
	r.say("their places are free %.0f s after they began", time.Since(began).Seconds())
}

// end asks an instance to end while clients call it one call after the other. Those behind a balancer, which goes by /readyz, lose
// none; of those that come back regardless until nobody listens any more, what was lost is said.
func end(ctx context.Context, s *stage, r *report) {
	for _, balanced := range []bool{true, false} {
		i := s.both[0]
		var elsewhere atomic.Bool
		var answered, lost, refused atomic.Int64
		var why atomic.Value
		var clients sync.WaitGroup
		for n := range 20 {
			clients.Go(func() {
				client := &http.Client{Transport: &http.Transport{DisableKeepAlives: n%2 == 0}, Timeout: tooSlow}
				defer client.CloseIdleConnections()
				for !elsewhere.Load() && ctx.Err() == nil {
					err := once(client, i)
					switch {
					case err == nil:
						answered.Add(1)
					case errors.Is(err, syscall.ECONNREFUSED):
						refused.Add(1)
						return
					default:
						lost.Add(1)
						why.Store(err.Error())
					}
				}
			})
		}
		time.Sleep(time.Second)
		began := time.Now()
		if err := i.cmd.Process.Signal(syscall.SIGTERM); err != nil {
			r.broken("%v", err)
		}
		if balanced {
			took, err := i.until(ctx, "draining", quick)
			if err != nil {
				r.broken("%v", err)
			}
			r.say("not ready %.2f s after SIGTERM", took.Seconds())
			time.Sleep(200 * time.Millisecond)
			elsewhere.Store(true)
		}
		clients.Wait()
		err := i.cmd.Wait()
		i.cmd = nil
		if err != nil {
			r.broken("it ended with %v", err)
		}
		who := "clients that come back until nobody listens"
		if balanced {
			who = "clients behind a balancer"
			if lost.Load() > 0 {
				r.broken("%d calls behind a balancer were lost", lost.Load())
			}
		}
		if lost.Load() > 0 {
			who += fmt.Sprintf(" (%v)", why.Load())
		}
		r.say("%s: %d answered, %d lost, %d found nobody; ended after %.2f s", who, answered.Load(), lost.Load(),
			refused.Load(), time.Since(began).Seconds())
		if err := i.start(ctx); err != nil {
			r.broken("%v", err)
			return
		}
	}
}

func once(client *http.Client, i *instance) error {
	request, err := http.NewRequest(http.MethodPost, "http://"+i.address+"/v1/movements", strings.NewReader(`{}`))
	if err != nil {
		return err
	}
	request.Header.Set("Authorization", "Bearer "+i.key)
	request.Header.Set("Content-Type", "application/json")
	answer, err := client.Do(request)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	_, err = io.Copy(io.Discard, answer.Body)
	return err
}
