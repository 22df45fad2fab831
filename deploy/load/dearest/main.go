// Dearest looks for the valid request that costs the service most: it changes orders at random, keeps the dearer ones and
// changes them again. Every order is read against the spec, worked out and its answer written, as the service does, and
// costs what the processor spent on it. Beside it stands the usual request; the answer is how many times dearer the dearest
// one is. What is drawn depends on the seed alone, what is kept on the times measured.
//
//	go run ./deploy/load/dearest
//	go run ./deploy/load/dearest --seconds 300 --seed 7 --most 20
//	go run ./deploy/load/dearest --measure deploy/load/dearest/found/plain.json --profile cpu.pprof
//
// It needs Linux (the time of one thread) and computes from the built-in catalogue. With --most it ends with status 1 when the
// dearest request costs more than so many times the usual one. With --measure it searches for nothing and measures the
// requests of these files, with --profile into a profile of the processor.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"runtime/pprof"
	"syscall"
	"time"

	"github.com/spf13/pflag"

	"seamwright/store/builtin"
)

// day is the day of every price and order, so that a run compares with another.
var day = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

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
	plain   bool // of runs, corners, edges and cut-outs alone
	measure []string
	profile string
	rounds  int // of measuring again, in turns with the usual request
	to      string
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
	f.BoolVar(&o.plain, "plain", false, "draw runs, corners, edges and cut-outs alone: no base, site, build or straight seams")
	f.StringArrayVar(&o.measure, "measure", nil, "search for nothing; measure the request in `FILE`")
	f.StringVar(&o.profile, "profile", "", "write a profile of the last measurements to `FILE`")
	f.IntVar(&o.rounds, "rounds", 40, "measure what is shown so many `TIMES`, in turns with the usual request")
	f.StringVar(&o.to, "to", "", "write what is shown to files in `FOLDER`")
	if err := f.Parse(args); err != nil || o.answers && o.refused || o.seconds < 1 || o.seconds > 3600 || o.show < 0 || o.rounds < 1 {
		if errors.Is(err, pflag.ErrHelp) {
			return nil
		}
		return errors.Join(err, errors.New("wrong use; see --help"))
	}
	cat, err := builtin.Catalogue(day)
	if err != nil {
		return err
	}
	runtime.LockOSThread() // what a request costs is the time of this thread
	debug.SetGCPercent(1000)
	usual, err := os.ReadFile(o.usual)
	if err != nil {
		return err
	}
	m := newMeter(cat)
	if _, ok := m.cost(usual, 50); !ok {
		return fmt.Errorf("%s is refused", o.usual)
	}
	found, err := o.requests(ctx, m, out)
	if err != nil {
		return err
	}
	return o.tell(m, usual, found, out)
}

// requests are those to be shown: of files, or the dearest that a search finds.
func (o *options) requests(ctx context.Context, m *meter, out io.Writer) (list [][]byte, err error) {
	for _, name := range o.measure {
		raw, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		list = append(list, raw)
	}
	if len(list) > 0 {
		return list, nil
	}
	s := newSearch(m, o.seed)
	s.answers, s.refusals, s.plain = o.answers, o.refused, o.plain
	for _, name := range o.begin {
		raw, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if err := s.add(raw); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	for end := time.Now().Add(time.Duration(o.seconds) * time.Second); time.Now().Before(end) && ctx.Err() == nil; {
		s.step()
	}
	fmt.Fprintf(out, "%d requests tried, %d of them refused\n", s.tried, s.refused)
	for _, k := range s.best(o.show) {
		list = append(list, k.raw)
	}
	return list, nil
}

// tell measures requests again, as a search keeps what it kept for its time, and prints them.
func (o *options) tell(m *meter, usual []byte, list [][]byte, out io.Writer) (err error) {
	if o.profile != "" {
		file, err := os.Create(o.profile)
		if err != nil {
			return err
		}
		defer file.Close()
		if err := pprof.StartCPUProfile(file); err != nil {
			return err
		}
		defer pprof.StopCPUProfile()
	}
	worst := 0.0
	for i, raw := range list {
		base, cost := m.compared(usual, raw, o.rounds)
		ok, times := m.answer(raw), float64(cost)/float64(base)
		worst = max(worst, times)
		name := ""
		if len(o.measure) > 0 {
			name = o.measure[i]
		} else if o.to != "" {
			name = filepath.Join(o.to, fmt.Sprintf("dearest-%d-%d.json", o.seed, i+1))
			if err := os.WriteFile(name, raw, 0o600); err != nil {
				return err
			}
		}
		fmt.Fprintf(out, "%d. %s %v, usual %v: %.1f times; effort %d, steps %d; answered %v; %d bytes\n", i+1, name, cost, base, times, m.maker.Effort(), m.maker.Steps(), ok, len(raw))
		if name == "" {
			fmt.Fprintf(out, "%s\n", raw)
		}
	}
	if o.most > 0 && worst > o.most {
		return fmt.Errorf("the dearest request costs %.1f times the usual, more than %g", worst, o.most)
	}
	return nil
}
