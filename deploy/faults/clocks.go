package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"time"

	drill "seamwright/deploy/stage"
)

// clocks gives B a machine whose clock is ahead, by an hour and then by two days, and asks both instances for what depends on the time.
func clocks(ctx context.Context, s *stage, r *report) {
	a, b := s.both[0], s.both[1]
	right, wrong := s.program, filepath.Join(s.folder, "seamwright-off")
	if err := drill.BuildOff(ctx, wrong); err != nil {
		r.broken("%v", err)
		return
	}
	h, err := listen()
	if err != nil {
		r.broken("%v", err)
		return
	}
	defer h.server.Close() //nolint:errcheck // nobody calls any more
	defer func() {         // both are as they were
		b.program, b.environment = right, nil
		for _, i := range s.both {
			if _, err := i.restart(ctx); err != nil {
				r.broken("%v", err)
			}
		}
	}()
	hook := s.hear(ctx, r, h)
	b.program = wrong
	for _, ahead := range times(s.options, []time.Duration{time.Hour, 48 * time.Hour}, []time.Duration{48 * time.Hour}) {
		b.environment = []string{drill.OffBy(ahead)}
		for _, i := range s.both {
			i.kill()
			if err := i.start(ctx, "--webhook-allow", "127.0.0.0/8"); err != nil {
				r.broken("%v: %s", err, i.log.b.String())
				return
			}
		}
		s.apart(ctx, r, ahead)
		s.writesOnce(ctx, r)
		s.keysByOneClock(ctx, r)
		s.daysByOneClock(ctx, r)
		s.formOnce(ctx, r)
		s.toldByB(ctx, r, h)
		s.toldOnce(ctx, r, h)
		s.noNegative(ctx, r)
	}
	made := a.call(ctx, http.MethodGet, hook, "")
	if gone := a.call(ctx, http.MethodDelete, hook, "", "If-Match", made.header.Get("ETag")); gone.status != http.StatusNoContent {
		r.broken("delete the endpoint: %d", gone.status)
	}
}

// hear makes an endpoint of the hearer.
func (s *stage) hear(ctx context.Context, r *report, h *hearer) (path string) {
	a := s.both[0]
	a.kill()
	if err := a.start(ctx, "--webhook-allow", "127.0.0.0/8"); err != nil {
		r.broken("%v", err)
		return ""
	}
	made := a.call(ctx, http.MethodPost, "/v1/webhook-endpoints", fmt.Sprintf(`{"url": %q, "kinds": ["quote.created"]}`, h.address))
	secret, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(made.text("secret"), "whsec_"))
	if made.status != http.StatusCreated || err != nil || len(secret) == 0 {
		r.broken("make an endpoint: %d %s %v", made.status, made.body, err)
	}
	h.know(secret)
	return "/v1/webhook-endpoints/" + made.text("id")
}

// apart makes sure that the clock of B's machine is as wrong as it should be: its answers say what time it has.
func (s *stage) apart(ctx context.Context, r *report, ahead time.Duration) {
	said, err := http.ParseTime(s.both[1].call(ctx, http.MethodGet, "/healthz", "").header.Get("Date"))
	if off := time.Until(said) - ahead; err != nil || off.Abs() > 5*time.Second {
		r.broken("B's clock is not %s ahead: %s %v", ahead, off, err)
	}
	r.say("**B %s ahead**", strings.TrimSuffix(ahead.String(), "0m0s"))
}

// writesOnce stores offers at both and sends each to the other, too.
func (s *stage) writesOnce(ctx context.Context, r *report) {
	w := s.write(ctx, 2, s.both[:]...)
	rounds := times(s.options, 50, 10)
	for n := range rounds {
		reference := s.reference("clock")
		body := `{"estimate": ` + fmt.Sprintf(order, reference) + `, "reference": "` + reference + `"}`
		first := s.both[n%2].call(ctx, http.MethodPost, "/v1/quotes", body, "Idempotency-Key", reference)
		again := s.both[1-n%2].call(ctx, http.MethodPost, "/v1/quotes", body, "Idempotency-Key", reference)
		if first.status != http.StatusCreated || again.status != http.StatusCreated || !bytes.Equal(first.body, again.body) {
			r.broken("one key at both: %d and %d", first.status, again.status)
		}
		if n := s.count(ctx, r, `SELECT count(*) FROM quote WHERE reference = $1`, reference); n != 1 {
			r.broken("%d offers of one key", n)
		}
	}
	r.say("%d offers of one key at both, each once", rounds)
	w.end(ctx, r)
}

