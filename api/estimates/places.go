package estimates

import (
	"fmt"
	"sync"

	"golang.org/x/sync/semaphore"
)

const (
	mostBatches = 8 // that an instance works on at once
	mostOfKey   = 4 // of these, of one access key
)

// batchPlaces bounds what batches may take of an instance: how many are open, how many of them are one caller's, and how many
// of their lines are worked out at once, so that single calls keep their share of the cores. Its lines count as calls of the key, which paces them (web.Pace).
type batchPlaces struct {
	lines *semaphore.Weighted

	mutex sync.Mutex
	open  int
	of    map[string]int // by access key
}

func newBatchPlaces(cores int) *batchPlaces {
	return &batchPlaces{lines: semaphore.NewWeighted(int64(cores)), of: map[string]int{}}
}

// enter takes room for a batch; leave gives it back. A detail says why there is none. Without access keys everybody is one
// caller, who may take all of it.
func (r *batchPlaces) enter(key string) (leave func(), detail string) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	switch {
	case r.open == mostBatches:
		return nil, fmt.Sprintf("%d batches are being worked on, which is as many as at once.", mostBatches)
	case key != "" && r.of[key] == mostOfKey:
		return nil, fmt.Sprintf("%d batches of this access key are being worked on, which is as many as at once.", mostOfKey)
	}
	r.open++
	r.of[key]++
	return func() {
		r.mutex.Lock()
		defer r.mutex.Unlock()
		r.open--
		if r.of[key]--; r.of[key] == 0 {
			delete(r.of, key)
		}
	}, ""
}
