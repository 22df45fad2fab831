package bench_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/bench"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/saw"
	"seamwright/service/drawing/truesize"
	"seamwright/service/estimate"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// papers are all that lie on the wood of a top's first run and first corner.
var papers = map[string]func(*bench.Input) (*document.Document, error){
	"boards": bench.Boards, "labels": bench.Labels,
	"run":    func(in *bench.Input) (*document.Document, error) { return bench.OfRun(in, 0, false) },
	"corner": func(in *bench.Input) (*document.Document, error) { return bench.OfCorner(in, 0, true) },
	"stick":  func(in *bench.Input) (*document.Document, error) { return bench.OfStick(in, 0) },
}

func input(e *estimate.Estimate, language string) *bench.Input {
	return &bench.Input{Estimate: e, Shop: document.Letterhead{Name: "Old Mill Workshop (invented)"}, Number: "12-9", Revision: 2,
		Date: "2026-11-03", Language: language, Paper: document.A4}
}

// The words of each paper, in both languages; its drawings have files of their own.
func TestBenchPapersAsPages(t *testing.T) {
	t.Parallel()
	for language, order := range map[string]estimate.Order{"en": drawtest.Desk(), "de": drawtest.Bar()} {
		e := drawtest.Make(t, order)
		for name, of := range papers {
			d, err := of(input(e, language))
			require.NoError(t, err)
			page, err := d.HTML()
			require.NoError(t, err)
			_, text, _ := strings.Cut(string(page), "<body")
			got := d.Title + "\n" + d.Foot + "\n" + d.Created + "\n" + regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(text, "<svg/>")
			file := "testdata/" + language + "_" + name + ".html"
			goldentest.Hold(t, file, got)
		}
	}
}

// sheets are the pages that are one drawing.
func sheets(d *document.Document) (list []document.Sheet) {
	for _, b := range d.Blocks {
		if s, ok := b.(document.Sheet); ok {
			list = append(list, s)
		}
	}
	return list
}

// A template has one sheet for each tile, all lying the same way, and says of those that are left out why.
func TestATemplateHasItsTiles(t *testing.T) {
	t.Parallel()
	english, err := speak.In("en")
	require.NoError(t, err)
	for _, order := range []estimate.Order{drawtest.Desk(), drawtest.Bar(), drawtest.Counter()} {
		e := drawtest.Make(t, order)
		w, h := document.A4.Size()
		for corner := range e.Corners {
			for _, below := range []bool{false, true} {
				drawn, err := truesize.OfCorner(e, corner, truesize.Options{Below: below, Speech: english.Drawings})
				require.NoError(t, err)
				want := drawn.Tile(truesize.Paper{Width: w, Height: h}, "")
				in := input(e, "en")
				in.Number, e.Reference = "", ""
				d, err := bench.OfCorner(in, corner, below)
				require.NoError(t, err)
				got := sheets(d)
				require.Len(t, got, len(want.Tiles))
				for i := range got {
					require.Equal(t, want.Landscape, got[i].Landscape)
					require.Equal(t, string(want.Tiles[i].Picture), string(got[i].Picture))
				}
				page, err := d.HTML()
				require.NoError(t, err)
				require.Equal(t, want.Empty > 0, strings.Contains(string(page), "Grey in the plan"))
			}
		}
	}
}

// Labels are all the sheets that are drawn, each a page.
func TestLabelsAreAllPrinted(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Counter())
	w, h := document.A4.Size()
	want, err := saw.Labels(e, saw.LabelOptions{Width: w, Height: h})
	require.NoError(t, err)
	d, err := bench.Labels(input(e, "en"))
	require.NoError(t, err)
	require.Greater(t, len(want), 1)
	require.Len(t, sheets(d), len(want))
}

// A straight top's one blank is shown, too.
func TestOneBlankIsShown(t *testing.T) {
	t.Parallel()
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	p, err := saw.New(drawtest.Make(t, o), saw.Options{})
	require.NoError(t, err)
	require.Len(t, p.Blanks, 1)
	all := bench.CuttingPlan(p, 2)
	require.Equal(t, document.Block(document.Figure{Picture: p.Blanks[0].Part.Picture, Print: p.Blanks[0].Part.Picture}), all[len(all)-1])
}

// The cutting plan shows every board and every blank once, under the heading of its stock.
func TestTheCuttingPlanShowsEveryBoard(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Bar())
	p, err := saw.New(e, saw.Options{})
	require.NoError(t, err)
	require.Len(t, p.Stocks, 2)
	shown := map[string]int{}
	stock := ""
	for _, b := range bench.CuttingPlan(p, 3) {
		switch b := b.(type) {
		case document.Heading:
			require.Equal(t, 3, b.Level)
			stock = b.Text
		case document.Figure:
			shown[stock+string(b.Picture)]++
			require.Equal(t, b.Picture, b.Print)
		}
	}
	n := len(p.Blanks)
	for i := range p.Stocks {
		n += len(p.Stocks[i].Boards)
		for k := range p.Stocks[i].Boards {
			require.Equal(t, 1, shown[p.Stocks[i].Name+string(p.Stocks[i].Boards[k].Picture)])
		}
	}
	require.Len(t, shown, n)
	p.Blanks = nil
	for _, b := range bench.CuttingPlan(p, 3) {
		require.NotEqual(t, document.Block(document.Heading{Level: 3, Text: p.BlanksTitle()}), b)
	}
}

// A paper names its job by what it has of reference and number, and its foot says the same.
func TestAPaperNamesItsJob(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	isolated := pen.Isolate("By the window")
	for _, c := range []struct{ reference, number, job string }{
		{"By the window", "12-9", "No. 12-9, revision 2 · " + isolated},
		{"By the window", "", isolated}, {"", "12-9", "No. 12-9, revision 2"}, {"", "", ""}} {
		e.Reference = c.reference
		in := input(e, "en")
		in.Number = c.number
		d, err := bench.Boards(in)
		require.NoError(t, err)
		foot := "Cutting plan, board by board · 3 November 2026 · Old Mill Workshop (invented)"
		if c.job != "" {
			foot += " · " + c.job
		}
		require.Equal(t, foot, d.Foot)
		require.Equal(t, document.Block(document.Heading{Level: 1, Text: d.Title}), d.Blocks[0])
		lead := document.Block(document.Text{Tone: document.Lead, Text: c.job})
		if c.job == "" {
			require.IsType(t, document.Heading{}, d.Blocks[1])
		} else {
			require.Equal(t, lead, d.Blocks[1])
		}
		raw, err := d.HTML()
		require.NoError(t, err)
		require.Contains(t, html.UnescapeString(string(raw)), d.Foot)
	}
}

// What cannot be made is refused: a language, a run and a corner that there are not, boards and labels of what was kept without them.
func TestBenchPapersThatThereAreNot(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	for name, of := range papers {
		_, err := of(input(e, "xx"))
		require.ErrorContains(t, err, "xx", name)
	}
	_, err := bench.OfRun(input(e, "en"), 2, false)
	require.Error(t, err)
	_, err = bench.OfCorner(input(e, "en"), 1, false)
	require.Error(t, err)
	_, err = bench.OfStick(input(e, "en"), 1)
	require.Error(t, err)
	_, err = bench.Boards(input(&estimate.Estimate{}, "en"))
	require.ErrorContains(t, err, "no cutting plan")
	_, err = bench.Labels(input(&estimate.Estimate{}, "en"))
	require.ErrorContains(t, err, "no piece")
}
