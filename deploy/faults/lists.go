package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"net/http"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

func (s *stage) administrator(ctx context.Context) (*pgx.Conn, error) {
	return pgx.Connect(ctx, s.server.AdminURL())
}

// supplier makes one of its own.
func (s *stage) supplier(ctx context.Context, r *report) string {
	code := strings.ReplaceAll(s.reference("mill"), " ", "_")
	if a := s.both[0].insist(ctx, http.MethodPut, "/v1/suppliers/"+code, `{"name": "Invented mill"}`, "If-None-Match",
		"*"); a.status != http.StatusCreated {
		r.broken("make a supplier: %d %s", a.status, a.body)
	}
	return code
}

// list is a supplier's list of two prices, of which one is said again in so many rows that reading them takes a while.
func list(rows int, cents int) string {
	var b strings.Builder
	b.WriteString("item,per,pack_of,price\n")
	fmt.Fprintf(&b, "biscuit_0,pack,100,%d.%02d\nbiscuit_10,pack,100,%d.%02d\n", 9+cents/100, cents%100, 9+cents/100,
		cents%100)
	for range rows {
		fmt.Fprintf(&b, "biscuit_0,pack,100,%d.%02d\n", 9+cents/100, cents%100)
	}
	return b.String()
}

const countOfList = `SELECT count(*) FROM price WHERE supplier = $1`

// lists ends the database at random moments of lists. Afterwards the whole list is there, or nothing; sent again it is there once.
func lists(ctx context.Context, s *stage, r *report) {
	whole, nothing := 0, 0
	rounds := times(s.options, 8, 2)
	for range rounds {
		code := s.supplier(ctx, r)
		body, path := list(times(s.options, 400_000, 50_000), 7), "/v1/price-updates?supplier="+code
		answered := make(chan reply)
		go func() {
			answered <- s.both[0].call(ctx, http.MethodPost, path, body, "Content-Type", "text/csv", "Idempotency-Key", code)
		}()
		time.Sleep(time.Duration(rand.IntN(1500)) * time.Millisecond) //nolint:gosec // nobody guesses at it
		if err := s.signal(syscall.SIGQUIT, false); err != nil {
			r.broken("%v", err)
		}
		first := <-answered
		for _, i := range s.both {
			if _, err := i.until(ctx, "ready", time.Minute); err != nil {
				r.broken("%v", err)
			}
		}
		switch n := s.count(ctx, r, countOfList, code); {
		case n == 0 && first.status != http.StatusCreated:
			nothing++
		case n == 2:
			whole++
		default:
			r.broken("%d of 2 prices after an answer of %d", n, first.status)
		}
		again := s.both[1].insist(ctx, http.MethodPost, path, body, "Content-Type", "text/csv", "Idempotency-Key", code)
		if again.status != http.StatusCreated && again.status != http.StatusOK {
			r.broken("sent again: %d %s", again.status, again.body)
		}
		if n := s.count(ctx, r, countOfList, code); n != 2 {
			r.broken("%d of 2 prices in the end", n)
		}
		if n := s.count(ctx, r, `SELECT count(*) FROM price_update WHERE supplier = $1`, code); n != 1 {
			r.broken("%d reports of one list", n)
		}
	}
	r.say("%d times all of it, %d times nothing, never a part; sent again with the same key each is there once", whole,
		nothing)
}

// raceLists sends the same list, and then different ones of a day, at the same time.
func (s *stage) raceLists(ctx context.Context, r *report, rounds int) {
	for range rounds {
		for _, different := range []bool{false, true} {
			code := s.supplier(ctx, r)
			var all sync.WaitGroup
			statuses := make([]int, 8)
			for n := range statuses {
				all.Go(func() {
					cents := 7
					if different {
						cents += n
					}
					statuses[n] = s.both[n%2].call(ctx, http.MethodPost, "/v1/price-updates?supplier="+code, list(0, cents),
						"Content-Type", "text/csv").status
				})
			}
			all.Wait()
			counts := map[int]int{}
			for _, status := range statuses {
				counts[status]++
			}
			want := map[int]int{http.StatusCreated: 1, http.StatusOK: 7}
			if different {
				want = map[int]int{http.StatusCreated: 1, http.StatusConflict: 7}
			}
			if fmt.Sprint(counts) != fmt.Sprint(want) {
				r.broken("lists at once got %v", counts)
			}
			if n := s.count(ctx, r, countOfList, code); n != 2 {
				r.broken("%d of 2 prices", n)
			}
		}
	}
	r.say("%d rounds of eight lists at once: one taken; the same ones repeated it, different ones of the day were refused",
		rounds)
}
