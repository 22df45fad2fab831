package estimate

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/service/takeoff"
)

// Runs that are made of pieces: the first is whole, the second parted twice, the second seam of which was placed by the order.
func someParts() *parts {
	at := func(run int, number, count int) part { return part{PartOf{Number: number, Count: count}, run} }
	return &parts{
		runs:    []part{at(0, 1, 1), at(1, 1, 3), at(1, 2, 3), at(1, 3, 3)},
		corners: []int{0, -1, -1},
		seams:   []seamPlace{{}, {InLineSeam{Reason: SeamWood}, 1, 0}, {InLineSeam{Reason: SeamNamed}, 1, 1}},
		base:    []int{0, 0, 2}, walls: []int{3, 3},
	}
}

func TestPointersLeadBackToTheOrderAsItWasSent(t *testing.T) {
	t.Parallel()
	p := someParts()
	for at, want := range map[string]string{
		"/top/runs/0/length":         "/top/runs/0/length",
		"/top/runs/2/depth":          "/top/runs/1/depth",
		"/top/runs/3":                "/top/runs/1",
		"/top/runs/4/depth":          "/top/runs/4/depth",
		"/top/corners/0/pull":        "/top/corners/0/pull",
		"/top/corners/1":             "/top/runs/1/straight_seams/0",
		"/top/corners/1/pull":        "/top/runs/1/straight_seams/0",
		"/top/corners/2/pull":        "/top/runs/1/straight_seams/1/pull",
		"/top/corners/2/alignment":   "/top/runs/1/straight_seams/1/alignment",
		"/top/corners/2/angle":       "/top/runs/1/straight_seams/1",
		"/top/corners/3/angle":       "/top/corners/3/angle",
		"/top/corners/-1":            "/top/corners/-1",
		"/base/1/from":               "/base/0/from",
		"/base/2":                    "/base/2",
		"/base/3/depth":              "/base/3/depth",
		"/site/walls/1/offsets/2/at": "/site/walls/3/offsets/2/at",
		"/site/walls/2":              "/site/walls/2",
		"/top/runs/first/depth":      "/top/runs/first/depth",
		"/top/thickness":             "/top/thickness",
	} {
		require.Equal(t, want, p.pointer(at), at)
	}
}

func TestAPieceIsFoundByItsPlaceAndHasANameOfItsOwn(t *testing.T) {
	t.Parallel()
	p := someParts()
	p.runs[0].To, p.runs[1].To, p.runs[2].To, p.runs[3].To = 900, 700, 1500, 2400
	for at, n := range map[measure.Length]int{0: 1, 699: 1, 700: 2, 1499: 2, 1500: 3, 2400: 3, 2500: 3} {
		require.Equal(t, n, p.holding(1, at), "%g", float64(at))
	}
	require.Equal(t, 0, p.holding(0, 950), "a run that is whole")
	long := "abcdefghijklmnopqrstuvwxyzäöüabcdefghijkl" // 41 letters
	w := &work{runs: []run{{Run: Run{Name: "A"}}, {Run: Run{Name: "B1"}}}}
	p.order.Top.Runs = []Run{{Name: "Ba1"}}
	require.Equal(t, "A2", p.pieceName(w, "A", 2))
	require.Equal(t, "Bb1", p.pieceName(w, "B", 1), "B1 is another run, Ba1 another piece")
	require.Equal(t, "abcdefghijklmnopqrstuvwxyzäöüabcdefg1", p.pieceName(w, long, 1), "36 letters and the number")
	require.Equal(t, long[:36]+"1", p.pieceName(w, long[:36], 1))
}

