package base

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// plain spreads a load as an even plate does, with rails of 50 mm.
func plain(holes ...Hole) *Slab { return &Slab{Spread: 1, Rail: 50, Hold: 100, Holes: holes} }

func part(kind Kind, from, to measure.Length) Part {
	return Part{Kind: kind, From: from, To: to, Front: 30, Depth: 570}
}

// told is what a test says of a strip.
type told struct {
	support   support.Kind
	direction support.Direction
	side      Side
	lengths   []measure.Length
	width     measure.Length
	back      measure.Length
}

func tell(strips []Way) (all []told) {
	for _, s := range strips {
		all = append(all, told{s.Support, s.Direction, s.Side, s.Lengths, s.Width, s.Back})
	}
	return all
}

func TestStripsOfABase(t *testing.T) {
	t.Parallel()
	deep := func(p Part) Part { p.Front, p.Depth = 0, 600; return p }
	for _, c := range []struct {
		name  string
		parts []Part
		seam  [2]bool
		holes []Hole
		want  []told
	}{
		{"a bay between two cabinets", []Part{part(Cabinet, 0, 900), part(Open, 900, 1500), part(Cabinet, 1500, 2400)}, [2]bool{}, nil,
			[]told{
				{support.Overhang, support.Across, AtFront, []measure.Length{30}, 130, 25},
				{support.Overhang, support.Across, AtFront, []measure.Length{30}, 130, 25},
				{support.Span, support.Across, "", []measure.Length{470}, 335, 0},
				{support.Span, support.Across, "", []measure.Length{470}, 335, 0},
				{support.Span, support.Along, "", []measure.Length{600}, 400, 0},
			}},
		{"what nobody tells of is open, and past the ends hangs over", []Part{deep(part(Cabinet, 300, 2000))}, [2]bool{}, nil,
			[]told{
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Overhang, support.Along, AtStart, []measure.Length{300}, 400, 25},
				{support.Overhang, support.Along, AtEnd, []measure.Length{400}, 500, 25},
			}},
		{"two pairs of legs: held down from one to the other", []Part{deep(part(Legs, 250, 350)), deep(part(Legs, 2050, 2150))}, [2]bool{}, nil,
			[]told{
				{support.Span, support.Along, "", []measure.Length{1800}, 600, 0},
				{support.Overhang, support.Along, AtStart, []measure.Length{300}, 400, 1800},
				{support.Overhang, support.Along, AtEnd, []measure.Length{300}, 400, 1800},
			}},
		{"a bracket parts a bay into two spans that go through", []Part{deep(part(Cabinet, 0, 600)), part(Open, 600, 1800),
			deep(part(Bracket, 1180, 1220)), deep(part(Cabinet, 1800, 2400))}, [2]bool{}, nil,
			[]told{
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Spans, support.Along, "", []measure.Length{600, 600}, 400, 0},
			}},
		{"a seam far from what carries is blocked, and the slab spans to it", []Part{deep(part(Cabinet, 400, 2400))}, [2]bool{true, false}, nil,
			[]told{
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Span, support.Along, "", []measure.Length{400}, 300, 0},
			}},
		{"a seam near enough is not", []Part{deep(part(Cabinet, 90, 2400))}, [2]bool{true, false}, nil,
			[]told{{support.Span, support.Across, "", []measure.Length{500}, 350, 0}}},
		{"a cut-out leaves its narrowest wood", []Part{deep(part(Cabinet, 0, 900)), part(Appliance, 900, 1500), deep(part(Cabinet, 1500, 2400))},
			[2]bool{}, []Hole{{From: 950, To: 1450, Front: 60, Depth: 480}},
			[]told{
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Span, support.Across, "", []measure.Length{500}, 350, 0},
				{support.Span, support.Along, "", []measure.Length{600}, 60, 0},
			}},
		{"behind a shallow cabinet the slab hangs over, unless a batten carries it", []Part{{Kind: Cabinet, To: 1200, Depth: 450},
			{Kind: Cabinet, From: 1200, To: 2400, Depth: 460}, {Kind: Batten, From: 1200, To: 2400, Front: 560, Depth: 40}}, [2]bool{}, nil,
			[]told{
				{support.Overhang, support.Across, AtWall, []measure.Length{150}, 250, 25},
				{support.Span, support.Across, "", []measure.Length{350}, 275, 0},
				{support.Span, support.Across, "", []measure.Length{360}, 280, 0},
			}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			l := Lay(c.parts, 0, 2400, 600, c.seam)
			require.Equal(t, c.want, tell(l.Strips(plain(c.holes...))))
		})
	}
}

