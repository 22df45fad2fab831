package estimate_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
)

// Stock for a house of 6 to 10 %, whose target is 8 %: within the shop's point of it is accepted, within the shop's points of a promise
// rests with days that can be promised, beyond them without; the board that is furthest off decides, of two as far off the wetter.
func TestWhatIsSaidOfStock(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	within, promised := cat.Settings.ReadyWithin, cat.Settings.ReadyPromised
	require.Less(t, within, promised)
	long := 0
	for _, c := range []struct {
		readings []measure.Moisture
		verdict  estimate.Verdict
		promise  bool
		says     string
	}{
		{[]measure.Moisture{8, 8, 8}, estimate.AcceptStock, true, "The stock holds 8.0 %, and must"},
		{[]measure.Moisture{8 + within, 8}, estimate.AcceptStock, true, "8.0 to 9.0 %"},
		{[]measure.Moisture{8 - within}, estimate.AcceptStock, true, "It is there: go on."},
		{[]measure.Moisture{8, 8 + within + 0.01}, estimate.RestStock, true, "The board at 9.0 % is there"},
		{[]measure.Moisture{8 - within - 0.01}, estimate.RestStock, true, "The board at 7.0 % is there"},
		{[]measure.Moisture{8 + promised, 8}, estimate.RestStock, true, "is there after about"},
		{[]measure.Moisture{8, 8 + promised + 0.01}, estimate.RestStock, false, "is there after about"},
		{[]measure.Moisture{8 - promised - 0.01, 8}, estimate.RestStock, false, "is there after about"},
		{[]measure.Moisture{6.4, 9.5}, estimate.RestStock, true, "The board at 6.4 % is there"},
		{[]measure.Moisture{9.5, 8, 6.5}, estimate.RestStock, true, "The board at 9.5 % is there"},
		{[]measure.Moisture{6.5, 9.5}, estimate.RestStock, true, "The board at 9.5 % is there"},
	} {
		o := straight()
		o.Moisture = estimate.MoistureOrder{Dry: wet(6), Humid: wet(10), Stock: &estimate.StockOrder{Readings: c.readings}}
		e := mustMake(t, o)
		k := e.Conditioning.Stock
		require.Equal(t, c.verdict, k.Verdict, "%v", c.readings)
		require.Equal(t, c.promise, e.Conditioning.Promise, "%v", c.readings)
		require.Equal(t, c.verdict == estimate.AcceptStock, e.Conditioning.Ready)
		require.Contains(t, e.Conditioning.Text, c.says)
		if d := e.Conditioning.Days; c.verdict == estimate.RestStock && k.Days.Low > 10 {
			long++
			require.Contains(t, e.Conditioning.Text, fmt.Sprintf("after about %d days in stickers, perhaps %d to %d days,", d.Likely, d.Least, d.Most),
				"the days that the plan of work waits")
		}
		require.InDelta(t, 8, float64(k.Equilibrium), 1e-12, "of air that nobody told it is what it must come to")
		require.Equal(t, c.verdict == estimate.RestStock, k.Days.Likely > 0, "%v", c.readings)
		require.Equal(t, c.verdict == estimate.RestStock && c.promise, slices.Contains(codes(e), "wood_must_rest"), "%v", c.readings)
		require.Equal(t, !c.promise, slices.Contains(codes(e), "wood_not_ready"), "%v", c.readings)
	}
	require.Positive(t, long, "some rest for long")
}

