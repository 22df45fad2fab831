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
	"os/exec"
	"path/filepath"
	"time"

	"github.com/spf13/pflag"

	"seamwright/deploy/stage"
	"seamwright/store/pgserver"
)

// lastRelease is the commit of the release before this version. Its spec is openapi/released/openapi.yaml.
const lastRelease = "c4a4bee"

// noWayBack are releases that do not start again on a schema of this version, and why: a step may only lean on what the
// release before bears, so that this stays the only one.
var noWayBack = map[string]string{
	"c4a4bee": "it refuses properties of species that it does not know (migration 0029)",
}

func main() { stage.Main("upgrade", run) }

func run(ctx context.Context, args []string) error {
	f := pflag.NewFlagSet("upgrade", pflag.ContinueOnError)
	before := f.String("before", lastRelease, "`COMMIT` of the release before")
	seconds := f.Int("seconds", 4, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	return stage.InFolder("upgrade", func(folder string) (err error) {
		older, newer := filepath.Join(folder, "older"), filepath.Join(folder, "newer")
		if err := buildRelease(ctx, folder, *before, older); err != nil {
			return err
		}
		if err := stage.Build(ctx, newer); err != nil {
			return err
		}
		server, err := pgserver.Start(ctx, pgserver.Options{DataDir: filepath.Join(folder, "data"),
			Settings: map[string]string{"max_connections": "60"}})
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, server.Stop(context.WithoutCancel(ctx))) }()
		b := &balanced{url: server.URL(), pause: time.Duration(*seconds) * time.Second}
		defer b.end()
		if b.Key, err = stage.Key(ctx, older, b.url, "upgrade", "estimate,catalogue:read,catalogue:write,quotes:read,quotes:write"); err != nil {
			return err
		}
		if err := b.play(ctx, older, newer, noWayBack[*before]); err != nil {
			return err
		}
		return b.Counted(ctx, b.url)
	})
}

// buildRelease builds a release from its commit.
func buildRelease(ctx context.Context, folder, commit, program string) error {
	source := filepath.Join(folder, "before")
	for _, command := range [][]string{
		{"git", "-c", "safe.directory=*", "archive", "--output", source + ".tar", commit},
		{"mkdir", source},
		{"tar", "--extract", "--file", source + ".tar", "--directory", source},
		{"go", "build", "-C", source, "-trimpath", "-o", program, "."},
	} {
		out, err := exec.CommandContext(ctx, command[0], command[1:]...).CombinedOutput()
		if err != nil {
			return fmt.Errorf("%v: %w: %s", command, err, out)
		}
	}
	return nil
}

// play is the upgrade and the way back. noWay is why the release before does not start on the new schema; empty: it must.
func (b *balanced) play(ctx context.Context, older, newer, noWay string) error {
	before, err := b.start(ctx, "before", older)
	if err != nil {
		return err
	}
	b.call(ctx)
	b.During(ctx, b.pause, "the release before, alone")
	now, err := b.start(ctx, "now", newer)
	if err != nil {
		return err
	}
	b.During(ctx, b.pause, "both: this version changed the schema under the other")
	if err := b.drain(before); err != nil {
		return err
	}
	b.During(ctx, b.pause, "this version alone")
	again, err := b.start(ctx, "before, again", older)
	switch {
	case err != nil && noWay != "":
		fmt.Printf("the release before does not start again, which is known: %s\n", noWay)
		b.Rest()
		return b.drain(now)
	case err == nil && noWay != "":
		return errors.New("there is a way back: noWayBack is wrong")
	case err != nil:
		return fmt.Errorf("the release before does not start on the schema of this version: %w", err)
	}
	b.During(ctx, b.pause, "both: on the way back")
	if err := b.drain(now); err != nil {
		return err
	}
	b.During(ctx, b.pause, "the release before, on the new schema")
	b.Rest()
	return b.drain(again)
}
