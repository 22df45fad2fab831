package estimate_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

func builtUp() estimate.Order {
	o := straight()
	o.Top.Thickness, o.Top.Build = 3*in, estimate.BuiltUp
	return o
}

// By hand: a piece of 96 × 25-1/2 in whose edges are built up to 3 in over 3 in is hollow below over 90 × 19-1/2 in.
func TestABuiltUpEdge(t *testing.T) {
	t.Parallel()
	e := mustMake(t, builtUp())
	require.Equal(t, estimate.BuiltUp, e.Made.Build)
	require.Equal(t, 2, e.Made.Layers)
	require.InDelta(t, 1.5, e.Made.SlabThickness().Inches(), 1e-12)
	r := &e.Runs[0]
	require.Len(t, r.Piece.Hollows, 1)
	h := &r.Piece.Hollows[0]
	for i, want := range []float64{3, 93, 3, 22.5} {
		require.InDelta(t, want, []measure.Length{h.From, h.To, h.Front, h.Back}[i].Inches(), 1e-9)
	}
	o := builtUp()
	o.Top.Build = estimate.Laminated
	all := mustMake(t, o)
	wood := 96*25.5*3 - 90*19.5*1.5
	require.InDelta(t, wood/(96*25.5*3), float64(r.Piece.Mass/all.Runs[0].Piece.Mass), 1e-9)
	require.Equal(t, all.Runs[0].Movement.Range, r.Movement.Range, "grain the same way: it moves as one")
	b := &r.Blank
	n := b.LayerStaves()
	require.Equal(t, all.Runs[0].Blank.LayerStaves(), n)
	require.Equal(t, 2, b.Under.Strips, "a strip of one stave at the front, one at the wall")
	require.Equal(t, n+2, b.Staves)
	require.Equal(t, []measure.Length{4 * in, 4 * in}, b.Under.Fields(), "blocks of 3 in and an end trim")
	feet := float64(b.Staves)*b.Rough.Inches()*b.StaveRip.Inches()*b.StaveLength.Inches()/144 + float64(b.BlockCount())*b.Rough.Inches()*b.StaveRip.Inches()*4/144
	require.InDelta(t, feet, b.BoardFeet, 1e-9)
	require.Greater(t, b.BoardFeet, wood/144, "more is bought than is built")
	require.Less(t, b.BoardFeet, all.Runs[0].Blank.BoardFeet)
	faces := 98*(3.25+3.25) + 8*(26-6.5)
	require.InDelta(t, faces, float64(b.Faces())/(25.4*25.4), 1e-6)
	require.NotZero(t, likely(e, "fit_build_up"))
	require.Zero(t, likely(all, "fit_build_up"))
	require.Greater(t, likely(all, "laminate"), likely(e, "laminate"))
	require.Less(t, float64(r.GlueUp.FaceForce), float64(all.Runs[0].GlueUp.FaceForce))
	require.Contains(t, textOf(e, "built_up"), "1-1/2 in thick, built up below to 3 in")
	require.Len(t, e.Builds, 1)
	require.Equal(t, estimate.Laminated, e.Builds[0].Build)
	require.Equal(t, all.Price.Total.Minus(e.Price.Total), e.Builds[0].Total)
	require.Equal(t, e.Price.Total.Minus(all.Price.Total), all.Builds[0].Total)
}

// Left open, the cheaper way is taken, and says why; what costs what is told.
func TestTheCheaperBuildIsTaken(t *testing.T) {
	t.Parallel()
	o := builtUp()
	named := mustMake(t, o)
	o.Top.Build = ""
	e := mustMake(t, o)
	require.Equal(t, -1, named.Builds[0].Total.Cmp(named.Builds[0].Total.Plus(named.Builds[0].Total)), "layers all over cost more")
	require.Equal(t, estimate.BuiltUp, e.Made.Build)
	require.Equal(t, named.Price.Total, e.Price.Total)
	require.Equal(t, "built_up", assumed(e, "/top/build"))
	require.Equal(t, named.Builds, e.Builds)
	c, err := estimate.Compare(o, demotest.Catalogue(t))
	require.NoError(t, err)
	require.NotEmpty(t, c.Assumptions)
}

