package hardware_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Each case breaks one rule of a good plan of the studio desk's miter.
func TestCheckFindsEachBrokenRule(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		spoil func(p *hardware.Plan, seam *hardware.Seam, s *catalogue.Settings)
		says  string
	}{
		{"infeasible", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Feasible = false }, "not feasible"},
		{"unknown alignment", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Alignment.Item = "x" }, `has no "x"`},
		{"unknown pull", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups[0].Item = "x" }, `has no "x"`},
		{"no pull", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups = nil }, "0 pull parts; at least 3"},
		{"thin top", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) { seam.Thickness = 28 }, "does not fit a top"},
		{"recess too deep", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.WoodAboveRecess = 20 }, "too little wood above its recess"},
		{"missing row", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) { seam.Thickness = 55 }, "in 1 rows"},
		{"wrong count", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Alignment.Count++ }, "6 alignment parts"},
		{"alignment far from the end", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Alignment.Positions[0] += 1 }, "too far from the seam's ends"},
		{"alignment too far apart", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.AlignmentSpacing = 190 }, "too far apart"},
		{"alignment too far apart at the front", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) {
			a := &p.Alignment
			a.Positions, a.SlotWidths, a.Count = slices.Delete(a.Positions, 1, 2), slices.Delete(a.SlotWidths, 1, 2), a.Count-1
		}, "parts 1 and 2 are too far apart"},
		{"slot too narrow", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Alignment.SlotWidths[2] -= 0.5 }, "slot 3 is"},
		{"widest slot wrong", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Alignment.SlotWidth += 0.5 }, "widest"},
		{"a group of nothing", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) {
			p.Pull.Groups = append(p.Pull.Groups, hardware.PullGroup{Item: p.Pull.Groups[0].Item, Kind: p.Pull.Groups[0].Kind})
		}, "0 parts of draw_bolt_150"},
		{"channels missing", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups[0].Channels = nil }, "with 0 holes"},
		{"channel too narrow", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups[0].Channels[0] -= 1 }, "hole 1 of draw_bolt_150"},
		{"washer does not bear", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.BearingLeast = 11 }, "bears on"},
		{"bearing wrong", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups[0].Bearing = 11 }, "bears on 10.25 mm, not 11"},
		{"elongated at one place only", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) {
			p.Pull.Groups[0].Recesses = []measure.Length{35}
		}, "1 recesses of draw_bolt_150 at 4 positions"},
		{"recess too short", func(p *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			seam.SlipRate, p.Pull.Groups[0].Recesses = 0.01, []measure.Length{35, 35, 35, 35}
		}, "recess 4 of draw_bolt_150 is 35 mm long"},
		{"washer stuck", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) { seam.SlipRate = 0.01 }, "can travel 5 in all"},
		{"travel wrong", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) { p.Pull.Groups[0].Travel = 5 }, "its travel 2.5, not 0 and 5"},
		{"recess breaks out", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			seam.Sides[1] = pieceEdges(seam.Length, 700, 90, 30)
		}, "around the draw_bolt at"},
		{"slot breaks out", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			seam.Sides[0] = pieceEdges(seam.Length, 20, 90, 90)
		}, "around the biscuit at"},
		{"slot shorter than the cutter's", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.BiscuitCutter = 120 }, "slot 1 is"},
		{"too few bolts", func(p *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			g := &p.Pull.Groups[0]
			g.Count, g.Positions, g.Channels = 2, slices.Delete(g.Positions, 1, 3), slices.Delete(g.Channels, 1, 3)
		}, "2 pull parts; at least 3"},
		{"bolts too far apart", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.BoltSpacing = 200 }, "apart"},
		{"bolt near the end", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.BoltEnd = 140 }, "from its end"},
		{"bolt far from the end", func(p *hardware.Plan, seam *hardware.Seam, s *catalogue.Settings) { s.BoltEnd, s.BoltSpacing = 50, 230 }, "from its end"},
		{"biscuit under the profile", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) { seam.FrontKeep = 50 }, "into the profile"},
		{"biscuit breaks out at the back", func(_ *hardware.Plan, _ *hardware.Seam, s *catalogue.Settings) { s.PartClear = 50 }, "out of the seam"},
		{"blocked", func(_ *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			seam.Blocked = []hardware.Interval{{From: 450, To: 460}}
		}, "blocked stretch"},
		{"biscuit near a bolt", func(p *hardware.Plan, _ *hardware.Seam, _ *catalogue.Settings) {
			p.Alignment.Positions[1] = p.Pull.Groups[0].Positions[1] - 50
		}, "are too close"},
		{"mason's miter held at the centre", func(p *hardware.Plan, seam *hardware.Seam, _ *catalogue.Settings) {
			seam.Joint, p.HoldAt = plan.MasonsMiter, hardware.HoldCentre
		}, "held at centre"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			cat, seam := fullShop(t), studioMiter()
			p := choose(t, seam, hardware.Wish{}, cat)
			tt.spoil(&p, &seam, &cat.Settings)
			require.ErrorContains(t, p.Check(seam, cat), tt.says)
		})
	}
}

