package web

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/sync/semaphore"

	"seamwright/service/fault"
)

// turns lets so many calls compute at a time, and as many more wait as get their turn soon. With all callers let in, each
// would be as slow as all of them together; whoever is refused knows it at once and can come again.
//
// One call a core computes: more would not be done sooner. The runtime has more threads than that (see Config.Cores), so that
// reading, refusing and answering others never wait behind what computes.
type turns struct {
	places  *semaphore.Weighted
	waiting atomic.Int64
	most    int64 // that may wait
}

// turnWithin is how long a call waits for its turn. The queue is short enough for a small part of it.
const turnWithin = 2 * time.Second

// WaitingPerCore is how many calls a core may wait for their turn, unless something else is said. Of calls that all compute
// for a time t, the 99th percentile takes about 5 t as long as the cores have a fifth of their time to spare; whoever is the
// last of 16 a core to be let in takes 17 t, about three times as much.
const WaitingPerCore = 16

func newTurns(cores, waiting int) *turns {
	return &turns{places: semaphore.NewWeighted(int64(cores)), most: int64(waiting * cores)}
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
	return &fault.Fault{Kind: fault.Unavailable,
		Detail: "More is asked of the service at the moment than it can work out.", Fix: "Try again in a moment."}
}

// InTurn computes when it is the call's turn, and refuses when too many wait already.
func (s *Server) InTurn(ctx context.Context, compute func() error) error {
	waited := stage(ctx, "wait for a turn")
	err := s.turns.take(ctx)
	waited()
	if err != nil {
		return err
	}
	defer s.turns.places.Release(1)
	defer stage(ctx, "compute")()
	return compute()
}

// stepAside lets whoever waits go first: the turn is given back, and taken again behind them. Work of many parts does so
// between two of them, so that a call which comes meanwhile waits for one part of it and not for all. What has its turn
// already is not counted among those who wait: nobody is refused for its sake.
func (t *turns) stepAside() {
	if t.waiting.Load() > 0 {
		t.places.Release(1)
		_ = t.places.Acquire(context.Background(), 1) // fails for no context that does not end
	}
}

// InTurns computes with several hands: with one when it is the call's turn, and beside it with one for each place that is
// free. Each does its share until there is nothing left, and asks stay before each part. One that helps stops when somebody
// waits; the one that has the turn then lets them go first.
func (s *Server) InTurns(ctx context.Context, hand func(stay func() bool)) error {
	return s.InTurn(ctx, func() error {
		var helpers sync.WaitGroup
		nobodyWaits := func() bool { return s.turns.waiting.Load() == 0 }
		for nobodyWaits() && s.turns.places.TryAcquire(1) {
			helpers.Go(func() {
				defer s.turns.places.Release(1)
				hand(nobodyWaits)
			})
		}
		begun := false
		hand(func() bool {
			if begun {
				s.turns.stepAside()
			}
			begun = true
			return true
		})
		helpers.Wait()
		return nil
	})
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
