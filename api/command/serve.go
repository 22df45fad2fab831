package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"runtime"
	"runtime/debug"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/api/web"
	"seamwright/openapi"
	"seamwright/store"
	"seamwright/store/db"
	"seamwright/store/shelf"
)

// serve runs the HTTP API until the context ends, then lets requests in flight finish. From the first moment on the address
// answers: until the database is there with what is not ready.
func serve(ctx context.Context, s *settings, stdout, stderr io.Writer) int {
	log := s.logger(stderr)
	TuneCollector(ctx, s.MemoryLimit)
	cores := moreThreads()
	log.Info("starting", "version", openapi.Version(), "revision", build(), "go", runtime.Version())
	listener, err := net.Listen("tcp", s.Listen)
	if err != nil {
		return say(stderr, exitTrouble, fmt.Errorf("listen on %s: %w", s.Listen, err))
	}
	entrance := newDoor(log)
	outside := serveOn(listener, entrance, log)
	if s.MetricsListen != "" {
		figures, err := net.Listen("tcp", s.MetricsListen)
		if err != nil {
			return say(stderr, exitTrouble, fmt.Errorf("listen on %s: %w", s.MetricsListen, err))
		}
		beside := serveOn(figures, entrance.figures(), log)
		defer func() { _ = beside.server.Close() }() // figures are read again
	}
	defer func() { _ = outside.server.Close() }() // what is still open then has had its time
	spans, err := s.traces(ctx, log)
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	defer endTraces(spans, log)
	url, what, end, err := database(ctx, s, log, false)
	if withoutDatabase(s, err) {
		return serveDemo(ctx, s, listener, entrance, outside, cores, log, stdout, stderr)
	}
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	defer end()
	// What works beside the calls goes on until the last of them is answered.
	working, stopWorking := context.WithCancel(context.WithoutCancel(ctx))
	defer stopWorking()
	st, cat, err := follow(ctx, working, url, queriesOf(spans), s.DatabaseWait, log)
	switch {
	case err != nil && ctx.Err() != nil:
		return exitDone // stopped before it was ready
	case err != nil:
		return say(stderr, exitTrouble, err)
	}
	defer st.Close()
	if !s.NoAuth {
		if err := firstKey(ctx, st, s, listener.Addr().String(), stdout); err != nil {
			return say(stderr, exitTrouble, err)
		}
	}
	ring, written, err := watchKeys(working, s, st, log)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	defer func() { stopWorking(); <-written }()
	proxies, err := s.proxies()
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	policy, err := s.webhooks()
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	config := api.Config{Store: st, Snapshot: cat.Snapshot, Reach: cat.Reach, RevisionWait: s.RevisionWait,
		Status: func() web.Status { return status(cat) }, Presence: cat.Presence, Log: log, Now: st.Now, Build: build(), BodyLimit: s.BodyLimit,
		Keys: ring, NoAuth: s.NoAuth, KeyLimit: s.KeyLimit, FormLimit: s.FormLimit, Cores: cores, Waiting: s.Waiting,
		OrderPageKey: s.OrderPageKey, TrustedProxies: proxies, Webhooks: policy, OwnMetrics: s.MetricsListen != ""}
	if spans != nil {
		config.Traces = spans
	}
	service, err := api.New(config)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	if s.NoAuth {
		log.Warn("serving without access keys: whoever reaches this address may do everything", "address",
			listener.Addr().String())
	}
	var beside sync.WaitGroup
	beside.Go(func() { recheck(working, service, cat, log) })
	beside.Go(func() { deliver(working, service, log) })
	defer func() { stopWorking(); beside.Wait() }()
	entrance.open(service.Handler(), service.Metrics())
	fmt.Fprintf(stdout, "seamwright serves on http://%s with %s (catalogue revision %d). Ctrl-C stops it.\n",
		listener.Addr(), what, cat.Snapshot().Revision)
	select {
	case err := <-outside.broken:
		return say(stderr, exitTrouble, fmt.Errorf("serve: %w", err))
	case <-ctx.Done():
	}
	if errors.Is(context.Cause(ctx), ErrTerminated) && s.DrainDelay > 0 {
		log.Info("draining: not ready any more, still answering", "delay", s.DrainDelay)
		service.Drain()
		time.Sleep(s.DrainDelay)
	}
	return outside.stop(s.ShutdownTimeout, log)
}

// ErrTerminated is the cause of a context that ended because the system asked the program to end, rather than somebody at
// the terminal.
var ErrTerminated = errors.New("asked to end")

// watchKeys follows the access keys; without auth there are none to follow. The channel closes when the last uses are
// written down, after the context has ended.
func watchKeys(ctx context.Context, s *settings, st *store.Store,
	log *slog.Logger) (*access.Ring, <-chan struct{}, error) {
	if s.NoAuth {
		nothing := make(chan struct{})
		close(nothing)
		return nil, nothing, nil
	}
	return access.Watch(ctx, st.Keys, log, st.Now, s.KeyTrust)
}

// follow prepares the database and follows its catalogue, as long as working lasts. A database that is not there yet is
// waited for.
func follow(ctx, working context.Context, url string, queries pgx.QueryTracer, patience time.Duration,
	log *slog.Logger) (st *store.Store, cat *shelf.Catalogue, err error) {
	const pause = time.Second
	for began := time.Now(); ; {
		if st, cat, err = followed(ctx, working, url, queries, log); err == nil || !db.NotYet(err) || time.Since(began) > patience {
			return st, cat, err
		}
		log.Warn("the database is not there yet", "error", err, "waited", time.Since(began).Round(time.Second), "patience",
			patience)
		select {
		case <-ctx.Done():
			return nil, nil, err
		case <-time.After(pause):
		}
	}
}

func followed(ctx, working context.Context, url string, queries pgx.QueryTracer,
	log *slog.Logger) (*store.Store, *shelf.Catalogue, error) {
	if err := store.Prepare(ctx, url); err != nil {
		return nil, nil, err
	}
	config, err := db.Config(url)
	if err != nil {
		return nil, nil, err
	}
	config.ConnConfig.Tracer = queries
	st, err := store.OpenConfig(ctx, config, log)
	if err != nil {
		return nil, nil, err
	}
	cat, err := st.Shelf.Watch(working)
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

// revision is what the program was built from, where the build says it (-ldflags "-X seamwright/api/command.revision=…").
var revision string

// build names the build: the revision that the module was built from, when it is known.
func build() string {
	if revision != "" {
		return revision
	}
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
