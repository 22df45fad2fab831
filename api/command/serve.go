package command

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"sync"
	"time"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/api/web"
	"seamwright/store"
	"seamwright/store/shelf"
)

// serve runs the HTTP API until the context ends, then lets requests in flight finish.
func serve(ctx context.Context, s *settings, stdout, stderr io.Writer) int {
	log := s.logger(stderr)
	TuneCollector(ctx, s.MemoryLimit)
	listener, err := net.Listen("tcp", s.Listen)
	if err != nil {
		return say(stderr, exitTrouble, fmt.Errorf("listen on %s: %w", s.Listen, err))
	}
	defer listener.Close()
	url, what, end, err := database(ctx, s, log, false)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	defer end()
	st, cat, err := follow(ctx, url, log)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	defer st.Close()
	if !s.NoAuth {
		if err := firstKey(ctx, st, listener.Addr().String(), stdout); err != nil {
			return say(stderr, exitTrouble, err)
		}
	}
	watching, stopWatching := context.WithCancel(ctx)
	ring, written, err := watchKeys(watching, s, st, log)
	if err != nil {
		stopWatching()
		return say(stderr, exitTrouble, err)
	}
	defer func() { stopWatching(); <-written }()
	proxies, err := s.proxies()
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	policy, err := s.webhooks()
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	server, err := api.New(api.Config{Store: st, Snapshot: cat.Snapshot, Reach: cat.Reach, RevisionWait: s.RevisionWait, Status: func() web.Status { return status(cat) }, Log: log, Build: build(), BodyLimit: s.BodyLimit,
		Keys: ring, NoAuth: s.NoAuth, KeyLimit: s.KeyLimit, FormLimit: s.FormLimit, OrderPageKey: s.OrderPageKey, TrustedProxies: proxies, Webhooks: policy})
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	if s.NoAuth {
		log.Warn("serving without access keys: whoever reaches this address may do everything", "address", listener.Addr().String())
	}
	var working sync.WaitGroup
	working.Go(func() { recheck(watching, server, cat, log) })
	working.Go(func() { deliver(watching, server, log) })
	defer func() { stopWatching(); working.Wait() }()
	fmt.Fprintf(stdout, "seamwright serves on http://%s with %s (catalogue revision %d). Ctrl-C stops it.\n", listener.Addr(), what, cat.Snapshot().Revision)
	return listen(ctx, server.HTTPServer(), listener, s.ShutdownTimeout, log, stderr)
}

// watchKeys follows the access keys; without auth there are none to follow. The channel closes when the last uses are
// written down, after the context has ended.
func watchKeys(ctx context.Context, s *settings, st *store.Store, log *slog.Logger) (*access.Ring, <-chan struct{}, error) {
	if s.NoAuth {
		nothing := make(chan struct{})
		close(nothing)
		return nil, nothing, nil
	}
	return access.Watch(ctx, st.Keys, log, time.Now, s.KeyTrust)
}

// follow prepares the database and follows its catalogue.
func follow(ctx context.Context, url string, log *slog.Logger) (*store.Store, *shelf.Catalogue, error) {
	if err := store.Prepare(ctx, url); err != nil {
		return nil, nil, err
	}
	st, err := store.Open(ctx, url, log)
	if err != nil {
		return nil, nil, err
	}
	cat, err := st.Shelf.Watch(ctx)
	if err != nil {
		st.Close()
		return nil, nil, err
	}
	return st, cat, nil
}

func status(cat *shelf.Catalogue) web.Status {
	s := cat.Status()
	return web.Status{DatabaseReachable: s.DatabaseReachable, DatabaseSince: s.Since, CatalogueLoadedAt: s.LoadedAt}
}

// listen serves until the context ends or the listener breaks.
func listen(ctx context.Context, server *http.Server, listener net.Listener, patience time.Duration, log *slog.Logger, stderr io.Writer) int {
	broken := make(chan error, 1)
	go func() { broken <- server.Serve(listener) }()
	select {
	case err := <-broken:
		return say(stderr, exitTrouble, fmt.Errorf("serve: %w", err))
	case <-ctx.Done():
	}
	log.Info("stopping; requests in flight may finish", "patience", patience)
	stop, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if err := server.Shutdown(stop); err != nil {
		log.Error("some requests did not finish in time", "error", err)
		return exitTrouble
	}
	return exitDone
}

// build names the build: the revision that the module was built from, when it is known.
func build() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	for _, kv := range info.Settings {
		if kv.Key == "vcs.revision" {
			return kv.Value
		}
	}
	return info.Main.Version
}
