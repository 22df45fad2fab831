// Mutants measures the tests of service/: it makes one small mistake at a time in the code (a sign, a constant 5 % off,
// a comparison turned, a condition dropped, a statement left out), runs the tests of the package, and prints the
// mistakes that no test noticed.
//
//	go run ./deploy/mutants --count 100 --seed 1
//	go run ./deploy/mutants --package pack --package plan --count 80 --users
//	go run ./deploy/mutants --at estimate/straight.go:95 --at estimate/close.go
//
// Nothing in the tree is touched: a changed file lies in a temporary folder and is given to the compiler as an overlay.
// Which mistakes are made follows from the seed. Those that cannot be seen from outside are listed with their reason in
// equivalent.csv and are not made. It needs a Unix system; each run of tests has limits of time and memory, and what it
// started is ended with it.
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
	packages []string // under service/; empty for all
	at       []string // files under service/, or lines of them; empty for all
	count    int
	seed     uint64
	users    bool
	limit    time.Duration
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

// run tries the mutants and prints the report; each verdict goes to progress as it falls.
func run(ctx context.Context, args []string, out, progress io.Writer) (err error) {
	o, err := parse(args, out)
	if err != nil || o.count == 0 {
		return err
	}
	root, err := moduleRoot(ctx)
	if err != nil {
		return err
	}
	known, err := readEquivalent()
	if err != nil {
		return err
	}
	stale, err := staleRows(root, known)
	if err != nil {
		return err
	}
	for _, row := range stale {
		fmt.Fprintf(progress, "equivalent.csv: %s %s no longer has the line %s\n", row[0], row[1], row[2])
	}
	queues, err := plan(root, o, known)
	if err != nil {
		return err
	}
	l, err := newLab(ctx, root, o)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, l.close()) }()
	if len(o.at) > 0 {
		if o.count = sitesOf(queues); o.count == 0 {
			return errors.New("no mistake is known for what --at names")
		}
	}
	found, err := l.try(ctx, queues, o.count, progress)
	return errors.Join(err, report(out, o, found)) // also of what was tried when it was interrupted
}

// parse reads the command line. After --help the count is zero.
func parse(args []string, out io.Writer) (options, error) {
	var o options
	f := pflag.NewFlagSet("mutants", pflag.ContinueOnError)
	f.SetOutput(out)
	f.StringArrayVar(&o.packages, "package", nil,
		"`PACKAGE` under service/, like drawing/seam; may be given several times (default all)")
	f.StringArrayVar(&o.at, "at", nil,
		"`PLACE` under service/, like estimate/close.go or estimate/close.go:58: every mistake there; may be given several times")
	f.IntVar(&o.count, "count", 100, "`NUMBER` of mutants, as many of each package as it has")
	f.Uint64Var(&o.seed, "seed", 1, "`NUMBER` that decides which")
	f.BoolVar(&o.users, "users", false, "what a package's own tests let live also meets those of the packages that use it")
	f.DurationVar(&o.limit, "limit", 20*time.Minute,
		"`TIME` by the clock for one run of tests, beside the limit of its processor time; what needs more counts as alive")
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		return options{}, nil
	case err != nil:
		return o, err
	case len(o.at) > 0 && (len(o.packages) > 0 || f.Changed("count")):
		return o, errors.New("--at says which mistakes are made: --package and --count have no say beside it")
	case o.count < 1 || o.limit < time.Second || f.NArg() > 0:
		return o, errors.New("--count is at least 1, --limit at least 1s, and there are no other arguments")
	}
	return o, nil
}
