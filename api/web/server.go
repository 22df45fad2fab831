// Package web is what the rooms share of HTTP: the table of operations made from the spec, who may call, bodies and their
// limits, parameters, answers that are kept, problems. It knows no estimate, list or offer.
package web

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/access"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
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
	// Store is where changes are written. Nil: they are answered as if the database were away.
	Store *store.Store
	// Log takes one line a request and the causes of failures.
	Log *slog.Logger
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
	metrics    *metrics
	spec       struct{ yaml, json tagged }
	guard      *guard
	operations operations
	unknown    []error // routes that the spec does not have
}

// New makes a server without operations, but for those about itself. It fails only when the embedded spec is wrong.
func New(config Config) (*Server, error) {
	s := &Server{Config: config, echo: echo.New(), guard: newGuard(&config)}
	asJSON, err := openapi.JSON()
	if err != nil {
		return nil, err
	}
	s.spec.yaml, s.spec.json = tag(openapi.YAML()), tag(asJSON)
	if s.operations, err = newOperations(); err != nil {
		return nil, err
	}
	s.metrics = newMetrics(s)
	s.echo.IPExtractor = addressOf(config.TrustedProxies)
	s.echo.HTTPErrorHandler = s.writeError
	s.echo.Use(s.observe, s.recover, s.foreign)
	s.healthRoutes()
	return s, nil
}

// Complete fails when a room added an operation that the spec does not have.
func (s *Server) Complete() error { return errors.Join(s.unknown...) }

// Routes lists what is served: method, a blank, and the path as the router writes it.
func (s *Server) Routes() (all []string) {
	for _, route := range s.echo.Routes() {
		if route.Method != echo.RouteNotFound {
			all = append(all, route.Method+" "+route.Path)
		}
	}
	return all
}

// addressOf tells a caller's address: the peer's, or behind proxies that are trusted what they say it is.
func addressOf(proxies []*net.IPNet) echo.IPExtractor {
	if len(proxies) == 0 {
		return echo.ExtractIPDirect()
	}
	options := []echo.TrustOption{echo.TrustLoopback(false), echo.TrustLinkLocal(false), echo.TrustPrivateNet(false)}
	for _, network := range proxies {
		options = append(options, echo.TrustIPRange(network))
	}
	return echo.ExtractIPFromXFFHeader(options...)
}

// Handler returns the server as a handler of HTTP.
func (s *Server) Handler() http.Handler { return s.echo }

// HTTPServer returns a server for the handler with time limits everywhere: a slow or silent client cannot hold a
// connection for ever. The caller gives it a listener, and shuts it down.
func (s *Server) HTTPServer() *http.Server {
	return &http.Server{
		Handler:           s.echo,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       20 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(s.Log.Handler(), slog.LevelDebug),
	}
}

func notLoaded() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The catalogue has not been loaded yet.", Fix: "Try again in a moment."}
}