// Stock that air keeps too wet is refused; that which is ready but wetter than the house ever makes it is said to move one way.
func TestStockThatItsAirKeepsWetAndStockBeyondTheYear(t *testing.T) {
	t.Parallel()
	o := straight()
	o.Moisture = estimate.MoistureOrder{Dry: wet(6), Humid: wet(10), Stock: &estimate.StockOrder{Readings: []measure.Moisture{14}, Air: &catalogue.Air{Humidity: 75, Temperature: 20}}}
	e := mustMake(t, o)
	require.Equal(t, estimate.RefuseStock, e.Conditioning.Stock.Verdict)
	require.False(t, e.Conditioning.Promise)
	require.Zero(t, e.Conditioning.Stock.Days)
	require.Equal(t, "wood_not_ready", codes(e)[0])
	require.Contains(t, e.Conditioning.Text, "never gets there")

	o.Moisture = estimate.MoistureOrder{Dry: wet(7.8), Humid: wet(8.2), Stock: &estimate.StockOrder{Readings: []measure.Moisture{8.6}}}
	require.Contains(t, codes(mustMake(t, o)), "made_outside_service")
	o.Moisture.Stock.Readings[0] = 9.6
	require.NotContains(t, codes(mustMake(t, o)), "made_outside_service", "it rests first")
	o.Moisture.Stock.Readings[0] = 8.2
	require.NotContains(t, codes(mustMake(t, o)), "made_outside_service")

	o.Moisture.Stock.Air = &catalogue.Air{Humidity: 45, Temperature: -1}
	_, err := estimate.Make(o, demotest.Catalogue(t))
	require.ErrorContains(t, err, "from 0 to 60 °C")
}

// The rest of wood is reckoned up to its limits, and no further; air that is none is told once.
func TestTheLimitsOfRest(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	for _, c := range []struct {
		change  func(*estimate.RestOrder)
		pointer string
	}{
		{func(o *estimate.RestOrder) { o.Thickness = 1 }, ""}, {func(o *estimate.RestOrder) { o.Thickness = 0.99 }, "/thickness"},
		{func(o *estimate.RestOrder) { o.Thickness = 300 }, ""}, {func(o *estimate.RestOrder) { o.Thickness = 300.1 }, "/thickness"},
		{func(o *estimate.RestOrder) { o.Making = *wet(30) }, ""}, {func(o *estimate.RestOrder) { o.Making = *wet(30.01) }, "/moisture/making"},
		{func(o *estimate.RestOrder) { o.Air.Temperature = 0 }, ""}, {func(o *estimate.RestOrder) { o.Air.Temperature = -0.1 }, "/air/temperature"},
		{func(o *estimate.RestOrder) { o.Air.Temperature = 60 }, ""}, {func(o *estimate.RestOrder) { o.Air.Temperature = 60.1 }, "/air/temperature"},
		{func(o *estimate.RestOrder) { o.Air = catalogue.Air{Humidity: 101, Temperature: -20} }, "/air"},
	} {
		o := estimate.RestOrder{Units: measure.Millimetres, Species: "ash_white", Thickness: 52, Making: *wet(12), Air: catalogue.Air{Humidity: 40, Temperature: 20}}
		c.change(&o)
		_, err := estimate.Rest(o, cat)
		if c.pointer == "" {
			require.NoError(t, err, "%+v", o)
			continue
		}
		faults := fault.All(err)
		require.Len(t, faults, 1, "%+v", o)
		require.Equal(t, c.pointer, faults[0].Pointer)
	}
}

// A butt with run A through has its seam along A's front edge, so that B's piece begins 25-1/2 in from the corner of the walls: a cut-out
// in B may begin 3 in from there, one in A beside the seam lie 3 in from its front. The last inches of A are beside B's seam, the
// others are not.
func TestCutoutsKeepTheirDistanceFromASeam(t *testing.T) {
	t.Parallel()
	clear := demotest.Catalogue(t).Settings.CutoutClear
	for _, c := range []struct {
		run          string
		start, front measure.Length
		says         string
	}{
		{run: "B", start: 25.5*in + clear, front: 6 * in}, {run: "B", start: 25.5*in + clear - 0.1, front: 6 * in, says: " from the seam; it must stay "},
		{run: "B", start: 16 * in, front: 6 * in, says: " from the seam; it must stay "},
		{run: "A", start: 75 * in, front: clear}, {run: "A", start: 75 * in, front: clear - 0.1, says: " from the seam; it must stay "},
		{run: "A", start: 30 * in, front: clear - 1},
	} {
		o, start := deskA(), c.start
		o.Top.Cutouts = []estimate.Cutout{{Run: c.run, Kind: "sink", Length: 10 * in, Depth: 8 * in, FromStart: &start, FromFront: c.front}}
		said := ofButt(t, o)
		if c.says == "" {
			require.NotContains(t, said, "sink cut-out", "%+v", c)
		} else {
			require.Contains(t, said, c.says, "%+v", c)
		}
	}
	o, start := deskA(), 3*in
	o.Top.Cutouts = []estimate.Cutout{{Run: "B", Kind: "sink", Length: 3 * in, Depth: 8 * in, FromStart: &start, FromFront: 1 * in}}
	require.Contains(t, ofButt(t, o), "The sink cut-out in run B would lie beyond the seam, in the other piece.")
}

