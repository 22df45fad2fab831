package plan

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
)

// What the cells of the paper say of a place is what all lines and boxes say, one by one: on the paper and beyond its edges.
func TestAPlaceIsFreeOfEverything(t *testing.T) {
	t.Parallel()
	dice := rand.New(rand.NewPCG(7, 11))
	anywhere := func() pen.Point { return pen.At(dice.Float64()*260-20, dice.Float64()*460-20) }
	frees := 0
	for range 60 {
		g := ground{edge: box{-1e3, -1e3, 1e3, 1e3}}
		for range 25 {
			a, b := anywhere(), anywhere()
			switch dice.IntN(4) {
			case 0:
				b.X = a.X
			case 1:
				b.Y = a.Y
			case 2:
				b = pen.At(a.X+dice.Float64(), a.Y+1e-9*dice.Float64())
			}
			g.line(a, b)
			g.keep(around(anywhere(), 20*dice.Float64(), 20*dice.Float64()))
		}
		for range 1000 {
			label := around(anywhere(), 20*dice.Float64(), 8*dice.Float64())
			want, wide := true, label.grow(0.35)
			for i := range g.lines {
				want = want && !g.lines[i].hits(&wide)
			}
			for i := range g.boxes {
				want = want && !overlap(&wide, &g.boxes[i])
			}
			require.Equal(t, want, g.free(label))
			if want {
				frees++
			}
		}
	}
	require.Greater(t, frees, 1000)
}
