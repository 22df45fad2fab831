package web

import (
	"context"
	"runtime"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/sync/semaphore"

	"seamwright/service/fault"
)

// turns lets so many calls compute at a time, and as many more wait as get their turn soon. With all callers let in, each
// would be as slow as all of them together; whoever is refused knows it at once and can come again.
type turns struct {
	places  *semaphore.Weighted
	waiting atomic.Int64
	most    int64 // that may wait
}

const (
	turnsPerCore = 2
	// turnWithin is how long a call waits for its turn. The queue is short enough for a small part of it.
	turnWithin = 2 * time.Second
)

func newTurns(waiting int) *turns {
	return &turns{places: semaphore.NewWeighted(int64(turnsPerCore * runtime.GOMAXPROCS(0))), most: int64(waiting)}
}

// full reports whether a call that comes now would be refused.
func (t *turns) full() bool { return t.waiting.Load() >= t.most }

// take waits for a turn, which must be given back to places.
func (t *turns) take(ctx context.Context) error {
	if t.places.TryAcquire(1) {
		return nil
	}
	if t.waiting.Add(1) > t.most {
		t.waiting.Add(-1)
		return busy()
	}
	defer t.waiting.Add(-1)
	soon, cancel := context.WithTimeout(ctx, turnWithin)
	defer cancel()
	if t.places.Acquire(soon, 1) != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return busy()
	}
	return nil
}

func busy() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "More is asked of the service at the moment than it can work out.", Fix: "Try again in a moment."}
}

// InTurn computes when it is the call's turn, and refuses when too many wait already.
func (s *Server) InTurn(ctx context.Context, compute func() error) error {
	if err := s.turns.take(ctx); err != nil {
		return err
	}
	defer s.turns.places.Release(1)
	return compute()
}

// unlessFull refuses a call that computes before anything of it is read, when its turn would not come.
func (s *Server) unlessFull(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if s.turns.full() {
			return busy()
		}
		return next(c)
	}
}
