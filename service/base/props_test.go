package base

import (
	"cmp"
	"slices"
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
	require.Equal(t, Bracket, l.Under(1020)[0].Kind)
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
	at, other, ok := Beside(450, 20, 100, 300, 10, holes, 0, 1000)
	require.True(t, ok)
	require.InDelta(t, 370, float64(at), 1e-9)
	require.InDelta(t, 370, float64(other), 1e-9, "the other side is further")
	at, other, ok = Beside(500, 20, 100, 300, 10, holes, 0, 1000)
	require.True(t, ok)
	require.Equal(t, [2]measure.Length{370, 630}, [2]measure.Length{at, other}, "it is as far to either side")
	_, _, ok = Beside(500, 20, 100, 300, 10, holes, 380, 620)
	require.False(t, ok, "there is no room beside it")
	at, _, ok = Beside(500, 20, 200, 300, 10, holes, 0, 1000)
	require.True(t, ok)
	require.InDelta(t, 500, float64(at), 1e-9, "it lies behind the cut-out")
}

// By hand: a cabinet from 600 to 1000 whose front stands 300 behind the top's, with legs 100 wide before it; loads spread by 2.
func TestAnOverhangOnLegs(t *testing.T) {
	t.Parallel()
	leg := func(at, front measure.Length) Part {
		return Part{Kind: Legs, From: at - 50, To: at + 50, Front: front, Depth: 60, Place: int(at)}
	}
	along := support.Along
	for _, c := range []struct {
		name string
		legs []Part
		want []Strip
	}{
		{"one", []Part{leg(750, 40)}, []Strip{
			{support.Overhang, support.Across, AtFront, 600, 1000, []measure.Length{40}, 180, 25, 750, true},
			{support.Overhang, along, AtStart, 600, 750, []measure.Length{150}, 175, 100, 750, true},
			{support.Overhang, along, AtEnd, 750, 1000, []measure.Length{250}, 225, 100, 750, true},
		}},
		{"two, the second further back", []Part{leg(700, 30), leg(900, 40)}, []Strip{
			{support.Overhang, support.Across, AtFront, 600, 1000, []measure.Length{40}, 180, 25, 700, true},
			{support.Span, along, "", 700, 900, []measure.Length{200}, 150, 0, 700, true},
			{support.Overhang, along, AtStart, 600, 700, []measure.Length{100}, 150, 200, 700, true},
			{support.Overhang, along, AtEnd, 900, 1000, []measure.Length{100}, 150, 200, 700, true},
		}},
		{"one far behind the front: no wider than the part", []Part{leg(750, 190)}, []Strip{
			{support.Overhang, support.Across, AtFront, 600, 1000, []measure.Length{190}, 400, 25, 750, true},
			{support.Overhang, along, AtStart, 600, 750, []measure.Length{150}, 175, 100, 750, true},
			{support.Overhang, along, AtEnd, 750, 1000, []measure.Length{250}, 225, 100, 750, true},
		}},
		{"three at the edges and between them, at the very front", []Part{leg(600, 0), leg(750, 0), leg(1000, 0)}, []Strip{
			{support.Spans, along, "", 600, 1000, []measure.Length{150, 250}, 162.5, 0, 600, true},
		}},
	} {
		cabinet := Part{Kind: Cabinet, From: 600, To: 1000, Front: 300, Depth: 600, Place: 1}
		l := Lay(append([]Part{cabinet}, c.legs...), 0, 1600, 900, [2]bool{})
		require.Len(t, l.Props, len(c.legs), c.name)
		var got []Strip
		for _, w := range l.Strips(wide()) {
			if w.Props {
				got = append(got, w.Strip)
			}
		}
		require.Equal(t, c.want, got, c.name)
	}
}

func TestTheFrontEdgeOverAPart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ edge, want [2]measure.Length }{
		{[2]measure.Length{}, [2]measure.Length{600, 1000}},
		{[2]measure.Length{700, 700}, [2]measure.Length{600, 1000}},
		{[2]measure.Length{700, 900}, [2]measure.Length{700, 900}},
		{[2]measure.Length{0, 2000}, [2]measure.Length{600, 1000}},
	} {
		l := Line{Edge: c.edge}
		from, to := l.FrontEdge(600, 1000)
		require.Equal(t, c.want, [2]measure.Length{from, to}, "%v", c.edge)
	}
}

func TestMiddlesByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from, to measure.Length
		count    int
		want     []measure.Length
	}{
		{100, 1100, 1, []measure.Length{600}},
		{100, 1100, 3, []measure.Length{250, 600, 950}},
		{100, 1100, 2, []measure.Length{250, 950}},
		{100, 500, 3, []measure.Length{200, 300, 400}}, // 150 would be further than from one to the next
	} {
		require.Equal(t, c.want, Middles(c.from, c.to, c.count, 150))
	}
	for want, at := range map[measure.Length][]measure.Length{1000: {1000}, 425: {250, 800, 1000}, 400: {200, 500, 1000}, 550: {500, 800, 950}} {
		require.Equal(t, want, Tributary(100, 1100, at), "%v", at)
	}
}

