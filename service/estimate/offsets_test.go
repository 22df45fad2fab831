package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/store/demotest"
)

// Offsets that are much for a wall are asked back, once for each wall, and those that are no wall of their edge are refused. A string may be
// held as far before its wall as one likes, and turned a little.
func TestOffsetsThatAreMuchAreAskedBack(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	bulge := func(off measure.Length) []measure.Length { return []measure.Length{0, 0, 48 * in, off, 96 * in, 0} }
	for name, c := range map[string]struct {
		offsets     []measure.Length
		deep, slope string // what is asked
		refused     string
	}{
		"an old wall":       {bulge(1 * in), "", "", ""},
		"in another unit":   {bulge(8 * in), "lie up to 8 in apart", "", ""},
		"bulging":           {bulge(-8 * in), "at the wall of run A lie up to 8 in apart", "", ""},
		"just two":          {bulge(49), "", "", ""},
		"just over":         {bulge(51), "seldom out by more than 1 in (25 mm)", "", ""},
		"held far before":   {[]measure.Length{0, 30 * in, 48 * in, 30.5 * in, 96 * in, 30 * in}, "", "", ""},
		"held awry":         {[]measure.Length{0, 0, 96 * in, 96 * in / 10}, "", "5.7° off", ""}, // atan 1/10
		"a little awry":     {[]measure.Length{0, 0, 96 * in, 96 * in / 21}, "", "", ""},
		"the other way":     {[]measure.Length{0, 96 * in / 10, 96 * in, 0}, "", "5.7° off", ""},
		"deeper than slabs": {bulge(30 * in), "", "", "off a straight line, and the slab reaches"},
	} {
		o := walled(deskA(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(c.offsets...)})
		e, err := estimate.Make(o, cat)
		if c.refused != "" {
			f := fault.All(err)
			require.Len(t, f, 1, name)
			require.Equal(t, "/site/walls/0/offsets", f[0].Pointer, name)
			require.Contains(t, f[0].Detail, c.refused, name)
			require.Contains(t, f[0].Fix, `read in "in"`, name)
			continue
		}
		require.NoError(t, err, name)
		for code, want := range map[string]string{"offsets_deep": c.deep, "string_off_wall": c.slope} {
			if got := warningOf(e, code); want == "" {
				require.Empty(t, got, name)
			} else {
				require.Contains(t, got, want, name)
			}
		}
	}
}

// A run of pieces has one wall.
func TestTheOffsetsOfARunOfPiecesAreAskedBackOnce(t *testing.T) {
	t.Parallel()
	o := walled(deskA(), estimate.WallOrder{Run: "A", Edge: estimate.AtWall, Offsets: offsets(0, 0, 48*in, 8*in, 96*in, 0)})
	o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: 48 * in}}
	e, err := estimate.Make(o, demotest.Catalogue(t))
	require.NoError(t, err)
	n := 0
	for _, w := range e.Warnings {
		if w.Code == "offsets_deep" {
			n++
			require.Equal(t, "/site/walls/0/offsets", w.Pointer)
			require.Contains(t, w.Text, "at the wall of run A lie up to 8 in apart")
		}
	}
	require.Equal(t, 1, n)
}
