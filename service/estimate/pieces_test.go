package estimate

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
	"seamwright/service/support"
)

// A strip is named by what it lies on and where it hangs over.
func TestStripsHaveNames(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres, runs: []run{{Run: Run{Name: "A"}}}}
	for _, c := range []struct {
		props     bool
		side      base.Side
		direction support.Direction
		want      string
	}{
		{true, base.AtFront, support.Across, "The overhang of 300 mm past the brackets or legs under the front of run A"},
		{true, base.AtEnd, support.Along, "The overhang of 300 mm beside the brackets or legs under the front of run A"},
		{true, "", support.Along, "The span of 300 mm between the brackets or legs under the front of run A"},
		{false, base.AtFront, support.Across, "The overhang of 300 mm past the front of run A's base"},
		{false, base.AtWall, support.Across, "The overhang of 300 mm behind run A's base"},
		{false, base.AtStart, support.Along, "The overhang of 300 mm past the base at the start of run A"},
		{false, base.AtEnd, support.Along, "The overhang of 300 mm past the base at the end of run A"},
		{false, "", support.Across, "The span of 300 mm across run A"},
		{false, "", support.Along, "The span of 300 mm along run A"},
	} {
		s := &StripResult{}
		s.Props, s.Side, s.Direction, s.Lengths, s.Worst = c.props, c.side, c.direction, []measure.Length{100, 300, 200}, 1
		require.Equal(t, c.want, w.stripName(0, s))
	}
}

// By hand: a hole of 10 × 4 and paths beside each of its sides, off a corner, and through it.
func TestHowFarARectangleLiesFromAPath(t *testing.T) {
	t.Parallel()
	hole := [4]plan.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 4}, {X: 0, Y: 4}}
	for _, c := range []struct {
		path []plan.Point
		want float64
	}{
		{[]plan.Point{{X: 4, Y: -3}, {X: 6, Y: -3}}, 3}, {[]plan.Point{{X: 4, Y: 9}, {X: 6, Y: 9}}, 5},
		{[]plan.Point{{X: 12, Y: 1}, {X: 12, Y: 3}}, 2}, {[]plan.Point{{X: -7, Y: 1}, {X: -7, Y: 3}}, 7},
		{[]plan.Point{{X: 13, Y: 8}, {X: 13, Y: 20}}, 5}, {[]plan.Point{{X: 5, Y: -9}, {X: 5, Y: 9}}, 0},
		{[]plan.Point{{X: 40, Y: 40}, {X: 40, Y: 2}, {X: 16, Y: 2}, {X: 16, Y: -40}}, 6},
	} {
		require.InDelta(t, c.want, float64(rectangleDistance(hole, c.path)), 1e-9, "%v", c.path)
	}
}

// Fixings stand as far from the edges as the shop says, at most a quarter of the depth; a deep run has a third row in its middle.
func TestRowsOfFixings(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{FixingEdge: 50, FixingThirdRow: 700}, runs: make([]run, 1)}
	for depth, want := range map[measure.Length][]measure.Length{600: {50, 550}, 200: {50, 150}, 100: {25, 75}, 700: {50, 650}, 701: {50, 350.5, 651}} {
		w.runs[0].Depth = depth
		rows, n := w.fixingRows(0)
		require.Equal(t, want, rows[:n])
	}
}