// By hand: 1000 in three parts of at most 400, at places 50 apart, without those from 300 to 400.
func TestARunIsDividedAsEvenlyAsItsPlacesAllow(t *testing.T) {
	t.Parallel()
	var places, clear []measure.Length
	for at := measure.Length(50); at < 1000; at += 50 {
		places = append(places, at)
		if at < 300 || at > 400 {
			clear = append(clear, at)
		}
	}
	require.Equal(t, []measure.Length{350, 650}, divide(places, 0, 1000, 400, 3), "333 is nearest to 350, half of the rest as near to 700")
	require.Equal(t, []measure.Length{250, 600}, divide(clear, 0, 1000, 400, 3), "and half of the rest to 625, the first of two as near")
	require.Equal(t, []measure.Length{500}, divide(places, 0, 1000, 500, 2), "just")
	require.Equal(t, []measure.Length{390, 750}, divide([]measure.Length{320, 390, 750}, 0, 1000, 400, 3), "320 is nearer to 333, but no part reaches 750 from there")
	require.Nil(t, divide(places, 0, 1000, 499, 2))
	require.Nil(t, divide(clear, 0, 1000, 249, 4))
	require.Nil(t, divide(places, 0, 1000, 1000, 1), "one part is not divided")
	require.Equal(t, []measure.Length{250, 500, 750}, divide(places, 0, 1000, 250, 4))
}

// What a joint lies beside in one of the two ways that a stave can be turned can be kept from it; what it lies beside in both cannot.
func TestJointsBesideACutOutEitherWayRound(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{CutoutClear: 50}}
	hole := &cutout{from: 1000, to: 1200}
	for _, c := range []struct {
		at, length measure.Length
		want       bool
	}{
		{1100, 2200, true}, {1100, 3000, false}, {900, 2000, false}, {951, 2200, true}, {950, 2200, false}, {1250, 2200, false},
		{1249, 2299, true},
	} {
		require.Equal(t, c.want, w.bothBeside(hole, []measure.Length{c.at}, c.length), "%v", c)
	}
	require.True(t, w.bothBeside(hole, []measure.Length{300, 1900, 1100}, 3000), "one beside it as it is, another when it is turned")
	require.False(t, w.bothBeside(hole, nil, 2200))
}

func TestAPieceMayPassRaised(t *testing.T) {
	t.Parallel()
	turn := func(passes bool, raised measure.Length) WayStep {
		return WayStep{Kind: passage.Turn, Verdict: passage.Verdict{Passes: passes, EndUp: raised}}
	}
	door := WayStep{Kind: passage.Door, Verdict: passage.Verdict{EndUp: 9000}}
	for _, c := range []struct {
		way  []WayStep
		want bool
	}{
		{[]WayStep{turn(true, 0), turn(false, 2000)}, true}, {[]WayStep{turn(false, 1999)}, false},
		{[]WayStep{turn(false, 2000), door}, false}, {nil, true},
	} {
		require.Equal(t, c.want, passesRaised(&Carried{Size: passage.Piece{Length: 2000}, Way: c.way}))
	}
}

// The cheapest way is the first of equals; the next is the cheapest of all others, wherever it stands.
func TestTheCheapestWaysToCarryACorner(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ totals, want []int }{
		{[]int{3, 1, 2}, []int{1, 2}}, {[]int{1, 3, 2}, []int{0, 2}}, {[]int{3, 2, 1}, []int{2, 1}}, {[]int{1, 1, 2}, []int{0, 1}},
		{[]int{2, 1, 1}, []int{1, 2}}, {[]int{1, 2, 2}, []int{0, 1}},
	} {
		var x Tolerances
		for _, n := range c.totals {
			x.Ways = append(x.Ways, WayTolerance{Total: money.RoundAmount(float64(n))})
		}
		best, next := x.ranked()
		require.Same(t, &x.Ways[c.want[0]], best, "%v", c.totals)
		require.Same(t, &x.Ways[c.want[1]], next, "%v", c.totals)
	}
}

