package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/multitracer"
	"github.com/jackc/pgx/v5/pgxpool"
)

// acquireWithin is how long a call waits for a connection of the pool. When others keep all of them for longer, it is
// refused: waiting calls would hold their callers, and then the whole service.
const acquireWithin = 2 * time.Second

// acquiring bounds the wait for a connection. The pool has no setting for that; it lets a tracer give the context.
type acquiring struct{}

type acquiringKey struct{}

func (acquiring) TraceAcquireStart(ctx context.Context, _ *pgxpool.Pool,
	_ pgxpool.TraceAcquireStartData) context.Context {
	soon, cancel := context.WithTimeout(ctx, acquireWithin)
	return context.WithValue(soon, acquiringKey{}, cancel)
}

func (acquiring) TraceAcquireEnd(ctx context.Context, _ *pgxpool.Pool, _ pgxpool.TraceAcquireEndData) {
	if cancel, ok := ctx.Value(acquiringKey{}).(context.CancelFunc); ok {
		cancel()
	}
}

func (acquiring) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	return ctx
}

func (acquiring) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

// bounded lets a pool's callers wait for a bounded time, beside what else traces it.
func bounded(config *pgxpool.Config) {
	if config.ConnConfig.Tracer == nil {
		config.ConnConfig.Tracer = acquiring{}
	} else {
		config.ConnConfig.Tracer = multitracer.New(config.ConnConfig.Tracer, acquiring{})
	}
	config.PingTimeout = acquireWithin / 2
}
