package plan

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// A drafter lays out as its plain twin Lay does, which draws each layout by itself, also when it has laid out other tops, refused
// ones too; layouts of one top share their pieces and do not disturb each other, and what was copied out of them stays as it was.
func TestADrafterUsedAgainLaysOutAsANewOne(t *testing.T) {
	t.Parallel()
	laid, shared := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var used Drafter
		var kept, wanted [][]Point
		for range rapid.IntRange(1, 4).Draw(t, "tops") {
			used.Reset()
			var layouts, fresh []*Layout
			var of Top
			var pieces map[int]Piece // of one top, by number
			top, js := drawChain(t)
			inset := rapid.SampledFrom([]measure.Length{0, 12, 900}).Draw(t, "inset")
			for range rapid.IntRange(1, 12).Draw(t, "layouts") {
				if rapid.IntRange(0, 9).Draw(t, "of another top") == 0 {
					top, js = drawChain(t)
				}
				for k := range js {
					js[k] = rapid.SampledFrom(joints).Draw(t, "joint")
				}
				want, wrong := Lay(top, js, 6, inset)
				got, err := used.Lay(&top, js, 6, inset)
				require.Equal(t, wrong, err)
				if !reflect.DeepEqual(of, top) {
					of, pieces = top, map[int]Piece{}
				}
				if err == nil {
					laid++
					layouts, fresh = append(layouts, got), append(fresh, want)
					for i := range got.Pieces { // of one number are the same
						p, number := got.Pieces[i], got.Drawn(i)
						require.Equal(t, -1, want.Drawn(i))
						if known, ok := pieces[number]; ok {
							shared++
							require.Equal(t, known, p)
						}
						pieces[number] = p
					}
				}
			}
			for i := range layouts {
				l := *layouts[i]
				l.drawn = nil // which a layout drawn by itself does not have
				require.Equal(t, *fresh[i], l)
			}
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
	require.Greater(t, shared, 100)
}
