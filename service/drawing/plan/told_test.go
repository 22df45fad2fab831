package plan

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/base"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
)

// told reports whether a sheet has a text: as one of its labels, or at the end of what is under the picture.
func told(s *sheet, text string) bool {
	for _, b := range s.Boxes() {
		if b.Text == text {
			return true
		}
	}
	for _, what := range s.legend {
		if strings.HasSuffix(what, ": "+text) || strings.Contains(what, ": "+text+" from") {
			return true
		}
	}
	return false
}

// crowded is a run with many small cut-outs in it, most of which leave no room for a dimension.
func crowded() estimate.Order {
	o := kitchen()
	o.Top.Cutouts = nil
	for i := range 8 {
		o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: "Sink", Kind: "cable hole", Length: 3 * in, Depth: 3 * in,
			FromStart: l((30 + 7.3*float64(i)) * 25.4), FromFront: measure.Length(4+2.1*float64(i%5)) * in})
	}
	return o
}

// shaped is a top with an opening of every shape.
func shaped() estimate.Order {
	o := drawtest.Desk()
	wide, narrow := measure.Inch, measure.Inch/2
	o.Top.Cutouts = []estimate.Cutout{
		{Run: "A", Kind: "cable hole", Shape: plan.Round, Length: 3 * in, Depth: 3 * in, FromStart: l(10 * 25.4), FromFront: 8 * in},
		{Run: "A", Kind: "basin", Shape: plan.Oval, Length: 16 * in, Depth: 12 * in, FromStart: l(20 * 25.4), FromFront: 6 * in},
		{Run: "B", Kind: "sink", Shape: plan.Rectangle, Length: 18 * in, Depth: 12 * in, CornerRadius: &wide,
			FromEnd: l(12 * 25.4), FromFront: 6 * in},
		{Run: "A", Kind: "tray", Shape: plan.Rectangle, Length: 10 * in, Depth: 6 * in, Turned: 30 * measure.Degree,
			CornerRadius: &narrow, FromStart: l(44 * 25.4), FromFront: 8 * in},
	}
	return o
}

// behind is a run with three cut-outs behind each other: the middle one has no edge in front of it, nor behind it.
func behind() estimate.Order {
	o := kitchen()
	o.Top.Cutouts = nil
	for i := range 3 {
		o.Top.Cutouts = append(o.Top.Cutouts, estimate.Cutout{Run: "Sink", Kind: "tray", Length: 14 * in, Depth: 5.5 * in,
			FromStart: l(50 * 25.4), FromFront: measure.Length(2+7.5*float64(i)) * in})
	}
	return o
}

// Every length of a piece's outline stands on its sheet, in the picture or among the marks: its wall edge and front edge, its
// depth, by how much its tips reach beyond either, and where each cut-out is.
func TestEverySizeOfAPieceStandsOnItsSheet(t *testing.T) {
	tips := 0
	for name, order := range map[string]func() estimate.Order{"desk": drawtest.Desk, "bar": drawtest.DryBar, "reflex": drawtest.Reflex, "fan": fan,
		"short": drawtest.Short, "sharp": sharp, "apron": apron, "crowded": crowded, "shaped": shaped, "behind": behind} {
		e := drawtest.Make(t, order())
		for i := range e.Runs {
			s, err := newSheet(e, Options{Width: 174})
			require.NoError(t, err)
			p := piece{sheet: s, index: i, out: &PieceSheet{}}
			p.draw(false)
			from, to := p.frontEdge()
			x := &p.runs[i].piece
			sizes := map[string]measure.Length{"wall edge": x.wall(), "front edge": to - from, "depth": e.Runs[i].Depth,
				"start at the front": from - x.from, "end at the front": x.to - to,
				"start at the wall": x.wallFrom - x.from, "end at the wall": x.to - x.wallTo}
			for what, size := range sizes {
				if size > s.least64() {
					require.True(t, told(s, s.text(size)), "%s, piece %d: %s of %s", name, i+1, what, s.text(size))
				}
			}
			if x.to-x.wallTo > s.least64() || x.wallFrom-x.from > s.least64() {
				tips++
			}
			for k := range p.holes {
				h := &p.holes[k]
				if !h.open[1] && !h.open[3] {
					near := s.text(min(h.fromStart, h.fromEnd))
					require.True(t, told(s, near), "%s, piece %d: cut-out %d is %s from the nearer end", name, i+1, k+1, near)
				}
				if wall := e.Runs[i].Depth - h.fromFront - h.depth; name == "behind" {
					require.True(t, told(s, s.text(h.fromFront)), "cut-out %d: %s from the front", k+1, s.text(h.fromFront))
					require.True(t, told(s, s.text(wall)), "cut-out %d: %s from the wall", k+1, s.text(wall))
				}
			}
		}
	}
	require.Greater(t, tips, 2, "pieces whose tips reach beyond their wall edge")
}

