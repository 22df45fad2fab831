package command

import (
	"context"
	"os"
	"runtime/debug"
	"runtime/metrics"
	"time"
)

// TuneCollector lets the heap grow up to a limit in MiB before it is collected, unless the environment says otherwise: most of a
// request's memory is short-lived, and rarer collections cost less. Where more lives than a third of the limit, as with a catalogue of
// tens of thousands of items, the limit follows at three times of it until the context ends: a limit that is always reached would keep
// the collector busy without a pause.
func TuneCollector(ctx context.Context, limit int) {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	least := int64(limit) << 20
	debug.SetGCPercent(1000)
	debug.SetMemoryLimit(least)
	go func() {
		tick := time.NewTicker(100 * time.Millisecond)
		defer tick.Stop()
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		set := least
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
			}
			metrics.Read(live)
			if want := limitFor(live[0].Value.Uint64(), least); want != set {
				set = want
				debug.SetMemoryLimit(want)
			}
		}
	}()
}

// limitFor is the limit of the heap, in bytes, when so much lives after a collection.
func limitFor(live uint64, least int64) int64 {
	return max(least, 3*int64(live)) // no machine has that much memory
}
