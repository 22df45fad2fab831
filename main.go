// Seamwright estimates wide solid-wood tops that turn a corner. This file reads the settings and wires the parts together; it
// reckons nothing.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/pflag"

	"seamwright/api"
	"seamwright/api/summary"
	"seamwright/service/catalogue"
	"seamwright/store"
	"seamwright/store/pgserver"
)

// Exit statuses, as callers rely on them.
const (
	exitDone    = 0
	exitRefused = 1 // the input was refused; the problem is printed
	exitUsage   = 2 // wrong use of the command line
	exitTrouble = 3 // the service or its database cannot work
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.LookupEnv, os.Stdin, os.Stdout, os.Stderr))
}

// settings are what the environment and the flags say; a flag goes over its variable.
type settings struct {
	Listen          string
	DataDir         string
	DatabaseURL     string
	PostgresBin     string
	NoAuth          bool
	LogLevel        string
	LogFormat       string
	ShutdownTimeout time.Duration
	MemoryLimit     int
	BodyLimit       int64
}

// variables are the settings' environment variables by flag.
var variables = map[string]string{
	"listen": "SEAMWRIGHT_LISTEN", "data-dir": "SEAMWRIGHT_DATA_DIR", "database-url": "DATABASE_URL", "postgres-bin": "SEAMWRIGHT_POSTGRES_BIN",
	"no-auth": "SEAMWRIGHT_NO_AUTH", "log-level": "SEAMWRIGHT_LOG_LEVEL", "log-format": "SEAMWRIGHT_LOG_FORMAT",
	"shutdown-timeout": "SEAMWRIGHT_SHUTDOWN_TIMEOUT", "memory-limit": "SEAMWRIGHT_MEMORY_LIMIT", "body-limit": "SEAMWRIGHT_BODY_LIMIT",
}

// flags declares every setting with its default and what it does.
func (s *settings) flags(name string) *pflag.FlagSet {
	f := pflag.NewFlagSet(name, pflag.ContinueOnError)
	f.SortFlags = false
	f.StringVar(&s.Listen, "listen", "127.0.0.1:8080", "`HOST:PORT` to serve on")
	f.StringVar(&s.DataDir, "data-dir", "", "`DIR` of the private PostgreSQL (default: seamwright under the user's data directory)")
	f.StringVar(&s.DatabaseURL, "database-url", "", "`URL` of a PostgreSQL to use instead of a private one")
	f.StringVar(&s.PostgresBin, "postgres-bin", "", "`DIR` of the PostgreSQL server programs (default: searched on the machine)")
	f.BoolVar(&s.NoAuth, "no-auth", false, "serve without access keys; only on a loopback address")
	f.StringVar(&s.LogLevel, "log-level", "info", "`LEVEL` of the log: debug, info, warn or error")
	f.StringVar(&s.LogFormat, "log-format", "text", "`FORMAT` of the log: text or json")
	f.DurationVar(&s.ShutdownTimeout, "shutdown-timeout", 15*time.Second, "`TIME` that requests in flight get to finish")
	f.IntVar(&s.MemoryLimit, "memory-limit", 100, "`MiB` of heap that the collector aims to stay under")
	f.Int64Var(&s.BodyLimit, "body-limit", 1<<20, "`BYTES` that a request body may have")
	return f
}

// fromEnvironment puts the variables' values in, before the flags are read.
func fromEnvironment(f *pflag.FlagSet, lookup func(string) (string, bool)) error {
	var wrong []error
	f.VisitAll(func(flag *pflag.Flag) {
		if v, ok := lookup(variables[flag.Name]); ok && v != "" {
			if err := f.Set(flag.Name, v); err != nil {
				wrong = append(wrong, fmt.Errorf("%s: %w", variables[flag.Name], err))
			}
			flag.Changed = false
		}
	})
	return errors.Join(wrong...)
}