// ofButt is all that is found of a butt with run A through, whether the top can be made in another way or not.
func ofButt(t *testing.T, o estimate.Order) string {
	t.Helper()
	compared, err := estimate.Compare(o, demotest.Catalogue(t))
	var said strings.Builder
	for _, f := range fault.All(err) {
		if text, of := strings.CutPrefix(f.Detail, "A butt with run A through: "); of {
			said.WriteString(text)
		}
	}
	if err == nil {
		for _, f := range candidate(&compared.Corners[0], plan.Butt, plan.First).Findings {
			said.WriteString(f.Text + " ")
		}
	}
	require.NotEmpty(t, said.String())
	return said.String()
}

func TestCurrenciesAreNotMixed(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	o := straight()
	o.Pricing.Currency = cat.Settings.Currency
	e, err := estimate.Make(o, cat)
	require.NoError(t, err)
	require.Equal(t, cat.Settings.Currency, e.Currency)
	o.Pricing.Currency = "XTS"
	_, err = estimate.Make(o, cat)
	require.Equal(t, "/pricing/currency", fault.All(err)[0].Pointer)
	require.Contains(t, fault.All(err)[0].Detail, "not XTS")
}

// Lifted flat by its ends, a piece of 96 in bends most in its middle: a cut-out bears what it bears at the place nearest to it.
func TestRailsBearByWhereTheCutoutLies(t *testing.T) {
	t.Parallel()
	const g, thick, long = 9.80665, 1.5 * 0.0254, 96 * 0.0254
	for _, c := range []struct{ from, to, x float64 }{{10, 30, 30}, {60, 80, 60}, {40, 60, 48}, {48, 60, 48}, {30, 48, 48}} {
		start := measure.Length(c.from) * in
		o := straight()
		o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: measure.Length(c.to-c.from) * in, Depth: 18 * in, FromStart: &start, FromFront: 3 * in, Mount: estimate.MountTop}}
		e := mustMake(t, o)
		x := c.x * 0.0254
		moment := e.Runs[0].Piece.Mass.Kilograms() * g / long * x * (long - x) / 2
		rails := e.Cutouts[0].Making.Rails
		require.Len(t, rails, 2)
		for i := range rails {
			require.InDelta(t, 6*moment/(7.5*0.0254*thick*thick)/1000, rails[i].Lifted.Kilopascals(), 1e-6, "%v", c)
		}
	}
}

