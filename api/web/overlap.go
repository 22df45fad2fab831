package web

import (
	"time"

	"seamwright/api/wire"
)

// defaultOverlap is how long a key or a secret that was rotated stays good beside its successor.
const defaultOverlap = 24 * time.Hour

// ReadOverlap reads how long that is to be.
func ReadOverlap(o *wire.Object) time.Duration {
	if !o.Has("overlap_hours") {
		return defaultOverlap
	}
	return time.Duration(o.Whole("overlap_hours")) * time.Hour
}
