// Package shop is a service to measure, in this process, on a database server of its own.
package shop

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/store"
	"seamwright/store/pgserver"
	"seamwright/store/shelf"
)

// Shop is a seeded database in a folder of its own.
type Shop struct {
	Dir    string
	URL    string
	Pooled string // the URL with the size of a pool
	Store  *store.Store

	server *pgserver.Server
}

// Open starts one. The store's pool has so many connections; as many as usual when that is 0.
func Open(ctx context.Context, connections int) (s *Shop, err error) {
	s = &Shop{}
	if s.Dir, err = os.MkdirTemp("", "seamwright-measured-"); err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, s.Close(ctx))
		}
	}()
	if err = os.Chmod(s.Dir, 0o711); err != nil { // the database's user must get through
		return nil, err
	}
	if s.server, err = pgserver.Start(ctx, pgserver.Options{DataDir: filepath.Join(s.Dir, "data")}); err != nil {
		return nil, err
	}
	s.URL = s.server.URL()
	if err = store.Prepare(ctx, s.URL); err != nil {
		return nil, err
	}
	s.Pooled = s.URL
	if connections > 0 {
		sign := "?"
		if strings.Contains(s.URL, "?") {
			sign = "&"
		}
		s.Pooled = fmt.Sprintf("%s%spool_max_conns=%d", s.URL, sign, connections)
	}
	s.Store, err = store.Open(ctx, s.Pooled, slog.New(slog.DiscardHandler))
	return s, err
}

// Close stops it and removes its folder.
func (s *Shop) Close(ctx context.Context) (err error) {
	if s.Store != nil {
		s.Store.Close()
	}
	if s.server != nil {
		err = s.server.Stop(context.WithoutCancel(ctx))
	}
	return errors.Join(err, os.RemoveAll(s.Dir))
}

// Served is the service on it.
type Served struct {
	Address   string // to call
	Catalogue *shelf.Catalogue

	serving *http.Server
	stop    context.CancelFunc
}

// Serve starts the service without keys.
func (s *Shop) Serve(ctx context.Context) (*Served, error) {
	ctx, stop := context.WithCancel(ctx)
	cat, err := s.Store.Shelf.Watch(ctx)
	if err != nil {
		stop()
		return nil, err
	}
	server, err := api.New(api.Config{NoAuth: true, Store: s.Store, Snapshot: cat.Snapshot, Reach: cat.Reach,
		Log:    slog.New(slog.DiscardHandler),
		Status: func() web.Status { return web.Status{DatabaseReachable: true} }})
	if err != nil {
		stop()
		return nil, err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		stop()
		return nil, err
	}
	v := &Served{Address: listener.Addr().String(), Catalogue: cat, serving: server.HTTPServer(), stop: stop}
	go func() { _ = v.serving.Serve(listener) }() // it ends when it is closed
	return v, nil
}

// Close ends the service.
func (v *Served) Close() {
	_ = v.serving.Close() // what is under way is let go
	v.stop()
}