// The distance of every cut-out from the nearer end of its piece stands on the plan, or among what is under it.
func TestEveryCutoutsPlaceStandsOnThePlan(t *testing.T) {
	for name, order := range map[string]func() estimate.Order{"kitchen": kitchen, "crowded": crowded, "shaped": shaped} {
		s := check(t, drawtest.Make(t, order()), Options{})
		require.NotEmpty(t, s.est.Cutouts)
		for i := range s.est.Cutouts {
			h, ok := s.hole(&s.est.Cutouts[i])
			require.True(t, ok)
			near := s.text(min(h.fromStart, h.fromEnd))
			require.True(t, told(s, near), "%s: cut-out %d is %s from the nearer end", name, i+1, near)
		}
	}
}

// By hand: a round opening is told by its diameter, an oval by both axes, a rectangle with the radius of its corners. One of
// 10 × 6 in with corners of 1/2 in is one of 9 × 5 in with a border of 1/2 in: turned by 30° it needs
// 9·cos 30° + 5·sin 30° + 1 = 11.294 in along and 9·sin 30° + 5·cos 30° + 1 = 9.830 in across.
func TestOpeningsOfEveryShapeByHand(t *testing.T) {
	e := drawtest.Make(t, shaped())
	s, err := newSheet(e, Options{Width: 174})
	require.NoError(t, err)
	s.draw()
	for i, want := range []struct {
		size          string
		along, across float64
	}{{"Ø 3", 3, 3}, {"oval 16 × 12", 16, 12}, {"18 × 12, R 1", 18, 12}, {"10 × 6, R 1/2, turned 30°", 11.294, 9.830}} {
		h, ok := s.hole(&e.Cutouts[i])
		require.True(t, ok)
		require.Equal(t, want.size, s.holeSize(&h))
		require.InDelta(t, want.along, h.length.Inches(), 0.02)
		require.InDelta(t, want.across, h.depth.Inches(), 0.02)
		require.InDelta(t, want.along, distance(h.corners[0], h.corners[1])*float64(s.ratio)/25.4, 0.02)
		require.InDelta(t, want.across, distance(h.corners[1], h.corners[2])*float64(s.ratio)/25.4, 0.02)
		require.Equal(t, i != 2, h.boxed(), "only the rectangle that lies along the run fills its rectangle")
		x := &e.Runs[h.run].Piece
		require.InDelta(t, x.LongEdge.Inches(), (h.fromStart + h.length + h.fromEnd).Inches(), 0.02)
	}
	require.InDelta(t, 8, first(s.hole(&e.Cutouts[0])).fromFront.Inches(), 0.02)
}

func first(h hole, _ bool) *hole { return &h }

// A rectangle with square corners is told without a radius, and one that lies along its run fills its rectangle.
func TestASquareOpeningIsToldByItsSides(t *testing.T) {
	s := &sheet{est: &estimate.Estimate{Units: measure.Inches}}
	h := hole{making: &estimate.CutoutMaking{Shape: plan.Rectangle, Length: 18 * in, Depth: 12 * in}}
	require.Equal(t, "18 × 12", s.holeSize(&h))
	require.False(t, h.boxed())
}

// A piece's free ends are those without a corner; one of an estimate without an outline is refused, and a corner whose seam was
// not kept is left out.
func TestEndsOfPiecesAndWhatWasNotKept(t *testing.T) {
	e := drawtest.Make(t, kitchen())
	for i, want := range [][2]bool{{true, false}, {false, false}, {false, true}} {
		p, err := Piece(e, i, Options{Width: 174})
		require.NoError(t, err)
		require.Equal(t, want, p.Free, "piece %d", i+1)
	}
	for k := range e.Corners {
		for i := range e.Corners[k].Candidates {
			path := &e.Corners[k].Candidates[i].Geometry.SeamPath
			*path = (*path)[:1]
		}
	}
	p, err := Piece(e, 1, Options{Width: 174})
	require.NoError(t, err)
	require.NotContains(t, string(p.Below), "see the seam")
	e.Outline = nil
	_, err = Piece(e, 1, Options{})
	require.ErrorContains(t, err, "holds no outline")
	_, err = ForCustomer(e, Options{})
	require.ErrorContains(t, err, "holds no outline")
}