// A screw has no recess, whichever of its figures says so.
func TestCheckFindsRecessesOfScrews(t *testing.T) {
	t.Parallel()
	for _, spoil := range []func(*hardware.PullGroup){
		func(g *hardware.PullGroup) { g.Recesses = make([]measure.Length, g.Count) },
		func(g *hardware.PullGroup) { g.RecessLength = 35 }, func(g *hardware.PullGroup) { g.Travel = 2.5 }} {
		seam := studioButt()
		seam.SlipRate = 0
		cat := fullShop(t)
		p := choose(t, seam, hardware.Wish{}, cat)
		require.Equal(t, catalogue.PocketScrew, p.Pull.Groups[0].Kind)
		spoil(&p.Pull.Groups[0])
		require.ErrorContains(t, p.Check(seam, cat), "pocket_screw_8 has recesses")
	}
}

// A tenon of 75 mm reaches 37.5 mm into either piece, which then has 12.7 mm of wood behind it.
func TestCheckFindsASlotThatBreaksOutBehindATenon(t *testing.T) {
	t.Parallel()
	cat, seam := shop(t, tenon14, bolt150), studioMiter()
	p := choose(t, seam, hardware.Wish{Alignment: catalogue.LooseTenon}, cat)
	for depth, holds := range map[measure.Length]bool{50.1: false, 50.3: true} {
		seam.Sides[0] = pieceEdges(seam.Length, depth, 90, 90)
		err := p.Check(seam, cat)
		require.Error(t, err, "the bolts break out either way")
		require.Equal(t, holds, !strings.Contains(err.Error(), "loose_tenon"), "%v: %v", depth, err)
	}
}

func TestCheckFindsAHeadThatDoesNotEnterItsPocket(t *testing.T) {
	t.Parallel()
	seam := studioButt()
	seam.SlipRate = 0
	cat := fullShop(t)
	p := choose(t, seam, hardware.Wish{}, cat)
	cat.FastenerByCode("pocket_screw_8").BoreDiameter = 9 * measure.Millimetre
	require.ErrorContains(t, p.Check(seam, cat), "does not enter its pocket")
}

// A biscuit's slot is 12 mm deep in both pieces: 23/2 and 1/2 mm to spare. A No. 8 screw that bites 32 mm reaches
// 32·cos 15° = 30.91 mm into the piece that goes through. Behind either there must be 12.7 mm of wood.
func TestCheckFindsWhatBreaksOutOfTheOtherPiece(t *testing.T) {
	t.Parallel()
	for part, reach := range map[string]measure.Length{"biscuit": 12, "pocket_screw": 30.91} {
		for more, holds := range map[measure.Length]bool{-0.02: false, 0.02: true} {
			cat, seam := shop(t, biscuit20, screw8), studioButt()
			seam.SlipRate = 0
			p := choose(t, seam, hardware.Wish{}, cat)
			seam.Sides[1] = pieceEdges(seam.Length, reach+12.7+more, 90, 90)
			err := p.Check(seam, cat)
			require.Equal(t, holds, err == nil || !strings.Contains(err.Error(), "around the "+part), "%s, %v: %v", part, more, err)
		}
	}
}

// Between a screw and a bolt the stricter of their spacings holds, whichever of them comes first.
func TestCheckTakesTheStricterSpacing(t *testing.T) {
	t.Parallel()
	seam, cat := studioButt(), shop(t, biscuit20, bolt150, screw10)
	seam.SlipRate = 0.0065
	p := choose(t, seam, hardware.Wish{HoldAt: hardware.HoldFront}, cat)
	require.Len(t, p.Pull.Groups, 2)
	screws, bolts := p.Pull.Groups[0].Positions, p.Pull.Groups[1].Positions
	gap := bolts[0] - screws[len(screws)-1]
	for name, spacing := range map[string]*measure.Length{"screws": &cat.Settings.PocketSpacing, "bolts": &cat.Settings.BoltSpacing} {
		was := *spacing
		*spacing = gap - 1
		require.ErrorContains(t, p.Check(seam, cat), fmt.Sprintf("pull parts at %v and %v mm are", screws[len(screws)-1], bolts[0]), name)
		*spacing = was
	}
}

// Two screws hold a seam of any length, where their spacing allows it; of bolts a long one wants three.
func TestTwoScrewsHoldALongSeam(t *testing.T) {
	t.Parallel()
	cat, seam := shop(t, biscuit20, screw8), studioButt()
	seam.SlipRate, cat.Settings.PocketSpacing = 0, 24*measure.Inch
	require.GreaterOrEqual(t, seam.Length, cat.Settings.BoltThreeFrom)
	p := choose(t, seam, hardware.Wish{}, cat)
	require.Equal(t, 2, p.Pull.Groups[0].Count)
	require.NoError(t, p.Check(seam, cat))
}
