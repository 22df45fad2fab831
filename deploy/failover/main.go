// Failover lets one instance work on a PostgreSQL with a streaming standby, kills the primary under load, promotes the standby
// and counts what came of it: no estimate may fail, and every offer that was acknowledged must be there, once.
//
//	go run ./deploy/failover
//	go run ./deploy/failover --seconds 10
//
// The service's database URL names both servers, as any operator of PostgreSQL or a managed one may have it; it finds the one
// that can be written to by itself. The standby is synchronous, so that nothing that was acknowledged can be lost: what a
// standby that lags loses is PostgreSQL's matter and is not tried. It needs PostgreSQL's programs and Linux.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/pflag"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "failover:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) (err error) {
	f := pflag.NewFlagSet("failover", pflag.ContinueOnError)
	seconds := f.Int("seconds", 4, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "seamwright-failover-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	if err := os.Chmod(folder, 0o711); err != nil { //nolint:gosec // the database's user must get through
		return err
	}
	program := filepath.Join(folder, "seamwright")
	if out, err := exec.CommandContext(ctx, "go", "build", "-trimpath", "-o", program, ".").CombinedOutput(); err != nil { //nolint:gosec // our own
		return fmt.Errorf("build: %w: %s", err, out)
	}
	pair, err := newPair(folder)
	if err != nil {
		return err
	}
	defer pair.end()
	if err := pair.start(ctx); err != nil {
		return err
	}
	s := &stage{url: pair.url(), pause: time.Duration(*seconds) * time.Second}
	defer s.end()
	if err := s.open(ctx, program); err != nil {
		return err
	}
	return s.play(ctx, pair)
}

// play is what happens to the pair.
func (s *stage) play(ctx context.Context, p *pair) error {
	s.call(ctx)
	s.wait(ctx, "the primary, its standby behind it")
	if err := p.killPrimary(); err != nil {
		return err
	}
	s.wait(ctx, "the primary is dead")
	promoted := time.Now()
	if err := p.promote(ctx); err != nil {
		return err
	}
	before := s.kept.Load()
	for s.kept.Load() == before && time.Since(promoted) < time.Minute && ctx.Err() == nil {
		time.Sleep(time.Millisecond)
	}
	fmt.Printf("the first offer is stored again %.1f s after the standby was told to take over\n", time.Since(promoted).Seconds())
	s.wait(ctx, "the standby has taken over")
	s.rest()
	return s.count(ctx, p.standby.url())
}

// count holds what was acknowledged against what the standby has.
func (s *stage) count(ctx context.Context, url string) error {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return err
	}
	defer conn.Close(ctx) //nolint:errcheck // what counts was read
	var rows, different int64
	if err := conn.QueryRow(ctx, `SELECT count(*), count(DISTINCT reference) FROM quote`).Scan(&rows, &different); err != nil {
		return err
	}
	kept, lost, failed := s.kept.Load(), s.lost.Load(), s.failed.Load()
	fmt.Printf("%d offers were acknowledged, %d are kept, %d different ones; %d estimates failed, %d calls were never answered\n",
		kept, rows, different, lost, failed)
	if kept == 0 || rows != kept || rows != different || lost > 0 || failed > 0 {
		return errors.New("an estimate failed, or what was acknowledged is not what is kept")
	}
	return nil
}