// check finds everything wrong with the settings at once.
func (s *settings) check() error {
	var wrong []error
	host, _, err := net.SplitHostPort(s.Listen)
	if err != nil {
		wrong = append(wrong, fmt.Errorf("--listen %q is not HOST:PORT", s.Listen))
	}
	if s.NoAuth && err == nil && !loopback(host) {
		wrong = append(wrong, fmt.Errorf("--no-auth only works on a loopback address, not on %q", s.Listen))
	}
	if _, err := s.level(); err != nil {
		wrong = append(wrong, err)
	}
	if s.LogFormat != "text" && s.LogFormat != "json" {
		wrong = append(wrong, fmt.Errorf("--log-format %q is neither text nor json", s.LogFormat))
	}
	if s.MemoryLimit < 32 || s.BodyLimit < 1024 || s.ShutdownTimeout <= 0 {
		wrong = append(wrong, errors.New("--memory-limit must be at least 32, --body-limit at least 1024, --shutdown-timeout over 0"))
	}
	return errors.Join(wrong...)
}

func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

func (s *settings) level() (slog.Level, error) {
	var l slog.Level
	if err := l.UnmarshalText([]byte(s.LogLevel)); err != nil {
		return l, fmt.Errorf("--log-level %q is not debug, info, warn or error", s.LogLevel)
	}
	return l, nil
}

func (s *settings) logger(w io.Writer) *slog.Logger {
	level, _ := s.level() // checked
	options := &slog.HandlerOptions{Level: level}
	if s.LogFormat == "json" {
		return slog.New(slog.NewJSONHandler(w, options))
	}
	return slog.New(slog.NewTextHandler(w, options))
}

const usage = `Seamwright estimates wide solid-wood tops that turn a corner.

  seamwright [flags]                  serve the HTTP API
  seamwright estimate FILE [--json]   estimate the request in FILE ("-": standard input) and print it
  seamwright migrate                  bring the database up to date and exit

Flags, each with its environment variable:
`

// run is the whole program; it returns the exit status.
func run(ctx context.Context, args []string, lookup func(string) (string, bool), stdin io.Reader, stdout, stderr io.Writer) int {
	var s settings
	f := s.flags("seamwright")
	f.SetOutput(io.Discard)
	asJSON := f.Bool("json", false, "estimate: print the whole answer as JSON")
	explain := f.Bool("explain", false, "estimate: add the workings to the JSON answer")
	if err := fromEnvironment(f, lookup); err != nil {
		return say(stderr, exitUsage, err)
	}
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		fmt.Fprint(stdout, usage, help(f))
		return exitDone
	case err != nil:
		return say(stderr, exitUsage, err)
	}
	if err := s.check(); err != nil {
		return say(stderr, exitUsage, err)
	}
	command := f.Args()
	if len(command) > 0 && !f.Changed("log-level") && s.LogLevel == "info" {
		s.LogLevel = "warn" // who asks for one answer does not want to read how it came about
	}
	switch {
	case len(command) == 0:
		return serve(ctx, &s, stdout, stderr)
	case command[0] == "estimate" && len(command) == 2:
		return estimateFile(ctx, &s, command[1], *asJSON, *explain, stdin, stdout, stderr)
	case command[0] == "migrate" && len(command) == 1:
		return migrate(ctx, &s, stdout, stderr)
	}
	return say(stderr, exitUsage, fmt.Errorf("%q is not a command; see --help", strings.Join(command, " ")))
}

// help lists the flags with their variables.
func help(f *pflag.FlagSet) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimRight(f.FlagUsages(), "\n"), "\n") {
		name, _, _ := strings.Cut(strings.TrimPrefix(strings.TrimSpace(line), "--"), " ")
		name, _, _ = strings.Cut(name, "[") // a flag without an argument shows its two values
		b.WriteString(line)
		if v := variables[name]; v != "" {
			b.WriteString(" [" + v + "]")
		}
		b.WriteString("\n")
	}
	return b.String()
}

func say(w io.Writer, status int, err error) int {
	fmt.Fprintln(w, "seamwright:", err)
	return status
}

// database finds the database: the one given, that of a server running on the same data folder, or a private one of our own. The
// returned function ends what was started.
func database(ctx context.Context, s *settings, log *slog.Logger, beside bool) (url, what string, end func(), err error) {
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
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: s.DataDir, BinDir: s.PostgresBin, Log: log})
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

