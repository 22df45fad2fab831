package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// By hand, with fingers of 1/2 in, an end trim of 1 in and staves 2 in longer than their blank, from boards of 144 in: a stave of
// 200 in begins 2 in before the piece's tip. In two of 0.4 and 0.6 it is 80 and 120 in, each with half a finger at its joint,
// which lies 78 in from the tip. One of 300 in does not go in two (180 in); in three it is 75, 120 and 105 in, the middle one
// with half a finger at both ends. One of 400 in does not go in three either (160 in).
func TestLongStavesAreJoinedByHand(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	set := cat.Settings
	set.FingerLength, set.EndTrim, set.StaveTrim = in/2, in, 2*in
	for _, c := range []struct {
		stave  measure.Length
		parts  [3]float64
		places [2]float64
		count  int
	}{
		{144, [3]float64{}, [2]float64{}, 0},
		{200, [3]float64{80.25, 120.25}, [2]float64{78}, 2},
		{300, [3]float64{75.25, 120.5, 105.25}, [2]float64{73, 193}, 3},
		{400, [3]float64{}, [2]float64{}, 0},
	} {
		b := Blank{Length: (c.stave - 2) * in, StaveLength: c.stave * in, Staves: 7, Rough: 2 * in, StaveRip: 4 * in, Fingers: true}
		b.join(144*in, &set)
		require.Equal(t, c.count, b.Joined.Count)
		for i, want := range c.parts {
			require.InDelta(t, want, b.Joined.Parts[i].Inches(), 1e-9, "%v: part %d", c.stave, i)
		}
		for i, want := range c.places {
			require.InDelta(t, want, b.Joined.Places[i].Inches(), 1e-9, "%v: joint %d", c.stave, i)
		}
		require.Equal(t, 7*max(1, c.count), b.Parts())
		joints := 7 * max(0, c.count-1)
		require.Equal(t, joints, b.EndJoints())
		require.InDelta(t, float64(joints)*2*4*0.5/144, b.BoardFeet, 1e-9, "each joint takes a finger's length more")
		// both flanks of fingers every 3.8 mm, over the section: 2·12.7/3.8 times as much
		require.InDelta(t, float64(joints)*2*4*25.4/3.8, b.fingerArea(&set).SquareFeet()*144, 1e-6)
		b.Thickness = 1.5 * in
		require.InDelta(t, 6*float64(c.stave-2)*(1.5+1.0/16)+b.fingerArea(&set).SquareFeet()*144,
			b.GlueArea(&set).SquareFeet()*144, 1e-6)
	}
	whole := Blank{Length: 198 * in, StaveLength: 200 * in, Staves: 7}
	whole.join(144*in, &set)
	require.Zero(t, whole.Joined, "not for joining")
}

// The longest stave that can be joined goes, a hair more does not.
func TestTheLongestStaveThatCanBeJoined(t *testing.T) {
	t.Parallel()
	set := yard(t).Settings
	for _, board := range []measure.Length{2000, 3600} {
		for longer, joined := range map[measure.Length]bool{-0.01: true, 0.01: false} {
			b := Blank{StaveLength: LongestJoined(board, &set) + longer, Staves: 1, Fingers: true}
			b.Length = b.StaveLength - set.StaveTrim
			b.join(board, &set)
			require.Equal(t, joined, b.Joined.Count > 0, "%v", board)
		}
	}
}

// Joined staves are bought part by part.
func TestPartsOfJoinedStavesAreBought(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	m := cat.MaterialByCode("ash_8_4")
	s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
	b := BlankOf(196*in, 25.5*in, 1.5*in, &cat.Settings)
	b.Fingers = true
	_, _, err := s.Cut([]Slab{{"A", &b}}, &cat.Settings, ByPack)
	require.NoError(t, err)
	require.Equal(t, 2, b.Joined.Count)
	require.Len(t, s.demands, 2)
	for i := range s.demands {
		require.Equal(t, b.Joined.Parts[i], s.demands[i].Length)
		require.Equal(t, 7, s.demands[i].Count)
		require.Equal(t, StripPiece{"A", b.Joined.Parts[i]}, s.pieces[i])
	}
}
