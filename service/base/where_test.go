package base

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// wide spreads a load twice as far along the grain as across it, with rails of 50 mm.
func wide(holes ...Hole) *Slab { return &Slab{Spread: 2, Rail: 50, Hold: 100, Holes: holes} }

// strips are without what makes them longer and shorter.
func strips(ways []Way) (out []Strip) {
	for _, w := range ways {
		out = append(out, w.Strip)
	}
	return out
}

func carrier(kind Kind, from, to measure.Length, place int) Part {
	return Part{Kind: kind, From: from, To: to, Front: 30, Depth: 500, Place: place}
}

func bay(from, to measure.Length, place int) Part {
	return Part{Kind: Open, From: from, To: to, Place: place}
}

// counter is two cabinets that stand alike, a bay, a pair of legs and an end that hangs over.
func counter() Line {
	return Lay([]Part{carrier(Cabinet, 0, 600, 0), carrier(Cabinet, 600, 1100, 1), bay(1100, 1900, 2), carrier(Legs, 1900, 2000, 3),
		bay(2000, 2400, 4)}, 0, 2400, 600, [2]bool{})
}

// By hand: widths are 100 and the length times 2 across the grain, times 1/2 along it, of a span half of that.
func TestWhereStripsLieAndWhatTheyAreAbout(t *testing.T) {
	t.Parallel()
	l := counter()
	ways := l.Strips(wide())
	require.Equal(t, []Strip{
		{support.Overhang, support.Across, AtFront, 0, 1100, []measure.Length{30}, 160, 25, 0, false},
		{support.Overhang, support.Across, AtWall, 0, 1100, []measure.Length{70}, 240, 25, 0, false},
		{support.Overhang, support.Across, AtFront, 1900, 2000, []measure.Length{30}, 160, 25, 3, false},
		{support.Overhang, support.Across, AtWall, 1900, 2000, []measure.Length{70}, 240, 25, 3, false},
		{support.Span, support.Across, "", 0, 600, []measure.Length{400}, 500, 0, 0, false},
		{support.Span, support.Across, "", 600, 1100, []measure.Length{400}, 500, 0, 1, false},
		{support.Span, support.Along, "", 1100, 1950, []measure.Length{850}, 312.5, 0, 2, false},
		{support.Overhang, support.Along, AtEnd, 1950, 2400, []measure.Length{450}, 325, 850, 4, false},
	}, strips(ways))
	require.Equal(t, Strip{support.Span, support.Along, "", 0, 600, []measure.Length{600}, 250, 0, 0, false}, ways[4].Instead.Strip)
	require.Equal(t, Strip{support.Span, support.Along, "", 600, 1100, []measure.Length{500}, 225, 0, 1, false}, ways[5].Instead.Strip)
	require.Equal(t, []measure.Length{60, 20}, must((&Way{Strip: Strip{Lengths: []measure.Length{30, 10}}}).Scaled(2, nil)).Lengths)

	mirror := make([]Part, 0, 5)
	for _, p := range counter().Parts {
		p.From, p.To = 2400-p.To, 2400-p.From
		mirror = append(mirror, p)
	}
	l = Lay(mirror, 0, 2400, 600, [2]bool{})
	last := strips(l.Strips(wide()))
	require.Equal(t, Strip{support.Overhang, support.Along, AtStart, 0, 450, []measure.Length{450}, 325, 850, 4, false}, last[len(last)-1])
	require.Equal(t, Strip{support.Span, support.Along, "", 450, 1300, []measure.Length{850}, 312.5, 0, 2, false}, last[len(last)-2])
}

