// Prices measures how long a nightly price list takes against a floor, in the same run and the same PostgreSQL: the floor copies the
// same text into a staging table and inserts the changed rows with one statement; it converts, judges, guards and reports nothing.
//
//	go run ./deploy/load/prices
//	go run ./deploy/load/prices --rows 1000000 --changed 5 --rounds 3
//
// It starts a private PostgreSQL in a temporary folder, fills it with as many made-up items as the list has rows, and ends and removes
// everything. Then it starts the service over a catalogue of fifty thousand items and compares the latency of estimates before and
// during such a load. It needs Linux. A missed target is printed and is no failure.
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
	rows    int // of the list, and items of the catalogue it is compared with
	changed int // percent of the rows
	rounds  int // at most 100 over changed
	items   int // of the served catalogue
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "prices:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

func run(ctx context.Context, args []string, out io.Writer) (err error) {
	var o options
	f := pflag.NewFlagSet("prices", pflag.ContinueOnError)
	f.IntVar(&o.rows, "rows", 1_000_000, "`ROWS` of the list")
	f.IntVar(&o.changed, "changed", 5, "`PERCENT` of the rows that change a price")
	f.IntVar(&o.rounds, "rounds", 3, "`NUMBER` of lists, each beside its floor")
	f.IntVar(&o.items, "items", 50_000, "`ITEMS` of the catalogue that estimates are served from")
	if err := f.Parse(args); err != nil || o.rows < 1000 || o.changed < 1 || o.changed > 100 || o.rounds < 1 ||
		o.items < 100 {
		return errors.Join(err, errors.New("wrong use; see --help"))
	}
	ctx, cancel := context.WithTimeout(ctx, 15*time.Minute)
	defer cancel()
	command.TuneCollector(ctx, 100) // as the service does
	s, err := shop.Open(ctx, 0)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close(ctx)) }()
	b := &bench{options: o, Shop: s, out: out}
	if err := b.serve(ctx); err != nil {
		return fmt.Errorf("estimates during a load: %w", err)
	}
	return b.beside(ctx)
}
