package shelf

import (
	"context"
	"time"
)

// lostFor is how long the database is away before calls that wait for it are given up. One that hangs for a moment answers
// them still.
const lostFor = 2 * time.Second

// presence is a context that ends when the database has been away for that time. When it is back there is another.
type presence struct {
	ctx    context.Context
	end    context.CancelFunc
	leaves *time.Timer
}

func (p *presence) now() context.Context {
	if p.ctx == nil || p.leaves == nil && p.ctx.Err() != nil {
		p.ctx, p.end = context.WithCancel(context.Background())
	}
	return p.ctx
}

func (p *presence) lost() {
	p.now()
	p.leaves = time.AfterFunc(lostFor, p.end)
}

func (p *presence) back() {
	if p.leaves != nil {
		p.leaves.Stop()
		p.leaves = nil
	}
}

// Presence returns a context that ends when the database has been away for so long that whoever waits for it need not wait
// any more: a connection that is dead may not know it for much longer.
func (c *Catalogue) Presence() context.Context {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.presence.now()
}