// Rails of 80 mm, kept 50 mm off the edges of a run of 600: what carries one has a row in its middle at its front and its back, what is
// no deeper than two of them one in its middle, a batten one at the wall; fixings stay on the rail that they are driven into.
func TestRowsOfTheBasesRails(t *testing.T) {
	t.Parallel()
	w := &work{set: &catalogue.Settings{FixingEdge: 50, SupportSettings: catalogue.SupportSettings{BaseRail: 80}}, runs: []run{{Run: Run{Name: "A", Length: 2000, Depth: 600}}}}
	for _, c := range []struct {
		part base.Part
		want []measure.Length
	}{
		{base.Part{Kind: base.Cabinet, Front: 0, Depth: 600}, []measure.Length{50, 550}},
		{base.Part{Kind: base.Cabinet, Front: 100, Depth: 300}, []measure.Length{140, 360}},
		{base.Part{Kind: base.Cabinet, Front: 100, Depth: 160}, []measure.Length{180}},
		{base.Part{Kind: base.Legs, Front: 100, Depth: 161}, []measure.Length{140, 221}},
		{base.Part{Kind: base.Bracket, Front: 0, Depth: 60}, []measure.Length{50}},
		{base.Part{Kind: base.Bracket, Front: 0, Depth: 30}, []measure.Length{30}},
		{base.Part{Kind: base.Bracket, Front: 570, Depth: 30}, []measure.Length{570}},
		{base.Part{Kind: base.Batten, Front: 540, Depth: 60}, []measure.Length{550}},
		{base.Part{Kind: base.Batten, Front: 400, Depth: 200}, []measure.Length{550}},
		{base.Part{Kind: base.Open, Depth: 600}, []measure.Length{}}, {base.Part{Kind: base.Appliance, Depth: 600}, []measure.Length{}},
	} {
		rows, n := w.rowsOf(0, &c.part)
		require.Equal(t, c.want, append([]measure.Length{}, rows[:n]...), "%v", c.part)
	}
	w.base = &foundation{parts: [][]base.Part{{
		{Kind: base.Cabinet, From: 1000, To: 1600, Front: 0, Depth: 600}, {Kind: base.Cabinet, From: 0, To: 600, Front: 0, Depth: 600},
		{Kind: base.Legs, From: 700, To: 850, Front: 0, Depth: 400}, {Kind: base.Bracket, From: 900, To: 950, Front: 540, Depth: 60},
		{Kind: base.Cabinet, From: 1800, To: 1951, Front: 0, Depth: 160},
	}}}
	require.Equal(t, []railRow{
		{50, []stretch{{40, 560}, {775, 775}, {1040, 1560}}},
		{80, []stretch{{1840, 1911}}},
		{360, []stretch{{775, 775}}},
		{550, []stretch{{40, 560}, {925, 925}, {1040, 1560}}},
	}, w.railsOf(0))
}

// The rates of a region are those of the table, and come with nothing else; the shop's hold where none is named.
func TestTheTaxOfARegion(t *testing.T) {
	t.Parallel()
	own, given := money.RateOf(5), money.RateOf(9)
	regions := []catalogue.TaxRegion{{Code: "north", Name: "North", Rate: money.RateOf(7)}, {Code: "south", Name: "South", Rate: money.RateOf(3), Lines: money.RateOf(1), OwnLines: true}}
	for _, c := range []struct {
		regions []catalogue.TaxRegion
		order   PricingOrder
		tax     money.Rate
		lines   *money.Rate
		wrong   string
	}{
		{regions, PricingOrder{}, own, nil, ""}, {regions, PricingOrder{Tax: &given}, given, nil, ""},
		{regions, PricingOrder{Region: "north"}, regions[0].Rate, nil, ""}, {regions, PricingOrder{Region: "south"}, regions[1].Rate, &regions[1].Lines, ""},
		{regions, PricingOrder{Region: "north", Tax: &given}, own, nil, "/tax The rates of the region"}, {nil, PricingOrder{Region: "north"}, own, nil, "/tax_region The shop has no tax regions"},
		{regions, PricingOrder{Region: "nroth"}, own, nil, "/tax_region The tax region \"nroth\" is not in the catalogue"},
	} {
		w := &work{order: Order{Pricing: c.order}, cat: (&catalogue.Snapshot{TaxRegions: c.regions}).Index(), set: &catalogue.Settings{Tax: own}}
		err := w.resolveTax("why")
		if c.wrong != "" {
			f := fault.All(err)
			require.Len(t, f, 1)
			require.Contains(t, f[0].Pointer+" "+f[0].Detail, c.wrong)
			continue
		}
		require.NoError(t, err)
		require.Equal(t, c.tax, w.terms.Tax, "%v", c.order)
		require.Equal(t, c.lines, w.terms.LinesTax, "%v", c.order)
		require.Equal(t, c.order.Region != "", w.terms.Region != nil)
	}
}

