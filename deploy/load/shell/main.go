// Shell is the service's own HTTP work around an answer that is kept: routing, access, limits, reading and checking the request,
// writing the answer. It works nothing out. See deploy/load.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"seamwright/api"
	"seamwright/api/access"
	"seamwright/api/command"
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/store/keys"
)

func main() {
	answer := flag.String("answer", "", "`FILE` with an answer of the service to POST /v1/estimates")
	memory := flag.Int("memory-limit", 100, "`MIB` of heap, as for the service")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := serve(ctx, *answer, *memory); err != nil {
		fmt.Fprintln(os.Stderr, "shell:", err)
		os.Exit(1) //nolint:gocritic // what is deferred is for a process that goes on
	}
}

// serve answers on a free port of the loopback until the context ends.
func serve(ctx context.Context, file string, memory int) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	key, server, err := newShell(raw)
	if err != nil {
		return err
	}
	command.TuneCollector(ctx, memory)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	go func() { <-ctx.Done(); _ = server.Close() }() // nothing is lost with a kept answer
	fmt.Printf("export KEY=%s\nshell serves on http://%s\n", key, listener.Addr())
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// newShell makes the service around a kept answer, and a key to it.
func newShell(answer []byte) (key string, server *http.Server, err error) {
	kept, err := estimates.Read(string(answer))
	if err != nil {
		return "", nil, err
	}
	snapshot := &catalogue.Snapshot{Revision: kept.Revision}
	text, k := access.New(keys.Secret)
	k.Name, k.Scopes, k.CreatedAt = "load", access.Scopes(), time.Now()
	s, err := api.New(api.Config{
		Snapshot: func() *catalogue.Snapshot { return snapshot },
		Status:   func() web.Status { return web.Status{} },
		Kept:     kept, Keys: access.Fixed(time.Now, k), KeyLimit: 1 << 30,
		Log: slog.New(slog.NewTextHandler(os.Stderr, &slog.HandlerOptions{Level: slog.LevelWarn})),
	})
	if err != nil {
		return "", nil, err
	}
	return text, s.HTTPServer(), nil
}
