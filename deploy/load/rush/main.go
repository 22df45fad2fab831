// Rush sends calls at a constant rate, whether or not earlier ones were answered, as many callers do who know nothing of
// each other: first as many as the service can do for long, then five times as many. What is answered and what is refused are
// timed apart, each from the moment at which it was due, so that a client which cannot keep up hides nothing.
//
//	go run ./deploy/load/rush
//	go run ./deploy/load/rush --request testdata/requests/u_bench.json --seconds 10 --rounds 3
//
// The rate that the service can do for long is taken as four fifths of what callers get who ask again as soon as they are
// answered, two of them a core. The client runs on the same cores: what it takes of them is printed, and how late it was
// itself. It starts the service with a private PostgreSQL in a temporary folder, and ends and removes everything. It needs
// Linux. A missed aim is printed and is no failure; a call that is neither answered nor refused is.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/spf13/pflag"
)

// options are what the command line says.
type options struct {
	request     string // file with the body
	seconds     int    // of each round
	rounds      int
	connections int
	rate        float64 // calls a second that are sustainable; 0: found out
	times       float64 // of that, in a rush
	program     string  // the service; empty: built
	service     []string
}

// share of what callers get who ask without a pause: what the service can do for long.
const share = 0.8

// The aims: of calls that are answered in a rush the 99th percentile is at most so many times the usual one, and whoever is
// refused knows within refusedWithin.
const (
	slowerAtMost  = 3
	refusedWithin = 50 * time.Millisecond
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "rush:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

func parse(args []string) (options, error) {
	var o options
	f := pflag.NewFlagSet("rush", pflag.ContinueOnError)
	f.StringVar(&o.request, "request", "testdata/requests/l_desk.json", "`FILE` with the request")
	f.IntVar(&o.seconds, "seconds", 8, "`SECONDS` of each round")
	f.IntVar(&o.rounds, "rounds", 3, "`NUMBER` of rounds, each at both rates")
	f.IntVar(&o.connections, "connections", 1000, "`NUMBER` of connections open at once")
	f.Float64Var(&o.rate, "rate", 0, "`CALLS` a second that are sustainable (default: found out)")
	f.Float64Var(&o.times, "times", 5, "how many `TIMES` as many come in a rush")
	f.StringVar(&o.program, "program", "", "`FILE` of the service (default: built from here)")
	f.StringArrayVar(&o.service, "service", nil, "an `ARGUMENT` more for the service, such as --waiting=16")
	if err := f.Parse(args); err != nil {
		return o, err
	}
	if o.seconds < 1 || o.seconds > 600 || o.rounds < 1 || o.connections < 8 || o.rate < 0 || o.times < 1 || f.NArg() > 0 {
		return o, errors.New("wrong use; see --help")
	}
	return o, nil
}

func run(ctx context.Context, args []string, out io.Writer) (err error) {
	o, err := parse(args)
	if errors.Is(err, pflag.ErrHelp) {
		return nil
	}
	if err != nil {
		return err
	}
	body, err := os.ReadFile(o.request)
	if err != nil {
		return err
	}
	s, err := start(ctx, o.program, o.service)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.stop()) }()
	load, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "load averages before: %s", load)
	r := &rush{options: o, service: s, body: body, out: out}
	return r.measure(ctx)
}