// Three tapes of 3, 4 and 5 about a right angle, each 1 off. By hand, from cos θ = (a² + b² − c²)/2ab at θ = 90°, where the cosine falls
// as fast as the angle grows: dθ = c·dc/ab − da/b − db/a.
func TestWhatThreeTapesDoToARightAngle(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{ToleranceSettings: catalogue.ToleranceSettings{ToleranceTape: 1, ToleranceTapeMark: 1000}}, runs: make([]run, 3), corners: make([]corner, 2)}
	w.corners[1].Measured = &Measured{AlongFirst: 300, AlongSecond: 400, Across: 500}
	w.runs[0].Length, w.runs[1].Length = 600, 800
	w.corners[0].angle = 90 * measure.Degree
	for k, side := range [][3]float64{{600, 800, 1000}, {300, 400, 500}} { // along its runs, the first shorter than the mark
		a, b, c := side[0], side[1], side[2]
		got := w.tapes(k)
		require.Len(t, got, 3)
		for i, want := range [3]float64{-1 / b, -1 / a, c / (a * b)} {
			require.InDelta(t, want, float64(got[i]), 1e-12, "corner %d, tape %d", k, i)
		}
	}
	w.set.ToleranceTapeMark = 300
	require.InDelta(t, -1.0/300, float64(w.tapes(0)[0]), 1e-12, "no further than the mark")
	w.corners[0].angle = 120 * measure.Degree
	require.InDelta(t, 300.0*1.7320508/(300*300*0.8660254), float64(w.tapes(0)[2]), 1e-8, "c = √3·a, dθ = c·dc/(ab·sin θ)")
}

func TestHowTheOrderCarriesACorner(t *testing.T) {
	t.Parallel()
	w := &work{corners: make([]corner, 1)}
	taped := &Measured{AlongFirst: 300, AlongSecond: 400, Across: 500}
	for _, c := range []struct {
		carry CarryToWood
		taped *Measured
		want  ToleranceWay
	}{
		{CarryTemplate, nil, BySite}, {CarryTemplate, taped, BySite}, {CarryScribe, nil, ByScribe}, {CarryNone, nil, NominalAngle},
		{CarryNone, taped, ThreeTapes},
	} {
		w.corners[0].Carry, w.corners[0].Measured = c.carry, c.taped
		require.Equal(t, c.want, w.reckonedWay(0), "%v", c)
	}
}

func TestFacesThatAreSawn(t *testing.T) {
	t.Parallel()
	for want, kinds := range map[int][]plan.JointKind{1: {plan.Butt}, 2: {plan.Miter, plan.MasonsMiter, plan.Straight}} {
		for _, kind := range kinds {
			through := plan.NoSide
			if kind == plan.Butt || kind == plan.MasonsMiter {
				through = plan.First
			}
			require.Equal(t, want, sawn(plan.Joint{Kind: kind, Through: through}), kind)
		}
	}
}

// Depths of 25 and 20 in differ by a fifth of the greater, whichever comes first.
func TestHowMuchDepthsDiffer(t *testing.T) {
	t.Parallel()
	require.InDelta(t, 0.2, depthsDiffer(500, 400), 1e-12)
	require.InDelta(t, 0.2, depthsDiffer(400, 500), 1e-12)
	require.Zero(t, depthsDiffer(500, 500+1e-9), "rounding is no difference")
}

func TestEveryProfileHasItsUsualSize(t *testing.T) {
	t.Parallel()
	for profile, inches := range map[Profile]float64{Square: 0, Eased: 0.0625, Chamfer: 0.125, Roundover: 0.25, Cove: 0.375, Ogee: 0.5, Bullnose: 0.75, "": 0.0625} {
		w := &work{order: Order{Top: Top{Thickness: 1.5 * measure.Inch, Edge: Edge{Profile: profile}}}}
		require.NoError(t, w.resolveEdge(), profile)
		require.InDelta(t, inches, w.profile.Inches(), 1e-12, profile)
		require.InDelta(t, inches, w.order.Top.Edge.Size.Inches(), 1e-12, profile)
		told := 0
		for _, a := range w.assumptions {
			if a.Pointer == "/top/edge/size" {
				told++
			}
		}
		require.Equal(t, profile != Square, told == 1, profile)
	}
	for _, c := range []struct {
		profile Profile
		size    measure.Length
		fits    bool
	}{{Ogee, 38, true}, {Ogee, 38.01, false}, {Bullnose, 19, true}, {Bullnose, 19.01, false}, {Square, 90, true}} {
		w := &work{order: Order{Top: Top{Thickness: 38, Edge: Edge{Profile: c.profile, Size: c.size}}}, units: measure.Millimetres}
		require.Equal(t, c.fits, w.resolveEdge() == nil, "%v", c)
	}
}