// A piece's name is told apart by a letter, the last of which is z.
func TestTheLastLetterOfAPiecesName(t *testing.T) {
	t.Parallel()
	p, w := &parts{}, &work{runs: []run{{Run: Run{Name: "A1"}}}}
	for letter := 'a'; letter < 'z'; letter++ {
		p.order.Top.Runs = append(p.order.Top.Runs, Run{Name: "A" + string(letter) + "1"})
	}
	require.Equal(t, "Az1", p.pieceName(w, "A", 1))
}

// The pieces of a run are one leg: from the tip of its first to the tip of its last, along any of them from its own start. By hand: a
// butt with the first run through at the corner before 700 + 800 + 500, each 600 deep.
func TestALegOfPiecesIsOne(t *testing.T) {
	t.Parallel()
	seam := corner{Corner: Corner{inLine: &InLineSeam{}}, angle: 180 * measure.Degree}
	w := lone(corner{angle: 90 * measure.Degree}, seam, seam)
	w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree, plan.InLine, plan.InLine}}
	for _, length := range []measure.Length{2000, 700, 800, 500} {
		w.top.Runs = append(w.top.Runs, plan.Run{Length: length, Depth: 600})
	}
	joints := []plan.Joint{{Kind: plan.Butt, Through: plan.First}, {Kind: plan.Straight}, {Kind: plan.Straight}}
	l, err := plan.Lay(w.top, joints, 0, 0)
	require.NoError(t, err)
	for i, want := range [][3]float64{{0, 2000, 2000}, {600, 2000, 1400}, {-100, 1300, 1400}, {-900, 500, 1400}} {
		from, to := w.legTips(i, l)
		for k, got := range []measure.Length{from, to, w.legLength(i, l)} {
			require.InDelta(t, want[k], float64(got), 1e-6, "run %d", i)
		}
	}
}

// The end of a piece that goes through lies along the other run's wall for its depth over the sine of the corner's angle, where the
// walls turn into the room; a miter has none, and behind a corner that turns out of the room there is no wall.
func TestWhereAThroughEndLies(t *testing.T) {
	t.Parallel()
	w := lone(corner{})
	w.runs[0].Length, w.runs[0].Depth, w.runs[1].Length, w.runs[1].Depth = 2400, 600, 1800, 500
	at := func(through plan.Side, onFirst bool, degrees float64) (throughEnd, bool) {
		return w.throughAt(0, &plan.Layout{Seams: []plan.Seam{{Joint: plan.Joint{Kind: plan.Butt, Through: through}, OnFirst: onFirst, Angle: measure.Angle(degrees) * measure.Degree}}})
	}
	end, ok := at(plan.First, true, 90)
	require.True(t, ok)
	require.Equal(t, []int{0, 1}, []int{end.piece, end.wall})
	require.InDeltaSlice(t, []float64{0, 600}, []float64{float64(end.from), float64(end.to)}, 1e-9)
	end, ok = at(plan.Second, false, 150) // the sine of 150° is a half
	require.True(t, ok)
	require.Equal(t, []int{1, 0}, []int{end.piece, end.wall})
	require.InDeltaSlice(t, []float64{1400, 2400}, []float64{float64(end.from), float64(end.to)}, 1e-9)
	for _, degrees := range []float64{180, 181, 185, 270} {
		_, ok = at(plan.First, true, degrees)
		require.False(t, ok, "%g", degrees)
	}
	_, ok = w.throughAt(0, &plan.Layout{Seams: []plan.Seam{{Joint: plan.Joint{Kind: plan.Miter}, Angle: 90 * measure.Degree}}})
	require.False(t, ok)
}

