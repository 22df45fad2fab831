package plan

import (
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/base"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

const in = measure.Inch

func l(x float64) *measure.Length { v := measure.Length(x); return &v }

// kitchen is a U with a sink and a hob.
func kitchen() estimate.Order {
	o := drawtest.Desk()
	o.Reference = "Pier house kitchen (invented)"
	o.Top.Runs = []estimate.Run{{Name: "Window", Length: 84 * in, Depth: 25.5 * in},
		{Name: "Sink", Length: 120 * in, Depth: 25.5 * in}, {Name: "Range", Length: 72 * in, Depth: 25.5 * in}}
	o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree}, {Angle: 90 * measure.Degree}}
	o.Top.Cutouts = []estimate.Cutout{{Run: "Sink", Kind: "sink", Length: 30 * in, Depth: 18 * in, FromStart: l(45 * 25.4),
		FromFront: 4 * in}}
	return o
}

// fan has five corners, both ways.
func fan() estimate.Order {
	o := drawtest.DryBar()
	o.Top.Runs, o.Top.Corners = nil, nil
	for i, deg := range []float64{0, 120, 240, 100, 135, 260} {
		o.Top.Runs = append(o.Top.Runs, estimate.Run{Length: 2400, Depth: measure.Length(450 + 40*i)})
		if i > 0 {
			o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(deg) * measure.Degree})
		}
	}
	return o
}

// awkward tops: long and hostile names, narrow ledges, sharp corners.
func named(o estimate.Order, a, b string) estimate.Order {
	o.Top.Runs[0].Name, o.Top.Runs[1].Name = a, b
	return o
}

func straight() estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = []estimate.Run{{Name: "A", Length: 30 * in, Depth: 4 * in}}, nil
	return o
}

func sharp() estimate.Order {
	o := drawtest.DryBar()
	o.Top.Corners[0].Angle = 46 * measure.Degree
	o.Top.Runs[1].Depth = 300
	return o
}

func narrowU() estimate.Order {
	o := drawtest.DryBar()
	o.Top.Runs = []estimate.Run{{Name: "A", Length: 2400, Depth: 600}, {Name: "B", Length: 1400, Depth: 600},
		{Name: "C", Length: 2400, Depth: 600}}
	o.Top.Corners = []estimate.Corner{{Angle: 90 * measure.Degree}, {Angle: 90 * measure.Degree}}
	return o
}

func nearEnd() estimate.Order {
	o := drawtest.Desk()
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "cable hole", Length: 2.5 * in, Depth: 2.5 * in,
		FromStart: l(6 * 25.4), FromFront: 18 * in}}
	return o
}

// apron is a top with a sink that is open at the front, and a column at the wall.
func apron() estimate.Order {
	o := drawtest.Desk()
	o.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 24 * in, Depth: 17 * in, FromStart: l(20 * 25.4)},
		{Run: "B", Kind: "column", Length: 8 * in, Depth: 6 * in, FromEnd: l(12 * 25.4), FromFront: 19.5 * in}}
	return o
}

// onBase stands on cabinets, an appliance and legs, with a hollow slab.
func onBase() estimate.Order {
	o := drawtest.Counter()
	o.Top.Thickness, o.Top.Build = 80, estimate.BuiltUp
	a, b := o.Top.Runs[0], o.Top.Runs[1]
	o.Base = []estimate.BaseOrder{{Run: a.Name, Kind: base.Cabinet, From: 0, To: a.Length * 0.4},
		{Run: a.Name, Kind: base.Appliance, From: a.Length * 0.4, To: a.Length * 0.6},
		{Run: a.Name, Kind: base.Cabinet, From: a.Length * 0.6, To: a.Length * 0.75},
		{Run: b.Name, Kind: base.Cabinet, From: b.Length * 0.45, To: b.Length}}
	return o
}

