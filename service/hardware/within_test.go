package hardware

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Of what bars places only what reaches between two of them is looked at: not what ends where they begin.
func TestWhatLiesOutsideBindsNothing(t *testing.T) {
	t.Parallel()
	r := metre()
	for name, c := range map[string]struct {
		from, to measure.Length
		binds    bool
	}{
		"before":          {100, 150, false},
		"up to the first": {100, 200, false},
		"over the first":  {100, 201, true},
		"between":         {400, 500, true},
		"over the last":   {799, 900, true},
		"from the last":   {800, 900, false},
		"behind":          {850, 900, false},
		"over all":        {0, 1000, true},
	} {
		r.pullBars = []bar{{from: c.from, to: c.to, play: never}}
		require.Len(t, r.barsWithin(nil, 200, 800), map[bool]int{true: 1}[c.binds], name)
		// A slot of 20 mm stands 10 mm off a wall.
		r.slotFrom, r.slotTo = 200, 800
		r.slotWalls = []Interval{{From: c.from + 10, To: c.to - 10}}
		require.Len(t, r.wallsWithin(nil), map[bool]int{true: 1}[c.binds], name)
	}
}

// Pull parts that find a place every 105 mm only, at most 200 mm apart, stand in each of them: ten where six would do, and more in
// a longer seam. The last count stands for all that are more.
func TestASeamThatNeedsManyMorePullParts(t *testing.T) {
	t.Parallel()
	for _, windows := range []int{10, 12} {
		r := metre()
		r.pullSpacing = 200
		r.length = measure.Length(windows-1)*105 + 140
		r.back, r.pullTo, r.slotTo, r.pullLast, r.alignLast = r.length, r.length, r.length, r.length-80, r.length-76
		for i := range windows - 1 {
			at := 70 + 105*measure.Length(i)
			r.pullBars = append(r.pullBars, bar{from: at + 1, to: at + 104, play: never})
		}
		l := layout{work: &coverage{}}
		require.True(t, r.search(&l))
		require.Len(t, l.pulls, windows, "%v", l.pulls)
		require.True(t, r.alignsStand(l.aligns, l.pulls))
		for i, at := range l.pulls {
			require.True(t, r.pullKeeps(&l, i), "%v", l.pulls)
			if i > 0 && i < windows-1 {
				require.InDelta(t, 70+105*float64(i), float64(at), 1.001)
			}
		}
	}
}

// The three tangents that stand for the arc of a cutter leave none of it out, and reach at most 1 mm beyond it.
func TestAFootprintCoversTheCuttersArc(t *testing.T) {
	t.Parallel()
	for _, cutter := range []measure.Length{98, 100, 105} {
		for _, part := range []catalogue.Fastener{{Kind: catalogue.Biscuit, Width: 56, Length: 23}, {Kind: catalogue.Biscuit, Width: 47, Length: 15},
			{Kind: catalogue.Biscuit, Width: 70, Length: 23}} {
			s := &catalogue.Settings{BiscuitCutter: cutter, SlotAllowance: 3}
			p := slotFootprint(&part, 0, s)
			require.Equal(t, 3, p.Count)
			r, deep := float64(cutter)/2, float64(plunge(&part))
			arc := func(in float64) float64 { return math.Sqrt(max(0, r*r-(in+r-deep)*(in+r-deep))) }
			more := float64(p.Rows[0].Half) - arc(0) // for the play of what is wider than the cut
			require.GreaterOrEqual(t, more, -1e-9)
			for k := range p.Count - 1 {
				a, b := p.Rows[k], p.Rows[k+1]
				require.Less(t, a.In, b.In)
				for share := 0.0; share <= 1; share += 1.0 / 64 {
					in, half := float64(a.In)+share*float64(b.In-a.In), float64(a.Half)+share*float64(b.Half-a.Half)
					require.GreaterOrEqual(t, half, arc(in)+more-1e-9, "%v mm deep", in)
				}
				require.LessOrEqual(t, math.Hypot(float64(b.Half)-more, float64(b.In)+r-deep), r+1)
			}
			require.InDelta(t, deep, float64(p.Rows[2].In), 1e-9, "as deep as the slot")
		}
	}
}
