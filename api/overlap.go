package api

import "time"

// defaultOverlap is how long a key or a secret that was rotated stays good beside its successor.
const defaultOverlap = 24 * time.Hour

// readOverlap reads how long that is to be.
func readOverlap(o *object) time.Duration {
	if !o.has("overlap_hours") {
		return defaultOverlap
	}
	return time.Duration(o.whole("overlap_hours")) * time.Hour
}