// Another wood spreads a load otherwise: giving the strips its spread is the same as finding them with it.
func TestAnotherWoodsStripsAreTheSameStrips(t *testing.T) {
	t.Parallel()
	propped := Lay([]Part{{Kind: Cabinet, To: 1800, Front: 300, Depth: 600},
		{Kind: Legs, From: 200, To: 280, Front: 60, Depth: 80, Place: 1}, {Kind: Legs, From: 900, To: 980, Front: 40, Depth: 80, Place: 2}},
		0, 2400, 900, [2]bool{})
	for _, l := range []Line{counter(), propped} {
		of := func(spread float64) []Way {
			s := wide()
			s.Spread = spread
			return l.Strips(s)
		}
		ways := of(1.3)
		for i := range ways {
			ways[i].Respread(2.2)
		}
		require.Equal(t, of(2.2), ways)
	}
}

// Carriers of 100 at 450 and 1450 of 1900: seams at the ends carry the beam on, where they are further than 100 from what carries.
func TestSeamsCarryTheBeamOn(t *testing.T) {
	t.Parallel()
	type span struct {
		lengths []measure.Length
		side    Side
		back    measure.Length
	}
	for _, c := range []struct {
		name string
		seam [2]bool
		hold measure.Length
		want []span
	}{
		{"none", [2]bool{}, 100, []span{{[]measure.Length{1000}, "", 0}, {[]measure.Length{450}, AtStart, 1000}, {[]measure.Length{450}, AtEnd, 1000}}},
		{"at the start", [2]bool{true, false}, 100, []span{{[]measure.Length{450, 1000}, "", 0}, {[]measure.Length{450}, AtEnd, 1000}}},
		{"at the end", [2]bool{false, true}, 100, []span{{[]measure.Length{1000, 450}, "", 0}, {[]measure.Length{450}, AtStart, 1000}}},
		{"at both", [2]bool{true, true}, 399, []span{{[]measure.Length{450, 1000, 450}, "", 0}}},
		{"near enough", [2]bool{true, true}, 400, []span{{[]measure.Length{1000}, "", 0}}},
	} {
		l := Lay([]Part{part(Legs, 400, 500), part(Legs, 1400, 1500)}, 0, 1900, 600, c.seam)
		s := plain()
		s.Hold = c.hold
		var got []span
		for _, w := range l.Strips(s) {
			if w.Direction == support.Along {
				require.Equal(t, len(w.Lengths) > 1, w.Support == support.Spans, c.name)
				got = append(got, span{w.Lengths, w.Side, w.Back})
			}
		}
		require.Equal(t, c.want, got, c.name)
	}
}

// Where nothing carries, a piece with a seam at either end spans from one to the other; one with a free end lies on nothing.
func TestAPieceBetweenSeams(t *testing.T) {
	t.Parallel()
	for _, seam := range [][2]bool{{false, false}, {true, false}, {false, true}, {true, true}} {
		l := Lay([]Part{{Kind: Appliance, From: 100, To: 700, Place: 3}}, 0, 900, 600, seam)
		require.True(t, l.Bare())
		if !seam[0] || !seam[1] {
			require.Empty(t, l.Strips(plain()), "%v", seam)
			continue
		}
		require.Equal(t, []Strip{{support.Span, support.Along, "", 0, 900, []measure.Length{900}, 550, 0, 3, false}}, strips(l.Strips(plain())))
	}
	l := Lay([]Part{carrier(Legs, 800, 900, 0)}, 0, 900, 600, [2]bool{true, true})
	require.False(t, l.Bare())
	alone := strips(l.Strips(plain()))
	require.Equal(t, []measure.Length{850}, alone[len(alone)-1].Lengths, "from the seam to the only legs")
	l = Lay([]Part{carrier(Cabinet, 0, 400, 0)}, 0, 900, 600, [2]bool{true, true})
	alone = strips(l.Strips(plain()))
	require.Equal(t, []measure.Length{500}, alone[len(alone)-1].Lengths, "from the only cabinet to the seam")
	require.Equal(t, [2]measure.Length{400, 900}, [2]measure.Length{alone[len(alone)-1].From, alone[len(alone)-1].To})
	l = Lay([]Part{carrier(Legs, 700, 800, 0)}, 0, 900, 600, [2]bool{true, false})
	alone = strips(l.Strips(plain()))
	require.Equal(t, measure.Length(750), alone[len(alone)-1].Back, "held down by the span from the seam")
	l = Lay([]Part{carrier(Legs, 400, 480, 0)}, 0, 900, 600, [2]bool{})
	alone = strips(l.Strips(plain()))
	require.Equal(t, measure.Length(80), alone[len(alone)-1].Back, "held down by nothing but the legs")
}