// What carries the slab stands under solid wood, and what does not is left hollow.
func TestSupportsOfABuiltUpEdgeAreSolid(t *testing.T) {
	t.Parallel()
	o := builtUp()
	o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 40 * in, FromFront: far(2 * in), Depth: far(23 * in)},
		{Run: "A", Kind: base.Legs, From: 66 * in, To: 68 * in}, {Run: "A", Kind: base.Batten, From: 40 * in, To: 96 * in}}
	o.Support.Add = estimate.AddNothing
	e := mustMake(t, o)
	h := e.Runs[0].Piece.Hollows
	require.Len(t, h, 3)
	for i, want := range [][2]float64{{3, 38.5}, {41.5, 65.5}, {68.5, 93}} {
		require.InDelta(t, want[0], h[i].From.Inches(), 1e-9)
		require.InDelta(t, want[1], h[i].To.Inches(), 1e-9)
		require.InDelta(t, 4, h[i].Front.Inches(), 1e-9, "over the cabinet's front rail")
		require.InDelta(t, 22.5, h[i].Back.Inches(), 1e-9)
	}
	for _, p := range e.Fixing.Runs[0].Places {
		for _, x := range h {
			require.False(t, p.Along > x.From && p.Along < x.To && p.FromFront > x.Front && p.FromFront < x.Back, "a fixing over nothing: %v", p)
		}
	}
	solid := o
	solid.Top.Build = estimate.Laminated
	f := mustMake(t, solid)
	for i := range e.Base.Runs[0].Strips {
		a, b := &e.Base.Runs[0].Strips[i], &f.Base.Runs[0].Strips[i]
		require.GreaterOrEqual(t, float64(a.LongTerm), float64(b.LongTerm), "the slab alone bears: the safe side")
	}
}

// Seams have the wood that their hardware needs: nothing of it reaches a hollow, at any joint.
func TestSeamsOfABuiltUpEdgeAreSolid(t *testing.T) {
	t.Parallel()
	o := deskA()
	o.Top.Thickness, o.Top.Build = 3*in, estimate.BuiltUp
	o.Top.Runs[0].Length, o.Top.Runs[1].Length = 120*in, 110*in
	for _, joint := range []plan.JointKind{plan.Butt, plan.Miter, plan.MasonsMiter} {
		o.Top.Corners = []estimate.Corner{{Angle: 83 * measure.Degree, Joint: joint}}
		e := mustMake(t, o)
		c := chosenOf(&e.Corners[0])
		require.NotZero(t, c.Hardware.Pull.Groups[0].Count)
		f := c.Hardware.Pull.Groups[0].Part
		reach := max(f.RecessDistance+f.RecessDiameter/2, f.Length/2)
		for i := range e.Runs {
			require.Len(t, e.Runs[i].Piece.Hollows, 1, joint)
			h := e.Runs[i].Piece.Hollows[0]
			for _, p := range c.Geometry.SeamPath { // the wall corner is the origin
				if i == 0 {
					require.GreaterOrEqual(t, float64(120*in-p.X-reach-h.To), 0.0, "%s", joint)
				} else {
					turn := 83 * measure.Degree
					along := p.X*measure.Length(turn.Cos()) + p.Y*measure.Length(turn.Sin())
					require.GreaterOrEqual(t, float64(h.From-along-reach), 0.0, "%s", joint)
				}
			}
		}
	}
}

// A cut-out over the hollow goes through the slab; one that would be cut through a strip goes through solid wood.
func TestCutoutsInABuiltUpEdge(t *testing.T) {
	t.Parallel()
	at := 20 * in
	o := builtUp()
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 20 * in, Depth: 15 * in, FromStart: &at, FromFront: 4 * in}}
	over := mustMake(t, o)
	require.Len(t, over.Runs[0].Piece.Hollows, 1)
	o.Top.Cutouts[0].FromFront = 2.5 * in
	through := mustMake(t, o)
	h := through.Runs[0].Piece.Hollows
	require.Len(t, h, 2)
	require.InDelta(t, 17, h[0].To.Inches(), 1e-9)
	require.InDelta(t, 43, h[1].From.Inches(), 1e-9)
	require.Greater(t, float64(through.Mass), float64(over.Mass))
}

func TestBuiltUpEdgesAreRefusedWhereTheyAreNotSound(t *testing.T) {
	t.Parallel()
	panel, deep, small := builtUp(), builtUp(), builtUp()
	panel.Top.Construction = estimate.Panel
	deep.Top.Runs[0].Depth = 40 * in
	small.Top.Runs[0].Depth = 8.5 * in
	for name, c := range map[string]struct {
		o    estimate.Order
		want string
	}{"panels": {panel, "none to spare"}, "deep": {deep, "stand in a row"}, "small": {small, "Nothing would be left hollow"}} {
		_, err := estimate.Make(c.o, demotest.Catalogue(t))
		require.Error(t, err, name)
		f := fault.All(err)[0]
		require.Equal(t, "/top/build", f.Pointer, name)
		require.Contains(t, f.Detail, c.want, name)
		c.o.Top.Build = ""
		e := mustMake(t, c.o)
		require.Equal(t, estimate.Laminated, e.Made.Build, name)
	}
}
