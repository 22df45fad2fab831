package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
)

// What is ruled out before it is laid out: no mix that stands with both kinds takes fewer bolts than was reckoned.
func TestNoMixTakesFewerBoltsThanReckoned(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	tight, ruledOut := 0, 0
	for i := range 400 {
		seam := rapid.Custom(func(t *rapid.T) hardware.Seam { return anySeam(t, 1200) }).Example(i)
		wish := rapid.Custom(anyWish).Example(i)
		for _, m := range hardware.Mixes(seam, wish, cat) {
			both := m.Stands && m.Bolts > 0 && m.Screws > 0
			require.False(t, both && (!m.Can || m.Bolts < m.Least), "%+v of %+v", m, seam)
			if both && m.Bolts == m.Least {
				tight++
			}
			if m.Stands && !m.Can {
				ruledOut++
			}
		}
	}
	require.Positive(t, tight, "reckoned to the bolt")
	require.Positive(t, ruledOut, "stands, but with one kind alone")
}

// What was laid out for another attempt is taken again only where laying it out anew comes to the same.
func TestALayoutTakenAgainIsTheSame(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	again := 0
	for i := range 400 {
		seam := rapid.Custom(func(t *rapid.T) hardware.Seam { return anySeam(t, 1200) }).Example(i)
		remembered, fresh := hardware.Layouts(seam, rapid.Custom(anyWish).Example(i), cat)
		for k := range remembered {
			require.Equal(t, fresh[k].Align, remembered[k].Align)
			require.Equal(t, fresh[k].Places, remembered[k].Places)
			if remembered[k].Again {
				again++
			}
		}
	}
	require.Positive(t, again)
}

// Edges that are ruled out, or alike in both pieces, are left out; the bars are those of all edges.
func TestBarsAreThoseOfAllEdges(t *testing.T) {
	t.Parallel()
	cat := fullShop(t)
	alike := 0
	for i := range 300 {
		seam := rapid.Custom(func(t *rapid.T) hardware.Seam { return anySeam(t, 1200) }).Example(i)
		if len(seam.Sides[0].Edges) > 0 && i%2 == 0 {
			seam.Sides[1].Edges[0], seam.Sides[1].Edges[1] = seam.Sides[0].Edges[0], seam.Sides[0].Edges[1]
			alike++
		}
		for k := range cat.Fasteners {
			if cat.Fasteners[k].Kind == catalogue.Dowel {
				continue
			}
			for _, long := range []bool{false, true} {
				bars, plain := hardware.Bars(seam, &cat.Fasteners[k], long, cat)
				require.Equal(t, plain, bars)
			}
		}
	}
	require.Positive(t, alike)
}
