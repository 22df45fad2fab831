package takeoff

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// builtUp is by hand: a blank of 100 × 24 in, 2-1/4 in thick, of three layers. Boards of 4-3/8 in give staves of 4 in, six in
// the slab. In each of the two layers below: a strip of 6 in at the front, two staves, one of 4 in at the wall, one stave, and
// between them 14 in of blocks, four side by side, in fields of 5, 5 and 7 in.
func builtUp(t *testing.T) (Blank, *catalogue.Snapshot) {
	t.Helper()
	cat := yard(t)
	b := Blank{Length: 100 * in, Width: 24 * in, Thickness: 2.25 * in}
	b.Laminate(3)
	b.Under = Under{Front: 6 * in, Wall: 4 * in}
	for _, field := range []measure.Length{5, 5, 7} {
		b.Under.Add(field * in)
	}
	b.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	return b, cat
}

func TestABuiltUpSlabByHand(t *testing.T) {
	t.Parallel()
	b, cat := builtUp(t)
	require.True(t, b.BuiltUp())
	require.InDelta(t, 0.75, b.Layer.Inches(), 1e-9)
	require.InDelta(t, 4, b.StaveWidth.Inches(), 1e-9)
	require.Equal(t, 6, b.LayerStaves())
	require.Equal(t, 6, b.Under.Strips, "2 and 1 in each of two layers")
	require.Equal(t, 12, b.Staves)
	require.Equal(t, 4, b.Under.Across)
	require.Equal(t, 24, b.BlockCount(), "3 fields of 4 in two layers")
	require.InDelta(t, 17*4*2, b.BlockRun().Inches(), 1e-9)
	require.InDelta(t, 12*4.375*102/144+4.375*136/144, b.BoardFeet, 1e-9, "staves of 102 in and blocks, 1 in rough")
	// Joints as long as the blank: 5 in the slab and 1 in each front strip. Of blocks, in each layer: 3 between four side by
	// side and 2 to the strips, 5 of 17 in.
	require.Equal(t, 7, b.joints())
	require.InDelta(t, 7*100+2*5*17, b.GlueLines().Inches(), 1e-9)
	require.InDelta(t, 2*(10*100+17*14), b.Faces().SquareFeet()*144, 1e-6, "strips and blocks of two layers")
	require.InDelta(t, 870*(0.75+1.0/16)+2476, b.GlueArea(&cat.Settings).SquareFeet()*144, 1e-6)

	whole := b
	whole.Under = Under{}
	require.False(t, whole.BuiltUp())
	require.Zero(t, whole.BlockCount())
	require.Zero(t, whole.BlockRun())
	require.Zero(t, whole.blockLines())
}

// Strips that meet leave no room for blocks: in each layer below six staves with five joints, glued on all over.
func TestABuiltUpSlabWhoseStripsMeet(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	b := Blank{Length: 100 * in, Width: 24 * in, Thickness: 1.5 * in}
	b.Laminate(2)
	b.Under = Under{Front: 12 * in, Wall: 12 * in}
	b.Under.Add(5 * in)
	b.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	require.Equal(t, []int{0, 6, 12}, []int{b.Under.Across, b.Under.Strips, b.Staves})
	require.Equal(t, 10, b.joints())
	require.InDelta(t, 1000, b.GlueLines().Inches(), 1e-9)
	require.InDelta(t, 2400, b.Faces().SquareFeet()*144, 1e-6)
}

// The slab is glued up as one; the joints within its strips are a glue-up more, and the layers are pressed once. Of six staves of
// 4 in a planer of 20 in takes five: two sections.
func TestTheGlueUpOfABuiltUpSlab(t *testing.T) {
	t.Parallel()
	b, _ := builtUp(t)
	glue, s := gluing()
	s.GlueOpenMinutes = 30
	g, ok := PlanGlueUp(&b, 0.55, glue, s)
	require.True(t, ok)
	require.Equal(t, 2, g.Parts)
	require.Equal(t, 7, g.Joints)
	require.Equal(t, 1+2+1+1, g.Count, "strips, two sections, the slab from them, the press")
	require.InDelta(t, 100*(0.75+1.0/16)*0.00064516, g.JointArea.SquareMetres(), 1e-7, "as thick as a layer")
	require.InDelta(t, 1200*1238*0.00064516, g.FaceForce.Newtons()/1000, 1e-3, "1,200 kPa on one layer's faces, kN")
}

