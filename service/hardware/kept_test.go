package hardware

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// A part that is moved keeps the rules or not: the first and the last reach the ends, neighbours their distance, and only they.
func TestAMovedPartKeepsItsRules(t *testing.T) {
	t.Parallel()
	r := metre()
	pulls, aligns := []measure.Length{80, 360, 640, 920}, []measure.Length{20, 200, 310, 500, 690, 870, 980}
	for i := range pulls {
		require.True(t, r.pullKeeps(&layout{pulls: pulls, aligns: aligns}, i), "pull %d", i)
	}
	for i := range aligns {
		require.True(t, r.alignKeeps(&layout{pulls: pulls, aligns: aligns}, i), "alignment %d", i)
	}
	for _, c := range []struct {
		pull  bool
		i     int
		to    measure.Length
		keeps bool
	}{
		{true, 0, 80.01, false}, {true, 0, 60.01, true}, {true, 0, 59.99, false}, {true, 3, 919.99, false}, {true, 3, 940, true},
		{true, 3, 940.01, false}, {true, 1, 380, true}, {true, 1, 380.01, false}, {true, 2, 620, true}, {true, 2, 619.99, false},
		{true, 1, 340.99, false}, {true, 1, 341, true}, // 15 + 6 + 10 from the alignment part at 310
		{false, 0, 76.01, false}, {false, 6, 923.99, false}, {false, 1, 220, true}, {false, 1, 220.01, false},
		{false, 3, 510, true}, {false, 3, 510.01, false}, {false, 3, 490, true}, {false, 3, 489.99, false},
		{false, 2, 329, true}, {false, 2, 329.01, false}, // 10 + 6 + 15 from the pull part at 360
	} {
		l := layout{pulls: slices.Clone(pulls), aligns: slices.Clone(aligns)}
		if c.pull {
			l.pulls[c.i] = c.to
			require.Equal(t, c.keeps, r.pullKeeps(&l, c.i), "%+v", c)
		} else {
			l.aligns[c.i] = c.to
			require.Equal(t, c.keeps, r.alignKeeps(&l, c.i), "%+v", c)
		}
	}
}

// The search by itself finds places in ascending order that keep every rule, also beside stretches where nothing may stand, as few of them
// as can be (by hand: from 80 at most in steps of 300 at most to 920, 15 off what is blocked), and looks at no seam over 6 m.
func TestTheSearchKeepsEveryRule(t *testing.T) {
	t.Parallel()
	for i, blocked := range [][]Interval{nil, {{From: 300, To: 420}}, {{From: 100, To: 180}, {From: 460, To: 560}},
		{{From: 340, To: 380}, {From: 620, To: 660}}} {
		r := metre()
		r.blocked = blocked
		l := layout{work: &coverage{}}
		require.True(t, r.search(&l), "%v", blocked)
		require.True(t, slices.IsSorted(l.pulls), "%v", l.pulls)
		require.Len(t, l.pulls, []int{4, 5, 4, 5}[i], "%v: %v", blocked, l.pulls)
		require.True(t, r.alignsStand(l.aligns, l.pulls))
		for i := range l.pulls {
			require.True(t, r.pullKeeps(&l, i), "%v: %v", blocked, l.pulls)
		}
	}
	for length, looked := range map[measure.Length]bool{6000: true, 6000.1: false} {
		r := metre()
		r.length, r.back, r.pullTo, r.slotTo = length, length, length, length
		r.pullLast, r.alignLast = length-80, length-76
		require.Equal(t, looked, r.search(&layout{work: &coverage{}}), "%v", length)
	}
}

// One top has so much effort: as long as it lasts the search goes in steps of the pitch, then in a few over the whole seam, where
// that is coarser. Another top begins anew, and so does who asks for one seam alone.
func TestAnEffortThatIsSpentMakesTheSearchCoarse(t *testing.T) {
	t.Parallel()
	g := grid{r: metre(), layers: 4, spacing: [2]measure.Length{300, 200}}
	g.effort = -1
	require.Equal(t, pitch, g.step(), "nothing bounds a search by itself")
	require.False(t, g.coarse)
	g.begin()
	require.Equal(t, pitch, g.step())
	require.Less(t, g.effort, mostEffort)
	require.False(t, g.coarse)
	g.effort = 0
	g.r.length = 2 * fewPoints * pitch
	require.Equal(t, 2*pitch, g.step())
	require.True(t, g.coarse)
	require.Negative(t, g.effort, "what it takes is spent")
	g.begin()
	require.Equal(t, []any{mostEffort, false}, []any{g.effort, g.coarse})
	g.effort, g.r.length = 0, fewPoints*pitch/2
	require.Equal(t, pitch, g.step(), "a short seam has few points anyway")
	require.False(t, g.coarse)
}

