package command

import (
	"context"
	"log/slog"
	"time"

	"seamwright/store"
	"seamwright/store/pgserver"
)

// database finds the database: the one given, that of a server running on the same data folder, or a private one of our own. The
// returned function ends what was started.
func database(ctx context.Context, s *settings, log *slog.Logger,
	beside bool) (url, what string, end func(), err error) {
	nothing := func() {}
	if s.DatabaseURL != "" {
		return s.DatabaseURL, "the given database", nothing, nil
	}
	if s.DataDir == "" {
		if s.DataDir, err = pgserver.DefaultDataDir(); err != nil {
			return "", "", nothing, err
		}
	}
	if beside {
		if url, ok, err := pgserver.Running(s.DataDir); err != nil || ok {
			return url, "the running server's database", nothing, err
		}
	}
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: s.DataDir, BinDir: s.PostgresBin, Places: s.serverPlaces, Log: log})
	if err != nil {
		return "", "", nothing, err
	}
	end = func() {
		stop, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		if err := server.Stop(stop); err != nil {
			log.Error("stop the private PostgreSQL", "error", err)
		}
	}
	return server.URL(), "a private PostgreSQL in " + s.DataDir, end, nil
}

// open opens the database for the command line, brought up to date.
func open(ctx context.Context, s *settings, log *slog.Logger) (*store.Store, func(), error) {
	url, _, end, err := database(ctx, s, log, true)
	if err != nil {
		return nil, end, err
	}
	if err := store.Prepare(ctx, url); err != nil {
		return nil, end, err
	}
	st, err := store.Open(ctx, url, log)
	if err != nil {
		return nil, end, err
	}
	return st, func() { st.Close(); end() }, nil
}
