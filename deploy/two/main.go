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
	"path/filepath"
	"time"

	"github.com/spf13/pflag"

	"seamwright/deploy/stage"
	"seamwright/store/pgserver"
)

func main() { stage.Main("two", run) }

func run(ctx context.Context, args []string) error {
	f := pflag.NewFlagSet("two", pflag.ContinueOnError)
	seconds := f.Int("seconds", 3, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	return stage.InFolder("two", func(folder string) (err error) {
		server, err := pgserver.Start(ctx, pgserver.Options{DataDir: filepath.Join(folder, "data")})
		if err != nil {
			return err
		}
		defer func() { err = errors.Join(err, server.Stop(context.WithoutCancel(ctx))) }()
		b := &both{url: server.URL(), pause: time.Duration(*seconds) * time.Second, program: filepath.Join(folder, "seamwright")}
		defer b.end()
		if err := b.open(ctx); err != nil {
			return err
		}
		return b.play(ctx)
	})
}

// play is what happens to the two.
func (b *both) play(ctx context.Context) error {
	b.call(ctx)
	b.During(ctx, b.pause, "both serve")
	connections, err := stage.Number(ctx, b.url, `SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()`)
	if err != nil {
		return err
	}
	fmt.Printf("%d connections of the database are in use\n", connections)
	for n, p := range b.instances {
		if err := p.Drain(); err != nil {
			return err
		}
		if err := b.back(ctx, n, "was drained and is away"); err != nil {
			return err
		}
	}
	if cut := b.Again.Load(); cut > 0 {
		return fmt.Errorf("%d calls were cut off although no instance died", cut)
	}
	for n, p := range b.instances {
		p.Kill()
		if err := b.back(ctx, n, "was killed"); err != nil {
			return err
		}
	}
	b.Rest()
	return b.Counted(ctx, b.url)
}

// back lets an instance be away for a while and starts it again at its address.
func (b *both) back(ctx context.Context, n int, away string) (err error) {
	p := b.instances[n]
	b.During(ctx, b.pause, p.Name+" "+away)
	if b.instances[n], err = b.service(p.Name, p.Address).Start(ctx); err != nil {
		return err
	}
	b.During(ctx, b.pause, p.Name+" is back")
	return nil
}
