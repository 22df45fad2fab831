package spell

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDistance(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"", "oak", 3}, {"kitten", "sitting", 3}, {"flaw", "lawn", 2}, {"walnut_blak", "walnut_black", 1}} {
		require.Equal(t, c.want, Distance(c.a, c.b), "%s %s", c.a, c.b)
		require.Equal(t, c.want, Distance(c.b, c.a), "%s %s", c.b, c.a)
	}
}

func TestClosestLeavesOutWhatSharesTooLittle(t *testing.T) {
	t.Parallel()
	known := []string{"oak_white", "oak_red", "walnut_black", "cherry_black"}
	require.Equal(t, []string{"oak_white"}, Closest("oak_whit", known, 2))
	require.Equal(t, []string{"cherry_black", "walnut_black"}, Closest("chernut_black", known, 2))
	require.Empty(t, Closest("granite_slab", known, 3))
}
