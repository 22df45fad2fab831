package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"time"

	"seamwright/api"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/builtin"
	"seamwright/store/pgserver"
)

// install is what to do on a machine without PostgreSQL.
const install = "Install PostgreSQL's server programs (Debian, Ubuntu: apt-get install postgresql) or set DATABASE_URL, and start again."

// withoutDatabase says that the machine has no PostgreSQL: none was named, none is installed, and nothing was ever kept in
// the data folder. Then the main job is still done, by the catalogue that comes with the program. A database that was named
// and is away, or whose programs are gone, is trouble instead: nobody is given demo prices for their own.
func withoutDatabase(s *settings, err error) bool {
	return s.DatabaseURL == "" && errors.Is(err, pgserver.ErrNothing)
}

// sayDemo says so plainly.
func sayDemo(w io.Writer) {
	fmt.Fprintln(w, "seamwright: this machine has no PostgreSQL: prices, rates and times are invented demo data that come with the program, and nothing is kept.")
	fmt.Fprintln(w, "seamwright:", install)
}

// catalogueOf opens the database for a command that only computes, or does without one. The store is nil then.
func catalogueOf(ctx context.Context, s *settings, log *slog.Logger, stderr io.Writer) (*store.Store, *catalogue.Snapshot, func(), error) {
	st, end, err := open(ctx, s, log)
	switch {
	case err == nil:
		cat, err := st.Shelf.Load(ctx)
		return st, cat, end, err
	case !withoutDatabase(s, err):
		return nil, nil, end, err
	}
	sayDemo(stderr)
	cat, err := builtin.Catalogue(time.Now())
	return nil, cat, end, err
}

// serveDemo serves what can be worked out without a database, until the context ends. There are no access keys without one, so
// that only this machine is served.
func serveDemo(ctx context.Context, s *settings, listener net.Listener, entrance *door, outside *served, cores int, log *slog.Logger, stdout, stderr io.Writer) int {
	host, _, err := net.SplitHostPort(listener.Addr().String())
	if err == nil && !loopback(host) {
		err = errors.New("without a database there are no access keys, and only a loopback address is served")
	}
	if err != nil {
		sayDemo(stderr)
		return say(stderr, exitTrouble, err)
	}
	sayDemo(stderr)
	began := time.Now()
	cat, err := builtin.Catalogue(began)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	service, err := api.New(api.Config{Snapshot: func() *catalogue.Snapshot { return cat }, RevisionWait: s.RevisionWait,
		Status:  func() web.Status { return web.Status{DatabaseSince: began, CatalogueLoadedAt: began} },
		Lacking: install, Log: log, Build: build(), BodyLimit: s.BodyLimit, NoAuth: true, KeyLimit: s.KeyLimit,
		FormLimit: s.FormLimit, Cores: cores, Waiting: s.Waiting, OwnMetrics: s.MetricsListen != ""})
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	entrance.open(service.Handler(), service.Metrics())
	fmt.Fprintf(stdout, "seamwright serves on http://%s with DEMO PRICES and without a database: nothing is kept. Ctrl-C stops it.\n", listener.Addr())
	select {
	case err := <-outside.broken:
		return say(stderr, exitTrouble, fmt.Errorf("serve: %w", err))
	case <-ctx.Done():
	}
	return outside.stop(s.ShutdownTimeout, log)
}