// A run between two corners that both swing counts with the one that takes it further towards its wall: the share times the season
// in which that is most.
func TestHowFarARunTurnsToItsWall(t *testing.T) {
	t.Parallel()
	for want, s := range map[measure.Angle]swinging{0.01: {dry: -0.04, humid: 0.02, share: 0.5}, 0.03: {dry: 0.04, humid: -0.09, share: 0.75}} {
		require.InDelta(t, float64(want), float64(s.toWall()), 1e-15)
	}
	end, start := swinging{corner: 900, fromEnd: true}, swinging{corner: 100}
	require.Equal(t, measure.Length(600), end.distance(300))
	require.Equal(t, measure.Length(200), start.distance(300))
}

// Layers all in one field: gaps are what nothing solid lies over, when they are wide enough.
func TestGapsBetweenWhatIsSolid(t *testing.T) {
	t.Parallel()
	solid := []stretch{{0, 100}, {300, 400}, {350, 360}, {449, 500}, {800, 900}}
	require.Equal(t, []stretch{{100, 300}, {500, 800}, {900, 1000}}, gapsIn(solid, 0, 1000, 100))
	require.Equal(t, []stretch{{100, 300}, {400, 449}, {500, 800}, {900, 1000}}, gapsIn(solid, 0, 1000, 49))
	require.Equal(t, []stretch{{100, 300}, {500, 700}}, gapsIn(solid, 0, 700, 100), "up to the end")
	require.Equal(t, []stretch{{0, 1000}}, gapsIn(nil, 0, 1000, 1000))
	require.Nil(t, gapsIn(nil, 0, 1000, 1001))
}

// A cut-out lies over a hollow with all of its edge, is cut into it, or lies beside it.
func TestCutOutsOverHollows(t *testing.T) {
	t.Parallel()
	h := Hollow{From: 100, To: 500, Front: 60, Back: 400}
	hole := func(from, to, front, back measure.Length) cutout {
		return cutout{Cutout: Cutout{FromFront: front, Depth: back - front}, from: from, to: to}
	}
	for _, c := range []struct {
		c          cutout
		over, into bool
	}{
		{hole(100, 500, 60, 400), true, false}, {hole(150, 450, 100, 300), true, false},
		{hole(99, 450, 100, 300), false, true}, {hole(150, 501, 100, 300), false, true}, {hole(150, 450, 59, 300), false, true}, {hole(150, 450, 100, 401), false, true},
		{hole(0, 100, 100, 300), false, false}, {hole(500, 600, 100, 300), false, false}, {hole(150, 450, 0, 60), false, false}, {hole(150, 450, 400, 500), false, false},
	} {
		require.Equal(t, c.over, c.c.over(&h), "%v", c.c)
		require.Equal(t, c.into, c.c.cutsInto(&h), "%v", c.c)
		require.Equal(t, c.over, c.c.overHollow([]Hollow{{}, h}), "%v", c.c)
	}
	turned := cutout{shape: &plan.Opening{}, outline: []plan.Point{{X: 300, Y: 50}, {X: 420, Y: 90}, {X: 280, Y: 210}, {X: 350, Y: 140}}}
	require.Equal(t, Hollow{From: 280, To: 420, Front: 50, Back: 210}, turned.box())
}

func TestAPlaceAlongAPath(t *testing.T) {
	t.Parallel()
	path := []plan.Point{{X: 0, Y: 0}, {X: 300, Y: 400}, {X: 300, Y: 1000}}
	for at, want := range map[measure.Length]plan.Point{0: {}, 250: {X: 150, Y: 200}, 500: {X: 300, Y: 400}, 800: {X: 300, Y: 700}, 1100: {X: 300, Y: 1000}} {
		require.Equal(t, want, onPath(path, at), "%g", float64(at))
	}
	beyond := onPath(path, 1100+1e-9)
	require.InDelta(t, 300, float64(beyond.X), 1e-6, "a sum of lengths may be longer by rounding")
	require.InDelta(t, 1000, float64(beyond.Y), 1e-6)
	require.InDelta(t, 0.7853981634*0.01*0.01*0.1*steel, pullMass(10, 100).Kilograms(), 1e-9, "a rod of steel")
}