// keysByOneClock has a key that ends in half an hour used at both, and revokes it at the one that is wrong.
func (s *stage) keysByOneClock(ctx context.Context, r *report) {
	a, b := s.both[0], s.both[1]
	ask := func(i *instance, key string) int {
		with := *i
		with.key = key
		return with.call(ctx, http.MethodPost, "/v1/estimates", fmt.Sprintf(order, "key")).status
	}
	for n, at := range s.both {
		body := fmt.Sprintf(`{"name": "short", "scopes": ["estimate"], "expires_at": %q}`, time.Now().Add(30*time.Minute).UTC().Format(time.RFC3339))
		made := at.call(ctx, http.MethodPost, "/v1/keys", body)
		key := made.text("key")
		for _, i := range s.both {
			if _, ok := await(quick, func() bool { return ask(i, key) == http.StatusOK }); !ok {
				r.broken("%s does not know a key of %s that is good for half an hour: %d, %s", i.name, at.name, made.status, made.body)
			}
		}
		if gone := s.both[1-n].call(ctx, http.MethodDelete, "/v1/keys/"+made.text("id"), ""); gone.status != http.StatusNoContent {
			r.broken("revoke: %d", gone.status)
		}
		for _, i := range s.both {
			if _, ok := await(quick, func() bool { return ask(i, key) == http.StatusUnauthorized }); !ok {
				r.broken("%s takes a revoked key", i.name)
			}
		}
	}
	past := fmt.Sprintf(`{"name": "past", "scopes": ["estimate"], "expires_at": %q}`, time.Now().Add(-time.Minute).UTC().Format(time.RFC3339))
	if one, other := a.call(ctx, http.MethodPost, "/v1/keys", past), b.call(ctx, http.MethodPost, "/v1/keys", past); one.status != http.StatusBadRequest ||
		other.status != http.StatusBadRequest {
		r.broken("a key that has ended is made: %d, %d", one.status, other.status)
	}
	r.say("a key of half an hour is good at both until it is revoked at either")
}

// daysByOneClock has an offer that is valid until tomorrow: both must say that it stands, and offer until the same day.
func (s *stage) daysByOneClock(ctx context.Context, r *report) {
	tomorrow := time.Now().UTC().AddDate(0, 0, 1).Format(time.DateOnly)
	made := s.both[0].call(ctx, http.MethodPost, "/v1/quotes",
		`{"estimate": `+fmt.Sprintf(order, "valid")+`, "valid_until": "`+tomorrow+`"}`)
	path := "/v1/quotes/" + made.text("id")
	sent := s.both[0].call(ctx, http.MethodPost, path+"/status", `{"status": "sent"}`, "If-Match", made.header.Get("ETag"))
	if made.status != http.StatusCreated || sent.status != http.StatusOK {
		r.broken("send an offer: %d, %d %s", made.status, sent.status, sent.body)
	}
	var until [2]string
	for n, i := range s.both {
		shown := i.call(ctx, http.MethodGet, path, "")
		if shown.text("status") != "sent" {
			r.broken("an offer that is valid until tomorrow is %q at %s", shown.text("status"), i.name)
		}
		fresh := i.call(ctx, http.MethodPost, "/v1/quotes", `{"estimate": `+fmt.Sprintf(order, "until")+`}`)
		until[n] = fresh.text("valid_until")
	}
	if until[0] == "" || until[0] != until[1] {
		r.broken("offers of today are valid until %v", until)
	}
	if n := s.count(ctx, r, `SELECT count(*) FROM quote_move WHERE after = 'expired'`); n != 0 {
		r.broken("%d offers have expired", n)
	}
	r.say("an offer until tomorrow stands at both, new ones end on the same day")
}

const asked = `{"top": {"units": "in", "shape": "l", "turns": "right", "sides": [{"long": 96, "deep": 25.5}, {"long": 72, "deep": 25.5}],
  "wood": "maple_sugar", "thickness": "1-1/2", "front_edge": "rounded", "finish": "oiled", "room": "heated"},
  "contact": {"name": "Robin Example", "email": "robin@example.com"}, "message": %q, "consent": true}`

// formOnce sends what a customer asks for to both, in both orders: it is kept once within 24 hours.
func (s *stage) formOnce(ctx context.Context, r *report) {
	for n := range s.both {
		message := s.reference("asked")
		first := s.both[n].call(ctx, http.MethodPost, "/v1/order-form/requests", fmt.Sprintf(asked, message))
		again := s.both[1-n].call(ctx, http.MethodPost, "/v1/order-form/requests", fmt.Sprintf(asked, message))
		if first.status != http.StatusCreated || again.status != http.StatusCreated || first.text("reference") != again.text("reference") {
			r.broken("a customer's request at both: %d, %d %s", first.status, again.status, first.body)
		}
		if kept := s.count(ctx, r, `SELECT count(*) FROM order_form_request WHERE message = $1`, message); kept != 1 {
			r.broken("a customer's request is kept %d times", kept)
		}
	}
	r.say("a customer's request at both is kept once")
}

