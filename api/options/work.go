package options

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync/atomic"
	"time"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/options"
)

// made is a set and the estimate of its first option, for the pages that show the top.
type made struct {
	set   *options.Set
	first *estimate.Estimate
}

// made reads a request and makes every wish from one catalogue and one time, when it is the call's turn.
func (s *room) made(c *web.Call, read func(*web.Call) (asked, error)) (out made, err error) {
	a, err := read(c)
	if err != nil {
		return made{}, err
	}
	now, err := web.InShop(s.Now(), c.Cat)
	if err != nil {
		return made{}, err
	}
	w := &work{wishes: a.wishes, made: make([]options.Made, len(a.wishes)), cat: c.Cat, now: now}
	if err := s.InTurns(c.Ctx(), func(stay func() bool) { w.share(c.Ctx(), stay) }); err != nil {
		return made{}, err
	}
	if out.set, err = options.Gather(w.wishes, w.made, a.by, c.Cat); err != nil {
		return made{}, err
	}
	out.first = w.made[out.set.Options[0].Wish()].Estimate
	return out, nil
}

// work is what several hands make together. What a wish becomes does not depend on the others, nor on who makes it.
type work struct {
	wishes []options.Wish
	made   []options.Made
	cat    *catalogue.Snapshot
	now    time.Time
	next   atomic.Int64
}

// share makes one wish after the other as long as there are some that nobody has begun, and the hand may stay.
func (w *work) share(ctx context.Context, stay func() bool) {
	for int(w.next.Load()) < len(w.wishes) && stay() {
		i := int(w.next.Add(1)) - 1
		if i >= len(w.wishes) { // another hand took the last one
			return
		}
		w.made[i] = makeOne(ctx, &w.wishes[i], w.cat, w.now)
	}
}

// makeOne makes a wish. A panic is this call's failure, as it would be in a handler, and not the service's end.
func makeOne(ctx context.Context, w *options.Wish, cat *catalogue.Snapshot, now time.Time) (m options.Made) {
	defer func() {
		if what := recover(); what != nil {
			m = options.Made{Err: fmt.Errorf("panic: %v\n%s", what, debug.Stack())}
		}
	}()
	m.Estimate, m.Err = estimates.Work(ctx, w.Order, cat, now)
	return m
}