// Close words are offered; where none is close and there are few, all.
func TestAnUnknownCodeIsToldWhatThereIs(t *testing.T) {
	t.Parallel()
	few := []string{"north", "south"}
	require.Equal(t, "Close to it: north.", unknown("/x", "region", "nroth", few).Fix)
	require.Equal(t, "There are: north, south.", unknown("/x", "region", "overseas", few).Fix)
	many := []string{"a1", "b2", "c3", "d4", "e5", "f6", "g7", "h8", "i9", "j10", "k11", "l12"}
	require.Contains(t, unknown("/x", "region", "overseas", many).Fix, "l12.")
	require.Empty(t, unknown("/x", "region", "overseas", append(many, "m13")).Fix)
}

// A blank has a bounded number of fields beside each other: of what is hollow more often the first ones are kept.
func TestThereAreAsManyHollowsAsABlankHasFields(t *testing.T) {
	t.Parallel()
	var solid []stretch
	for i := range 3 * takeoff.MostFields {
		n := measure.Length(i)
		solid = append(solid, stretch{100 * n, 100*n + 10})
	}
	gaps := gapsIn(solid, 0, 1e6, 50)
	require.Len(t, gaps, takeoff.MostFields-1)
	require.Equal(t, stretch{10, 100}, gaps[0])
}

// A shop that has found its wood faster or slower than the model says so.
func TestTheShopsOwnFactorIsSaid(t *testing.T) {
	t.Parallel()
	for f, want := range map[float64]string{1: "", 0.8: ", times 0.8 (setting wood_diffusion)", 1.25: ", times 1.25 (setting wood_diffusion)"} {
		w := &work{set: &catalogue.Settings{}}
		w.set.WoodDiffusion = f
		require.Equal(t, want, w.ownFactor())
	}
}

// Lines and remedies are told apart by numbers of their own where it is remembered what a chain costs with them.
func TestEveryLineAndRemedyHasItsNumber(t *testing.T) {
	t.Parallel()
	seen := map[int8]bool{}
	for i, line := range []hardware.Hold{hardware.HoldAuto, hardware.HoldFront, hardware.HoldCentre, hardware.HoldBack} {
		seen[lineNumber(line)] = true
		require.Len(t, seen, i+1, line)
	}
	clear(seen)
	for i, remedy := range append([]Remedy{NoRemedy}, remedies[:]...) {
		seen[remedyNumber(remedy)] = true
		require.Len(t, seen, i+1, remedy)
	}
}

// Runs share panels of one wood and width, sawn at one price; others have their own.
func TestWhichRunsSharePanels(t *testing.T) {
	t.Parallel()
	first := &takeoff.PanelStock{Width: 650}
	for _, c := range []struct {
		species string
		sawn    catalogue.Sawn
		width   measure.Length
		shared  bool
	}{
		{"maple", catalogue.FlatSawn, 650, true}, {"maple", catalogue.MixedSawn, 650, true}, {"maple", catalogue.QuarterSawn, 650, false},
		{"maple", catalogue.FlatSawn, 800, false}, {"ash", catalogue.FlatSawn, 650, false},
	} {
		w := lone(corner{})
		w.runs[0].Run.Species, w.runs[0].Sawn, w.runs[1].Run.Species, w.runs[1].Sawn = "maple", catalogue.FlatSawn, c.species, c.sawn
		own := &takeoff.PanelStock{Width: c.width}
		w.panels = []*takeoff.PanelStock{first, nil}
		require.Equal(t, c.shared, w.sharedPanels(1, own) == first, "%v", c)
		require.Equal(t, !c.shared, w.sharedPanels(1, own) == own, "%v", c)
	}
}

// Before it is scribed a top of 2000 × 600 mm is larger by what is scribed off each of its edges: 5 mm at its start, 7 at its end, 9 at its wall.
func TestATopIsLargerBeforeItIsScribed(t *testing.T) {
	t.Parallel()
	of := func(most measure.Length) *scribe.Profile { return &scribe.Profile{Greatest: most} }
	w := lone()
	w.runs[0].Length, w.runs[0].Depth = 2000, 600
	w.top = plan.Top{Hand: plan.Right, Runs: []plan.Run{{Length: 2000, Depth: 600}}}
	l, err := plan.Lay(w.top, nil, 0, 0)
	require.NoError(t, err)
	box := func() [4]measure.Length {
		b := [4]measure.Length{1e9, 1e9, -1e9, -1e9}
		for _, p := range w.beforeScribing(l) {
			x, y := l.Local(0, p)
			b = [4]measure.Length{min(b[0], x), min(b[1], y), max(b[2], x), max(b[3], y)}
		}
		return b
	}
	require.Equal(t, [4]measure.Length{0, 0, 2000, 600}, box())
	w.crooked = []profiles{{wall: of(9), start: of(5), end: of(7)}}
	require.Equal(t, [4]measure.Length{-5, 0, 2007, 609}, box())
}

