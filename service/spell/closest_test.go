package spell

import (
	"fmt"
	"sort"
	"strings"
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

// Who says oak means one of the oaks, not a word of four letters.
func TestAWholePartOfAWordIsNear(t *testing.T) {
	t.Parallel()
	known := []string{"teak", "oak_white", "walnut_black", "oak_red", "soak", "old_oak_sawn", "black_oaks", "cherry_black"}
	require.Equal(t, []string{"oak_red", "oak_white", "old_oak_sawn", "soak", "teak"}, Closest("oak", known, 9))
	require.Equal(t, []string{"black_oaks", "cherry_black"}, Closest("black", known, 2))
	require.Equal(t, []string{"oak_red", "oak_white"}, Closest("oak", known, 2))
	require.Equal(t, []string{"oak_red"}, Closest("oak_red", known, 1))
	require.Empty(t, Closest("", []string{"oak_red", "_x_yz"}, 2))
}

// TestClosestEqualsSortingAll holds the shortcuts against comparing every word to its end.
func TestClosestEqualsSortingAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringMatching(`[abc]{0,9}|[ab]{60,70}`)
		word, known, most := words.Draw(t, "word"), rapid.SliceOfN(words, 0, 30).Draw(t, "known"),
			rapid.IntRange(0, 4).Draw(t, "most")
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

// At the borders of what is shared: a word of up to five letters may differ by two, a longer one by half of itself; words are compared
// by their first 64 bytes; and the alphabet decides between equals, whichever stands first in the list.
func TestBordersOfClosest(t *testing.T) {
	t.Parallel()
	require.Equal(t, []string{"oak"}, Closest("oaken", []string{"oak"}, 3))
	require.Empty(t, Closest("oakens", []string{"oak"}, 3))
	require.Equal(t, []string{"abcdefgh"}, Closest("abcdxxxx", []string{"abcdefgh"}, 3), "four of eight")
	require.Empty(t, Closest("abcxxxxx", []string{"abcdefgh"}, 3))
	for _, known := range [][]string{{"cat", "bat", "rat"}, {"rat", "cat", "bat"}, {"bat", "rat", "cat"}} {
		require.Equal(t, []string{"bat", "cat"}, Closest("at", known, 2))
	}
	require.Empty(t, Closest("at", []string{"bat"}, 0))
	require.Empty(t, Closest("at", []string{"bat"}, -1))
	long := strings.Repeat("a", 64)
	require.Zero(t, Distance(long+"b", long+"c"))
	require.Equal(t, 1, Distance(long[1:]+"b", long))
	require.Equal(t, 64, Distance(long, strings.Repeat("b", 64)))
	d, ok := within("abc", "xyz", 2)
	require.False(t, ok)
	require.Zero(t, d, "not known to the end")
	d, ok = within("abc", "abcdef", 2)
	require.False(t, ok)
	require.Zero(t, d)
	d, ok = within("abc", "axc", 1)
	require.True(t, ok)
	require.Equal(t, 1, d)
}
