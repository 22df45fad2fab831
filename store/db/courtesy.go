package db

import (
	"context"
	"runtime"
	"sync/atomic"
	"time"
)

const (
	// Breath is how many rows of a list, or of the catalogue, are read before others may have the processor: less than
	// what an estimate takes.
	Breath = 512
	// busyFor is how long after an answer others are expected.
	busyFor = 30 * time.Millisecond
	// pause is how long work that nobody waits for rests at each breath while others are answered. A process that keeps
	// a core for itself makes the system let the others wait by a whole slice of time; one that rests does not.
	// Sleeping takes about a millisecond however little is asked for.
	pause = 100 * time.Microsecond
)

// traffic is when somebody was last answered.
type traffic struct{ last atomic.Int64 } // nanoseconds since started, by the clock that nobody puts back

// started is a second ago, so that nobody was answered just now when the program begins.
var started = time.Now().Add(-time.Second)

func (t *traffic) busy() bool { return int64(time.Since(started))-t.last.Load() < int64(busyFor) }

// Answered tells that somebody was answered at that time: price lists and changes of the catalogue that are read soon
// after go slower.
func (t *traffic) Answered(at time.Time) { t.last.Store(int64(at.Sub(started))) }

type trafficKey struct{}

// Politely returns a context in which reading many rows gives way to those who are answered.
func (t *traffic) Politely(ctx context.Context) context.Context {
	return context.WithValue(ctx, trafficKey{}, t)
}

// Busy reports whether others are answered to whom the work of a context gives way.
func Busy(ctx context.Context) bool {
	t, ok := ctx.Value(trafficKey{}).(*traffic)
	return ok && t.busy()
}

// GiveWay is called at each breath.
func GiveWay(ctx context.Context) {
	if Busy(ctx) {
		time.Sleep(pause)
		return
	}
	runtime.Gosched()
}
