package spell

import (
	"fmt"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
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

// TestClosestEqualsSortingAll holds the shortcuts against comparing every word to its end.
func TestClosestEqualsSortingAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`[abc]{0,9}|[ab]{60,70}`)
		word, known, most := words.Draw(t, "word"), rapid.SliceOfN(words, 0, 30).Draw(t, "known"), rapid.IntRange(0, 4).Draw(t, "most")
		want := []string{}
		for _, k := range known {
			if Distance(word, k) <= max(2, len(k)/2) {
				want = append(want, k)
			}
		}
		sort.Slice(want, func(i, j int) bool {
			a, b := Distance(word, want[i]), Distance(word, want[j])
			return a < b || a == b && want[i] < want[j]
		})
		require.Equal(t, want[:min(most, len(want))], Closest(word, known, most))
	})
}

// BenchmarkClosest looks for the near codes of an unknown one among a million.
func BenchmarkClosest(b *testing.B) {
	known := make([]string, 1_000_000)
	for i := range known {
		known[i] = fmt.Sprintf("screw_%07d_%dmm", i, 10+i%90)
	}
	b.ReportAllocs()
	for b.Loop() {
		Closest("screw_04821x7_55mm", known, 2)
	}
}
