package main

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"time"
)

// kept is a request with its cost.
type kept struct {
	order order
	raw   []byte
	cost  time.Duration
}

// search is a climb from many places at once: a pool of the dearest requests, each step a change of one of them.
type search struct {
	m              *meter
	draw           *rand.Rand
	pool           []kept // the dearest first
	tried, refused int
	answers        bool // refused ones are not kept
	refusals       bool // answered ones are not
	plain          bool // what stands under a top, its site and how it is built are left out
}

// mostKept is the size of the pool; fresh is how often, one time in so many, a new order is drawn instead of a change.
const (
	mostKept = 24
	fresh    = 6
)

func newSearch(m *meter, seed uint64) *search {
	return &search{m: m, draw: rand.New(rand.NewPCG(seed, 17))}
}

// add takes a request into the pool.
func (s *search) add(raw []byte) error {
	var o order
	if err := json.Unmarshal(raw, &o); err != nil {
		return err
	}
	s.try(o)
	return nil
}

// step tries one more request.
func (s *search) step() {
	if len(s.pool) == 0 || s.draw.IntN(fresh) == 0 {
		s.try(s.drawOrder())
		return
	}
	o := s.pool[min(s.draw.IntN(len(s.pool)), s.draw.IntN(len(s.pool)))].order.clone()
	for range 1 + s.draw.IntN(3) {
		s.change(&o)
	}
	s.try(o)
}

// try measures a request and keeps it if it is among the dearest. A dear one is measured again, as a first time may be an
// accident of the machine.
func (s *search) try(o order) {
	raw, err := json.Marshal(o)
	if err != nil {
		panic(err) // an order of numbers and texts
	}
	s.tried++
	cost, ok := s.m.cost(raw, 1)
	if !ok {
		s.refused++
	}
	if !ok && s.answers || ok && s.refusals {
		return
	}
	if len(s.pool) == mostKept && cost <= s.pool[mostKept-1].cost {
		return
	}
	if cost, _ = s.m.cost(raw, 4); len(s.pool) == mostKept && cost <= s.pool[mostKept-1].cost {
		return
	}
	s.pool = append(s.pool, kept{o, raw, cost})
	slices.SortStableFunc(s.pool, func(a, b kept) int { return int(b.cost - a.cost) })
	s.pool = s.pool[:min(len(s.pool), mostKept)]
}

// best are the dearest requests found.
func (s *search) best(n int) []kept { return s.pool[:min(n, len(s.pool))] }