var table = map[string]func() estimate.Order{
	"on_base": onBase, "furnished": drawtest.Furnished,
	"desk": drawtest.Desk, "bar_left": drawtest.DryBar, "reflex": drawtest.Reflex, "long": drawtest.Long, "short": drawtest.Short, "kitchen": kitchen, "fan": fan,
	"straight": straight,
	"sharp":    sharp, "narrow_u": narrowU, "cutout_near_end": nearEnd, "apron": apron, "crowded": crowded, "shaped": shaped,
	"long_names": func() estimate.Order {
		return named(drawtest.Desk(), strings.Repeat("Very long ", 20), strings.Repeat("W", 200))
	},
	"hostile_names": func() estimate.Order {
		return named(drawtest.Desk(), "</text><script>alert(1)</script>", "שלום \u202e עולם 🪵🪚")
	},
}

func TestGoldenPlans(t *testing.T) {
	for name, order := range table {
		for suffix, draw := range map[string]func(*estimate.Estimate) ([]byte, error){
			"": func(e *estimate.Estimate) ([]byte, error) {
				return Draw(e, Options{Number: "Q-12", Date: "2026-11-01"})
			},
			"_narrow":   func(e *estimate.Estimate) ([]byte, error) { return Draw(e, Options{Narrow: true}) },
			"_customer": func(e *estimate.Estimate) ([]byte, error) { return ForCustomer(e, Options{}) },
		} {
			t.Run(name+suffix, func(t *testing.T) {
				got, err := draw(drawtest.Make(t, order()))
				require.NoError(t, err)
				path := filepath.Join("testdata", name+suffix+".svg")
				goldentest.Hold(t, path, got)
			})
		}
	}
}

var (
	dashed = regexp.MustCompile(`<path d="((?:[ML][^"ML]+)+)"[^>]*stroke-dasharray`)
	closed = regexp.MustCompile(`<polygon points="([^"]+)"[^>]*stroke-dasharray`)
)

// struck are the texts that a dashed line runs through: what lies below the wood has a gap there.
func struck(t require.TestingT, doc []byte, boxes []pen.Box) (list []string) {
	places := func(text, between string) (list []pen.Point) {
		for _, place := range strings.FieldsFunc(text, func(r rune) bool { return r == 'M' || r == 'L' || r == ' ' && between == "," }) {
			x, y, _ := strings.Cut(strings.TrimSpace(place), between)
			px, err := strconv.ParseFloat(x, 64)
			require.NoError(t, err)
			py, err := strconv.ParseFloat(y, 64)
			require.NoError(t, err)
			list = append(list, pen.At(px, py))
		}
		return list
	}
	var lines []segment
	for _, found := range dashed.FindAllStringSubmatch(string(doc), -1) {
		for ends := places(found[1], " "); len(ends) > 1; ends = ends[2:] {
			lines = append(lines, segment{ends[0], ends[1]})
		}
	}
	for _, found := range closed.FindAllStringSubmatch(string(doc), -1) {
		corners := places(found[1], ",")
		for i, p := range corners {
			lines = append(lines, segment{p, corners[(i+1)%len(corners)]})
		}
	}
	for _, l := range lines {
		for _, b := range boxes {
			if _, _, hit := clip(l, box{b.X0 + 0.05, b.Y0 + 0.05, b.X1 - 0.05, b.Y1 - 0.05}); hit {
				list = append(list, b.Text)
			}
		}
	}
	return list
}

// check draws a plan and holds its labels against each other, the sheet's edge and the lines that were there first.
func check(t require.TestingT, e *estimate.Estimate, o Options) *sheet {
	return checkDrawn(t, e, o, (*sheet).draw)
}

