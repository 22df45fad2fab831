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
	"fmt"
	"net/http"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"seamwright/deploy/stage"
)

func main() { stage.Main("failover", run) }

func run(ctx context.Context, args []string) error {
	f := pflag.NewFlagSet("failover", pflag.ContinueOnError)
	seconds := f.Int("seconds", 4, "`SECONDS` of each stage")
	if err := f.Parse(args); err != nil {
		return err
	}
	return stage.InFolder("failover", func(folder string) error {
		program := filepath.Join(folder, "seamwright")
		if err := stage.Build(ctx, program); err != nil {
			return err
		}
		pair, err := newPair(folder)
		if err != nil {
			return err
		}
		defer pair.end()
		if err := pair.start(ctx); err != nil {
			return err
		}
		d := &drill{pair: pair, pause: time.Duration(*seconds) * time.Second}
		if d.Key, err = stage.Key(ctx, program, pair.url(), "failover", "estimate,quotes:read,quotes:write"); err != nil {
			return err
		}
		p, err := stage.Service{Name: "the instance", Program: program, DatabaseURL: pair.url()}.Start(ctx)
		if err != nil {
			return err
		}
		defer p.Kill()
		defer d.rest()
		d.address = p.Address
		if err := d.play(ctx); err != nil {
			return err
		}
		return p.Drain()
	})
}

// drill has the pair, the address of the instance, and two sorts of callers.
type drill struct {
	pair          *pair
	address       string
	pause         time.Duration
	stage.Callers               // who store offers and list them, and send again what is refused while the database is away
	estimating    stage.Callers // who only estimate, which must always work
}

// play is what happens to the pair.
func (d *drill) play(ctx context.Context) error {
	d.call(ctx)
	d.During(ctx, d.pause, "the primary, its standby behind it")
	if err := d.pair.killPrimary(); err != nil {
		return err
	}
	d.During(ctx, d.pause, "the primary is dead")
	promoted := time.Now()
	if err := d.pair.promote(ctx); err != nil {
		return err
	}
	before := d.Kept.Load()
	for d.Kept.Load() == before && time.Since(promoted) < time.Minute && ctx.Err() == nil {
		time.Sleep(time.Millisecond)
	}
	fmt.Printf("the first offer is stored again %.1f s after the standby was told to take over\n", time.Since(promoted).Seconds())
	d.During(ctx, d.pause, "the standby has taken over")
	d.rest()
	return d.count(ctx)
}

func (d *drill) rest() {
	d.estimating.Rest()
	d.Rest()
}

// count holds what was acknowledged against what the standby has.
func (d *drill) count(ctx context.Context) error {
	estimates, lost := d.estimating.Called.Load(), d.estimating.Failed.Load()
	fmt.Printf("%d estimates beside, %d failed\n", estimates, lost)
	if estimates == 0 || lost > 0 {
		return fmt.Errorf("%d of %d estimates failed", lost, estimates)
	}
	return d.Counted(ctx, d.pair.standby.url())
}

// tries is how often a call that was refused or cut off is sent: for a minute.
const tries = 300

// call starts both sorts of callers.
func (d *drill) call(ctx context.Context) {
	d.estimating.Key = d.Key
	d.estimating.Go(ctx, 2, func(client *http.Client, _, _ int) {
		d.estimating.Ask(client, &stage.Call{Method: http.MethodPost, Address: d.address, Path: "/v1/estimates", Body: stage.Top("failover")})
		time.Sleep(5 * time.Millisecond) // the others need the cores, too
	})
	d.Go(ctx, 4, func(client *http.Client, _, _ int) {
		reference := d.Reference("failover")
		_, _, stored := d.Ask(client, &stage.Call{Method: http.MethodPost, Address: d.address, Path: "/v1/quotes", Body: stage.Offer(reference),
			Idempotency: strings.ReplaceAll(reference, " ", "-"), Tries: tries})
		if stored {
			d.Kept.Add(1)
		}
		d.Ask(client, &stage.Call{Method: http.MethodGet, Address: d.address, Path: "/v1/quotes?limit=5", Tries: tries})
	})
}