// A cut-out that goes through a free end has no distance from it.
func TestACutoutThroughAnEndHasNoDistanceFromIt(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "column", Length: 8 * in, Depth: 6 * in, FromStart: l(0), FromFront: 19.5 * in}}
	e := drawtest.Make(t, o)
	require.Contains(t, e.Cutouts[0].OpenAt, "start")
	noughts := func(s *sheet) (n int) {
		for _, b := range s.Boxes() {
			if b.Text == "0" {
				n++
			}
		}
		return n
	}
	s := check(t, e, Options{})
	require.Equal(t, noughts(check(t, drawtest.Make(t, drawtest.Desk()), Options{})), noughts(s), "that of the scale alone")
	require.NotContains(t, strings.Join(s.legend, "\n"), "0 from")
}

// What is no cut-out of a run of this top is left out.
func TestWhatIsNoCutoutIsNotDrawn(t *testing.T) {
	e := drawtest.Make(t, kitchen())
	s, err := newSheet(e, Options{})
	require.NoError(t, err)
	s.draw()
	good := e.Cutouts[0]
	_, ok := s.hole(&good)
	require.True(t, ok)
	for name, spoil := range map[string]func(*estimate.CutoutResult){
		"of another top":         func(c *estimate.CutoutResult) { c.Run = "Nowhere" },
		"two corners":            func(c *estimate.CutoutResult) { c.Outline, c.Making = c.Outline[:2], &estimate.CutoutMaking{} },
		"a triangle of no shape": func(c *estimate.CutoutResult) { c.Outline = c.Outline[:3] },
	} {
		bad := good
		spoil(&bad)
		_, ok := s.hole(&bad)
		require.False(t, ok, name)
	}
}

// The line that is scribed is drawn where walls are not straight, through the places that it has.
func TestTheScribedLineIsDrawn(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	doc, err := Draw(e, Options{})
	require.NoError(t, err)
	scribed := func(doc []byte) (lines []string) {
		for _, m := range polygon.FindAllStringSubmatch(string(doc), -1) {
			if m[2] == "2 0.8" {
				lines = append(lines, m[1])
			}
		}
		return lines
	}
	require.Empty(t, scribed(doc))
	e.Runs[1].Piece.Scribed = e.Runs[1].Piece.Outline
	doc, err = Draw(e, Options{})
	require.NoError(t, err)
	lines := scribed(doc)
	require.Len(t, lines, 1)
	require.Len(t, strings.Fields(lines[0]), len(e.Runs[1].Piece.Outline))
	require.Contains(t, string(doc), `<polygon points="`+lines[0]+`" fill="none" stroke="`+pen.Ink+`" stroke-width="0.25"`,
		"here the piece's own outline")
}

// Pictures of one piece for paper, a screen and a phone may stand in one page: each has an id of its own.
func TestPicturesOfAPieceHaveIdsOfTheirOwn(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	id, seen := regexp.MustCompile(` id="([^"]*)"`), map[string]bool{}
	for i := range e.Runs {
		for _, o := range []Options{{Width: 174}, {Width: 180, Screen: true}, {Narrow: true}} {
			p, err := Piece(e, i, o)
			require.NoError(t, err)
			for _, doc := range [][]byte{p.Above, p.Below} {
				for _, m := range id.FindAllStringSubmatch(string(doc), -1) {
					require.False(t, seen[m[1]], m[1])
					seen[m[1]] = true
				}
			}
		}
	}
	require.NotEmpty(t, seen)
}

// The smallest difference that a drawing shows is the one at which its figure no longer reads nothing.
func TestTheLeastDifferenceIsTheOneThatCanBeRead(t *testing.T) {
	for _, units := range []measure.System{measure.Inches, measure.Millimetres} {
		s := &sheet{est: &estimate.Estimate{Units: units}}
		require.Equal(t, "0", s.text(s.least64()*0.99), units)
		require.NotEqual(t, "0", s.text(s.least64()*1.01), units)
	}
}

