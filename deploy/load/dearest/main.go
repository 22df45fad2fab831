// Dearest looks for the valid request that costs the service most: it changes orders at random, keeps the dearer ones and
// changes them again. Every order is read against the spec, worked out and its answer written, as the service does, and
// costs what the processor spent on it. Beside it stands the usual request; the answer is how many times dearer the dearest
// one is. What is drawn depends on the seed alone, what is kept on the times measured.
//
//	go run ./deploy/load/dearest
//	go run ./deploy/load/dearest --seconds 300 --seed 7 --most 20
//
// It needs Linux (the time of one thread) and PostgreSQL's programs, for the demo catalogue. With --most it ends with
// status 1 when the dearest request costs more than so many times the usual one.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/pflag"
)

// options are what the command line says.
type options struct {
	seconds int
	seed    uint64
	usual   string // file with the usual request
	begin   []string
	most    float64 // times the usual; 0: any
	show    int
	answers bool // only requests that are answered are kept
	refused bool // only those that are not
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "dearest:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

func run(ctx context.Context, args []string, out io.Writer) error {
	var o options
	f := pflag.NewFlagSet("dearest", pflag.ContinueOnError)
	f.IntVar(&o.seconds, "seconds", 60, "search for `SECONDS`")
	f.Uint64Var(&o.seed, "seed", 1, "`NUMBER` that the draws begin with")
	f.StringVar(&o.usual, "usual", "testdata/requests/l_desk.json", "`FILE` with the usual request")
	f.StringArrayVar(&o.begin, "begin", nil, "begin with the request in `FILE` as well")
	f.Float64Var(&o.most, "most", 0, "fail when the dearest costs more than so many `TIMES` the usual")
	f.IntVar(&o.show, "show", 3, "print so many `REQUESTS`")
	f.BoolVar(&o.answers, "answered", false, "look among requests that are answered, not among refused ones")
	f.BoolVar(&o.refused, "refused", false, "look among requests that are refused, not among answered ones")
	if err := f.Parse(args); err != nil || o.answers && o.refused || o.seconds < 1 || o.seconds > 3600 || o.show < 0 {
		if errors.Is(err, pflag.ErrHelp) {
			return nil
		}
		return errors.Join(err, errors.New("wrong use; see --help"))
	}
	cat, err := demo(ctx)
	if err != nil {
		return err
	}
	runtime.LockOSThread() // what a request costs is the time of this thread
	debug.SetGCPercent(400)
	usual, err := os.ReadFile(o.usual)
	if err != nil {
		return err
	}
	m := newMeter(cat)
	base, ok := m.cost(usual, 50)
	if !ok {
		return fmt.Errorf("%s is refused", o.usual)
	}
	s := newSearch(m, o.seed)
	s.answers, s.refusals = o.answers, o.refused
	for _, name := range o.begin {
		raw, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		if err := s.add(raw); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	for end := time.Now().Add(time.Duration(o.seconds) * time.Second); time.Now().Before(end) && ctx.Err() == nil; {
		s.step()
	}
	fmt.Fprintf(out, "usual request: %v of processor\n%d requests tried, %d of them refused\n", base, s.tried, s.refused)
	worst := 0.0
	for i, k := range s.best(o.show) {
		cost, _ := m.cost(k.raw, 20) // again: what was kept was kept for its time
		times := float64(cost) / float64(base)
		worst = max(worst, times)
		fmt.Fprintf(out, "%d. %v, %.1f times the usual; effort %d\n%s\n", i+1, cost, times, m.maker.Effort(), k.raw)
	}
	if o.most > 0 && worst > o.most {
		return fmt.Errorf("the dearest request costs %.1f times the usual, more than %g", worst, o.most)
	}
	return nil
}
