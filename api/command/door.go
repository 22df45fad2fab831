package command

import (
	"log/slog"
	"net/http"
	"sync"
	"sync/atomic"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/service/catalogue"
)

// door answers before the service is ready as one that has no catalogue and no database, and then lets everybody in.
type door struct {
	inside  atomic.Pointer[http.Handler]
	metrics atomic.Pointer[http.Handler]
	waiting func() (http.Handler, error) // made when somebody asks: most starts are over before
}

func newDoor(log *slog.Logger) *door {
	return &door{waiting: sync.OnceValues(func() (http.Handler, error) {
		// There is nothing that a key would protect.
		server, err := api.New(api.Config{Snapshot: func() *catalogue.Snapshot { return nil },
			Status: func() web.Status { return web.Status{} }, Log: log, Build: build(), NoAuth: true})
		if err != nil {
			return nil, err
		}
		return server.Handler(), nil
	})}
}

// open lets everybody in.
func (d *door) open(inside, metrics http.Handler) {
	d.metrics.Store(&metrics)
	d.inside.Store(&inside)
}

// figures answers /metrics and nothing else, on an address of its own.
func (d *door) figures() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		metrics := d.metrics.Load()
		switch {
		case r.URL.Path != "/metrics":
			http.NotFound(w, r)
		case metrics == nil:
			http.Error(w, "not ready", http.StatusServiceUnavailable)
		default:
			(*metrics).ServeHTTP(w, r)
		}
	})
}

// ServeHTTP answers.
func (d *door) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if inside := d.inside.Load(); inside != nil {
		(*inside).ServeHTTP(w, r)
		return
	}
	outside, err := d.waiting()
	if err != nil { // the embedded spec is wrong, which the start says as well
		http.Error(w, "not ready", http.StatusServiceUnavailable)
		return
	}
	outside.ServeHTTP(w, r)
}
