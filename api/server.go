// Package api is the HTTP side of the service. Its rooms answer for one thing each (estimates, shelf, lists, offers, counter,
// hooks, keys, pages); web is what they share of HTTP, wire of JSON. This package puts them together.
package api

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"runtime"
	"time"

	"go.opentelemetry.io/otel/trace"

	"seamwright/api/access"
	"seamwright/api/counter"
	"seamwright/api/diagnoses"
	"seamwright/api/estimates"
	"seamwright/api/hooks"
	"seamwright/api/jobs"
	"seamwright/api/keys"
	"seamwright/api/lists"
	"seamwright/api/offers"
	"seamwright/api/options"
	"seamwright/api/outbound"
	"seamwright/api/pages"
	"seamwright/api/parts"
	"seamwright/api/shelf"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/store"
)

// Config is what a server needs from its surroundings.
type Config struct {
	// Snapshot returns the catalogue to compute from, nil while none has been loaded. It must be fast and safe to
	// call from many requests at once.
	Snapshot func() *catalogue.Snapshot
	// Reach waits until Snapshot has a revision or a later one, or the context ends. Nil: nothing is waited for.
	Reach func(ctx context.Context, revision int64)
	// RevisionWait bounds that. Zero: 5 s.
	RevisionWait time.Duration
	// Status tells how the database and the catalogue are.
	Status func() web.Status
	// Presence returns a context that ends when the database has been away for a while: calls that wait for it are then
	// given up. Nil: they wait for as long as they may.
	Presence func() context.Context
	// Store is where changes are written. Nil: they are answered as if the database were away.
	Store *store.Store
	// Lacking says what to do so that things can be stored, where there is no database at all.
	Lacking string
	// Kept answers every POST /v1/estimates once its request was read and checked: nothing is worked out. It is there to
	// measure what the service's HTTP work costs (deploy/load).
	Kept *estimate.Estimate
	// Log takes one line a request and the causes of failures. Nil: nothing is logged.
	Log *slog.Logger
	// Now is the clock. Nil: the machine's.
	Now func() time.Time
	// Build names this build in /readyz and the metrics.
	Build string
	// BodyLimit is the largest body in bytes. Zero: 1 MiB.
	BodyLimit int64
	// Keys are the access keys. Nil only with NoAuth: a server without keys must be asked for.
	Keys *access.Ring
	// NoAuth serves everybody everything. Not together with Keys.
	NoAuth bool
	// KeyLimit is how many calls a minute a secret key may make, FormLimit a publishable key from one address. Zero:
	// 6000 and 60.
	KeyLimit, FormLimit int
	// Cores is how many calls compute at a time. Zero: as many as the runtime has threads.
	Cores int
	// Waiting is how many calls a core may wait for their turn to compute; more are refused at once. Zero: 16.
	Waiting int
	// Traces takes a span of each call. Nil: none are made.
	Traces trace.TracerProvider
	// OrderPageKey is a publishable key for the order page of this service, bound to its own origin. Empty: with access
	// keys the page says what to do.
	OrderPageKey string
	// OwnMetrics leaves /metrics to an address of its own (see Server.Metrics).
	OwnMetrics bool
	// TrustedProxies are the networks whose X-Forwarded-For is believed. None: the peer's address counts.
	TrustedProxies []*net.IPNet
	// Webhooks says which addresses events may be sent to.
	Webhooks outbound.Policy
	// PriceBodyLimit is the same for price lists, as they are sent and when they are expanded. Zero: 512 MiB.
	PriceBodyLimit int64
}

// Server answers the requests of the published interface.
type Server struct {
	web    *web.Server
	offers *offers.Room
	hooks  *hooks.Room
}

