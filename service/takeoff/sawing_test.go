package takeoff

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
)

// Worked by hand: of three boards of 2400 two are cut into two strips each (5 strips asked for would be too many), the
// third is spare. Staves are numbered within their blank, a kerf of 3 lies between them, and a leftover as long as the
// shortest offcut is kept.
func TestBoardsAtTheSaw(t *testing.T) {
	t.Parallel()
	pieces := []StripPiece{{"A", 1000}, {"B", 900}}
	lumber := WoodPlan{StripsPerBoard: 2, StripWidth: 95, Kerf: 3, Offcuts: []measure.Length{497, 100},
		Boards: []BoardCount{{Length: 2400, Planned: 2, Buy: 3}},
		Strips: []StripCut{{2400, 2, pieces, 497}, {2400, 1, []StripPiece{{"A", 1000}, {"A", 1000}}, 100},
			{2400, 1, []StripPiece{{"B", 900}}, 99}}}
	lumber.Material = "oak"
	panel := WoodPlan{Material: "panel_2400", StripsPerBoard: 1, Kerf: 3, Boards: []BoardCount{{Material: "panel_1800", Length: 1800, Planned: 1, Buy: 1}},
		Strips: []StripCut{{1800, 1, []StripPiece{{"C", 1750}}, 50}}}
	blanks := map[string]*Blank{"A": {Staves: 4, StaveRip: 90}, "B": {Staves: 3, StaveRip: 95}, "C": {}}
	got := Sawing([]WoodPlan{lumber, panel}, func(run string) *Blank { return blanks[run] })
	first := func(a, b int) Strip {
		return Strip{Rip: 95, Leftover: 497, Keep: true, Staves: []Stave{{"A", a, 0, 1000, 90}, {"B", b, 1003, 900, 95}}}
	}
	require.Equal(t, [][]Board{
		{{1, "oak", 2400, false, []Strip{first(1, 1), first(2, 2)}},
			{2, "oak", 2400, false, []Strip{{Rip: 90, Leftover: 100, Keep: true, Staves: []Stave{{"A", 3, 0, 1000, 90}, {"A", 4, 1003, 1000, 90}}},
				{Rip: 95, Leftover: 99, Staves: []Stave{{"B", 3, 0, 900, 95}}}}},
			{3, "oak", 2400, true, nil}},
		{{4, "panel_1800", 1800, false, []Strip{{Leftover: 50, Staves: []Stave{{"C", 0, 0, 1750, 0}}}}}},
	}, got)
	require.InDelta(t, 95+3+95, float64(lumber.LeastWidth()), 1e-12)
	for n, want := range []float64{95 + 3 + 95, 90 + 3 + 95, 95 + 3 + 95} { // the spare one may have to give the widest
		require.InDelta(t, want, float64(got[0][n].LeastWidth(&lumber)), 1e-12, "board %d", n+1)
	}
	half := Board{Strips: []Strip{{Rip: 90}, {Keep: true}}}
	require.InDelta(t, 90+3+95, float64(half.LeastWidth(&lumber)), 1e-12, "a strip that is kept whole")
	require.Zero(t, got[1][0].LeastWidth(&panel))
	require.Zero(t, (&WoodPlan{StripsPerBoard: 2, Kerf: 3}).LeastWidth(), "its strips' width was not kept")
}

// Without an offcut worth keeping nothing is kept, not even a leftover of no length.
func TestNothingIsKeptWhereNoOffcutIs(t *testing.T) {
	t.Parallel()
	w := WoodPlan{StripsPerBoard: 1, Boards: []BoardCount{{Length: 900, Planned: 1, Buy: 1}},
		Strips: []StripCut{{900, 1, []StripPiece{{"A", 900}}, 0}}}
	got := Sawing([]WoodPlan{w}, func(string) *Blank { return nil })
	require.False(t, got[0][0].Strips[0].Keep)
	w.Offcuts = []measure.Length{0}
	got = Sawing([]WoodPlan{w}, func(string) *Blank { return nil })
	require.True(t, got[0][0].Strips[0].Keep, "a shop that keeps all of them")
}

// A board of which fewer strips are told than it gives has those that are told.
func TestABoardOfWhichAStripIsMissing(t *testing.T) {
	t.Parallel()
	w := WoodPlan{StripsPerBoard: 2, Boards: []BoardCount{{Length: 900, Planned: 2, Buy: 2}},
		Strips: []StripCut{{900, 3, []StripPiece{{"A", 800}}, 97}}}
	got := Sawing([]WoodPlan{w}, func(string) *Blank { return nil })[0]
	require.Equal(t, []int{2, 1}, []int{len(got[0].Strips), len(got[1].Strips)})
}
