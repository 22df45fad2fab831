package base

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// By hand: a cabinet whose front stands 300 behind the top's, over the whole piece, with arms of 200 in the middle of 60 wide
// brackets at 300, 900 and 1500 of 1800.
func TestAnOverhangOnBracketsSpansAlongTheGrain(t *testing.T) {
	t.Parallel()
	bracket := func(at measure.Length) Part {
		return Part{Kind: Bracket, From: at - 30, To: at + 30, Front: 100, Depth: 200, Place: -1, Supplied: true}
	}
	cabinet := Part{Kind: Cabinet, To: 1800, Front: 300, Depth: 600}
	l := Lay([]Part{cabinet, bracket(900), bracket(300), bracket(1500)}, 0, 1800, 900, [2]bool{})
	require.Len(t, l.Props, 3)
	require.Len(t, l.Parts, 1, "they part nothing of what carries")
	require.Equal(t, []told{
		{support.Overhang, support.Across, AtFront, []measure.Length{100}, 200, 25},
		{support.Spans, support.Along, "", []measure.Length{600, 600}, 300, 0}, // 100 + 600/2, and no wider than the overhang
		{support.Overhang, support.Along, AtStart, []measure.Length{300}, 300, 600},
		{support.Overhang, support.Along, AtEnd, []measure.Length{300}, 300, 600},
		{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
	}, tell(l.Strips(plain())))
	l.Edge = [2]measure.Length{0, 1500} // at an inside corner the neighbour's front edge begins there
	for _, s := range l.Strips(plain()) {
		require.False(t, s.Props && s.Side == AtEnd, "nothing hangs over past the last bracket there")
	}
}

// Brackets that hang in a bay are no props, and neither are those that stand before nothing.
func TestWhatStandsBeforeNothingIsNoProp(t *testing.T) {
	t.Parallel()
	in := Part{Kind: Bracket, From: 1000, To: 1040, Front: 100, Depth: 500, Place: 2}
	l := Lay([]Part{{Kind: Cabinet, To: 800, Depth: 600}, in}, 0, 1800, 600, [2]bool{})
	require.Empty(t, l.Props)
	require.Equal(t, Bracket, l.At(1020).Kind)
	deep := Part{Kind: Bracket, From: 200, To: 240, Front: 50, Depth: 200, Place: 1} // reaches behind the cabinet's front
	require.False(t, InFront(&deep, []Part{{Kind: Cabinet, To: 800, Front: 100, Depth: 500}}))
}

// Every place is as far from its neighbours as the others, the outermost no further from the ends than told; what each bears sums
// up to the whole.
func TestMiddlesAreEvenAndBearTheWhole(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		from := measure.Length(rapid.IntRange(-500, 500).Draw(t, "from"))
		to := from + measure.Length(rapid.IntRange(100, 4000).Draw(t, "length"))
		count := rapid.IntRange(1, 12).Draw(t, "count")
		at := Middles(from, to, count, 150)
		require.Len(t, at, count)
		require.InDelta(t, float64(at[0]-from), float64(to-at[count-1]), 1e-9)
		if count > 1 {
			require.LessOrEqual(t, at[0]-from, measure.Length(150)+1e-9)
		}
		for k := 2; k < count; k++ {
			require.InDelta(t, float64(at[1]-at[0]), float64(at[k]-at[k-1]), 1e-6)
		}
		b := Tributary(from, to, at)
		require.GreaterOrEqual(t, float64(b)*float64(count), float64(to-from)-1e-6, "the most is no less than the mean")
		require.LessOrEqual(t, b, to-from+1e-9)
	})
}

// By hand: 2 kN/m² on 0.6 m of a slab that reaches 0.3 m, and 1 kN at its edge, on an arm of 0.25 m:
// (2000·0.6·0.3²/2 + 1000·0.3)/0.25 = (54 + 300)/0.25 = 1416 N. A leg under it: 2000·0.6·0.3 + 1000 = 1360 N.
func TestWhatABracketAndALegBear(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 1416, float64(ArmLoad(2*measure.Kilopascal, 600, 300, 1000, 250)), 1e-9)
	require.InDelta(t, 1360, float64(PostLoad(2*measure.Kilopascal, 600, 300, 1000)), 1e-9)
}

func TestAPlaceGivesWayToACutOut(t *testing.T) {
	t.Parallel()
	holes := []Hole{{From: 400, To: 600, Front: 50, Depth: 100}}
	at, ok := Beside(450, 20, 100, 300, 10, holes, 0, 1000)
	require.True(t, ok)
	require.InDelta(t, 370, float64(at), 1e-9)
	_, ok = Beside(500, 20, 100, 300, 10, holes, 380, 620)
	require.False(t, ok, "there is no room beside it")
	at, ok = Beside(500, 20, 200, 300, 10, holes, 0, 1000)
	require.True(t, ok)
	require.InDelta(t, 500, float64(at), 1e-9, "it lies behind the cut-out")
}