// The line has no gap and no overlap, whatever is told of it, and no bracket is lost that hangs in a bay.
func TestALineHasNoGap(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var parts []Part
		at := measure.Length(0)
		for range rapid.IntRange(0, 6).Draw(t, "parts") {
			from := at + measure.Length(rapid.IntRange(0, 300).Draw(t, "gap"))
			at = from + measure.Length(rapid.IntRange(1, 900).Draw(t, "width"))
			kind := rapid.SampledFrom([]Kind{Cabinet, Open, Appliance, Legs}).Draw(t, "kind")
			parts = append(parts, part(kind, from, at))
			if kind == Open && at-from > 120 {
				parts = append(parts, part(Bracket, from+40, from+80))
			}
		}
		from, to := measure.Length(rapid.IntRange(0, 200).Draw(t, "from")), at+300
		l := Lay(parts, from, to, 600, [2]bool{})
		end := from
		for _, p := range l.Parts {
			require.InDelta(t, float64(end), float64(p.From), 1e-9)
			require.Greater(t, p.To, p.From)
			end = p.To
		}
		require.InDelta(t, float64(to), float64(end), 1e-9)
		for _, p := range parts {
			if p.Kind == Bracket && p.From > from {
				require.Equal(t, Bracket, l.Under((p.From + p.To) / 2)[0].Kind)
			}
		}
	})
}

func TestALoadSpreadsByTheFourthRoot(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 2, Spread(16*measure.Gigapascal, 1*measure.Gigapascal), 1e-12)
	s := Way{Strip: Strip{Lengths: []measure.Length{300}}}
	s.wide(1, 2, 5000)
	require.InDelta(t, 700, float64(s.Width), 1e-9)
	require.InDelta(t, 400, float64(must(s.Scaled(0.5, nil)).Width), 1e-9)
	require.InDelta(t, 5000, float64(must(s.Scaled(10, nil)).Width), 1e-9)
}

func must(s Way) *Way { return &s }

// Lines and strips in a memory that is used again are those of memories of their own, whatever was laid in it and taken back before.
func TestAMemoryChangesNoStrip(t *testing.T) {
	t.Parallel()
	memory := new(Memory)
	props, instead := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, most int) measure.Length {
			return measure.Length(rapid.IntRange(0, most).Draw(t, name))
		}
		memory.Clear()
		for range rapid.IntRange(1, 4).Draw(t, "lines") {
			var parts []Part
			at := draw("start", 300)
			for place := range rapid.IntRange(0, 6).Draw(t, "parts") {
				p := Part{Kind: rapid.SampledFrom([]Kind{Cabinet, Cabinet, Open, Appliance, Legs}).Draw(t, "kind"), From: at, Place: place,
					Front: draw("front", 300), Depth: 300 + draw("depth", 300)}
				p.To = at + 20 + draw("width", 900)
				at = p.To + draw("gap", 200)
				parts = append(parts, p)
			}
			for range rapid.IntRange(0, 3).Draw(t, "props") {
				middle := draw("middle", 2400)
				parts = append(parts, Part{Kind: rapid.SampledFrom([]Kind{Bracket, Legs, Batten}).Draw(t, "prop"), From: middle - 20, To: middle + 20, Front: 20, Depth: 20 + draw("arm", 200), Place: -1})
			}
			slab := &Slab{Spread: 1.6, Rail: 50, Hold: 300, Holes: []Hole{{From: 500, To: 900, Front: 100, Depth: 300}}}
			seam := [2]bool{rapid.Bool().Draw(t, "seam before"), rapid.Bool().Draw(t, "seam behind")}
			lay := func(m *Memory) (Line, []Way) {
				l := m.Lay(parts, 0, 2400, 650, seam)
				return l, l.StripsIn(m, slab)
			}
			line, strips := lay(new(Memory))
			if mark := memory.Mark(); rapid.Bool().Draw(t, "taken back") {
				lay(memory)
				memory.Release(mark)
			}
			got, ways := lay(memory)
			lay(memory)
			require.Equal(t, line, got)
			require.Equal(t, strips, ways)
			for k := range ways {
				if ways[k].Props {
					props++
				}
				if ways[k].Instead != nil {
					instead++
				}
			}
		}
	})
	require.Positive(t, props)
	require.Positive(t, instead)
}