// A place of 20 to either side, between 0 and 1000, beside a cut-out from 400 to 600 that lies from 50 to 150 behind the front and is
// left clear by 10.
func TestPlacesBesideACutOut(t *testing.T) {
	t.Parallel()
	hole := Hole{From: 400, To: 600, Front: 50, Depth: 100}
	for _, c := range []struct {
		name            string
		at, front, back measure.Length
		from, to        measure.Length
		more            []Hole
		want            measure.Length
		stays           bool
	}{
		{"it touches", 370, 0, 300, 0, 1000, nil, 370, true},
		{"a little too near", 371, 0, 300, 0, 1000, nil, 370, true},
		{"it touches the other side", 630, 0, 300, 0, 1000, nil, 630, true},
		{"a little too near to the other side", 629, 0, 300, 0, 1000, nil, 630, true},
		{"in the middle: the earlier of two as near", 500, 0, 300, 0, 1000, nil, 370, true},
		{"before it", 500, 0, 50, 0, 1000, nil, 500, true},
		{"a little under it", 500, 0, 51, 0, 1000, nil, 370, true},
		{"behind it", 500, 150, 300, 0, 1000, nil, 500, true},
		{"a little under its back", 500, 149, 300, 0, 1000, nil, 370, true},
		{"just room before it", 500, 0, 300, 370, 620, nil, 370, true},
		{"just room behind it", 450, 0, 300, 380, 630, nil, 630, true},
		{"another one is in the way", 451, 0, 300, 0, 1000, []Hole{{From: 300, To: 350, Front: 50, Depth: 100}}, 630, true},
		{"another one is in the way at either side", 500, 0, 300, 0, 1000,
			[]Hole{{From: 300, To: 350, Front: 50, Depth: 100}, {From: 650, To: 700, Front: 50, Depth: 100}}, 270, true},
		{"at the start", 0, 0, 300, 0, 1000, nil, 0, true},
		{"at the end", 1000, 0, 300, 0, 1000, nil, 1000, true},
		{"before the start", -1, 0, 300, 0, 1000, nil, -1, false},
		{"past the end", 1001, 0, 300, 0, 1000, nil, 1001, false},
	} {
		at, _, stays := Beside(c.at, 20, c.front, c.back, 10, append(c.more, hole), c.from, c.to)
		require.Equal(t, c.stays, stays, c.name)
		require.Equal(t, c.want, at, c.name)
	}
}

// A prop belongs to the stretch that its middle lies over, its ends included.
func TestPropsUnderAStretch(t *testing.T) {
	t.Parallel()
	l := Line{Props: []Part{{From: 60, To: 100}, {From: 100, To: 140}, {From: 460, To: 500}, {From: 500, To: 540}}}
	require.Equal(t, l.Props, (&telling{Line: &l, Memory: new(Memory)}).propsUnder(80, 520))
	require.Equal(t, l.Props[1:3], (&telling{Line: &l, Memory: new(Memory)}).propsUnder(81, 519))
}

// What reaches past brackets or legs across the grain is as long, as wide and as well held however many of them there are, so that one
// that does not hold never will: under a front overhang and in a bay.
func TestMorePropsShortenNothingAcrossTheGrain(t *testing.T) {
	t.Parallel()
	looked := 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, from, to int) measure.Length {
			return measure.Length(rapid.IntRange(from, to).Draw(t, name))
		}
		kind, front := rapid.SampledFrom([]Kind{Bracket, Legs}).Draw(t, "kind"), rapid.Bool().Draw(t, "front")
		from, to, overhang := draw("from", 0, 900), draw("to", 1500, 2400), draw("overhang", 200, 500)
		told := []Part{part(Cabinet, 0, from), {Kind: Open, From: from, To: to, Place: 1}, part(Cabinet, to, 2400)}
		p := Part{Kind: kind, Front: draw("tip", 30, 180), Place: -1}
		p.Depth = overhang - p.Front
		if !front {
			p.Depth = 600 - p.Front
		} else {
			told[1] = Part{Kind: Cabinet, From: from, To: to, Front: overhang, Depth: 600 - overhang, Place: 1}
		}
		across := func(count int) (all []past) {
			parts := slices.Clone(told)
			for _, at := range Middles(from, to, count, 200) {
				p.From, p.To = at-20, at+20
				parts = append(parts, p)
			}
			l := Lay(parts, 0, 2400, 600, [2]bool{})
			for _, s := range l.Strips(plain(Hole{From: 1000, To: 1300, Front: 100, Depth: 300})) {
				if s.Direction == support.Across && s.Side != "" && (s.Place < 0 || s.Props) {
					all = append(all, past{s.Side, s.Lengths[0], s.Width, s.Back})
				}
			}
			slices.SortFunc(all, func(a, b past) int { return cmp.Compare(a.length, b.length) })
			return slices.Compact(all)
		}
		one := across(1)
		looked += len(one)
		for count := 2; (to-from)/measure.Length(count) >= 150; count++ {
			require.Equal(t, one, across(count))
		}
	})
	require.Positive(t, looked)
}

// past is what decides whether an overhang holds.
type past struct {
	side                Side
	length, width, back measure.Length
}