// What is up to 150 wide is a line on which the slab turns, what is wider holds it level from edge to edge.
func TestNarrowCarriersAreLines(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		width, span measure.Length
		strips      int // front, wall, the span, an end each
	}{{150, 1000, 7}, {151, 849, 9}} {
		at := func(middle measure.Length) Part { return carrier(Legs, middle-c.width/2, middle+c.width/2, 0) }
		l := Lay([]Part{at(500), at(1500)}, 0, 2000, 600, [2]bool{})
		all := l.Strips(plain())
		require.Len(t, all, c.strips)
		require.Contains(t, tell(all), told{support.Span, support.Along, "", []measure.Length{c.span}, 100 + c.span/2, 0})
	}
}

// Between narrow carriers that touch there is no span, and the slab is held level over the two; a gap that nobody told of is about no
// part of the order; what has no depth between its rails spans nothing.
func TestSpansBeginAndEndAtWhatCarries(t *testing.T) {
	t.Parallel()
	l := Lay([]Part{carrier(Cabinet, 0, 600, 0), carrier(Legs, 1200, 1300, 1), carrier(Legs, 1300, 1400, 2), carrier(Cabinet, 2000, 2600, 3)},
		0, 2600, 600, [2]bool{})
	var along [][2]measure.Length
	for _, s := range l.Strips(plain()) {
		if s.Direction == support.Along {
			require.Equal(t, support.Span, s.Support)
			along = append(along, [2]measure.Length{s.From, s.To})
		}
	}
	require.Equal(t, [][2]measure.Length{{600, 1250}, {1350, 2000}}, along)
	l = Lay([]Part{carrier(Cabinet, 0, 600, 1), carrier(Cabinet, 1200, 1800, 2)}, 0, 1800, 600, [2]bool{})
	all := strips(l.Strips(plain()))
	require.Equal(t, Strip{support.Span, support.Along, "", 600, 1200, []measure.Length{600}, 400, 0, -1, false}, all[len(all)-1])
	// Two bays with a cabinet between them, which holds the slab level; the last one is narrower than its load would spread.
	l = Lay([]Part{carrier(Cabinet, 0, 600, 1), carrier(Cabinet, 1200, 1800, 2), carrier(Cabinet, 2300, 2500, 3)}, 0, 2500, 600, [2]bool{})
	all = strips(l.Strips(wide()))
	require.Equal(t, []Strip{
		{support.Span, support.Across, "", 2300, 2500, []measure.Length{400}, 200, 0, 3, false},
		{support.Span, support.Along, "", 600, 1200, []measure.Length{600}, 250, 0, -1, false},
		{support.Span, support.Along, "", 1800, 2300, []measure.Length{500}, 225, 0, -1, false},
	}, all[len(all)-3:])
	for depth, spans := range map[measure.Length]int{100: 0, 101: 1} {
		l := Lay([]Part{{Kind: Cabinet, To: 900, Depth: depth}}, 0, 900, depth, [2]bool{})
		require.Len(t, l.Strips(plain()), spans, "%g deep between rails of 50", float64(depth))
	}
}