// What is said of a piece that does not pass: why, where it may be split, and whether it passes raised.
func TestWhatIsSaidOfAPieceThatDoesNotPass(t *testing.T) {
	t.Parallel()
	w := &work{units: measure.Millimetres}
	p := &Carried{Run: "A", Size: passage.Piece{Length: 2500}, Way: []WayStep{
		{Kind: passage.Door, Verdict: passage.Verdict{Longest: 3000, Passes: true}}, {Kind: passage.Turn, Verdict: passage.Verdict{Longest: 1900, EndUp: 2400}}}}
	const long = "Run A (2500 mm) is too long: at most 1900 mm passes."
	require.Equal(t, long+" There is no place to split it.", w.splitText(p))
	p.Splits = []measure.Length{1250}
	require.Equal(t, long+" Split it at 1250 mm from its start.", w.splitText(p))
	p.Splits, p.Way[1].EndUp = []measure.Length{800, 1600}, 2500
	require.Equal(t, long+" Split it at 800 mm and 1600 mm from its start. With one end raised at the turn it passes in one piece; try that with a batten first.",
		w.splitText(p))
	p.Way[1].Longest = 0
	require.Equal(t, "Run A is too deep or too thick for the way, whatever its length.", w.splitText(p))
}

// A piece is split clear of its cut-outs by the rail beside them, and no nearer to an end. By hand: 1000 long, 100 of rail.
func TestPlacesToSplitAPiece(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		holes   [][2]measure.Length
		longest measure.Length
		want    []measure.Length
	}{
		{nil, 999, []measure.Length{500}}, {nil, 500, []measure.Length{500}}, {nil, 400, []measure.Length{335, 665}},
		{[][2]measure.Length{{0, 800}}, 900, []measure.Length{900}}, {[][2]measure.Length{{0, 801}}, 900, nil}, {[][2]measure.Length{{0, 800}}, 899, nil},
		{[][2]measure.Length{{200, 1000}}, 900, []measure.Length{100}}, {[][2]measure.Length{{199, 1000}}, 900, nil}, {[][2]measure.Length{{200, 1000}}, 899, nil},
		{[][2]measure.Length{{300, 700}}, 900, []measure.Length{200}}, {[][2]measure.Length{{301, 700}}, 900, []measure.Length{200}},
		{[][2]measure.Length{{300, 695}}, 900, []measure.Length{795}}, {nil, 0, nil}, {nil, -1, nil}, {nil, passage.Unlimited, nil},
	} {
		w := &work{set: &catalogue.Settings{RailLeast: 100}, runs: []run{{Run: Run{Length: 1000, Depth: 600}}}, top: plan.Top{Runs: []plan.Run{{Length: 1000, Depth: 600}}}}
		for _, h := range c.holes {
			w.cutouts = append(w.cutouts, cutout{from: h[0], to: h[1]}, cutout{run: 1, from: 0, to: 1000})
		}
		l, err := plan.Lay(w.top, nil, 0, 0)
		require.NoError(t, err)
		require.Equal(t, c.want, w.splits(0, c.longest, l), "%v", c)
	}
}

// A run is divided clear of its cut-outs and of its corners, where people work and the seam is; by hand, of 3000 × 600 with a miter at
// one end, whose edges are both there up to 2400: no seam within 300 mm of that.
func TestARunIsDividedClearOfItsCorners(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		run      int
		from, to measure.Length
		want     []measure.Length
	}{
		{0, 700, 2000, []measure.Length{2100}}, // 600 would do as well, but less evenly
		{0, 700, 2050, []measure.Length{600}},  // 2150 would be more even, but is beside the corner
		{0, 710, 2050, []measure.Length{610}},
		{0, 690, 2050, []measure.Length{610}}, // nowhere as far off as the parts reach, but clear by 75
		{1, 1000, 2300, []measure.Length{900}}, {1, 950, 2300, []measure.Length{2400}},
	} {
		w := lone(corner{angle: 90 * measure.Degree})
		w.set, w.units, w.reach = &catalogue.Settings{CutoutClear: 75}, measure.Millimetres, 25
		w.top = plan.Top{Hand: plan.Right, Corners: []measure.Angle{90 * measure.Degree}, Runs: []plan.Run{{Length: 3000, Depth: 600}, {Length: 3000, Depth: 600}}}
		for i := range w.runs {
			w.runs[i].Length, w.runs[i].Depth = 3000, 600
		}
		w.cutouts = []cutout{{run: c.run, from: c.from, to: c.to}, {run: 1 - c.run, from: 0, to: 3000}}
		l, err := plan.Lay(w.top, []plan.Joint{{Kind: plan.Miter}}, 0, 0)
		require.NoError(t, err)
		require.Equal(t, c.want, w.dividedAt(c.run, l, 2450), "%v", c)
	}
}

