// Faults does to the service what machines, networks and callers do to it, and counts what comes of it:
//
//	go run ./deploy/faults                       every fault, as RESULTS.md has them
//	go run ./deploy/faults lock silent           some of them
//	go run ./deploy/faults calls --for 10m       requests made at random from the spec
//	go run ./deploy/faults --short               a short run of all, for CI
//
// It builds the service, starts a PostgreSQL of its own and two instances, each over a line that can go wrong, on this machine
// alone. Whatever happens, what was acknowledged must be kept, and kept once: that is counted in the database after each
// fault, and a run in which it does not hold ends with status 1. How long things take is printed and decides nothing, but
// for promises of a quick answer, whose bounds are wide.
package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/pflag"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "faults:", err)
		os.Exit(1)
	}
}

// options say how much is done.
type options struct {
	short bool
	calls time.Duration // how long requests are made at random
	seed  uint64
}

// times is how often or how long something is done: in full, or in a short run.
func times[T any](o *options, full, short T) T {
	if o.short {
		return short
	}
	return full
}

func run(ctx context.Context, args []string) error {
	var o options
	f := pflag.NewFlagSet("faults", pflag.ContinueOnError)
	f.BoolVar(&o.short, "short", false, "a short run")
	f.DurationVar(&o.calls, "for", 0, "how long requests are made at random (10m; 15s when short)")
	f.Uint64Var(&o.seed, "seed", uint64(time.Now().UnixNano()), "of the random requests") //nolint:gosec // any number will do
	if err := f.Parse(args); err != nil {
		return err
	}
	if o.calls == 0 {
		o.calls = times(&o, 10*time.Minute, 15*time.Second)
	}
	chosen := f.Args()
	for _, name := range chosen {
		if !slices.ContainsFunc(scenarios, func(s scenario) bool { return s.name == name }) {
			return fmt.Errorf("there is no fault %q", name)
		}
	}
	s, err := open(ctx, &o)
	if err != nil {
		return err
	}
	defer s.close()
	fmt.Printf("| fault | what came of it | |\n| --- | --- | --- |\n")
	broken := 0
	for _, one := range scenarios {
		if len(chosen) > 0 && !slices.Contains(chosen, one.name) || ctx.Err() != nil {
			continue
		}
		r := &report{}
		began := time.Now()
		if err := s.healthy(ctx); err != nil {
			r.broken("the stage is not whole before it: %v", err)
		} else {
			one.play(ctx, s, r)
		}
		holds := "holds"
		if len(r.wrong) > 0 {
			holds, broken = "**broken:** "+strings.Join(r.wrong, "; "), broken+1
		}
		fmt.Printf("| %s: %s | %s | %s (%.0f s) |\n", one.name, one.what, strings.Join(r.said, "; "), holds,
			time.Since(began).Seconds())
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if broken > 0 {
		return fmt.Errorf("%d faults broke a promise", broken)
	}
	return nil
}

// report is what came of a fault.
type report struct{ said, wrong []string }

func (r *report) say(format string, args ...any) {
	r.said = append(r.said, fmt.Sprintf(format, args...))
}

// broken notes a promise that was not kept.
func (r *report) broken(format string, args ...any) {
	r.wrong = append(r.wrong, fmt.Sprintf(format, args...))
}

// within notes how long something took, and that it was promised sooner than that.
func (r *report) within(what string, took, most time.Duration) {
	r.say("%s after %.2f s", what, took.Seconds())
	if took > most {
		r.broken("%s only after %.1f s", what, took.Seconds())
	}
}

// scenario is one fault.
type scenario struct {
	name, what string
	play       func(context.Context, *stage, *report)
}
