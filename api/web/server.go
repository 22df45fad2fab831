// Package web is what the rooms share of HTTP: the table of operations made from the spec, who may call, bodies and their
// limits, parameters, answers that are kept, problems. It knows no estimate, list or offer.
package web

import (
	"context"
	"log/slog"
	"net"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/labstack/echo/v4"
	"go.opentelemetry.io/otel/trace"

	"seamwright/api/access"
	"seamwright/service/catalogue"
	"seamwright/store"
)

// Config is what every room of the house needs.
type Config struct {
	// Snapshot returns the catalogue to compute from, nil while none has been loaded. It must be fast and safe to
	// call from many requests at once.
	Snapshot func() *catalogue.Snapshot
	// Reach waits until Snapshot has a revision or a later one, or the context ends. Nil: nothing is waited for.
	Reach func(ctx context.Context, revision int64)
	// RevisionWait bounds that.
	RevisionWait time.Duration
	// Status tells how the database and the catalogue are.
	Status func() Status
	// Presence returns a context that ends when the database has been away for so long that calls which wait for it are given
	// up. Nil: they wait for as long as they may.
	Presence func() context.Context
	// Store is where changes are written. Nil: they are answered as if the database were away.
	Store *store.Store
	// Lacking says what to do so that things can be stored, when there is no database and will be none. Empty: it will come back.
	Lacking string
	// Log takes one line a request and the causes of failures.
	Log *slog.Logger
	// Traces takes a span of each call and of what it waited for. Nil: none are made.
	Traces trace.TracerProvider
	// Now is the clock.
	Now func() time.Time
	// Build names this build in /readyz and the metrics.
	Build string
	// BodyLimit is the largest body in bytes.
	BodyLimit int64
	// Keys are the access keys. Nil: everybody is served everything.
	Keys *access.Ring
	// KeyLimit is how many calls a minute a secret key may make, FormLimit a publishable key from one address.
	KeyLimit, FormLimit int
	// Cores is how many calls compute at a time, and so many lines of batches. The runtime should have twice as many threads
	// (GOMAXPROCS), so that others are not read and answered later for that.
	Cores int
	// Waiting is how many calls a core may wait for their turn to compute.
	Waiting int
	// OwnMetrics leaves /metrics to an address of its own.
	OwnMetrics bool
	// TrustedProxies are the networks whose X-Forwarded-For is believed. None: the peer's address counts.
	TrustedProxies []*net.IPNet
}

// Status is the state of what a server depends on.
type Status struct {
	DatabaseReachable bool
	DatabaseSince     time.Time // when it became so; zero before the first try
	CatalogueLoadedAt time.Time // when the snapshot was loaded
}

// Server answers requests: it lets them in, reads what they ask, calls the handler of their operation and writes what is
// wrong. The rooms of the house add their operations with Serve.
type Server struct {
	Config
	echo       *echo.Echo
	handler    http.Handler // echo, its answers compressed for those who take that
	metrics    *metrics
	spec       struct{ yaml, json tagged }
	guard      *guard
	operations operations
	turns      *turns
	draining   atomic.Bool
	unknown    []error // routes that the spec does not have
}