// Screws that differ in length alone are one, of which the deepest is taken; any other difference makes two of them.
func TestScrewsThatDifferInLengthAloneAreOne(t *testing.T) {
	t.Parallel()
	usual := catalogue.Fastener{Code: "usual", Kind: catalogue.PocketScrew, ThreadDiameter: 4, HeadDiameter: 8, BoreDiameter: 10,
		Penetration: 20}
	for name, c := range map[string]struct {
		change func(*catalogue.Fastener)
		codes  []string
	}{
		"longer":             {func(f *catalogue.Fastener) { f.Penetration = 25 }, []string{"other"}},
		"shorter":            {func(f *catalogue.Fastener) { f.Penetration = 15 }, []string{"usual"}},
		"the same once more": {func(*catalogue.Fastener) {}, []string{"usual"}},
		"thicker":            {func(f *catalogue.Fastener) { f.ThreadDiameter = 5 }, []string{"usual", "other"}},
		"with a larger head": {func(f *catalogue.Fastener) { f.HeadDiameter = 9 }, []string{"usual", "other"}},
		"in a wider bore":    {func(f *catalogue.Fastener) { f.BoreDiameter = 12 }, []string{"usual", "other"}},
		"mixed with bolts":   {func(f *catalogue.Fastener) { f.MayMixWithBolt = true }, []string{"usual", "other"}},
	} {
		other := usual
		other.Code = "other"
		c.change(&other)
		var p parts
		p.addPull(&usual, 38, &catalogue.Settings{})
		p.addPull(&other, 38, &catalogue.Settings{})
		var codes []string
		for _, f := range p.screws {
			codes = append(codes, f.Code)
		}
		require.Equal(t, c.codes, codes, name)
	}
}

// Of a butt the piece that stops is bored and the other one takes the thread; a miter's screws find room in both pieces either way.
func TestWhichPieceIsBoredForScrews(t *testing.T) {
	t.Parallel()
	f := &catalogue.Fastener{Kind: catalogue.PocketScrew, ThreadDiameter: 4, HeadDiameter: 8, BoreDiameter: 10, Length: 60, Penetration: 30}
	of := func(joint plan.JointKind) (sides [2][]Footprint) {
		for _, p := range pocketFootprints(nil, f, false, &Seam{Joint: joint, Thickness: 38}, nil) {
			side := p.Side
			p.Side = 0
			sides[side] = append(sides[side], p)
		}
		return sides
	}
	butt, miter := of(plan.Butt), of(plan.Miter)
	require.Len(t, butt[0], 1)
	require.Len(t, butt[1], 1)
	require.Equal(t, "pocket", butt[0][0].Name)
	require.Equal(t, "screw", butt[1][0].Name)
	require.ElementsMatch(t, miter[0], miter[1], "neither is the one that stops")
	require.ElementsMatch(t, miter[0], append(butt[0], butt[1]...))
	require.Greater(t, butt[0][0].Rows[0].Half, butt[1][0].Rows[0].Half, "a pocket is wider than a thread")
}

// A choice is taken over as it was made, by a top that has as much effort left as it took; one that was made when there was too little is
// made anew by the next top, and so is one for which too little is left.
func TestWhichChoicesAreTakenOver(t *testing.T) {
	t.Parallel()
	seam := &Seam{Length: 600}
	of := alikeOf(seam, Wish{})
	for _, c := range []struct {
		spent, left int
		exact, same bool // same: in the same top
		taken       bool
		takes       int
	}{
		{100, 500, true, true, true, 0}, {100, 500, false, true, true, 0}, {100, 500, true, false, true, 100}, {100, 100, true, false, true, 100},
		{100, 99, true, false, false, 0}, {100, 500, false, false, false, 0},
	} {
		var r remembered
		r.begin()
		r.note(&of, seam, &Plan{}, c.spent, c.exact)
		if !c.same {
			r.begin()
		}
		found, takes := r.recall(&of, seam, c.left)
		require.Equal(t, c.taken, found != nil, "%+v", c)
		require.Equal(t, c.takes, takes, "%+v", c)
	}
	var r remembered
	r.note(&of, seam, &Plan{}, 1, true)
	other := *seam
	other.Thickness = 40
	found, _ := r.recall(&of, &other, 500)
	require.Nil(t, found, "another seam, though its sizes may be drawn together alike")
}
