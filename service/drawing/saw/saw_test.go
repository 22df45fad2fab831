package saw

import (
	"bytes"
	"encoding/xml"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

func blankOf(e *estimate.Estimate, run string) *estimate.Blank {
	for i := range e.Runs {
		if e.Runs[i].Name == run {
			return &e.Runs[i].Blank
		}
	}
	return nil
}

// holdBoards holds the numbered boards against the answer's purchases, blanks and bill, with a place on its board for every cut.
func holdBoards(t require.TestingT, e *estimate.Estimate) {
	number, staves := 0, map[string]int{}
	bought := map[string]float64{}
	for i, boards := range e.Sawing() {
		w := &e.Lumber[i]
		lengths, planned := map[measure.Length]int{}, map[measure.Length]int{}
		var offcuts []measure.Length
		feet := 0.0
		for _, b := range boards {
			number++
			require.Equal(t, number, b.Number, "boards are numbered on over all stocks")
			lengths[b.Length]++
			if isPanel(w) {
				bought[b.Material]++
			} else {
				feet += measure.Round(takeoff.BoardFeet(blankOf(e, w.Strips[0].Pieces[0].Run).Rough, w.BoardWidth, b.Length), 2)
			}
			if b.Spare {
				require.Empty(t, b.Strips)
				continue
			}
			planned[b.Length]++
			require.Len(t, b.Strips, w.StripsPerBoard)
			across := -w.Kerf
			for _, s := range b.Strips {
				at := measure.Length(0)
				for k, one := range s.Staves {
					if k > 0 {
						at += w.Kerf
					}
					require.InDelta(t, float64(at), float64(one.From), 1e-6)
					at += one.Length
					blank := blankOf(e, one.Run)
					require.NotNil(t, blank)
					if blank.Staves > 0 {
						staves[one.Run]++
						require.Equal(t, staves[one.Run], one.Number, "staves are numbered as they come")
						holdStave(t, blank, one.Length)
						require.InDelta(t, float64(blank.StaveRip), float64(one.Rip), 1e-6)
						require.LessOrEqual(t, one.Rip, w.StripWidth+1e-6)
					} else {
						staves[one.Run]++
						require.Zero(t, one.Number)
						require.InDelta(t, float64(blank.Length), float64(one.Length), 1e-6)
					}
				}
				require.LessOrEqual(t, float64(at), float64(b.Length)+1e-3, "the cuts fit the board")
				if s.Leftover > 0 && len(s.Staves) > 0 {
					require.InDelta(t, float64(b.Length), float64(at+w.Kerf+s.Leftover), 1e-3,
						"staves, kerfs and what is left are the board")
				}
				if s.Keep {
					offcuts = append(offcuts, s.Leftover)
				}
				across += w.StripWidth + w.Kerf
			}
			require.InDelta(t, float64(w.LeastWidth()), float64(across), 1e-6)
			require.LessOrEqual(t, float64(across), float64(w.BoardWidth)+1e-6)
		}
		for _, b := range w.Boards {
			require.Equal(t, b.Buy, lengths[b.Length])
			require.Equal(t, b.Planned, planned[b.Length])
			delete(lengths, b.Length)
		}
		require.Empty(t, lengths)
		require.ElementsMatch(t, w.Offcuts, offcuts, "kept offcuts are the answer's")
		if !isPanel(w) {
			require.InDelta(t, w.BuyBoardFeet, feet, 0.001)
		}
		if !isPanel(w) {
			bought[w.Material] += feet
		}
	}
	for i := range e.Runs {
		require.Equal(t, max(1, e.Runs[i].Blank.Parts()), staves[e.Runs[i].Name], "every stave of %s comes from a board",
			e.Runs[i].Name)
	}
	billed := map[string]float64{}
	for i := range e.Bill {
		if b := &e.Bill[i]; b.Kind == takeoff.BillLumber || b.Kind == takeoff.BillPanel {
			billed[b.Item] += b.Buy.Float()
		}
	}
	for item, n := range billed {
		require.InDelta(t, n, bought[item], 0.001, "board feet or panels of %s on the bill", item)
	}
}

// holdNames holds that a purchase is called by the names of all that is bought, as the bill has them.
func holdNames(t require.TestingT, e *estimate.Estimate, p *Plan, i int) {
	names := map[string]bool{}
	for _, b := range e.Bill {
		if slices.Contains(e.Lumber[i].Materials(), b.Item) {
			names[p.speech.Told(b.Description)] = true
		}
	}
	require.NotEmpty(t, names)
	for _, name := range strings.Split(p.Stocks[i].Name, "; ") {
		require.True(t, names[name], "%q is no name on the bill", name)
	}
	require.Len(t, strings.Split(p.Stocks[i].Name, "; "), len(e.Lumber[i].Materials()))
}

// holdStave holds what is cut from a board against its blank: a whole stave, or one of the pieces that it is finger-jointed from.
func holdStave(t require.TestingT, blank *takeoff.Blank, length measure.Length) {
	if blank.Joined.Count == 0 {
		require.InDelta(t, float64(blank.StaveLength), float64(length), 1e-6)
		return
	}
	require.Contains(t, blank.Joined.Parts[:blank.Joined.Count], length)
}

// size is the root's width and height.
type size struct {
	Width  string `xml:"width,attr"`
	Height string `xml:"height,attr"`
}

func sizeOf(t require.TestingT, raw []byte) (w, h float64) {
	var s size
	require.NoError(t, xml.NewDecoder(bytes.NewReader(raw)).Decode(&s))
	for text, x := range map[string]*float64{s.Width: &w, s.Height: &h} {
		n, err := strconv.ParseFloat(strings.TrimSuffix(text, "mm"), 64)
		require.NoError(t, err)
		*x = n
	}
	return w, h
}

// holdParts holds the labels of each board and blank against each other and the edges of their picture, and that all staves are on them.
func holdParts(t require.TestingT, e *estimate.Estimate, p *Plan) {
	var parts []Part
	for i := range p.Stocks {
		parts = append(parts, p.Stocks[i].Boards...)
	}
	for i := range p.Blanks {
		parts = append(parts, p.Blanks[i].Part)
	}
	all := ""
	for i := range parts {
		var one pen.Pen
		parts[i].draw(&one, 0)
		require.Empty(t, drawtest.Collisions(one.Boxes()), parts[i].Title)
		for _, b := range one.Boxes() {
			require.True(t, b.X0 > -0.01 && b.X1 < Width+0.01 && b.Y0 > -0.01 && b.Y1 < parts[i].height,
				"%q leaves its picture: %v", b.Text, b)
			all += b.Text + "\n"
		}
		w, h := sizeOf(t, parts[i].Picture)
		require.InDelta(t, Width, w, 0.01)
		require.Less(t, h, 230.0, "a part goes on one page")
	}
	for _, boards := range e.Sawing() {
		for _, b := range boards {
			for _, s := range b.Strips {
				for k := range s.Staves {
					require.Contains(t, all, StaveName(&s.Staves[k]))
				}
			}
		}
	}
}

// languages is how drawings speak every language of papers.
func languages(t *testing.T) (list []pen.Speech) {
	for _, tag := range words.Languages() {
		speaker, err := speak.In(tag)
		require.NoError(t, err)
		list = append(list, speaker.Drawings)
	}
	return list
}

// Of any top the boards, staves and offcuts are the answer's, drawings are whole, and there is a label for each piece and each stave.
func TestBoardsAreTheAnswersPurchase(t *testing.T) {
	cat := demotest.Catalogue(t)
	made := 0
	rapid.Check(t, func(r *rapid.T) {
		e, err := estimate.Make(drawtest.Any(r), cat)
		if err != nil {
			return
		}
		made++
		holdBoards(r, e)
		speech := rapid.SampledFrom(languages(t)).Draw(r, "language")
		p, err := New(e, Options{Speech: speech})
		require.NoError(r, err)
		require.Len(r, p.Stocks, len(e.Lumber))
		for i := range e.Lumber {
			holdNames(r, e, p, i)
		}
		holdParts(r, e, p)
		drawtest.Read(r, p.SVG())
		paper := rapid.SampledFrom([][2]float64{{210, 297}, {215.9, 279.4}}).Draw(r, "paper")
		sheets, err := Labels(e, LabelOptions{Width: paper[0], Height: paper[1], Job: "job", Speech: speech})
		require.NoError(r, err)
		for _, boxes := range drawLabels(e, LabelOptions{Width: paper[0], Height: paper[1], Job: "job",
			Speech: speech}).boxes {
			require.Empty(r, drawtest.Collisions(boxes))
			for _, b := range boxes {
				require.True(r, b.X0 > edge && b.X1 < paper[0]-edge && b.Y0 > edge && b.Y1 < paper[1]-edge, "%q leaves the sheet",
					b.Text)
			}
		}
		labels, want := 0, len(e.Runs)
		for i := range e.Runs {
			want += e.Runs[i].Blank.Parts()
		}
		for _, sheet := range sheets {
			w, h := sizeOf(r, sheet)
			require.InDelta(r, paper[0], w, 0.01)
			require.InDelta(r, paper[1], h, 0.01)
			labels += strings.Count(string(sheet), ">job</text>")
		}
		require.Equal(r, want, labels)
	})
	require.Greater(t, made, 10)
}

// The desk by hand: 7 staves each of 100 and 51 in from boards that give 2 strips, each 4.0893 in wide and 1/8 in apart.
func TestTheDesksBoardsByHand(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	holdBoards(t, e)
	w := &e.Lumber[0]
	require.InDelta(t, 26.0/7+0.375, w.StripWidth.Inches(), 1e-9)
	require.InDelta(t, 2*(26.0/7+0.375)+0.125, w.LeastWidth().Inches(), 1e-9)
	p, err := New(e, Options{})
	require.NoError(t, err)
	holdParts(t, e, p)
	require.Contains(t, p.Stocks[0].Facts[0], "each at least 8-5/16 in wide")
	require.Contains(t, p.Stocks[0].Facts[1],
		"Rip 2 strips of 4-3/32 in from each board; every rip and crosscut takes 1/8 in.")
	require.Contains(t, p.Stocks[0].Name, "Sugar maple")
}

// An answer kept from before boards' widths were told is drawn without them.
func TestAnOldAnswerIsDrawnWithoutWidths(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	for i := range e.Lumber {
		e.Lumber[i].BoardWidth, e.Lumber[i].StripWidth, e.Lumber[i].Kerf = 0, 0, 0
	}
	p, err := New(e, Options{})
	require.NoError(t, err)
	require.NotContains(t, strings.Join(p.Stocks[0].Facts, " "), "wide")
	require.NotContains(t, p.Stocks[0].Boards[0].Title, "wide")
	e.Lumber = nil
	_, err = New(e, Options{})
	require.ErrorContains(t, err, "holds no cutting plan")
}

// A spare board is explained by the grade's yield, and it is said for which staves it is too short.
func TestASpareBoardIsExplained(t *testing.T) {
	cat := demotest.Catalogue(t)
	spare, short := 0, 0
	// staves of nearly the widest, nearly as long as boards: little is wasted, so that the grade asks for more
	for n := range 40 {
		o := drawtest.Desk()
		o.Top.Corners = nil
		o.Top.Runs = []estimate.Run{{Name: "A", Length: measure.Length(92+n%4*12) * measure.Inch,
			Depth: measure.Length(7.5+4*float64(n/4)) * measure.Inch}}
		e, err := estimate.Make(o, cat)
		require.NoError(t, err)
		w := &e.Lumber[0]
		p, err := New(e, Options{})
		require.NoError(t, err)
		text := strings.Join(p.Stocks[0].Facts, " ")
		if len(w.Beyond()) == 0 {
			require.Contains(t, text, "No board is spare")
			continue
		}
		spare++
		require.Contains(t, text, "Spare: board")
		require.Contains(t, text, "83.3 %")
		longest := measure.Length(0)
		for _, b := range w.Beyond() {
			longest = max(longest, b.Length)
		}
		tooShort := e.Runs[0].Blank.StaveLength > longest
		require.Equal(t, tooShort, strings.Contains(text, "too short for staves of A"), "%v", text)
		if tooShort {
			short++
		}
	}
	require.Positive(t, spare)
	require.Positive(t, short)
}

// Rings are drawn by how the wood is sawn: alternately where it is flat-sawn.
func TestRingsGoWithTheSawing(t *testing.T) {
	for sawn, word := range map[catalogue.Sawn]string{catalogue.FlatSawn: "by turns", catalogue.QuarterSawn: "upright",
		catalogue.RiftSawn: "leaning"} {
		o := drawtest.Desk()
		o.Top.Sawn = sawn
		p, err := New(drawtest.Make(t, o), Options{})
		require.NoError(t, err)
		require.Contains(t, strings.Join(p.Rings(), " "), word)
	}
	y := func(down bool) float64 {
		var p pen.Pen
		Arc(&p, 0, 0, 10, 10, 0.5, down, pen.Stroke{Ink: pen.Ink, Width: 0.1})
		points := strings.Fields(strings.Split(strings.Split(string(p.Document(10, 10, "a", "a", "a")), `points="`)[1],
			`"`)[0])
		_, middle, _ := strings.Cut(points[len(points)/2], ",")
		_, end, _ := strings.Cut(points[0], ",")
		m, err := strconv.ParseFloat(middle, 64)
		require.NoError(t, err)
		f, err := strconv.ParseFloat(end, 64)
		require.NoError(t, err)
		return m - f
	}
	require.Negative(t, y(false), "the crown is up")
	require.InDelta(t, -y(false), y(true), 0.011, "and down for the next one")
	require.False(t, math.IsNaN(y(true)))
}

// Of what was kept without the grade's yield nothing is said of spare boards, and nothing that is no number.
func TestAPlanWithoutYieldSaysNothingOfSpareBoards(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	facts := func() string {
		p, err := New(e, Options{})
		require.NoError(t, err)
		return strings.Join(p.Stocks[0].Facts, " ")
	}
	require.Regexp(t, "Spare: board|No board is spare", facts())
	e.Lumber[0].YieldBoardFeet = 0
	require.NotRegexp(t, "Spare: board|No board is spare|NaN|Inf", facts())
}

// Where strips of one stock are ripped to several widths, no one width is said of all boards: each strip and each board has its own.
func TestStripsOfSeveralWidthsHaveTheirOwn(t *testing.T) {
	order := drawtest.Desk()
	order.Top.Runs[0].Depth, order.Top.Runs[1].Depth = 26*measure.Inch, 22*measure.Inch
	order.Top.Corners[0].Joint = estimate.AutoJoint
	for _, alike := range []bool{false, true} {
		if alike {
			order.Top.Runs[1].Depth = order.Top.Runs[0].Depth
		}
		e := drawtest.Make(t, order)
		w, boards := &e.Lumber[0], e.Sawing()[0]
		widths := map[string]bool{}
		for i := range boards {
			for _, strip := range boards[i].Strips {
				if strip.Rip > 0 {
					widths[strip.Rip.Text(e.Units)] = true
				}
			}
		}
		require.Equal(t, alike, len(widths) == 1, "%v", widths)
		p, err := New(e, Options{})
		require.NoError(t, err)
		facts, drawn := strings.Join(p.Stocks[0].Facts, " "), string(p.SVG())
		require.Equal(t, alike, strings.Contains(facts, "strips of "), facts)
		require.Equal(t, !alike, strings.Contains(facts, "as wide as stands beside it") && strings.Contains(facts, "at least"), facts)
		for i := range boards {
			least := boards[i].LeastWidth(w)
			require.LessOrEqual(t, float64(least), float64(w.LeastWidth())+1e-9)
			require.Contains(t, drawn, "long, at least "+least.TextAs(e.Units, measure.Least)+" in wide")
		}
	}
}

// One strip of a board is spoken of as one.
func TestOneStripOfABoardIsOne(t *testing.T) {
	e := drawtest.Make(t, drawtest.Desk())
	s := &Plan{est: e}
	w := e.Lumber[0]
	w.StripsPerBoard = 1
	require.Contains(t, s.rip(&w, true), "Rip one strip from each board, as wide as stands beside it")
	require.Contains(t, s.rip(&w, false), "Rip one strip of ")
}

// Rings are told of as the staves are sawn, each way once; those of a panel, which has no staves of its own, are not.
func TestRingsAreToldAsStavesAreSawn(t *testing.T) {
	words := map[catalogue.Sawn]string{catalogue.FlatSawn: "rings, flat-sawn", catalogue.RiftSawn: "rings, rift-sawn",
		catalogue.QuarterSawn: "rings, quarter-sawn"}
	for _, sawn := range [][2]catalogue.Sawn{{catalogue.FlatSawn, catalogue.FlatSawn}, {catalogue.QuarterSawn, catalogue.QuarterSawn},
		{catalogue.RiftSawn, catalogue.QuarterSawn}, {catalogue.MixedSawn, catalogue.RiftSawn}} {
		e := drawtest.Make(t, drawtest.Desk())
		for i := range e.Runs {
			e.Runs[i].Sawn = sawn[i]
		}
		p, err := New(e, Options{})
		require.NoError(t, err)
		said := strings.Join(p.Rings(), " ")
		for way, text := range words {
			there := slices.Contains(sawn[:], way) || way == catalogue.FlatSawn && slices.Contains(sawn[:], catalogue.MixedSawn)
			require.Equal(t, there, strings.Contains(said, text), "%v: %s", sawn, said)
		}
		for i := range e.Runs {
			e.Runs[i].Blank.Staves = 0
		}
		require.Len(t, p.Rings(), 1)
	}
}

// Rings lie in the end of their stave, however it is sawn and turned; upright ones stand evenly, leaning ones all lean one way.
func TestRingsLieInTheirStave(t *testing.T) {
	number := regexp.MustCompile(`[\d.]+`)
	for _, sawn := range []catalogue.Sawn{catalogue.FlatSawn, catalogue.QuarterSawn, catalogue.RiftSawn} {
		for index := range 2 {
			var p pen.Pen
			(&Plan{}).end(&p, sawn, index, 20, 40, 12, 6)
			lines := strings.Split(strings.TrimSpace(string(p.Document(100, 100, "id", "title", "text"))), "\n")
			shapes := 0
			for _, line := range lines {
				var all []float64
				switch {
				case strings.HasPrefix(line, "<line"):
					for _, text := range number.FindAllString(strings.NewReplacer("x1", "", "x2", "", "y1", "", "y2", "").Replace(line), 4) {
						x, err := strconv.ParseFloat(text, 64)
						require.NoError(t, err)
						all = append(all, x)
					}
					if sawn == catalogue.RiftSawn {
						require.InDelta(t, 12*1.2/6, all[2]-all[0], 0.01)
					} else {
						require.InDelta(t, 20+2*float64(shapes+1), all[0], 0.01)
						require.Equal(t, all[0], all[2])
					}
				case strings.HasPrefix(line, "<polyline"):
					points := regexp.MustCompile(`points="([^"]+)"`).FindStringSubmatch(line)
					for _, text := range number.FindAllString(points[1], -1) {
						x, err := strconv.ParseFloat(text, 64)
						require.NoError(t, err)
						all = append(all, x)
					}
					require.Equal(t, index == 1, all[1] < all[len(all)/2/2*2+1], "the second is turned")
				default:
					continue
				}
				shapes++
				for i := 0; i < len(all); i += 2 {
					require.True(t, all[i] >= 20 && all[i] <= 32 && all[i+1] >= 40 && all[i+1] <= 46, "%s: %s", sawn, line)
				}
			}
			require.Equal(t, map[catalogue.Sawn]int{catalogue.FlatSawn: 3, catalogue.QuarterSawn: 5, catalogue.RiftSawn: 5}[sawn], shapes)
		}
	}
}

// Each golden file was looked at.
func TestGoldenBoards(t *testing.T) {
	fingers, laminated := drawtest.Desk(), drawtest.Desk()
	fingers.Top.Runs, fingers.Top.Corners = []estimate.Run{{Name: "A", Length: 236 * measure.Inch, Depth: 12 * measure.Inch}}, nil
	laminated.Top.Species, laminated.Top.Thickness, laminated.Top.Build = "oak_red", 3*measure.Inch, estimate.Laminated
	for name, o := range map[string]estimate.Order{"desk": drawtest.Desk(), "bar": drawtest.Bar(),
		"counter": drawtest.Counter(), "furnished": drawtest.Furnished(), "fingers": fingers, "laminated": laminated} {
		e := drawtest.Make(t, o)
		p, err := New(e, Options{})
		require.NoError(t, err)
		goldentest.Hold(t, "testdata/"+name+".svg", p.SVG())
		sheets, err := Labels(e, LabelOptions{Width: 210, Height: 297, Job: e.Reference})
		require.NoError(t, err)
		goldentest.Hold(t, "testdata/"+name+"-labels.svg", sheets[0])
	}
}

func BenchmarkBoards(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		p, err := New(e, Options{})
		if err != nil {
			b.Fatal(err)
		}
		p.SVG()
	}
}

func BenchmarkLabels(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Labels(e, LabelOptions{Width: 210, Height: 297, Job: "job"}); err != nil {
			b.Fatal(err)
		}
	}
}
