package labour_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/labour"
)

// Up to three days a wait is told in hours, beyond them in days.
func TestLongWaitsAreToldInDays(t *testing.T) {
	t.Parallel()
	for _, wait := range []struct {
		hours, amount float64
		inDays        bool
	}{{0, 0, false}, {12, 12, false}, {72, 72, false}, {84, 3.5, true}, {3912, 163, true}} {
		step := labour.Step{WaitHours: wait.hours}
		amount, inDays := step.Wait()
		require.InDelta(t, wait.amount, amount, 1e-12, wait.hours)
		require.Equal(t, wait.inDays, inDays, wait.hours)
	}
}
