package hardware

import (
	"math"
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
	for _, p := range boltFootprints(nil, f, true, nil, s) {
		if p.Name == "recess" {
			require.Zero(t, p.Play, "an elongated one grows from the first")
		}
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

	s := &catalogue.Settings{HoleLeast: 2.5, HoleAllowance: 0.5}
	for want, f := range map[measure.Length]catalogue.Fastener{17.5: {RecessDiameter: 35, BearingDiameter: 30, BoltDiameter: 8}, 16: {RecessDiameter: 30, BearingDiameter: 32, BoltDiameter: 8},
		5.25: {RecessDiameter: 10, BearingDiameter: 10, BoltDiameter: 8}} {
		require.Equal(t, want, recessed.pull.half(&f, s), "the widest of recess, washer and channel")
	}
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

// Without room for an outermost part at either end, or between them, nothing is looked for.
func TestThereIsNoRoomWithoutRoomAtTheEnds(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*placing)
		room   bool
	}{
		"as it is":            {func(*placing) {}, true},
		"just at both ends":   {func(r *placing) { r.pullFrom, r.pullTo = 80, 920 }, true},
		"none at the front":   {func(r *placing) { r.pullFrom = 80.01 }, false},
		"none at the back":    {func(r *placing) { r.pullTo = 919.99 }, false},
		"none between":        {func(r *placing) { r.pullFrom, r.pullTo, r.pullFirst, r.pullLast = 60, 50, 80, 40 }, false},
		"no spacing":          {func(r *placing) { r.pullSpacing = 0 }, false},
		"no spacing of slots": {func(r *placing) { r.alignSpacing = 0 }, false},
		"no seam":             {func(r *placing) { r.length = 0 }, false},
		"no room for both":    {func(r *placing) { r.slotFrom, r.pullFrom = 50, 46 }, false},
	} {
		r := metre()
		c.change(&r)
		require.Equal(t, c.room, r.roomy(), name)
	}
}

// An alignment part that has no room to move to its place goes there once its neighbour has made room: 26 mm apart are 10 + 6 + 10.
func TestAPartMovesOnceItsNeighbourHasMadeRoom(t *testing.T) {
	t.Parallel()
	for name, l := range map[string]*layout{"the first": {aligns: []measure.Length{44, 70, 240, 430, 620, 810, 924}},
		"the last": {aligns: []measure.Length{76, 190, 380, 570, 760, 930, 956}}} {
		r := metre()
		l.work = &coverage{}
		require.True(t, r.alignsStand(l.aligns, nil))
		r.evenAligns(l)
		require.InDelta(t, 76, float64(l.aligns[0]), 0.5, name)
		require.InDelta(t, 924, float64(l.aligns[6]), 0.5, name)
		require.True(t, r.alignsStand(l.aligns, nil), "%v", l.aligns)
	}
}

// How far from the held point a head still bears: by hand 30 mm of washer less 3 mm all round leave a hole of 24 mm, which a shank of 8 mm and
// 0.5 mm to spare fill when 15.5 mm are left for twice the slip. A head that does not bear at rest bears nowhere, however still the seam is.
func TestHowFarAHeadStillBears(t *testing.T) {
	t.Parallel()
	s := &catalogue.Settings{BearingLeast: 3, HoleLeast: 1.5, HoleAllowance: 0.5}
	require.InDelta(t, 387.5, float64(reach(8, 30, 0.02, s)), 1e-9)
	require.True(t, math.IsInf(float64(reach(8, 30, 0, s)), 1))
	require.InDelta(t, 25, float64(reach(8, 15.5, 0.02, s)), 1e-9, "1.5 mm round the shank at least: 9.5 and twice 3")
	for _, rate := range []float64{0, 0.02} {
		require.Negative(t, float64(reach(8, 15.4, rate, s)))
	}
	s.HoleAllowance = 2
	require.Negative(t, float64(reach(8, 15.9, 0.02, s)), "the allowance asks for more than the least")
}

// A slot can be followed by another one, a spacing on, just where both and the clearance fit into the spacing. Every place is looked at.
func TestWhereASlotCanBeFollowed(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rate             float64
		held             measure.Length
		halfCut, spacing measure.Length
	}{
		{0, 0, 0, 200}, {0, 0, 0, 25}, {0, 0, 0, 26}, {0.1, 0, 0, 200}, {0.1, 500, 0, 200}, {0.2, 500, 60, 200}, {0.2, 300, 90, 200}, {0.3, 1000, 40, 200}, {0.05, 0, 98, 200}, {0.3, 500, 0, 60},
	} {
		r := metre()
		r.rate, r.held, r.halfCut, r.alignSpacing = c.rate, c.held, c.halfCut, c.spacing
		first, last := r.followed()
		for at := measure.Length(0.5); at < r.length; at++ {
			fits := r.alignHalf(at)+r.clear+r.alignHalf(at+c.spacing) <= c.spacing
			require.Equal(t, fits, first <= at && at <= last, "%+v at %v: from %v to %v", c, at, first, last)
		}
	}
}

// A screw bears by its washer where that is larger than its head and enters the pocket, else by its head.
func TestWhatOfAScrewBears(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ head, washer, bore, want measure.Length }{{9.5, 12.7, 13, 12.7}, {9.5, 12.7, 12.7, 12.7}, {9.5, 12.7, 12.6, 9.5}, {9.5, 8, 13, 9.5}, {9.5, 0, 10, 9.5}} {
		f := &catalogue.Fastener{Kind: catalogue.PocketScrew, HeadDiameter: c.head, WasherDiameter: c.washer, BoreDiameter: c.bore}
		require.Equal(t, c.want, headOf(f), "%v", c)
		require.Equal(t, c.want, bearingHead(f), "the check: %v", c)
	}
}

// What a box leaves to an upright edge, by hand: 10 mm to either side and 5 more for the slip, 50 mm off.
func TestTheWoodThatIsLeft(t *testing.T) {
	t.Parallel()
	p := box("slot", 0, 10, 20, 0)
	for at, e := range map[measure.Length]Edge{50: {From: Place{0, 400}, To: Place{0, -400}}, 950: {From: Place{1000, -400}, To: Place{1000, 400}}} {
		require.InDelta(t, 35, float64(p.wood(&e, at, 5)), 1e-9)
		require.InDelta(t, 40, float64(p.wood(&e, at, 0)), 1e-9)
	}
	e := Edge{From: Place{0, 400}, To: Place{0, -400}}
	require.InDelta(t, -5, float64(p.wood(&e, 10, 5)), 1e-9, "it breaks out")
	e = Edge{From: Place{1000, 65}, To: Place{0, 65}}
	require.InDelta(t, 45, float64(p.wood(&e, 500, 5)), 1e-9, "behind it")
}

// A screw takes its thread's diameter of the piece that it bites, a pocket its bore of the other one: by hand 5 and 10 mm round a place.
func TestTheCheckKnowsHowWideAScrewIs(t *testing.T) {
	t.Parallel()
	f := &catalogue.Fastener{Kind: catalogue.PocketScrew, Length: 64, Penetration: 32, ThreadDiameter: 5, BoreDiameter: 10}
	k := &checker{seam: Seam{Joint: plan.Butt, Thickness: 38}}
	cuts := k.cuts(f, 200)
	require.Len(t, cuts, 2)
	for i, half := range []measure.Length{5, 2.5} {
		require.Equal(t, i, cuts[i].side)
		require.Equal(t, []measure.Length{200 - half, 200 + half}, []measure.Length{cuts[i].points[0].X, cuts[i].points[1].X}, cuts[i].name)
	}
}