// Laminated all over: three layers of six staves. Joints of the middle layer are shifted, so that it has one more: 5 + 6 + 5.
func TestALaminatedSlabByHand(t *testing.T) {
	t.Parallel()
	cat := yard(t)
	b := Blank{Length: 100 * in, Width: 24 * in, Thickness: 2.25 * in}
	b.Laminate(3)
	b.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	require.Equal(t, []int{18, 6, 16}, []int{b.Staves, b.LayerStaves(), b.joints()})
	require.InDelta(t, 1600, b.GlueLines().Inches(), 1e-9)
	require.InDelta(t, 2*100*24, b.Faces().SquareFeet()*144, 1e-6)
	glue, s := gluing()
	s.PlanerWidth, s.GlueOpenMinutes = 12*in, 30
	g, ok := PlanGlueUp(&b, 0.55, glue, s)
	require.True(t, ok)
	require.Equal(t, 2, g.Parts, "twice three of 4 in")
	require.Equal(t, 3*(2+1)+1, g.Count, "two sections and the layer from them, of each layer, and the press")
	require.InDelta(t, 100*(0.75+1.0/16)*0.00064516, g.JointArea.SquareMetres(), 1e-7)

	s.PlanerWidth, s.GlueOpenMinutes = 16*in, 3.4*0.0524193/0.12 // a joint is 0.05242 m²: three at once
	b = Blank{Length: 100 * in, Width: 28 * in, Thickness: 1.5 * in}
	b.Laminate(2)
	b.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	g, _ = PlanGlueUp(&b, 0.55, glue, s)
	require.Equal(t, []int{2, 3}, []int{g.Parts, g.AtOnce}, "four staves of 4 in and three")
	require.Equal(t, 2*3+1, g.Count, "the joint more of the second layer is in its smaller section: three at once as well")

	s.GlueOpenMinutes = 0.5 // one at once
	b = Blank{Length: 100 * in, Width: 8 * in, Thickness: 1.5 * in}
	b.Laminate(2)
	b.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	g, _ = PlanGlueUp(&b, 0.55, glue, s)
	require.Equal(t, 1+2+1, g.Count, "one joint, two where a stave is ripped in two, the press")

	single := Blank{Length: 100 * in, Width: 3 * in, Thickness: 1.5 * in}
	single.Laminate(2)
	single.glueUp(cat.MaterialByCode("ash_4_4").Lumber, 4.375*in, &cat.Settings)
	require.Zero(t, single.joints(), "single boards have no joints to shift")
	g, _ = PlanGlueUp(&single, 0.55, glue, s)
	require.False(t, g.SlowSpread, "what has no joint is not spread too slowly")
	require.Equal(t, 1, g.Count, "the press")
}

// Blocks are asked for by their length and cut like staves; at the saw they are numbered behind all staves, field by field.
func TestBlocksAreBoughtAndNumbered(t *testing.T) {
	t.Parallel()
	b, cat := builtUp(t)
	m := cat.MaterialByCode("ash_4_4")
	s := newStock(m, m.Packs[0].Prices[0], catalogue.FlatSawn, &cat.Settings)
	b.Under.Blocks[1] = 6 * in // 5, 6, 7
	slabs := []Slab{{"A", &b}}
	w, _, err := s.Cut(slabs, &cat.Settings, ByPack)
	require.NoError(t, err)
	count := map[int]int{}
	for _, strip := range w.Strips {
		for _, p := range strip.Pieces {
			require.Equal(t, "A", p.Run)
			count[whole(p.Length)] += strip.Count
		}
	}
	each := b.Under.Across * 2
	require.Equal(t, map[int]int{102: b.Staves, 5: each, 6: each, 7: each}, count)
	numbers := map[int]float64{}
	for _, board := range Sawing([]WoodPlan{w}, func(string) *Blank { return &b })[0] {
		for _, strip := range board.Strips {
			for _, stave := range strip.Staves {
				require.NotContains(t, numbers, stave.Number, "each number once")
				numbers[stave.Number] = stave.Length.Inches()
			}
		}
	}
	require.Len(t, numbers, b.Staves+3*each)
	for n := 1; n <= b.Staves+3*each; n++ {
		want := 102.0
		if behind := n - b.Staves - 1; behind >= 0 {
			want = []float64{5, 6, 7}[behind/each]
		}
		require.InDelta(t, want, numbers[n], 1e-9, "number %d", n)
	}

	same, _ := builtUp(t) // of 5, 5 and 7 in: two fields of one length, asked for at once
	_, _, err = s.Cut([]Slab{{"A", &same}}, &cat.Settings, ByPack)
	require.NoError(t, err)
	var asked []int
	for i, d := range s.demands {
		asked = append(asked, whole(d.Length), d.Count)
		require.Equal(t, StripPiece{"A", d.Length}, s.pieces[i])
	}
	require.Equal(t, []int{5, 2 * 2 * same.Under.Across, 7, 2 * same.Under.Across, 102, same.Staves}, asked)
}

// whole is a length to the next whole inch.
func whole(l measure.Length) int { return int(math.Round(l.Inches())) }

func TestWhatLiesUnderIsAlike(t *testing.T) {
	t.Parallel()
	b, _ := builtUp(t)
	other := b.Under
	other.Strips, other.Across = 1, 1
	require.True(t, b.Under.Alike(&other), "from whatever staves")
	for _, change := range []func(*Under){func(u *Under) { u.Front++ }, func(u *Under) { u.Wall++ }, func(u *Under) { u.Blocks[2]++ },
		func(u *Under) { u.Count-- }} {
		other := b.Under
		change(&other)
		require.False(t, b.Under.Alike(&other))
	}
	var u Under
	u.Add(100.00049)
	u.Add(100.0001)
	require.Equal(t, u.Fields()[0], u.Fields()[1], "equal to a thousandth of a millimetre")
	u.Add(100.0007)
	require.NotEqual(t, u.Fields()[0], u.Fields()[2])
}
