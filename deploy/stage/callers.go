package stage

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// mostTold is how many failures of each sort are printed.
const mostTold = 10

// Top is an estimate's request for an L of sugar maple with this reference (invented).
func Top(reference string) string {
	return fmt.Sprintf(`{"units": "in", "reference": %q, "top": {"species": "maple_sugar", "thickness": 1.5, "runs": [{"length": 84, "depth": 25.5}, {"length": 60, "depth": 25.5}], "corners": [{"angle": 90}]}}`, reference)
}

// Offer is a quote's request for Top with this reference.
func Offer(reference string) string {
	return fmt.Sprintf(`{"reference": %q, "estimate": %s}`, reference, Top(reference))
}

// Callers call until they are told to rest, and count what came of it.
type Callers struct {
	Key    string
	Called atomic.Int64
	Again  atomic.Int64 // calls that were not answered at the first try
	Kept   atomic.Int64 // offers acknowledged
	Failed atomic.Int64 // calls that were never answered

	stop    context.CancelFunc
	running sync.WaitGroup
	told    atomic.Int64
	number  atomic.Int64
	said    [4]int64 // what During counted last
}

// Reference is a name that no caller had before.
func (c *Callers) Reference(what string) string { return fmt.Sprintf("%s %d", what, c.number.Add(1)) }

// Go starts callers, each with a client and a number of its own, who do something over and over.
func (c *Callers) Go(ctx context.Context, callers int, once func(client *http.Client, caller, turn int)) {
	ctx, stop := context.WithCancel(ctx)
	if before := c.stop; before != nil {
		c.stop = func() { before(); stop() }
	} else {
		c.stop = stop
	}
	for caller := range callers {
		c.running.Go(func() {
			client := &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: 4}}
			defer client.CloseIdleConnections()
			for turn := 0; ctx.Err() == nil; turn++ {
				once(client, caller, turn)
			}
		})
	}
}

// Rest ends the callers.
func (c *Callers) Rest() {
	if c.stop != nil {
		c.stop()
		c.running.Wait()
	}
}

// During lets the callers go on for a while and says what came of it since it was last said.
func (c *Callers) During(ctx context.Context, pause time.Duration, what string) {
	select {
	case <-ctx.Done():
	case <-time.After(pause):
	}
	now := [...]int64{c.Called.Load(), c.Again.Load(), c.Failed.Load(), c.Kept.Load()}
	was := c.said
	c.said = now
	fmt.Printf("%s: %d calls, %d of them sent again, %d failed; %d offers stored\n", what,
		now[0]-was[0], now[1]-was[1], now[2]-was[2], now[3]-was[3])
}

// Counted holds what was acknowledged against what the database has: each offer is kept, once, and no call failed.
func (c *Callers) Counted(ctx context.Context, databaseURL string) error {
	rows, err := Number(ctx, databaseURL, `SELECT count(*) FROM quote`)
	if err != nil {
		return err
	}
	different, err := Number(ctx, databaseURL, `SELECT count(DISTINCT reference) FROM quote`)
	if err != nil {
		return err
	}
	kept, failed := c.Kept.Load(), c.Failed.Load()
	fmt.Printf("%d offers were acknowledged, %d are kept, %d different ones; %d calls were sent again, %d failed\n",
		kept, rows, different, c.Again.Load(), failed)
	if kept == 0 || rows != kept || rows != different {
		return fmt.Errorf("of %d acknowledged offers %d are kept, %d different ones", kept, rows, different)
	}
	if failed > 0 {
		return fmt.Errorf("%d calls failed", failed)
	}
	return nil
}

// Call is one request to the service.
type Call struct {
	Method, Address, Path, Body string
	Idempotency, Match          string // the Idempotency-Key and If-Match
	Tries                       int    // how often it is sent, a fifth of a second apart, until it is answered 2xx; 0: once
	// As net/http sends a request again by itself where a connection ended that was kept, unless it cannot read the body anew.
	NeverByItself bool
}

// Ask makes a call until it is answered 2xx, and counts it.
func (c *Callers) Ask(client *http.Client, call *Call) (raw []byte, header http.Header, ok bool) {
	c.Called.Add(1)
	var err error
	for try := range max(call.Tries, 1) {
		if try > 0 {
			time.Sleep(200 * time.Millisecond)
		}
		if raw, header, err = c.send(client, call); err == nil {
			return raw, header, true
		}
		if try == 0 {
			if call.Tries > 1 {
				c.Again.Add(1)
			}
			if c.told.Add(1) <= mostTold {
				fmt.Fprintf(os.Stderr, "%s %s: %v\n", call.Method, call.Path, err)
			}
		}
	}
	c.Failed.Add(1)
	fmt.Fprintf(os.Stderr, "%s %s failed: %v\n", call.Method, call.Path, err)
	return nil, nil, false
}

func (c *Callers) send(client *http.Client, call *Call) (raw []byte, header http.Header, err error) {
	var body io.Reader = strings.NewReader(call.Body)
	if call.NeverByItself {
		body = io.MultiReader(body)
	}
	r, err := http.NewRequest(call.Method, "http://"+call.Address+call.Path, body)
	if err != nil {
		return nil, nil, err
	}
	if r.ContentLength = int64(len(call.Body)); call.Body == "" {
		r.Body = http.NoBody
	} else {
		r.Header.Set("Content-Type", "application/json")
	}
	r.Header.Set("Authorization", "Bearer "+c.Key)
	for name, value := range map[string]string{"Idempotency-Key": call.Idempotency, "If-Match": call.Match} {
		if value != "" {
			r.Header.Set(name, value)
		}
	}
	answer, err := client.Do(r)
	if err != nil {
		return nil, nil, err
	}
	defer answer.Body.Close()
	raw, err = io.ReadAll(answer.Body)
	if err != nil {
		return nil, nil, err
	}
	if answer.StatusCode/100 != 2 {
		return nil, nil, fmt.Errorf("%s %.300s", answer.Status, raw)
	}
	return raw, answer.Header, nil
}
