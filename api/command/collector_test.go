package command

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTheCollectorsLimitFollowsWhatLives(t *testing.T) {
	const mib = 1 << 20
	for _, c := range []struct{ live, least, most, want uint64 }{
		{0, 100, 9999, 100},
		{20, 100, 9999, 100},
		{33, 100, 9999, 100},
		{34, 100, 9999, 102},
		{200, 100, 9999, 600},
		{200, 100, 384, 384}, // a container of 512 MiB
		{20, 100, 384, 100},
		{200, 100, 90, 100},
	} {
		require.Equal(t, int64(c.want*mib), limitFor(c.live*mib, int64(c.least*mib), int64(c.most*mib)), "%d MiB live", c.live)
	}
}
