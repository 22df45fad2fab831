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
// the collector busy without a pause. It goes no further than what a container may have leaves room for, as the system ends one that
// has more: four large workbooks that come at once would have grown to 630 MB.
func TuneCollector(ctx context.Context, limit int) {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	least := int64(limit) << 20
	most := share(memoryAllowed("/"))
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
			if want := limitFor(live[0].Value.Uint64(), least, most); want != set {
				set = want
				debug.SetMemoryLimit(want)
			}
		}
	}()
}

// share is what the heap may have of the memory that a container has: the rest is for what the collector does not count, and for
// what comes between two collections.
func share(allowed int64) int64 { return allowed / 4 * 3 }

// limitFor is the limit of the heap, in bytes, when so much lives after a collection: at least and at most those bytes, and at least
// the least where the two contradict each other.
func limitFor(live uint64, least, most int64) int64 {
	return max(least, min(3*int64(live), most)) // no machine has that much memory
}
