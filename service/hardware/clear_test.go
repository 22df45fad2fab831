package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// What is ruled out at a glance is what working it out finds clear.
func TestEdgesRuledOutBarNothing(t *testing.T) {
	t.Parallel()
	out, in := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			draw := func(low, high float64, name string) measure.Length {
				return measure.Length(rapid.Float64Range(low, high).Draw(t, name))
			}
			p := box("slot", 0, draw(1, 40, "half"), draw(1, 90, "deep"), 0)
			if rapid.Bool().Draw(t, "round") {
				p = Footprint{Rows: [3]FootprintRow{{0, draw(10, 90, "off")}}, Count: 1, Radius: draw(5, 30, "radius")}
			}
			e := Edge{From: Place{draw(-200, 800, "x"), draw(-150, 250, "y")},
				To: Place{draw(-200, 800, "to x"), draw(-150, 250, "to y")}, Clear: draw(1, 13, "clear")}
			_, _, bars := p.stretch(&e, p.Radius+e.Clear)
			switch clear := p.clearOf(&e, p.Radius+e.Clear); {
			case clear && bars:
				t.Fatal("an edge that was ruled out bars a stretch")
			case clear:
				out++
			case bars:
				in++
			}
		}
	})
	require.Positive(t, out)
	require.Positive(t, in)
}