// Neighbours that stand alike are one strip across the grain; brackets, and what stands otherwise, are one each.
func TestNeighboursThatStandAlike(t *testing.T) {
	t.Parallel()
	fronts := func(parts ...Part) (n int) {
		l := Lay(parts, 0, 1200, 600, [2]bool{})
		for _, s := range l.Strips(plain()) {
			if s.Side == AtFront {
				n++
			}
		}
		return n
	}
	with := func(p Part, front, depth measure.Length) Part { p.Front, p.Depth = front, depth; return p }
	first := carrier(Cabinet, 0, 600, 0)
	require.Equal(t, 1, fronts(first, carrier(Cabinet, 600, 1200, 1)))
	require.Equal(t, 2, fronts(first, with(carrier(Cabinet, 600, 1200, 1), 40, 500)))
	require.Equal(t, 2, fronts(first, with(carrier(Cabinet, 600, 1200, 1), 30, 510)))
	require.Equal(t, 2, fronts(first, carrier(Legs, 600, 1200, 1)))
	require.Equal(t, 2, fronts(carrier(Bracket, 500, 540, 0), carrier(Bracket, 540, 580, 1)))
}

// What is only touched is not stood upon, stood before or cut.
func TestTouchingIsNotLyingOver(t *testing.T) {
	t.Parallel()
	arm := Part{Kind: Bracket, From: 100, To: 140, Depth: 300, Place: 1}
	cabinet := func(from, to, front measure.Length) Part {
		return Part{Kind: Cabinet, From: from, To: to, Front: front, Depth: 500, Place: 2}
	}
	of := func(p Part, kind Kind, place int) Part { p.Kind, p.Place = kind, place; return p }
	for _, c := range []struct {
		name string
		p, q Part
		want bool
	}{
		{"beside it", arm, cabinet(140, 700, 300), false},
		{"a little before it", arm, cabinet(139, 700, 300), true},
		{"at its other side", arm, cabinet(0, 100, 300), false},
		{"a little before its other side", arm, cabinet(0, 101, 300), true},
		{"up to its front", arm, cabinet(0, 700, 300), true},
		{"beyond its front", arm, cabinet(0, 700, 299), false},
		{"before legs", arm, of(cabinet(0, 700, 300), Legs, 2), true},
		{"before a bracket", arm, of(cabinet(0, 700, 300), Bracket, 2), false},
		{"before nothing that carries", arm, of(cabinet(0, 700, 300), Open, 2), false},
		{"before itself", of(arm, Legs, 2), of(cabinet(0, 700, 300), Legs, 2), false},
		{"legs", of(arm, Legs, 1), cabinet(0, 700, 300), true},
		{"a cabinet before a cabinet", of(arm, Cabinet, 1), cabinet(0, 700, 300), false},
		{"a batten", of(arm, Batten, 1), cabinet(0, 700, 300), false},
	} {
		require.Equal(t, c.want, InFront(&c.p, []Part{c.q}), c.name)
	}
	for _, c := range []struct {
		from, to measure.Length
		want     bool
	}{{140, 700, false}, {139, 700, true}, {0, 100, false}, {0, 101, true}} {
		require.Equal(t, c.want, inBay(&arm, []Part{{Kind: Appliance, To: 700}, bay(c.from, c.to, 0)}), "a bay from %g to %g", float64(c.from), float64(c.to))
		require.Equal(t, c.want, plain(Hole{From: c.from, To: c.to}).holed(&arm), "a hole from %g to %g", float64(c.from), float64(c.to))
		hole := Hole{From: c.from, To: c.to, Front: 80, Depth: 400}
		require.Equal(t, map[bool]measure.Length{true: 80, false: 600}[c.want], plain(hole).left(100, 140, 600))
		hole.Front = 150
		require.Equal(t, map[bool]measure.Length{true: 50, false: 600}[c.want], plain(hole).left(100, 140, 600), "behind it")
		hole.Front = 0
		require.Equal(t, map[bool]measure.Length{true: 200, false: 600}[c.want], plain(hole).left(100, 140, 600), "open at the front")
	}
}