// What carries a run may stand as far from its seam as the shop says, on either side by itself; of a butt the seam of the run that goes
// through is at its end, that of the other where its piece begins.
func TestHowNearToASeamTheBaseMustCome(t *testing.T) {
	t.Parallel()
	cat := demotest.Catalogue(t)
	hold := cat.Settings.SeamHold
	for _, c := range []struct {
		a, b measure.Length // from the end of A's piece, from the beginning of B's
		want []string
	}{
		{hold, hold, nil}, {hold + 1, hold, []string{"A"}}, {hold, hold + 1, []string{"B"}}, {hold + 1, hold + 1, []string{"A", "B"}}, {0, 0, nil},
	} {
		o := deskA()
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, estimate.ThroughFirst
		o.Base = []estimate.BaseOrder{{Run: "A", Kind: base.Cabinet, To: 96*in - c.a}, {Run: "B", Kind: base.Cabinet, From: 25.5*in + c.b, To: 72 * in}}
		e := mustMake(t, o)
		var got []string
		for _, s := range e.Base.Seams {
			require.Equal(t, 0, s.Corner)
			require.InDelta(t, 25.5, s.Length.Inches(), 1e-9)
			got = append(got, s.Runs...)
		}
		require.Equal(t, c.want, got, "%v", c)
		require.Equal(t, len(c.want) > 0, warned(e, "seam_needs_blocking"))
	}
}

// How much is scribed is the length of the edges whose walls are not straight. By the minutes of the step, which grow with it: both ends
// as much as each other, the wall as much more as it is longer, and the three together as much as their sum.
func TestEveryEdgeIsScribedByItsLength(t *testing.T) {
	t.Parallel()
	const setup = 15.0 // of the demo's step
	minutes := func(edges ...string) float64 {
		o := straight()
		for _, edge := range edges {
			o.Site.Walls = append(o.Site.Walls, estimate.WallOrder{Run: "A", Edge: edge, Offsets: offsets(0, 0, 12*in, -5, 25*in, 0)})
		}
		return math.Max(0, likely(mustMake(t, o), "scribe_walls")-setup)
	}
	wall, start, end := minutes(estimate.AtWall), minutes(estimate.AtStart), minutes(estimate.AtEnd)
	require.Zero(t, minutes())
	require.InDelta(t, start, end, 1e-9)
	require.InDelta(t, 96/25.5, wall/start, 1e-9)
	require.InDelta(t, wall+start+end, minutes(estimate.AtWall, estimate.AtStart, estimate.AtEnd), 1e-9)
}

// The end of a butt that goes through lies along the other run's wall, and is scribed to it where that is not straight there: with A
// through, B's wall is scribed for 46-1/2 in by B and for 25-1/2 in by A's end; with B through, B's end lies along A's wall.
func TestAThroughEndIsScribedByItsDepth(t *testing.T) {
	t.Parallel()
	const setup = 15.0 // of the demo's step
	minutes := func(through estimate.ThroughWish, run string, list ...measure.Length) float64 {
		o := deskA()
		o.Top.Corners[0].Joint, o.Top.Corners[0].Through = plan.Butt, through
		o.Site.Walls = []estimate.WallOrder{{Run: run, Edge: estimate.AtWall, Offsets: offsets(list...)}}
		return likely(mustMake(t, o), "scribe_walls") - setup
	}
	bulge := []measure.Length{0, 0, 12 * in, -3, 25 * in, 0, 50 * in, -3, 72 * in, 0}
	level := []measure.Length{0, 0, 35 * in, 0, 36 * in, -9, 37 * in, 0, 72 * in, 0} // but in its middle
	by := minutes(estimate.ThroughFirst, "B", bulge...) / 72
	require.Positive(t, by)
	require.InDelta(t, by*46.5, minutes(estimate.ThroughFirst, "B", level...), 1e-6, "the wall is straight where A's end lies")
	require.InDelta(t, by*72, minutes(estimate.ThroughSecond, "B", bulge...), 1e-6, "B goes to the corner, and its own end lies along A's wall")
	require.InDelta(t, by*96, minutes(estimate.ThroughFirst, "A", 0, 0, 48*in, -3, 96*in, 0), 1e-6)
	require.InDelta(t, by*96, minutes(estimate.ThroughSecond, "A", 0, 0, 48*in, -3, 85*in, 0, 96*in, 3), 1e-6, "70-1/2 in of A and the end of B")
	require.InDelta(t, by*70.5, minutes(estimate.ThroughSecond, "A", 0, 0, 47*in, 0, 48*in, -9, 49*in, 0, 96*in, 0), 1e-6)
}