// New makes a server. It fails only when the embedded spec is wrong, or when nobody said who may call.
func New(config Config) (*Server, error) {
	if config.Keys == nil && !config.NoAuth {
		return nil, errors.New("a server needs keys, or must be told to serve without")
	}
	site, err := pages.Load(pages.Order{Key: config.OrderPageKey, Locked: config.Keys != nil && config.OrderPageKey == ""})
	if err != nil {
		return nil, err
	}
	w, err := web.New(config.web())
	if err != nil {
		return nil, err
	}
	s := &Server{web: w, offers: offers.Open(w), hooks: hooks.Open(w, config.Webhooks)}
	estimates.Open(w, config.Kept)
	parts.Open(w)
	shelf.Open(w)
	lists.Open(w, config.PriceBodyLimit)
	counter.Open(w, func(ctx context.Context, id string, d *counter.Draft, cat *catalogue.Snapshot) error {
		return s.offers.AddDraft(ctx, id, (*offers.Draft)(d), cat)
	})
	options.Open(w, s.offers.Asked)
	diagnoses.Open(w, s.offers.Kept)
	jobs.Open(w, s.offers.Answered)
	keys.Open(w)
	pages.Open(w, site)
	return s, w.Complete()
}

// web is what of the settings every room needs, with what is not said as it usually is.
func (c Config) web() web.Config {
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	if c.Now == nil {
		c.Now = time.Now
	}
	if c.BodyLimit <= 0 {
		c.BodyLimit = 1 << 20
	}
	if c.RevisionWait <= 0 {
		c.RevisionWait = 5 * time.Second
	}
	if c.KeyLimit <= 0 {
		c.KeyLimit = 6000
	}
	if c.FormLimit <= 0 {
		c.FormLimit = 60
	}
	if c.Cores <= 0 {
		c.Cores = runtime.GOMAXPROCS(0)
	}
	if c.Waiting <= 0 {
		c.Waiting = web.WaitingPerCore
	}
	return web.Config{Snapshot: c.Snapshot, Reach: c.Reach, RevisionWait: c.RevisionWait, Status: c.Status,
		Presence: c.Presence, Store: c.Store, Lacking: c.Lacking,
		Log: c.Log, Now: c.Now, Build: c.Build,
		BodyLimit: c.BodyLimit, Keys: c.Keys, KeyLimit: c.KeyLimit, FormLimit: c.FormLimit, Cores: c.Cores, Waiting: c.Waiting,
		TrustedProxies: c.TrustedProxies, OwnMetrics: c.OwnMetrics, Traces: c.Traces}
}

// Handler returns the server as a handler of HTTP.
func (s *Server) Handler() http.Handler { return s.web.Handler() }

// Metrics answers with the figures of the service, for an address of its own.
func (s *Server) Metrics() http.Handler { return s.web.Metrics() }

// HTTPServer returns a server for the handler with time limits everywhere: a slow or silent client cannot hold a
// connection for ever. The caller gives it a listener, and shuts it down.
func (s *Server) HTTPServer() *http.Server { return s.web.HTTPServer() }

// Drain makes the server say that it is not ready any more, while it goes on answering.
func (s *Server) Drain() { s.web.Drain() }

// ShopDay is the day that now is in the shop's time zone.
func (s *Server) ShopDay() catalogue.Date { return s.web.ShopToday() }

// RecheckQuotes works out anew what every open offer costs by the newest catalogue and today's prices, and notes which
// moved beyond the limit. It returns how many it checked, and how many of them are beyond the limit.
func (s *Server) RecheckQuotes(ctx context.Context) (checked, drifted int, err error) {
	return s.offers.Recheck(ctx)
}

// ExpireQuotes moves offers that were sent and are past their validity.
func (s *Server) ExpireQuotes(ctx context.Context) (expired int, err error) {
	return s.offers.Expire(ctx)
}

// DeliverEvents tells the webhook endpoints what happened until the context ends.
func (s *Server) DeliverEvents(ctx context.Context) error { return s.hooks.Deliver(ctx) }

// eventsKept is how long events are kept, by the database's clock: an instance whose own is wrong must not throw any away.
const eventsKept = 30 * 24 * time.Hour

// Forget deletes what is kept for a time only: events, and answers to writes that were sent with an Idempotency-Key.
func (s *Server) Forget(ctx context.Context) error {
	if err := s.web.Store.Hooks.Forget(ctx, eventsKept); err != nil {
		return err
	}
	_, err := s.web.Store.Answers.Forget(ctx)
	return err
}