// serve runs the HTTP API until the context ends, then lets requests in flight finish.
func serve(ctx context.Context, s *settings, stdout, stderr io.Writer) int {
	log := s.logger(stderr)
	tuneCollector(s)
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
	cat, closeStore, err := follow(ctx, url, log)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	defer closeStore()
	server, err := api.New(api.Config{Snapshot: cat.Snapshot, Status: func() api.Status { return status(cat) }, Log: log, Build: build(), BodyLimit: s.BodyLimit})
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	if !loopback(hostOf(listener)) {
		log.Warn("serving without access keys on an address that others may reach", "address", listener.Addr().String())
	}
	fmt.Fprintf(stdout, "seamwright serves on http://%s with %s (catalogue revision %d). Ctrl-C stops it.\n", listener.Addr(), what, cat.Snapshot().Revision)
	return listen(ctx, server.HTTPServer(), listener, s.ShutdownTimeout, log, stderr)
}

func hostOf(l net.Listener) string {
	host, _, _ := net.SplitHostPort(l.Addr().String()) // our own listener's address
	return host
}

// follow prepares the database and follows its catalogue.
func follow(ctx context.Context, url string, log *slog.Logger) (*store.Catalogue, func(), error) {
	if err := store.Prepare(ctx, url); err != nil {
		return nil, nil, err
	}
	st, err := store.Open(ctx, url, log)
	if err != nil {
		return nil, nil, err
	}
	cat, err := st.Watch(ctx)
	if err != nil {
		st.Close()
		return nil, nil, err
	}
	return cat, st.Close, nil
}

func status(cat *store.Catalogue) api.Status {
	s := cat.Status()
	return api.Status{DatabaseReachable: s.DatabaseReachable, DatabaseSince: s.Since, CatalogueLoadedAt: s.LoadedAt}
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

// tuneCollector lets the heap grow up to the limit before it is collected, unless the environment says otherwise: most of a request's
// memory is short-lived, and rarer collections cost less.
func tuneCollector(s *settings) {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		debug.SetGCPercent(1000)
		debug.SetMemoryLimit(int64(s.MemoryLimit) << 20)
	}
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

// snapshot loads the catalogue once, for the command line.
func snapshot(ctx context.Context, s *settings, log *slog.Logger) (*catalogue.Snapshot, func(), error) {
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
	defer st.Close()
	cat, err := st.Load(ctx)
	return cat, end, err
}

// estimateFile estimates the request in a file and prints a summary, or the whole answer.
func estimateFile(ctx context.Context, s *settings, name string, asJSON, explain bool, stdin io.Reader, stdout, stderr io.Writer) int {
	raw, err := read(name, stdin, s.BodyLimit)
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	cat, end, err := snapshot(ctx, s, s.logger(stderr))
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	est, err := api.MakeEstimate(raw, cat, time.Now(), explain)
	if err != nil {
		return refuse(stderr, err)
	}
	if !asJSON {
		err = summary.Write(stdout, est)
	} else if raw, err = api.EncodeEstimate(est); err == nil {
		_, err = stdout.Write(raw)
	}
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	return exitDone
}

func read(name string, stdin io.Reader, limit int64) ([]byte, error) {
	in := stdin
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	raw, err := io.ReadAll(io.LimitReader(in, limit+1))
	if err == nil && int64(len(raw)) > limit {
		err = fmt.Errorf("%s has more than %d bytes", name, limit)
	}
	return raw, err
}

// refuse prints why a request was refused. What is nobody's fault but ours is trouble.
func refuse(stderr io.Writer, err error) int {
	p := api.ProblemOf(err)
	if p.Status >= http.StatusInternalServerError {
		return say(stderr, exitTrouble, err)
	}
	fmt.Fprintf(stderr, "seamwright: %s: %s\n", p.Title, p.Detail)
	for _, v := range p.Errors {
		fmt.Fprintf(stderr, "  %s: %s\n", v.Pointer, v.Detail)
	}
	return exitRefused
}

// migrate brings the database up to date.
func migrate(ctx context.Context, s *settings, stdout, stderr io.Writer) int {
	url, what, end, err := database(ctx, s, s.logger(stderr), true)
	defer end()
	if err == nil {
		err = store.Prepare(ctx, url)
	}
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	fmt.Fprintf(stdout, "%s is up to date\n", what)
	return exitDone
}
