package web

import (
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/openapi"
)

// New makes a server without operations, but for those about itself. It fails only when the embedded spec is wrong.
func New(config Config) (*Server, error) {
	s := &Server{Config: config, echo: echo.New(), turns: newTurns(config.Cores, config.Waiting),
		guard: newGuard(config.Keys, config.Now, config.KeyLimit, config.FormLimit)}
	asJSON, err := openapi.JSON()
	if err != nil {
		return nil, err
	}
	s.spec.yaml, s.spec.json = tag(openapi.YAML()), tag(asJSON)
	if s.operations, err = newOperations(); err != nil {
		return nil, err
	}
	s.metrics = newMetrics(config.Build, s.catalogueGauge, s.databaseGauge)
	s.echo.IPExtractor = addressOf(config.TrustedProxies)
	s.echo.HTTPErrorHandler = s.writeError
	s.echo.Use(s.traced, s.observe, s.recover, s.foreign)
	s.healthRoutes()
	s.handler, err = compressed(s.echo)
	return s, err
}

// Complete fails when a room added an operation that the spec does not have.
func (s *Server) Complete() error { return errors.Join(s.unknown...) }

// Routes lists what is served: method, a blank, and the path as the router writes it. HEAD goes with GET and is not listed.
func (s *Server) Routes() (all []string) {
	for _, route := range s.echo.Routes() {
		if route.Method != echo.RouteNotFound && route.Method != http.MethodHead {
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
func (s *Server) Handler() http.Handler { return s.inFront() }

// HTTPServer returns a server for the handler with time limits everywhere: a slow or silent client cannot hold a
// connection for ever. The caller gives it a listener, and shuts it down.
func (s *Server) HTTPServer() *http.Server { return HTTPServer(s.Handler(), s.Log) }

// HTTPServer is the same for any handler.
func HTTPServer(handler http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       20 * time.Second,
		WriteTimeout:      writeWithin,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelDebug),
	}
}

// Drain makes the server say that it is not ready any more, while it goes on answering; each answer ends its connection.
// Whoever spreads calls over instances sends the next ones elsewhere.
func (s *Server) Drain() { s.draining.Store(true) }

func (s *Server) catalogueGauge() float64 {
	if cat := s.Snapshot(); cat != nil {
		return float64(cat.Revision)
	}
	return 0
}

func (s *Server) databaseGauge() float64 {
	if s.Status().DatabaseReachable {
		return 1
	}
	return 0
}
