// Load measures the built service against a floor: a program that does what any such service must do (route, read,
// validate against the spec, decode, encode an answer of the same size) and computes nothing. Both run on this
// machine, started by this program, and are loaded in turns by the same tool, so that a busy machine is as unfair to
// one as to the other. Beside them stands the shell: the service's own HTTP work around a kept answer.
//
//	go run ./deploy/load
//	go run ./deploy/load --rounds 6 --seconds 10 --markdown
//
// It reads /proc, so it needs Linux, and wrk in PATH. It ends what it started, also after Ctrl-C, and removes its
// temporary files. A missed target is printed and is no failure; an error or an answer that is not 2xx is.
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
	seconds     int    // of one round
	rounds      int    // of each program
	connections int    // open at once
	request     string // file with the body
	markdown    bool
}

// limit bounds the whole run: the rounds, and what building, starting and the Go benchmark may take on a slow machine.
func (o options) limit() time.Duration {
	return time.Duration(3*o.rounds*(o.seconds+5))*time.Second + 10*time.Minute
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := 0
	if err := run(ctx, os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		status = 1
	}
	stop()
	os.Exit(status)
}

// run measures and prints; what it is doing goes to progress.
func run(ctx context.Context, args []string, out, progress io.Writer) error {
	o, err := parse(args, out)
	if err != nil || o.rounds == 0 {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, o.limit())
	defer cancel()
	b, err := newBench(ctx, o, progress)
	if err != nil {
		return err
	}
	defer b.clean()
	report, err := b.measure(ctx)
	if ctx.Err() != nil {
		return fmt.Errorf("interrupted, or out of time: %w", ctx.Err())
	}
	if err != nil {
		return err
	}
	return report.write(out, o.markdown)
}

// parse reads the command line. After --help it returns no rounds.
func parse(args []string, out io.Writer) (options, error) {
	var o options
	f := pflag.NewFlagSet("load", pflag.ContinueOnError)
	f.SetOutput(out)
	f.IntVar(&o.seconds, "seconds", 5, "`SECONDS` of one round")
	f.IntVar(&o.rounds, "rounds", 4, "`NUMBER` of rounds of each program, in turns")
	f.IntVar(&o.connections, "connections", 32, "`NUMBER` of connections open at once")
	f.StringVar(&o.request, "request", "testdata/requests/l_desk.json", "`FILE` with the request")
	f.BoolVar(&o.markdown, "markdown", false, "print the tables in Markdown")
	switch err := f.Parse(args); {
	case errors.Is(err, pflag.ErrHelp):
		return options{}, nil
	case err != nil:
		return o, err
	case o.seconds < 1 || o.rounds < 1 || o.connections < 2 || f.NArg() > 0:
		return o, errors.New("--seconds and --rounds are at least 1, --connections at least 2, and there are no other arguments")
	}
	return o, nil
}