// Brackets hang in the bay that they stand in, and in no carrier beside it; the order in which parts are told says nothing.
func TestBracketsHangInTheirBay(t *testing.T) {
	t.Parallel()
	type stretch struct {
		kind     Kind
		from, to measure.Length
		place    int
	}
	lay := func(parts ...Part) (out []stretch) {
		l := Lay(parts, 0, 1500, 600, [2]bool{})
		slices.Reverse(parts)
		require.Equal(t, l, Lay(parts, 0, 1500, 600, [2]bool{}))
		for _, p := range l.Parts {
			out = append(out, stretch{p.Kind, p.From, p.To, p.Place})
		}
		return out
	}
	require.Equal(t, []stretch{{Open, 0, 500, 0}, {Bracket, 500, 540, 2}, {Open, 540, 1000, 1}, {Open, 1000, 1500, -1}},
		lay(bay(0, 500, 0), bay(500, 1000, 1), carrier(Bracket, 500, 540, 2)), "at the start of a bay")
	require.Equal(t, []stretch{{Open, 0, 460, 0}, {Bracket, 460, 500, 2}, {Open, 500, 1000, 1}, {Open, 1000, 1500, -1}},
		lay(bay(0, 500, 0), bay(500, 1000, 1), carrier(Bracket, 460, 500, 2)), "at its end")
	require.Equal(t, []stretch{{Cabinet, 0, 500, 0}, {Open, 500, 1000, 1}, {Cabinet, 1000, 1500, 3}},
		lay(carrier(Cabinet, 0, 500, 0), bay(500, 1000, 1), carrier(Cabinet, 1000, 1500, 3), carrier(Bracket, 460, 500, 2),
			carrier(Bracket, 1000, 1040, 4)), "within cabinets")
	require.Equal(t, []stretch{{Open, 0, 200, 0}, {Legs, 200, 300, 2}, {Open, 300, 700, 0}, {Bracket, 700, 740, 3}, {Open, 740, 1000, 0}, {Open, 1000, 1500, -1}},
		lay(bay(0, 1000, 0), carrier(Legs, 200, 300, 2), carrier(Bracket, 700, 740, 3)), "legs and a bracket in one bay")
	require.Equal(t, []stretch{{Open, 0, 1400, -1}, {Cabinet, 1400, 1500, 0}},
		lay(carrier(Cabinet, 1400, 1900, 0), carrier(Cabinet, 1500, 1900, 1)), "cut off at the end of the piece")
}

// 100 and 200 that carry nothing before a cabinet, 50 behind it.
func TestWhatAPieceLiesOn(t *testing.T) {
	t.Parallel()
	l := Lay([]Part{bay(0, 100, 0), {Kind: Appliance, From: 100, To: 300, Place: 1}, carrier(Cabinet, 300, 900, 2)}, 0, 950, 600, [2]bool{})
	require.Equal(t, measure.Length(300), l.Gap(0))
	require.Equal(t, measure.Length(50), l.Gap(1))
	for at, place := range map[measure.Length]int{0: 0, 99: 0, 101: 1, 301: 2, 899: 2, 901: -1, 950: -1} {
		require.Len(t, l.Under(at), 1)
		require.Equal(t, place, l.Under(at)[0].Place, "%g", float64(at))
	}
	require.Equal(t, l.Parts[:2], l.Under(100), "where two meet")
	require.Equal(t, l.Parts[2:], l.Under(900))
	require.Empty(t, l.Under(-1))
	require.Empty(t, l.Under(951))
}

func TestBattensUnderTheWallEdge(t *testing.T) {
	t.Parallel()
	batten := func(from, to measure.Length) Part { return Part{Kind: Batten, From: from, To: to} }
	for _, c := range []struct {
		name    string
		battens []Part
		want    bool
	}{
		{"none", nil, false},
		{"one all the way", []Part{batten(100, 900)}, true},
		{"too short at the start", []Part{batten(101, 900)}, false},
		{"too short at the end", []Part{batten(100, 899)}, false},
		{"two end to end, told in any order", []Part{batten(500, 900), batten(100, 500)}, true},
		{"with a gap", []Part{batten(501, 900), batten(100, 500)}, false},
		{"a short one over a long one", []Part{batten(100, 900), batten(200, 300)}, true},
	} {
		l := Line{Battens: c.battens}
		require.Equal(t, c.want, l.battenUnder(100, 900), c.name)
	}
}
