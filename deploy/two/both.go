package main

import (
	"context"
	"errors"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"time"

	"seamwright/deploy/stage"
)

const configuration = "deploy/haproxy.cfg"

// both has the two instances, the proxy before them, and the callers.
type both struct {
	url, program string
	pause        time.Duration
	instances    []*stage.Process
	proxy        *exec.Cmd
	address      string // the proxy's
	stage.Callers
}

func (b *both) service(name, address string) stage.Service {
	return stage.Service{Name: name, Program: b.program, DatabaseURL: b.url, Address: address}
}

// open builds the service and starts both instances and the proxy.
func (b *both) open(ctx context.Context) (err error) {
	if err := stage.Build(ctx, b.program); err != nil {
		return err
	}
	if b.Key, err = stage.Key(ctx, b.program, b.url, "two", "estimate,quotes:read,quotes:write"); err != nil {
		return err
	}
	for _, name := range []string{"one", "two"} {
		p, err := b.service(name, "").Start(ctx)
		if err != nil {
			return err
		}
		b.instances = append(b.instances, p)
	}
	return b.startProxy(ctx)
}

func (b *both) startProxy(ctx context.Context) (err error) {
	if b.address, err = stage.FreeAddress(); err != nil {
		return err
	}
	text, err := os.ReadFile(configuration)
	if err != nil {
		return err
	}
	here := strings.Replace(string(text), "bind :8080\n", "bind "+b.address+"\n", 1)
	if here == string(text) {
		return errors.New(configuration + " does not bind :8080")
	}
	file := b.program + ".cfg"
	if err := os.WriteFile(file, []byte(here), 0o600); err != nil {
		return err
	}
	b.proxy = exec.Command("haproxy", "-db", "-f", file)
	b.proxy.Env = append(os.Environ(), "INSTANCE_ONE="+b.instances[0].Address, "INSTANCE_TWO="+b.instances[1].Address)
	b.proxy.Stderr = os.Stderr
	if err := b.proxy.Start(); err != nil {
		return err
	}
	return stage.Ready(ctx, b.address, nil)
}

// end ends whatever runs.
func (b *both) end() {
	b.Rest()
	for _, p := range b.instances {
		if p != nil {
			p.Kill()
		}
	}
	if b.proxy != nil && b.proxy.Process != nil {
		_ = b.proxy.Process.Kill() // the callers are gone
		_ = b.proxy.Wait()
	}
}

// tries is how often a call that was cut off is sent: for longer than an instance takes to start.
const tries = 50

// call starts callers through the proxy, whose doing alone is to be seen.
func (b *both) call(ctx context.Context) {
	b.Go(ctx, 6, func(client *http.Client, _, _ int) {
		ask := func(method, path, body, idempotency string) bool {
			_, _, ok := b.Ask(client, &stage.Call{Method: method, Address: b.address, Path: path, Body: body,
				Idempotency: idempotency, Tries: tries, NeverByItself: true})
			return ok
		}
		reference := b.Reference("two")
		ask(http.MethodPost, "/v1/estimates", stage.Top(reference), "")
		if ask(http.MethodPost, "/v1/quotes", stage.Offer(reference), strings.ReplaceAll(reference, " ", "-")) {
			b.Kept.Add(1)
		}
		ask(http.MethodGet, "/v1/quotes?limit=5", "", "")
	})
}
