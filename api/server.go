// Package api is the HTTP side of the service: routes, body checks, validation against the spec, wire types and
// problems. It computes nothing; it reads a request, calls a service and writes the answer.
package api

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"
	"golang.org/x/sync/semaphore"

	"seamwright/api/access"
	"seamwright/api/outbound"
	"seamwright/api/pages"
	"seamwright/openapi"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
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
	Status func() Status
	// Store is where changes are written. Nil: they are answered as if the database were away.
	Store *store.Store
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
	// OrderPageKey is a publishable key for the order page of this service, bound to its own origin. Empty: with access
	// keys the page says what to do.
	OrderPageKey string
	// TrustedProxies are the networks whose X-Forwarded-For is believed. None: the peer's address counts.
	TrustedProxies []*net.IPNet
	// Webhooks says which addresses events may be sent to.
	Webhooks outbound.Policy
	// PriceBodyLimit is the same for price lists, as they are sent and when they are expanded. Zero: 512 MiB.
	PriceBodyLimit int64
}

// Status is the state of what a server depends on.
type Status struct {
	DatabaseReachable bool
	DatabaseSince     time.Time // when it became so; zero before the first try
	CatalogueLoadedAt time.Time // when the snapshot was loaded
}

// Server answers the requests of the published interface.
type Server struct {
	Config
	echo       *echo.Echo
	metrics    *metrics
	spec       struct{ yaml, json tagged }
	site       *pages.Site
	guard      *guard
	operations operations
	unknown    []error // routes that the spec does not have
	batches    *batchRoom
	imports    *semaphore.Weighted // see importing
}

// New makes a server. It fails only when the embedded spec is wrong.
func New(config Config) (*Server, error) {
	if config.Log == nil {
		config.Log = slog.New(slog.DiscardHandler)
	}
	if config.Now == nil {
		config.Now = time.Now
	}
	if config.BodyLimit <= 0 {
		config.BodyLimit = 1 << 20
	}
	if config.PriceBodyLimit <= 0 {
		config.PriceBodyLimit = largestList
	}
	if config.RevisionWait <= 0 {
		config.RevisionWait = 5 * time.Second
	}
	if config.KeyLimit <= 0 {
		config.KeyLimit = 6000
	}
	if config.FormLimit <= 0 {
		config.FormLimit = 60
	}
	s := &Server{Config: config, echo: echo.New(), batches: newBatchRoom(), imports: semaphore.NewWeighted(mostImports)}
	asJSON, err := openapi.JSON()
	if err != nil {
		return nil, err
	}
	if s.site, err = pages.Load(pages.Order{Key: config.OrderPageKey, Locked: config.Keys != nil && config.OrderPageKey == ""}); err != nil {
		return nil, err
	}
	s.spec.yaml, s.spec.json = tag(openapi.YAML()), tag(asJSON)
	if s.guard, err = newGuard(&config); err != nil {
		return nil, err
	}
	if s.operations, err = newOperations(); err != nil {
		return nil, err
	}
	if _, err := estimateForm(); err != nil {
		return nil, err
	}
	s.metrics = newMetrics(s)
	s.echo.IPExtractor = addressOf(config.TrustedProxies)
	s.echo.HTTPErrorHandler = s.writeError
	s.echo.Use(s.observe, s.recover, s.foreign)
	s.routes()
	return s, errors.Join(s.unknown...)
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

// routes is the whole interface; a test holds it against the spec, both ways.
func (s *Server) routes() {
	s.estimateRoutes()
	s.catalogueRoutes()
	s.auditRoutes()
	s.exportRoutes()
	s.priceUpdateRoutes()
	s.supplierRoutes()
	s.quoteRoutes()
	s.keyRoutes()
	s.webhookRoutes()
	s.logoRoutes()
	s.orderFormRoutes()
	s.pageRoutes()
	s.healthRoutes()
}

func notLoaded() error {
	return &fault.Fault{Kind: fault.Unavailable, Detail: "The catalogue has not been loaded yet.", Fix: "Try again in a moment."}
}
