package hardware

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Evening out moves the outermost pull parts towards the ends, the first as well as the last, and breaks no rule.
func TestOutermostPullPartsMoveTowardsTheEnds(t *testing.T) {
	t.Parallel()
	r := metre()
	l := layout{work: &coverage{}, pulls: []measure.Length{80, 360, 640, 920},
		aligns: []measure.Length{20, 200, 310, 500, 690, 800, 980}}
	r.evenBoth(&l)
	require.Less(t, float64(l.pulls[0]), 80.0)
	require.Greater(t, float64(l.pulls[3]), 920.0)
	require.True(t, r.alignsStand(l.aligns, l.pulls), "%v between %v", l.aligns, l.pulls)
	for i := range l.pulls {
		require.True(t, r.pullKeeps(&l, i), "%v between %v", l.pulls, l.aligns)
	}
}

// At either end an outermost pull part and an outermost alignment part need room beside each other, whichever is nearer to the end.
// With the pull part outside, its place and half its width, the clearance and half a slot come before the last place for a first
// slot: 0 + 15 + 6 + 10 ≤ 76; with the slot outside 0 + 10 + 6 + 15 ≤ 80.
func TestOutermostPartsNeedRoomBesideEachOther(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*placing)
		fits   bool
	}{
		"both ways":                                 {func(*placing) {}, true},
		"the pull part outside at the front":        {func(r *placing) { r.slotFrom, r.pullFrom = 50, 45 }, true},
		"the slot outside at the front":             {func(r *placing) { r.slotFrom, r.pullFrom = 49, 46 }, true},
		"neither at the front":                      {func(r *placing) { r.slotFrom, r.pullFrom = 50, 46 }, false},
		"the pull part outside at the back":         {func(r *placing) { r.slotTo, r.pullTo = 950, 955 }, true},
		"the slot outside at the back":              {func(r *placing) { r.slotTo, r.pullTo = 951, 954 }, true},
		"neither at the back":                       {func(r *placing) { r.slotTo, r.pullTo = 950, 954 }, false},
		"the front alone is not enough for the end": {func(r *placing) { r.slotFrom, r.slotTo, r.pullTo = 0, 900, 900 }, false},
	} {
		r := metre()
		c.change(&r)
		require.Equal(t, c.fits, r.endsFit(), name)
	}
}

// A channel is as wide as its least up to the slip that is its play, and wider from there on.
func TestAChannelsPlayIsTheSlipThatItHasRoomFor(t *testing.T) {
	t.Parallel()
	f, s := &catalogue.Fastener{Kind: catalogue.DrawBolt, BoltDiameter: 8, RecessDiameter: 35, RecessDistance: 60},
		&catalogue.Settings{HoleLeast: 2.5, HoleAllowance: 0.5}
	for _, p := range boltFootprints(nil, f, false, nil, s) {
		if p.Name != "channel" {
			require.Equal(t, never, p.Play, "a round recess does not grow")
			continue
		}
		require.InDelta(t, 10.5, float64(2*p.Rows[0].Half), 1e-9)
		require.Equal(t, Hole(8, 0, s), Hole(8, p.Play, s))
		require.Greater(t, Hole(8, p.Play+0.001, s), Hole(8, 0, s))
		require.InDelta(t, 60, float64(p.Rows[1].In), 0, "as deep as its recess")
	}
}

// By hand: a screw of 64 mm that bites 32 mm has its head 32·cos 15° = 30.910 mm from the seam.
func TestWhereAPocketsHeadSits(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 30.910, float64(PocketSeat(&catalogue.Fastener{Length: 64, Penetration: 32})), 0.001)
}

// A seam that bears just what it must is not overloaded.
func TestJustEnoughIsNotOverloaded(t *testing.T) {
	t.Parallel()
	require.False(t, (&Pull{MomentForce: 3600, Capacity: 3600}).Overloaded())
	require.True(t, (&Pull{MomentForce: 3601, Capacity: 3600}).Overloaded())
}

// Pull parts that are not even are evened out until none moves by half a millimetre, however many times that takes, and though the
// alignment parts, which are even, stay.
func TestPullPartsAreEvenedOutToTheEnd(t *testing.T) {
	t.Parallel()
	r := metre()
	r.alignSpacing = 300
	l := layout{work: &coverage{}, pulls: []measure.Length{20, 180, 420, 720, 980}, aligns: []measure.Length{76, 358.6, 641.3, 924}}
	r.evenBoth(&l)
	require.Equal(t, []measure.Length{76, 358.6, 641.3, 924}, l.aligns)
	for i := 1; i < 4; i++ {
		require.InDelta(t, float64(l.pulls[i-1]+l.pulls[i+1])/2, float64(l.pulls[i]), 1, "%v", l.pulls)
	}
}

// The shank of a screw slides within its pocket, which takes the same room wherever it stands; a bolt's channel grows with the slip, and
// its recess only where it is elongated.
func TestTheRoomThatAPullPartTakes(t *testing.T) {
	t.Parallel()
	r := metre()
	r.rate = 0.02 // 20 mm at the far end
	require.Equal(t, measure.Length(15), r.pullHalf(1000))
	r.halfChannel = 5
	require.Equal(t, measure.Length(15), r.pullHalf(500), "5 + 10, the recess")
	require.Equal(t, measure.Length(25), r.pullHalf(1000), "5 + 20")
	r.long = true
	require.Equal(t, measure.Length(35), r.pullHalf(1000), "15 + 20")
}

// The check takes an elongated recess to reach as far to the front as to the back: of 35 mm, where the pieces slip by 2, from 17.5 mm
// round a place 2 mm in front to the same behind.
func TestTheCheckKnowsAnElongatedRecess(t *testing.T) {
	t.Parallel()
	f := &catalogue.Fastener{Kind: catalogue.DrawBolt, BoltDiameter: 8, RecessDiameter: 35, RecessDistance: 60}
	for long, off := range map[bool]measure.Length{true: 2, false: 0} {
		k := &checker{seam: Seam{SlipRate: 0.01}, long: long}
		found := 0
		for _, c := range k.cuts(f, 200) {
			if c.name == "recess" {
				found++
				require.Equal(t, []plan.Point{{X: 200 - off, Y: 60}, {X: 200 + off, Y: 60}}, c.points)
				require.Equal(t, measure.Length(17.5), c.radius)
			}
		}
		require.Equal(t, 2, found, "one in either piece")
	}
}
