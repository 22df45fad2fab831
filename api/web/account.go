package web

import (
	"context"
	"net/http"
	"sync"
	"time"

	"seamwright/api/access"
)

// account is what a call draws on: the limit of its access key. A call counts as one when it is let in; what it then works
// out may count as more, which is taken when it is known, and may leave the key with less than nothing for a moment.
type account struct {
	limit *access.Limit
	who   string
	now   func() time.Time

	mutex  sync.Mutex
	paid   int         // calls that were counted so far and nothing was worked out for
	header http.Header // of the answer; nil once that has begun
}

type accountKey struct{}

func accountOf(ctx context.Context) *account {
	a, _ := ctx.Value(accountKey{}).(*account)
	return a
}

// Charge counts what was worked out for a call as so many calls of its key. Without keys nothing is counted.
func Charge(ctx context.Context, calls int) {
	a := accountOf(ctx)
	if a == nil {
		return
	}
	a.mutex.Lock()
	defer a.mutex.Unlock()
	paid := min(a.paid, calls)
	a.paid -= paid
	if calls == paid {
		return
	}
	state := a.limit.Charge(a.who, calls-paid, a.now())
	if a.header != nil {
		a.header.Set("RateLimit", state)
	}
}

// Stream says that the answer begins: what is charged from now on is not told in its header.
func Stream(ctx context.Context) {
	if a := accountOf(ctx); a != nil {
		a.mutex.Lock()
		a.header = nil
		a.mutex.Unlock()
	}
}

// Pace waits until the call's key may have another line of a stream worked out, which leaves room for its other calls.
func Pace(ctx context.Context) error {
	a := accountOf(ctx)
	if a == nil {
		return nil
	}
	for {
		wait := a.limit.Spare(a.who, a.now())
		if wait == 0 {
			return nil
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(wait):
		}
	}
}
