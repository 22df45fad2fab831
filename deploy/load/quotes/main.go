// Quotes measures what storing and finding offers costs.
//
//	go run ./deploy/load/quotes
//	go run ./deploy/load/quotes --quotes 1000000 --calls 200 --seconds 5 --rounds 4
//
// Storing: quotes per second over HTTP beside bare single-row inserts of the same texts by pgx, in turns, in the same PostgreSQL with as
// many connections. Listing: so many made-up offers are put in by SQL, and lists of 100 are taken with each filter; the plans are shown.
//
// It starts a private PostgreSQL in a temporary folder and ends and removes everything. It needs Linux. A missed target is printed and is
// no failure.
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

	"seamwright/api/command"
	"seamwright/deploy/load/shop"
)

// options are what the command line says.
type options struct {
	quotes      int // made up for the lists; 0: none
	calls       int // of each list
	seconds     int // of a round of storing
	rounds      int // of storing; 0: none
	connections int // that store at once
	plans       bool
	only        string // lists whose names hold this
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "quotes:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

func run(ctx context.Context, args []string, out io.Writer) error {
	var o options
	f := pflag.NewFlagSet("quotes", pflag.ContinueOnError)
	f.IntVar(&o.quotes, "quotes", 1_000_000, "`NUMBER` of offers to find some in; 0: no lists")
	f.IntVar(&o.calls, "calls", 200, "`CALLS` of each list")
	f.IntVar(&o.seconds, "seconds", 5, "`SECONDS` of each round of storing")
	f.IntVar(&o.rounds, "rounds", 4, "`ROUNDS` of storing, each beside its floor; 0: none")
	f.IntVar(&o.connections, "connections", 16, "`CONNECTIONS` that store at once")
	f.BoolVar(&o.plans, "plans", true, "show the plan of each list")
	f.StringVar(&o.only, "only", "", "take only the lists whose names hold `TEXT`")
	if err := f.Parse(args); err != nil || o.quotes < 0 || o.quotes > 10_000_000 || o.calls < 1 || o.calls > 10_000 ||
		o.seconds < 1 || o.seconds > 60 ||
		o.rounds < 0 || o.rounds > 20 || o.connections < 1 || o.connections > 50 {
		return errors.Join(err, errors.New("wrong use; see --help"))
	}
	ctx, cancel := context.WithTimeout(ctx, 30*time.Minute)
	defer cancel()
	command.TuneCollector(ctx, 100) // as the service does
	load, err := os.ReadFile("/proc/loadavg")
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "load averages before the run: %s", load)
	storing, listing := o, o
	storing.quotes, listing.rounds = 0, 0
	for _, part := range []options{storing, listing} {
		if part.rounds > 0 || part.quotes > 0 {
			if err := measured(ctx, part, out); err != nil {
				return err
			}
		}
	}
	return nil
}

// measured measures in a database of its own: the lists are of what was made up, not of what was stored.
func measured(ctx context.Context, o options, out io.Writer) (err error) {
	s, err := shop.Open(ctx, o.connections)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close(ctx)) }()
	b := &bench{options: o, Shop: s, out: out}
	return b.measure(ctx)
}
