package store

import (
	"context"
	"runtime"
	"sync/atomic"
	"time"
)

const (
	// breath is how many rows of a list, or of the catalogue, are read before others may have the processor: less than what an
	// estimate takes.
	breath = 512
	// busyFor is how long after an answer others are expected.
	busyFor = 30 * time.Millisecond
	// pause is how long work that nobody waits for rests at each breath while others are answered. A process that keeps a core for
	// itself makes the system let the others wait by a whole slice of time; one that rests does not. Sleeping takes about a
	// millisecond however little is asked for.
	pause = 100 * time.Microsecond
)

// traffic is when somebody was last answered.
type traffic struct{ last atomic.Int64 } // nanoseconds of the epoch

func (t *traffic) busy() bool { return time.Now().UnixNano()-t.last.Load() < int64(busyFor) }

// Answering tells that somebody is being answered: price lists and changes of the catalogue that are read meanwhile go slower.
func (s *Store) Answering() { s.traffic.last.Store(time.Now().UnixNano()) }

type trafficKey struct{}

// politely returns a context in which reading many rows gives way to those who are answered.
func (s *Store) politely(ctx context.Context) context.Context {
	return context.WithValue(ctx, trafficKey{}, &s.traffic)
}

// giveWay is called at each breath.
func giveWay(ctx context.Context) {
	if t, ok := ctx.Value(trafficKey{}).(*traffic); ok && t.busy() {
		time.Sleep(pause)
		return
	}
	runtime.Gosched()
}