// A sealant may want a wider gap than the movement needs, and that is the one to leave; an answer from before covers were told has the
// movement's alone.
func TestTheGapAtTheWallIsTheOneThatItsCoverAsksFor(t *testing.T) {
	t.Parallel()
	var r RunResult
	r.Movement.WallGap, r.WallJoint.Width = 5, 9
	require.Equal(t, measure.Length(5), r.GapAtWall())
	r.WallJoint.Cover = CoverSealant
	require.Equal(t, measure.Length(9), r.GapAtWall())
}

// Another order may do as much as a new maker's first one, whatever was spent on the order before it.
func TestWhatTheOrderBeforeTookBoundsNothing(t *testing.T) {
	t.Parallel()
	m := NewMaker(&catalogue.Snapshot{})
	require.True(t, m.mayMake() && m.mayPrice())
	m.took = took{runs: MostRuns, effort: mostBeside + 1, pieces: 4*mostPieces + 4}
	require.False(t, m.mayMake() || m.mayPrice())
	m.begin()
	require.True(t, m.mayMake() && m.mayPrice())
}

// The joined top is carried as the least box round it, whichever of its edges comes first. By hand, of wedges whose wall is 1000 mm and
// whose end slants by the angle of 3, 4 and 5: d deep, along the wall it is 1000 × d, along its end 1000·0.6 + d·0.8 by 1000·0.8. Of 500 mm
// both are 1000 long, of 800 mm both are 800 deep.
func TestAJoinedTopIsCarriedAsTheLeastBoxRoundIt(t *testing.T) {
	t.Parallel()
	for depth, wedge := range map[measure.Length][]plan.Point{
		500: {{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 625, Y: 500}, {X: 0, Y: 500}},
		800: {{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 400, Y: 800}, {X: 0, Y: 800}},
	} {
		for first := range wedge {
			w := lone()
			w.quiet, w.walk, w.order.Top.Thickness = true, new(passage.Walk), 40
			got := w.joined(&plan.Layout{Outline: slices.Concat(wedge[first:], wedge[:first])}).Size
			require.InDelta(t, 1000, float64(got.Length), 1e-9, "%v, from %d", depth, first)
			require.InDelta(t, float64(depth), float64(got.Depth), 1e-9, "%v, from %d", depth, first)
			require.Equal(t, measure.Length(40), got.Thickness)
		}
	}
}

// A lift that allows next to nothing is a lift: of half a kilogram a slab of 10 kg is twenty times as much, and twenty people's load. One
// that allows nothing is none.
func TestALiftThatAllowsHalfAKilogramIsStillOne(t *testing.T) {
	t.Parallel()
	for limit, want := range map[measure.Mass]struct {
		index  float64
		enough int
		code   string
	}{0: {0, 0, "out_of_bounds"}, 0.5: {20, 20, "lift_dangerous"}, 5: {2, 2, "lift_heavy"}, 10: {1, 1, ""}} {
		w := lone()
		w.set = &catalogue.Settings{}
		w.set.PersonLimit = 23
		x := Lifted{Run: "A", Mass: 10}
		l := &Lifting{Limit: limit}
		l.reckon(w, &x)
		require.InDelta(t, want.index, x.Index, 1e-12)
		require.Equal(t, want.enough, x.Enough)
		l.Pieces = []Lifted{x}
		w.warnLifted(l)
		if want.code == "" {
			require.Empty(t, w.warnings)
			continue
		}
		require.Len(t, w.warnings, 1)
		require.Equal(t, want.code, w.warnings[0].Code)
	}
}
