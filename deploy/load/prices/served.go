package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
)

// callers ask for estimates one after another, each a little apart: latency is looked at, not saturation.
const (
	callers = 4
	apart   = 20 * time.Millisecond
)

// quiet is how long estimates are asked for before the load, about as long as during it: the p99 of a few seconds is luck.
const quiet = 20 * time.Second

// served is how many lists are sent one after the other, each when the service sees the one before: one alone is over before there are
// estimates enough for a p99. An even number, so that all prices are in the end what they were.
const served = 8

// serve fills the catalogue that estimates are served from, and compares their latency before and during the load of a long list,
// most of whose articles the shop does not have.
func (b *bench) serve(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, b.URL)
	if err != nil {
		return err
	}
	defer func() { _ = conn.Close(ctx) }() // the server stops anyway
	if _, err := conn.Exec(ctx, insertSupplier); err != nil {
		return err
	}
	if err := b.fill(ctx, conn, 1, b.items); err != nil {
		return err
	}
	var reads []float64
	for range 8 {
		began := time.Now()
		if _, err := b.Store.Shelf.Load(ctx); err != nil {
			return err
		}
		reads = append(reads, float64(time.Since(began).Milliseconds()))
	}
	first := reads[0]
	slices.Sort(reads)
	fmt.Fprintf(b.out, "a catalogue of %d items is read in %.0f ms, median of %d (%.0f to %.0f; the first after it was filled %.0f; target under 300)\n",
		b.items, reads[len(reads)/2], len(reads), reads[0], reads[len(reads)-1], first)
	service, err := b.Serve(ctx)
	if err != nil {
		return err
	}
	defer service.Close()
	cat, base := service.Catalogue, "http://"+service.Address
	request, err := os.ReadFile(filepath.Join("testdata", "requests", "l_desk.json"))
	if err != nil {
		return fmt.Errorf("run this from the top of the project: %w", err)
	}
	var paths []string
	for round := -1; round <= 0; round++ { // some are dearer and, by the next list, are not any more
		path, err := b.list(fmt.Sprintf("served%d.csv", round), b.rows, round, func(n int) (string, int) {
			if every := b.rows / b.items; every > 0 && n%every == 0 {
				return madeUp(n / every)
			}
			return fmt.Sprintf("not_ours_%d", n), n
		})
		if err != nil {
			return err
		}
		paths = append(paths, path)
	}
	runtime.GC()
	if _, err := latencies(ctx, base, request, time.After(time.Second)); err != nil { // warm up
		return err
	}
	before, err := latencies(ctx, base, request, time.After(quiet))
	if err != nil {
		return err
	}
	loaded := make(chan time.Time, 1)
	var failed error
	var loading, seeing time.Duration
	go func() {
		defer func() { loaded <- time.Now() }()
		for n := range served {
			revision, began := cat.Snapshot().Revision, time.Now()
			if failed = upload(ctx, base, paths[(n+1)%2], n); failed != nil {
				return
			}
			took := time.Since(began)
			for cat.Snapshot().Revision == revision && time.Since(began) < took+5*time.Second {
				time.Sleep(5 * time.Millisecond)
			}
			loading, seeing = loading+took, seeing+time.Since(began)-took
		}
	}()
	during, err := latencies(ctx, base, request, loaded)
	if err = errors.Join(err, failed); err != nil {
		return err
	}
	fmt.Fprintf(b.out, "%d lists of %d rows over HTTP beside estimates: %.2f s each; seen by the service %d ms later (target 1000)\n", served, b.rows, loading.Seconds()/served, seeing.Milliseconds()/served)
	fmt.Fprintf(b.out, "estimates: p50 %.2f ms and p99 %.2f ms before, p50 %.2f ms and p99 %.2f ms during the load; ratio of p99 %.2f (target at most 2), %d and %d requests\n",
		quantile(before, 50), quantile(before, 99), quantile(during, 50), quantile(during, 99),
		quantile(during, 99)/quantile(before, 99), len(before), len(during))
	return nil
}

// upload sends a list, each with a date of its own.
func upload(ctx context.Context, base, path string, n int) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = file.Close() }() // it was only read
	r, err := http.NewRequestWithContext(ctx, http.MethodPost,
		fmt.Sprintf("%s/v1/price-updates?supplier=bulk&list_date=2026-01-%02d", base, 2+n), file)
	if err != nil {
		return err
	}
	r.Header.Set("Content-Type", "text/csv")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err == nil && (answer.StatusCode != http.StatusCreated || !bytes.Contains(text, []byte(`"status":"applied"`))) {
		err = fmt.Errorf("the list was answered %s: %.500s", answer.Status, text)
	}
	return err
}

// latencies asks for estimates until the end and returns how long each took, in milliseconds.
func latencies(ctx context.Context, base string, request []byte, end <-chan time.Time) ([]float64, error) {
	var all []float64
	var failures []error
	var lock sync.Mutex
	var done sync.WaitGroup
	stop := make(chan struct{})
	for range callers {
		done.Add(1)
		go func() {
			defer done.Done()
			for {
				select {
				case <-stop:
					return
				case <-ctx.Done():
					return
				case <-time.After(apart):
				}
				took, err := ask(ctx, base, request)
				lock.Lock()
				all, failures = append(all, took), append(failures, err)
				lock.Unlock()
			}
		}()
	}
	<-end
	close(stop)
	done.Wait()
	return all, errors.Join(failures...)
}

func ask(ctx context.Context, base string, request []byte) (milliseconds float64, err error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, base+"/v1/estimates", bytes.NewReader(request))
	if err != nil {
		return 0, err
	}
	r.Header.Set("Content-Type", "application/json")
	began := time.Now()
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, err
	}
	defer answer.Body.Close()
	if _, err := io.Copy(io.Discard, answer.Body); err != nil {
		return 0, err
	}
	if answer.StatusCode != http.StatusOK {
		return 0, fmt.Errorf("an estimate was answered %s", answer.Status)
	}
	return float64(time.Since(began).Microseconds()) / 1000, nil
}

func quantile(all []float64, percent int) float64 {
	if len(all) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(all))
	return sorted[min(len(sorted)-1, len(sorted)*percent/100)]
}