// A fixing's slot is told where it has one along the run too; a row without play is fixed.
func TestFixingsOfAPieceAreTold(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	e.Fixing.Runs = []estimate.RunFixing{{Run: "B", Rows: []estimate.FixingRow{{FromFront: 2 * in}, {FromFront: 20 * in, SlotLength: in / 2}},
		Places: []estimate.FixingPlace{{Along: 40 * in, FromFront: 2 * in}, {Along: 50 * in, FromFront: 20 * in, SlotAcross: in / 2},
			{Along: 60 * in, FromFront: 20 * in, SlotAcross: in / 2, SlotAlong: in / 4}}}}
	p, err := Piece(e, 1, Options{Width: 174})
	require.NoError(t, err)
	require.Len(t, p.Fixings, 2)
	require.True(t, p.Fixings[0].Fixed)
	require.False(t, p.Fixings[1].Fixed)
	require.Len(t, p.Fixings[0].FromStart, 1)
	require.Len(t, p.Fixings[1].FromStart, 2)
	require.NotContains(t, p.Fixings[0].FromStart[0], "(", "across the run alone: the row says it")
	require.False(t, p.Fixings[0].Varied)
	require.True(t, p.Fixings[1].Varied, "one slides along the run, the other does not")
	require.Contains(t, p.Fixings[1].FromStart[0], "(1/2 × 0)")
	require.Contains(t, p.Fixings[1].FromStart[1], "(1/2 × 1/4)")
	e.Fixing.Runs[0].Places[1].SlotAlong = in / 4
	alike, err := Piece(e, 1, Options{Width: 174})
	require.NoError(t, err)
	require.False(t, alike.Fixings[1].Varied, "all of the row slide alike: it is said once")
	require.NotContains(t, strings.Join(alike.Fixings[1].FromStart, " "), "(")
	require.Equal(t, "1/4", alike.Fixings[1].Along.Text(measure.Inches))
	other, err := Piece(e, 0, Options{Width: 174})
	require.NoError(t, err)
	require.Empty(t, other.Fixings)
}

// What lies below a piece is drawn on its underside at its place: hollows of a built-up slab dash-dotted, what carries it dashed,
// an appliance dotted, an open bay not at all.
func TestTheUndersideShowsWhatLiesBelow(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	none := polygons(t, e, 0, "2.4 0.8 0.6 0.8")
	require.Empty(t, none)
	e.Runs[0].Piece.Hollows = []estimate.Hollow{{From: 5 * in, To: 40 * in, Front: 3 * in, Back: 22 * in},
		{From: 44 * in, To: 60 * in, Front: 4 * in, Back: 21 * in}}
	require.Equal(t, [][4]float64{{5, 40, 3, 22}, {44, 60, 4, 21}}, polygons(t, e, 0, "2.4 0.8 0.6 0.8"))
	require.Empty(t, polygons(t, e, 1, "2.4 0.8 0.6 0.8"))

	e.Base = &estimate.BaseResult{Runs: []estimate.BaseRun{{Run: "A", Parts: []base.Part{
		{Kind: base.Cabinet, From: 0, To: 30 * in, Front: 1 * in, Depth: 23 * in}, {Kind: base.Open, From: 30 * in, To: 36 * in},
		{Kind: base.Appliance, From: 36 * in, To: 60 * in, Front: 2 * in, Depth: 22 * in},
		{Kind: base.Bracket, From: 70 * in, To: 71 * in, Front: 2 * in, Depth: 20 * in, Supplied: true}}}}}
	require.Equal(t, [][4]float64{{0, 30, 1, 24}}, polygons(t, e, 0, "3 1.2"))
	require.Equal(t, [][4]float64{{36, 60, 2, 24}}, polygons(t, e, 0, "0.4 1"))
	require.Equal(t, [][4]float64{{70, 71, 2, 22}}, polygons(t, e, 0, "1.8 0.8"))
	p, err := Piece(e, 0, Options{Width: 174})
	require.NoError(t, err)
	require.Contains(t, strings.Join(p.Marks, "\n"), "Dashed: what carries the piece")
	p, err = Piece(e, 1, Options{Width: 174})
	require.NoError(t, err)
	require.NotContains(t, strings.Join(p.Marks, "\n"), "Dashed: what carries the piece")
}

var polygon = regexp.MustCompile(`<polygon points="([^"]*)"[^>]*stroke-dasharray="([^"]*)"`)

// ring is what is drawn with gaps round the labels: its sides, or the parts of them.
var ring = regexp.MustCompile(`<path d="([^"]*)"[^>]*stroke-dasharray="([^"]*)"`)

