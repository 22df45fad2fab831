package codetable

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestACodeTableFindsWhatWasAddedInAnyOrder(t *testing.T) {
	t.Parallel()
	var table Table
	require.Equal(t, -1, table.FindText("thing_0"))
	const many = 5000
	for i := range many {
		require.Equal(t, i, table.Add(fmt.Appendf(nil, "thing_%d", i)))
	}
	require.Equal(t, 7, table.Add([]byte("thing_7")), "it is there already")
	cursor := Cursor{Table: &table}
	for i := range 2 * many {
		n := i * 7919 % many // 7919 is a prime: all numbers, scattered, and then a run
		if i >= many {
			n = i - many
		}
		require.Equal(t, n, cursor.FindText(fmt.Sprintf("thing_%d", n)))
	}
	for _, text := range []string{"", "thing", "thing_5000", "thing_1thing_2"} {
		require.Equal(t, -1, cursor.FindText(text))
	}
	require.Equal(t, "thing_0", table.At(0))
	require.Len(t, table.All(), many)
}
