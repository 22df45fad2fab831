package webhook

import "time"

const (
	firstWait = 40 * time.Second
	mostTries = 12
)

// Again is how long to wait after so many failed attempts: 40 s, then twice as long each time, almost a day in all; ok is
// false when the delivery is to be given up.
func Again(failed int) (wait time.Duration, ok bool) {
	if failed >= mostTries {
		return 0, false
	}
	return firstWait << (failed - 1), true
}
