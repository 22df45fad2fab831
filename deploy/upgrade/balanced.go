package main

import (
	"context"
	"encoding/json"
	"net/http"
	"slices"
	"sync"
	"time"

	"seamwright/deploy/stage"
)

// balanced has the instances that run, and callers who spread their calls over those that are ready.
type balanced struct {
	url   string
	pause time.Duration
	mutex sync.Mutex
	all   []*stage.Process
	stage.Callers
}

// start starts an instance whose readiness is followed from then on.
func (b *balanced) start(ctx context.Context, name, program string) (*stage.Process, error) {
	p, err := stage.Service{Name: name, Program: program, DatabaseURL: b.url}.Start(ctx)
	if err != nil {
		return nil, err
	}
	go p.Follow()
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.all = append(b.all, p)
	return p, nil
}

// drain asks an instance to end, and waits until it has.
func (b *balanced) drain(p *stage.Process) error {
	err := p.Drain()
	b.mutex.Lock()
	defer b.mutex.Unlock()
	b.all = slices.DeleteFunc(b.all, func(one *stage.Process) bool { return one == p })
	return err
}

// end ends whatever runs.
func (b *balanced) end() {
	b.Rest()
	for _, p := range b.all {
		p.Kill()
	}
}

// pick is an instance that is ready, or any when none is.
func (b *balanced) pick(turn int) *stage.Process {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	for n := range b.all {
		if p := b.all[(turn+n)%len(b.all)]; p.IsReady() {
			return p
		}
	}
	return b.all[turn%len(b.all)]
}

// call starts callers. What one does over and over: an estimate, an offer, the offer read and repriced, lists.
func (b *balanced) call(ctx context.Context) {
	b.Go(ctx, 6, func(client *http.Client, caller, turn int) {
		ask := func(other int, method, path, body, match string) ([]byte, http.Header, bool) {
			return b.Ask(client, &stage.Call{Method: method, Address: b.pick(caller + turn + other).Address, Path: path, Body: body, Match: match})
		}
		reference := b.Reference("upgrade")
		ask(0, http.MethodPost, "/v1/estimates", stage.Top(reference), "")
		raw, _, stored := ask(1, http.MethodPost, "/v1/quotes", stage.Offer(reference), "")
		if !stored {
			return
		}
		b.Kept.Add(1)
		var offer struct {
			ID string `json:"id"`
		}
		if json.Unmarshal(raw, &offer) != nil || offer.ID == "" {
			b.Failed.Add(1)
			return
		}
		if _, header, ok := ask(0, http.MethodGet, "/v1/quotes/"+offer.ID, "", ""); ok {
			ask(1, http.MethodPost, "/v1/quotes/"+offer.ID+"/reprice", "", header.Get("ETag"))
		}
		ask(1, http.MethodGet, "/v1/quotes?limit=5", "", "")
		ask(0, http.MethodGet, "/v1/materials", "", "")
	})
}