func checkDrawn(t require.TestingT, e *estimate.Estimate, o Options, draw func(*sheet) []byte) *sheet {
	s, err := newSheet(e, o)
	require.NoError(t, err)
	doc := draw(s)
	drawtest.Read(t, doc)
	require.Empty(t, drawtest.Collisions(s.Boxes()))
	require.Empty(t, struck(t, doc, s.notes.Boxes()))
	for _, b := range s.Boxes() {
		require.True(t, b.X0 > 0 && b.X1 < s.width+2*s.frame && b.Y0 > 0, "%q leaves the sheet: %v", b.Text, b)
	}
	for _, b := range s.notes.Boxes() {
		for i := range s.runs {
			r := &s.runs[i]
			for k, p := range r.outline {
				_, _, hit := clip(segment{p, r.outline[(k+1)%len(r.outline)]},
					box{b.X0 + 0.05, b.Y0 + 0.05, b.X1 - 0.05, b.Y1 - 0.05})
				require.False(t, hit, "%q lies on an edge of run %d", b.Text, i)
			}
		}
	}
	return s
}

var everyOption = []Options{{}, {Narrow: true}}

func TestAwkwardTopsKeepTheirLabelsApart(t *testing.T) {
	for name, order := range table {
		t.Run(name, func(t *testing.T) {
			e := drawtest.Make(t, order())
			for _, o := range everyOption {
				check(t, e, o)
				checkDrawn(t, e, o, (*sheet).forCustomer)
			}
		})
	}
}

// Wherever along the wall a cut-out is measured from, its dimension stands apart from the wall's, so that neither figure reads as the
// other's.
func TestDimensionsBesideEachOtherStandApart(t *testing.T) {
	t.Parallel()
	seen := 0
	for _, from := range []float64{3, 8, 14, 20, 27, 36, 44} {
		o := drawtest.Desk()
		o.Top.Hand = plan.Left
		o.Top.Cutouts = []estimate.Cutout{{Run: o.Top.Runs[0].Name, Kind: "cable", Length: 3 * measure.Inch, Depth: 3 * measure.Inch,
			FromStart: l(from * 25.4), FromFront: 20 * measure.Inch}}
		e := drawtest.Make(t, o)
		for high := 60.0; high < 170; high += 7 {
			s, err := newSheet(e, Options{Width: 174, Height: high})
			require.NoError(t, err)
			s.draw()
			var level []drawn // dimensions along the wall; an extension line stands across
			for _, d := range s.ground.sizes {
				if math.Abs(d.a.Y-d.b.Y) < 1e-9 && math.Abs(d.a.X-d.b.X) > 6 {
					level = append(level, d)
				}
			}
			for i := range level {
				for k := range i {
					a, b := &level[i].round, &level[k].round
					if min(a.x1, b.x1)-max(a.x0, b.x0) > 1 && a.y0 != b.y0 {
						seen++
						require.Greater(t, math.Abs(a.y0-b.y0), 1.9, "from %v, %v high", from, high)
					}
				}
			}
		}
	}
	require.Greater(t, seen, 100)
}

func TestNoLabelLiesOnAnother(t *testing.T) {
	cat, drawn := demotest.Catalogue(t), 0
	rapid.Check(t, func(r *rapid.T) {
		o := drawtest.Desk()
		o.Units = rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(r, "units")
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Right, plan.Left}).Draw(r, "hand")
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range rapid.IntRange(1, 6).Draw(r, "runs") {
			o.Top.Runs = append(o.Top.Runs,
				estimate.Run{Name: rapid.StringMatching(`[A-Za-z 🪵ש]{0,30}`).Draw(r, "name") + string(rune('A'+i)),
					Length: measure.Length(rapid.Float64Range(500, 3400).Draw(r, "length")),
					Depth:  measure.Length(rapid.Float64Range(90, 900).Draw(r, "depth"))})
			if i > 0 {
				deg := rapid.Float64Range(46, 168).Draw(r, "angle")
				if rapid.Bool().Draw(r, "reflex") {
					deg = 360 - deg
				}
				o.Top.Corners = append(o.Top.Corners, estimate.Corner{Angle: measure.Angle(deg) * measure.Degree})
			}
		}
		if rapid.Bool().Draw(r, "hole") {
			run := rapid.SampledFrom(o.Top.Runs).Draw(r, "run")
			from := rapid.Float64Range(0.1, 0.7).Draw(r, "from") * float64(run.Length)
			o.Top.Cutouts = []estimate.Cutout{{Run: run.Name, Kind: "sink", Length: run.Length / 5, Depth: run.Depth / 2,
				FromStart: l(from), FromFront: run.Depth / 5}}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			return
		}
		options := rapid.SampledFrom(everyOption).Draw(r, "options")
		check(r, e, options)
		checkDrawn(r, e, options, (*sheet).forCustomer)
		drawn++
	})
	require.Greater(t, drawn, 15, "too few tops were drawn to prove anything")
}