// What is too narrow to stand beside a cut-out goes, where it is a free end, a front or a wall; a hole that is round or turned has no
// strip beside it. By hand: strips under 6 mm.
func TestStripsBesideACutOutThatCannotStay(t *testing.T) {
	t.Parallel()
	shape := func(s plan.Shape, turned measure.Angle) *plan.Opening { return &plan.Opening{Shape: s, Turned: turned} }
	for _, c := range []struct {
		run                    int
		from, to, front, depth measure.Length
		shape                  *plan.Opening
		open                   openSides
		beside                 [4]measure.Length
		now                    [4]measure.Length // from, to, front, depth
	}{
		{0, 6, 500, 6, 588, nil, openSides{}, [4]measure.Length{6, -1, 6, 6}, [4]measure.Length{6, 500, 6, 588}},
		{0, 5, 500, 100, 300, nil, openSides{startSide: true}, [4]measure.Length{100, -1, 200, -1}, [4]measure.Length{0, 500, 100, 300}},
		{0, 100, 995, 100, 300, nil, openSides{}, [4]measure.Length{100, -1, 200, 100}, [4]measure.Length{100, 995, 100, 300}},
		{1, 5, 500, 100, 300, nil, openSides{}, [4]measure.Length{100, 500, 200, -1}, [4]measure.Length{5, 500, 100, 300}},
		{1, 100, 995, 100, 300, nil, openSides{endSide: true}, [4]measure.Length{100, -1, 200, -1}, [4]measure.Length{100, 1000, 100, 300}},
		{1, 100, 500, 5, 300, nil, openSides{frontSide: true}, [4]measure.Length{-1, 500, 295, -1}, [4]measure.Length{100, 500, 0, 305}},
		{1, 100, 500, 100, 495, nil, openSides{wallSide: true}, [4]measure.Length{100, 500, -1, -1}, [4]measure.Length{100, 500, 100, 500}},
		{1, 100, 500, 5, 300, shape(plan.Round, 0), openSides{}, [4]measure.Length{5, 500, 295, -1}, [4]measure.Length{100, 500, 5, 300}},
		{1, 100, 500, 5, 300, shape(plan.Rectangle, 1), openSides{}, [4]measure.Length{5, 500, 295, -1}, [4]measure.Length{100, 500, 5, 300}},
		{1, 100, 500, 5, 300, shape(plan.Rectangle, 0), openSides{frontSide: true}, [4]measure.Length{-1, 500, 295, -1}, [4]measure.Length{100, 500, 0, 305}},
	} {
		w := &work{units: measure.Millimetres, set: &catalogue.Settings{EdgeStrip: 6}, runs: make([]run, 2)}
		for i := range w.runs {
			w.runs[i].Length, w.runs[i].Depth = 1000, 600
		}
		hole := &cutout{Cutout: Cutout{Kind: "sink", Length: c.to - c.from, Depth: c.depth, FromFront: c.front}, run: c.run, from: c.from, to: c.to, shape: c.shape}
		if c.shape != nil {
			hole.Shape = c.shape.Shape
		}
		require.Equal(t, c.beside, w.openUp(hole, 0), "%v", c)
		require.Equal(t, c.open, hole.open, "%v", c)
		for k, got := range []measure.Length{hole.from, hole.to, hole.FromFront, hole.Depth} {
			require.InDelta(t, float64(c.now[k]), float64(got), 1e-9, "%v", c)
		}
		require.InDelta(t, float64(hole.to-hole.from), float64(hole.Length), 1e-9)
		require.Len(t, w.assumptions, len(slices.DeleteFunc(slices.Clone(hole.open[:]), func(open bool) bool { return !open })))
	}
}