const pending = `SELECT count(*) FROM webhook_delivery WHERE state = 'pending'`

// toldByB leaves B alone, whose clock is wrong: what it tells is signed with a time that receivers take, and what was refused it tells
// again when it said, by the database's clock.
func (s *stage) toldByB(ctx context.Context, r *report, h *hearer) {
	if _, ok := await(time.Minute, func() bool { return s.count(ctx, r, pending) == 0 }); !ok {
		r.broken("what is to be told waits")
	}
	s.both[0].kill()
	h.refuseNext()
	if _, _, err := s.offer(ctx, s.both[1]); err != nil {
		r.broken("%v", err)
	}
	const due = `SELECT count(*) FROM webhook_delivery d, river.river_job j WHERE d.state = 'pending' AND d.tries = 1
		AND d.next_at BETWEEN now() + interval '20 s' AND now() + interval '41 s' AND (j.args->>'delivery')::bigint = d.number
		AND j.scheduled_at BETWEEN now() + interval '20 s' AND now() + interval '41 s'`
	took, ok := await(30*time.Second, func() bool { return s.count(ctx, r, due) == 1 }) // it takes the lead of the queue, too
	if !ok {
		r.broken("what was refused is not to be told again in 40 s")
	}
	if err := s.both[0].start(ctx, "--webhook-allow", "127.0.0.0/8"); err != nil {
		r.broken("%v", err)
	}
	if s.options.short {
		r.say("B alone tells, and would tell again in 40 s")
		return
	}
	again, ok := await(90*time.Second, func() bool { return s.count(ctx, r, pending) == 0 })
	if took += again; !ok || took < 30*time.Second || took > 70*time.Second {
		r.broken("what was refused is told again after %.0f s", took.Seconds())
	}
	r.say("B alone tells; what was refused is told again after %.0f s", took.Seconds())
}

// toldOnce counts what was told: each offer's event was heard once, signed, with a time that receivers take.
func (s *stage) toldOnce(ctx context.Context, r *report, h *hearer) {
	const left = `SELECT count(*) FROM webhook_delivery WHERE state = 'pending' AND tries = 0`
	if _, ok := await(time.Minute, func() bool { return s.count(ctx, r, left) == 0 }); !ok {
		r.broken("what is to be told waits")
	}
	var want, events, twice int
	var bad []string
	var off time.Duration
	await(quick, func() bool {
		want = s.count(ctx, r, `SELECT count(*) FROM webhook_delivery WHERE state = 'delivered'`)
		events, twice, bad, off = h.tally()
		return events == want
	})
	if events != want || twice > 0 || len(bad) > 0 {
		r.broken("%d events heard of %d that were told, %d of them twice; %d calls that a receiver refuses: %.200s", events, want, twice, len(bad),
			strings.Join(bad, ", "))
	}
	if dead := s.count(ctx, r, `SELECT count(*) FROM webhook_delivery WHERE state = 'dead'`); dead != 0 {
		r.broken("%d are given up", dead)
	}
	r.say("%d events heard once each, their times at most %.1f s off", events, off.Seconds())
}

// noNegative: nothing took less than no time, and nothing that was written is of a time that is to come.
func (s *stage) noNegative(ctx context.Context, r *report) {
	const early = `SELECT (SELECT count(*) FROM webhook_attempt WHERE took_ms < 0) + (SELECT count(*) FROM quote WHERE updated_at < created_at)
		+ (SELECT count(*) FROM webhook_delivery d JOIN event e ON e.number = d.event WHERE d.finished_at < e.created_at - interval '1 s')`
	if n := s.count(ctx, r, early); n != 0 {
		r.broken("%d things end before they begin", n)
	}
	const late = `SELECT (SELECT count(*) FROM quote WHERE greatest(created_at, updated_at) > now() + interval '10 s')
		+ (SELECT count(*) FROM event WHERE created_at > now() + interval '10 s')
		+ (SELECT count(*) FROM webhook_attempt WHERE at > now() + interval '10 s')
		+ (SELECT count(*) FROM order_form_request WHERE created_at > now() + interval '10 s')
		+ (SELECT count(*) FROM access_refusal WHERE minute > now() + interval '10 s')
		+ (SELECT count(*) FROM access_key WHERE greatest(created_at, revoked_at, last_used_at) > now() + interval '10 s')`
	if n := s.count(ctx, r, late); n != 0 {
		r.broken("%d things that were written are of a time to come", n)
	}
	for _, i := range s.both {
		for line := range strings.Lines(string(i.call(ctx, http.MethodGet, "/metrics", "").body)) {
			if name, value, _ := strings.Cut(line, " "); strings.Contains(name, "seconds") && strings.HasPrefix(value, "-") {
				r.broken("%s at %s is %s", name, i.name, value)
			}
		}
	}
	r.say("no time is negative or to come")
}