// Every run's main sizes stand on the sheet, in the picture or among the marks; and the scale is true.
func TestTheSizesAreTheOrders(t *testing.T) {
	for name, order := range table {
		t.Run(name, func(t *testing.T) {
			o := order()
			s := check(t, drawtest.Make(t, o), Options{})
			var notes []string
			for _, b := range s.notes.Boxes() {
				notes = append(notes, b.Text)
			}
			all := strings.Join(append(notes, s.legend...), "\n")
			for i, r := range o.Top.Runs {
				require.Contains(t, all, r.Length.Text(o.Units))
				require.Contains(t, all, r.Depth.Text(o.Units))
				require.InDelta(t, float64(r.Length), distance(s.runs[i].wall[0], s.runs[i].wall[1])*float64(s.ratio), 0.01)
			}
			for _, c := range s.est.Corners {
				require.Contains(t, all, s.degrees(c.Angle))
			}
		})
	}
}

// Every length, depth and opening of the order stands on a customer's plan or under it, in letters of at least 8 pt, and nothing that
// only the maker needs.
func TestACustomersPlanHasWhatACustomerLooksFor(t *testing.T) {
	for name, order := range table {
		t.Run(name, func(t *testing.T) {
			o := order()
			s := checkDrawn(t, drawtest.Make(t, o), Options{}, (*sheet).forCustomer)
			var notes []string
			for _, b := range s.Boxes() {
				require.NotRegexp(t, `lb|kg|miter|butt|1 :`, b.Text)
				notes = append(notes, b.Text)
			}
			for _, size := range regexp.MustCompile(`font-size="([0-9.]+)"`).FindAllStringSubmatch(string(s.Document(1, 1, "x",
				"", "")), -1) {
				mm, err := strconv.ParseFloat(size[1], 64)
				require.NoError(t, err)
				require.GreaterOrEqual(t, mm*72/25.4, 8.0)
			}
			all := strings.Join(append(notes, s.legend...), "\n")
			for _, r := range o.Top.Runs {
				require.Contains(t, all, r.Length.Text(o.Units))
				require.Contains(t, all, r.Depth.Text(o.Units))
			}
			for _, c := range o.Top.Cutouts {
				require.Contains(t, all, strings.ReplaceAll(c.Kind, "_", " "))
			}
			require.NotContains(t, all, "1  ", "no marks")
		})
	}
}

// The words for the front and the wall stand at an edge that is one, so near that no other is meant.
func TestTheWordForAnEdgeStandsAtIt(t *testing.T) {
	words := 0
	for name, order := range table {
		s := checkDrawn(t, drawtest.Make(t, order()), Options{}, (*sheet).forCustomer)
		for _, b := range s.Boxes() {
			off := 2.6 // millimetres: the word's place, and what is kept free round its letters
			var lines [][2]pen.Point
			for i := range s.runs {
				switch b.Text {
				case "front":
					lines = append(lines, s.runs[i].front)
				case "wall":
					lines, off = append(lines, s.runs[i].wall), 2.6+wallBand
				}
			}
			if len(lines) == 0 {
				continue
			}
			words++
			nearest := math.Inf(1)
			for _, l := range lines {
				for k := range 201 {
					x := l[0].X + (l[1].X-l[0].X)*float64(k)/200
					y := l[0].Y + (l[1].Y-l[0].Y)*float64(k)/200
					nearest = min(nearest, math.Hypot(max(b.X0-x, 0, x-b.X1), max(b.Y0-y, 0, y-b.Y1)))
				}
			}
			require.LessOrEqual(t, nearest, off, "%s: %s", name, b.Text)
		}
	}
	require.Greater(t, words, 50)
}

