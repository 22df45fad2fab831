// Upgrade lets the last release and this version work on one database, one after the other and beside each other, while
// callers call, and counts what fails: nothing may.
//
//	go run ./deploy/upgrade
//	go run ./deploy/upgrade --before c4a4bee --seconds 10
//
// It starts a PostgreSQL of its own, the last release (built from its commit) and callers who estimate, store offers and read
// them; then this version beside it, which brings the schema up to date under the callers; ends the old one, as a balancer
// would that goes by /readyz; and goes back again. Whatever was acknowledged must be in the database, once. It needs git and
// the history of the project.
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

	"seamwright/store/pgserver"
)

// lastRelease is the commit of the release before this version. Its spec is openapi/released/openapi.yaml.
const lastRelease = "c4a4bee"

// noWayBack are releases that do not start again on a schema of this version, and why: a step may only lean on what the
// release before bears, so that this stays the only one.
var noWayBack = map[string]string{
	"c4a4bee": "it refuses properties of species that it does not know (migration 0029)",
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "upgrade:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, args []string) (err error) {
	f := pflag.NewFlagSet("upgrade", pflag.ContinueOnError)
	before := f.String("before", lastRelease, "`COMMIT` of the release before")
	seconds := f.Int("seconds", 4, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "seamwright-upgrade-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	if err := os.Chmod(folder, 0o711); err != nil { // the database's user must get through
		return err
	}
	older, newer, err := build(ctx, folder, *before)
	if err != nil {
		return err
	}
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: filepath.Join(folder, "data"),
		Settings: map[string]string{"max_connections": "60"}})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, server.Stop(context.WithoutCancel(ctx))) }()
	s := &stage{noWayBack: noWayBack[*before], url: server.URL(), pause: time.Duration(*seconds) * time.Second}
	defer s.end()
	if err := s.play(ctx, older, newer); err != nil {
		return err
	}
	return s.count(ctx)
}

// build builds the release before, from its commit, and this version, from here.
func build(ctx context.Context, folder, before string) (older, newer string, err error) {
	source := filepath.Join(folder, "before")
	older, newer = filepath.Join(folder, "older"), filepath.Join(folder, "newer")
	for _, command := range [][]string{
		{"git", "-c", "safe.directory=*", "archive", "--output", source + ".tar", before},
		{"mkdir", source},
		{"tar", "--extract", "--file", source + ".tar", "--directory", source},
		{"go", "build", "-C", source, "-trimpath", "-o", older, "."},
		{"go", "build", "-trimpath", "-o", newer, "."},
	} {
		out, err := exec.CommandContext(ctx, command[0], command[1:]...).CombinedOutput()
		if err != nil {
			return "", "", fmt.Errorf("%v: %w: %s", command, err, out)
		}
	}
	return older, newer, nil
}

// play is the upgrade and the way back.
func (s *stage) play(ctx context.Context, older, newer string) error {
	a, err := s.start(ctx, "before", older)
	if err != nil {
		return err
	}
	s.call(ctx)
	s.wait(ctx, "the release before, alone")
	b, err := s.start(ctx, "now", newer)
	if err != nil {
		return err
	}
	s.wait(ctx, "both: this version changed the schema under the other")
	if err := s.drain(a); err != nil {
		return err
	}
	s.wait(ctx, "this version alone")
	back, err := s.start(ctx, "before, again", older)
	switch {
	case err != nil && s.noWayBack != "":
		fmt.Printf("the release before does not start again, which is known: %s\n", s.noWayBack)
		s.rest()
		return s.drain(b)
	case err == nil && s.noWayBack != "":
		return errors.New("there is a way back: noWayBack is wrong")
	case err != nil:
		return fmt.Errorf("the release before does not start on the schema of this version: %w", err)
	}
	s.wait(ctx, "both: on the way back")
	if err := s.drain(b); err != nil {
		return err
	}
	s.wait(ctx, "the release before, on the new schema")
	s.rest()
	return s.drain(back)
}

// count holds what was acknowledged against what the database has.
func (s *stage) count(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, s.url)
	if err != nil {
		return err
	}
	defer conn.Close(ctx) //nolint:errcheck // what counts was read
	var rows, different int
	if err := conn.QueryRow(ctx, `SELECT count(*), count(DISTINCT reference) FROM quote`).Scan(&rows, &different); err != nil {
		return err
	}
	fmt.Printf("%d offers were acknowledged, %d are kept, %d different ones; %d calls failed\n", s.kept.Load(), rows, different, s.failed.Load())
	if s.failed.Load() > 0 || int64(rows) != s.kept.Load() || rows != different {
		return errors.New("a call failed, or what was acknowledged is not what is kept")
	}
	return nil
}
