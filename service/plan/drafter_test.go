package plan

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// A drafter that has laid out other tops, refused ones too, lays out as a new one does; layouts of one top do not
// disturb each other, and what was copied out of them stays as it was.
func TestADrafterUsedAgainLaysOutAsANewOne(t *testing.T) {
	t.Parallel()
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		var used Drafter
		var kept, wanted [][]Point
		for range rapid.IntRange(1, 4).Draw(t, "tops") {
			used.Reset()
			var layouts, fresh []*Layout
			for range rapid.IntRange(1, 6).Draw(t, "layouts") {
				top, js := drawChain(t)
				inset := rapid.SampledFrom([]measure.Length{0, 12, 900}).Draw(t, "inset")
				want, wrong := Lay(top, js, 6, inset)
				got, err := used.Lay(&top, js, 6, inset)
				require.Equal(t, wrong, err)
				if err == nil {
					laid++
					layouts, fresh = append(layouts, got), append(fresh, want)
				}
			}
			require.Equal(t, fresh, layouts)
			for i, l := range layouts {
				outline, front, none := l.Outline, l.Front, []Point(nil)
				Own(&outline, &none, &front)
				require.Nil(t, none)
				kept, wanted = append(kept, outline, front), append(wanted, fresh[i].Outline, fresh[i].Front)
			}
		}
		used.Reset()
		top, js := drawChain(t)
		if _, err := used.Lay(&top, js, 6, 6); err == nil {
			laid++
		}
		require.Equal(t, wanted, kept)
	})
	require.Greater(t, laid, 100)
}
