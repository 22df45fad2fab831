package command

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheCollectorsLimitFollowsWhatLives(t *testing.T) {
	const mib = 1 << 20
	for _, c := range []struct{ live, least, want uint64 }{
		{0, 100, 100},
		{20, 100, 100},
		{33, 100, 100},
		{34, 100, 102},
		{200, 100, 600},
	} {
		require.Equal(t, int64(c.want*mib), limitFor(c.live*mib, int64(c.least*mib)), "%d MiB live", c.live)
	}
}
