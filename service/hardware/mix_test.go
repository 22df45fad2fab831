package hardware_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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