func TestCustomersSeeNoWeights(t *testing.T) {
	doc, err := ForCustomer(drawtest.Make(t, drawtest.Desk()), Options{})
	require.NoError(t, err)
	require.NotContains(t, string(doc), " lb")
	doc, err = Draw(drawtest.Make(t, drawtest.Desk()), Options{})
	require.NoError(t, err)
	require.Contains(t, string(doc), " lb")
}

func TestNamesAreTextAndInFullInTheDescription(t *testing.T) {
	o := table["hostile_names"]()
	doc, err := Draw(drawtest.Make(t, o), Options{})
	require.NoError(t, err)
	got := drawtest.Read(t, doc)
	require.NotContains(t, got.Elements, "script")
	require.Contains(t, got.Texts[1], o.Top.Runs[0].Name)
	long := table["long_names"]()
	doc, err = Draw(drawtest.Make(t, long), Options{})
	require.NoError(t, err)
	got = drawtest.Read(t, doc)
	require.Contains(t, got.Texts[1], strings.Repeat("W", 200))
	require.Contains(t, strings.Join(got.Texts[2:], ""), "…")
}

func TestNothingToDraw(t *testing.T) {
	_, err := Draw(&estimate.Estimate{}, Options{})
	require.Error(t, err)
}

func BenchmarkDraw(b *testing.B) {
	for _, name := range []string{"desk", "kitchen", "fan"} {
		e := drawtest.Make(b, table[name]())
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Draw(e, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkForCustomer(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ForCustomer(e, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A straight top's key names no seam.
func TestTheKeyNamesWhatIsDrawn(t *testing.T) {
	for name, order := range map[string]func() estimate.Order{"straight": straight, "desk": drawtest.Desk} {
		got, err := Draw(drawtest.Make(t, order()), Options{})
		require.NoError(t, err)
		require.Equal(t, name == "desk", strings.Contains(string(got), ">seam<"), name)
	}
}

// A title stands whole: one of more than two lines in smaller letters.
func TestATitleStandsWhole(t *testing.T) {
	for words, lines := range map[int]int{2: 1, 12: 2, 40: 4} {
		o := drawtest.Desk()
		o.Reference = strings.TrimSpace(strings.Repeat("Harbour ", words))
		s, err := newSheet(drawtest.Make(t, o), Options{})
		require.NoError(t, err)
		s.title(0, 0, 180)
		title, n := "", 0
		for _, b := range s.Boxes() {
			if strings.Contains(b.Text, "Harbour") {
				title, n = title+b.Text, n+1
				require.LessOrEqual(t, b.X1, 180.0)
			}
		}
		require.Equal(t, lines, n)
		require.Equal(t, words, strings.Count(title, "Harbour"), title)
	}
}

// Nothing is drawn of what was kept without an outline: no plan, no picture of it, no piece.
func TestNoOutlineNoPlan(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	e.Outline = nil
	_, err := Draw(e, Options{})
	require.ErrorContains(t, err, "no outline")
	_, err = ForCustomer(e, Options{})
	require.ErrorContains(t, err, "no outline")
	_, _, err = Picture(e, Options{})
	require.ErrorContains(t, err, "no outline")
	_, err = Piece(e, 0, Options{})
	require.ErrorContains(t, err, "no outline")
}
