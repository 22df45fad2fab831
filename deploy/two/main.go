// Two lets two instances work on one database behind the proxy of compose-two.yml, with its own configuration, and counts
// what fails while one is drained and replaced, and while one is killed.
//
//	go run ./deploy/two
//
// Callers estimate and store offers through the proxy alone, each offer under an Idempotency-Key. An instance that is asked to
// end and started again may cut no call off. One that is killed cuts off what it was at; whoever sends that again with its key
// must be answered, and every offer must be kept once. It needs haproxy and PostgreSQL's programs.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/pflag"

	"seamwright/store/pgserver"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "two:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) (err error) {
	f := pflag.NewFlagSet("two", pflag.ContinueOnError)
	seconds := f.Int("seconds", 3, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "seamwright-two-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	if err := os.Chmod(folder, 0o711); err != nil { // the database's user must get through
		return err
	}
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: filepath.Join(folder, "data")})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, server.Stop(context.WithoutCancel(ctx))) }()
	s := &stage{url: server.URL(), pause: time.Duration(*seconds) * time.Second, program: filepath.Join(folder, "seamwright")}
	defer s.end()
	if err := s.open(ctx); err != nil {
		return err
	}
	return s.play(ctx)
}

// play is what happens to the two.
func (s *stage) play(ctx context.Context) error {
	s.call(ctx)
	s.wait(ctx, "both serve")
	if err := s.connections(ctx); err != nil {
		return err
	}
	for _, i := range s.instances {
		if err := i.drain(); err != nil {
			return err
		}
		s.wait(ctx, i.name+" was drained and is away")
		if err := i.start(ctx, s); err != nil {
			return err
		}
		s.wait(ctx, i.name+" is back")
	}
	if cut := s.cut.Load(); cut > 0 {
		return fmt.Errorf("%d calls were cut off although no instance died", cut)
	}
	for _, i := range s.instances {
		if err := i.kill(); err != nil {
			return err
		}
		s.wait(ctx, i.name+" was killed")
		if err := i.start(ctx, s); err != nil {
			return err
		}
		s.wait(ctx, i.name+" is back")
	}
	s.rest()
	return s.count(ctx)
}

// connections says how many connections both instances have.
func (s *stage) connections(ctx context.Context) error {
	n, err := s.number(ctx, `SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()`)
	if err == nil {
		fmt.Printf("%d connections of the database are in use\n", n)
	}
	return err
}

// count holds what was acknowledged against what the database has.
func (s *stage) count(ctx context.Context) error {
	rows, err := s.number(ctx, `SELECT count(*) FROM quote`)
	if err != nil {
		return err
	}
	different, err := s.number(ctx, `SELECT count(DISTINCT reference) FROM quote`)
	if err != nil {
		return err
	}
	kept, failed := s.kept.Load(), s.failed.Load()
	fmt.Printf("%d offers were acknowledged, %d are kept, %d different ones; %d calls were cut off and sent again, %d failed\n",
		kept, rows, different, s.cut.Load(), failed)
	if failed > 0 || kept == 0 || rows != kept || rows != different {
		return errors.New("a call failed, or what was acknowledged is not what is kept")
	}
	return nil
}

func (s *stage) number(ctx context.Context, query string) (n int64, err error) {
	conn, err := pgx.Connect(ctx, s.url)
	if err != nil {
		return 0, err
	}
	defer conn.Close(ctx) //nolint:errcheck // what counts was read
	err = conn.QueryRow(ctx, query).Scan(&n)
	return n, err
}