// polygons are the shapes of a dash on a piece's underside: from and to along its run, and from its front edge, in whole inches.
func polygons(t *testing.T, e *estimate.Estimate, i int, dash string) (list [][4]float64) {
	t.Helper()
	s, err := newSheet(e, Options{Width: 174})
	require.NoError(t, err)
	p := piece{sheet: s, index: i, out: &PieceSheet{}}
	r := func(x float64) float64 { return math.Round(x*float64(s.ratio)/25.4*10) / 10 }
	for _, m := range ring.FindAllStringSubmatch(string(p.draw(true)), -1) {
		if m[2] != dash {
			continue
		}
		b := [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
		for _, pair := range strings.FieldsFunc(m[1], func(r rune) bool { return r == 'M' || r == 'L' }) {
			xs, ys, _ := strings.Cut(strings.TrimSpace(pair), " ")
			x, err := strconv.ParseFloat(xs, 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(ys, 64)
			require.NoError(t, err)
			q, w := &s.runs[i], s.runs[i].wall[0]
			along := (x-w.X)*q.along.X + (y-w.Y)*q.along.Y
			front := s.depth(i) - ((x-w.X)*q.room.X + (y-w.Y)*q.room.Y)
			b = [4]float64{min(b[0], along), max(b[1], along), min(b[2], front), max(b[3], front)}
		}
		list = append(list, [4]float64{math.Round(r(b[0])), math.Round(r(b[1])), math.Round(r(b[2])), math.Round(r(b[3]))})
	}
	return list
}

// A corner that would read 90° is not written on a customer's plan, any other is.
func TestACustomersPlanSaysWhichCornersAreNotSquare(t *testing.T) {
	for degrees, written := range map[float64]bool{89.949: true, 89.951: false, 90.049: false, 90.051: true, 112: true} {
		o := drawtest.Desk()
		o.Top.Corners[0] = estimate.Corner{Angle: measure.Angle(degrees) * measure.Degree}
		s := checkDrawn(t, drawtest.Make(t, o), Options{}, (*sheet).forCustomer)
		require.Equal(t, written, told(s, s.degrees(s.est.Corners[0].Angle)), "%v°", degrees)
	}
}

// Lines across, in, along and beside a box, by hand.
func TestThePartOfALineInABox(t *testing.T) {
	b := box{10, 20, 30, 60}
	for name, c := range map[string]struct {
		l        segment
		from, to float64
		hit      bool
	}{
		"across, a quarter before and a half behind": {segment{pen.At(0, 40), pen.At(80, 40)}, 0.125, 0.375, true},
		"upwards":                         {segment{pen.At(15, 80), pen.At(15, 0)}, 0.25, 0.75, true},
		"inside":                          {segment{pen.At(12, 30), pen.At(28, 50)}, 0, 1, true},
		"from corner to corner":           {segment{pen.At(10, 20), pen.At(30, 60)}, 0, 1, true},
		"along its upper edge":            {segment{pen.At(10, 20), pen.At(30, 20)}, 0, 1, true},
		"along its right edge":            {segment{pen.At(30, 20), pen.At(30, 60)}, 0, 1, true},
		"level above it":                  {segment{pen.At(0, 19), pen.At(80, 19)}, 0, 0, false},
		"upright to its left":             {segment{pen.At(9, 0), pen.At(9, 80)}, 0, 0, false},
		"ends before it":                  {segment{pen.At(0, 40), pen.At(8, 40)}, 0, 0, false},
		"aslant past its corner":          {segment{pen.At(0, 30), pen.At(20, 0)}, 0, 0, false},
		"from its middle to the far side": {segment{pen.At(20, 40), pen.At(40, 40)}, 0, 0.5, true},
	} {
		from, to, hit := clip(c.l, b)
		require.Equal(t, c.hit, hit, name)
		require.InDelta(t, c.from, from, 1e-12, name)
		require.InDelta(t, c.to, to, 1e-12, name)
	}
}

// What tells of a place outside a cut-out does not stand in it, where it would name the cut-out; what tells of the cut-out does.
func TestACutOutIsNamedByNoOther(t *testing.T) {
	void := []pen.Point{pen.At(50, 50), pen.At(80, 50), pen.At(80, 80), pen.At(50, 80)}
	paper := func() *sheet { // with room in the cut-out alone
		s := &sheet{est: &estimate.Estimate{}}
		s.ground.edge = box{46, 46, 84, 84}
		s.void([]hole{{outline: void}})
		return s
	}
	words := []string{"words"}
	for _, to := range []pen.Point{pen.At(48, 65), pen.At(65, 48), pen.At(82, 65), pen.At(65, 82), pen.At(65, 65)} {
		own, s := inside(void, to), paper()
		s.mark(to, "told")
		require.Equal(t, own, slices.Equal(s.legend, []string{"a: told"}), "%v: %v", to, s.legend)
		require.Equal(t, own, paper().leader(to, words, pen.Letters{Size: pen.Small}, 30), "%v", to)
		wood := paper()
		wood.voids = nil
		require.True(t, wood.leader(to, words, pen.Letters{Size: pen.Small}, 30), "there would be room")
	}
}
