package document

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What a block is reckoned to take is what it takes when it is printed.
func TestBlocksTakeTheRoomThatIsReckoned(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.held++
	text := rapid.StringMatching(`([A-Za-zäß田]{1,18} ){0,40}`)
	rapid.Check(t, func(r *rapid.T) {
		texts := rapid.SliceOfN(text, 1, 3).Draw(r, "texts")
		block := rapid.SampledFrom([]Block{
			Heading{Level: 2, Text: texts[0]}, Heading{Level: 3, Text: texts[0]},
			Text{Text: texts[0]}, Text{Tone: Lead, Text: texts[0]}, Text{Tone: Fine, Text: texts[0]},
			Text{Tone: Caution, Text: texts[0]},
			List{Items: texts}, Facts{Rows: [][2]string{{texts[0], "x"}, {"name", texts[0]}}},
			Table{Columns: []Column{{Title: texts[0], Weight: 2}, {Title: "b", Weight: 1, Right: true}},
				Rows: []Row{{Cells: texts}, {Cells: texts, Strong: true, Tick: true}}},
			Figure{Picture: pictureOf(120, 30), Caption: texts[0]}, Figure{Picture: pictureOf(60, 30), Share: 0.4},
			Figure{Print: pictureOf(50, 20), Caption: "c"},
			Signature{Under: []string{"a", "b"}},
		}).Draw(r, "block")
		pair := Columns{Left: []Block{Text{Text: texts[0]}, block}, Right: []Block{block}, Share: 0.6}
		for _, b := range []Block{block, pair, Together{Blocks: []Block{block, pair}}, Close{Blocks: []Block{block, pair}},
			Columns{Left: []Block{block}, Right: []Block{block}, Share: 0.5, Apart: true}} {
			p.pdf.SetXY(margin, margin)
			before := p.pdf.GetY()
			high := p.tall(b, 1)
			p.block(b, 1)
			require.NoError(r, p.pdf.Error())
			require.InDelta(r, high, p.pdf.GetY()-before, 0.01, "%T", b)
		}
	})
}

// Columns that are longer than a page are reckoned as they are printed: one under the other, over the whole width.
func TestLongColumnsAreReckonedOneUnderTheOther(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.held++
	long := Columns{Left: []Block{Text{Text: strings.Repeat("words ", 700)}}, Right: []Block{Text{Text: "beside"}}, Share: 0.4}
	before, high := p.pdf.GetY(), p.tall(long, 0)
	p.block(long, 0)
	require.NoError(t, p.pdf.Error())
	require.InDelta(t, high, p.pdf.GetY()-before, 0.01)
	require.Less(t, high, p.bottom-margin, "they are longer than a page only beside each other")
}

// Blocks that stand together begin a page rather than break over it, and columns begin at one height.
func TestBlocksStandTogether(t *testing.T) {
	t.Parallel()
	fill := Text{Text: strings.Repeat("line\n", 46)}
	last := []Block{Heading{Level: 2, Text: "Order"}, Text{Text: strings.Repeat("words ", 200)},
		Signature{Under: []string{"Here"}}}
	apart := &Document{Paper: A4, Page: "%d %s", Blocks: append([]Block{fill}, last...)}
	together := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{fill, Together{last}}}
	on := func(d *Document, word string) int {
		r := open(t, d)
		for n := 1; n <= r.NumPage(); n++ {
			text, err := r.Page(n).GetPlainText(nil)
			require.NoError(t, err)
			if strings.Contains(strings.Join(strings.Fields(text), ""), word) {
				return n
			}
		}
		return 0
	}
	require.NotEqual(t, on(apart, "Order"), on(apart, "Here"))
	require.Equal(t, on(together, "Order"), on(together, "Here"))
	long := &Document{Paper: A4, Page: "%d %s",
		Blocks: []Block{Columns{Left: []Block{fill, fill}, Right: []Block{Text{Text: "Beside"}}, Share: 0.5}}}
	require.Equal(t, open(t, long).NumPage(), on(long, "Beside"), "what is longer than a page stands one under the other")
}

// Lines that stand closer take less room in letters of the same size, and only where they must.
func TestLinesStandCloserBeforeAnotherPage(t *testing.T) {
	t.Parallel()
	rows := make([]Row, 20)
	for i := range rows {
		rows[i].Cells = []string{"row", strings.Repeat("words ", 20)}
	}
	table := []Block{Table{Columns: []Column{{Title: "a", Weight: 1}, {Title: "b", Weight: 2}}, Rows: rows}, Text{Text: "The end"}}
	for lines, pages := range map[int][2]int{5: {1, 1}, 12: {2, 1}, 20: {2, 2}} {
		before := Text{Text: strings.Repeat("line\n", lines)}
		d := &Document{Paper: A4, Page: "%d %s", Blocks: append([]Block{before}, table...)}
		require.Equal(t, pages[0], open(t, d).NumPage(), lines)
		d.Blocks = []Block{before, Fitting{Ways: [][]Block{table, {Close{Blocks: table}}}}}
		require.Equal(t, pages[1], open(t, d).NumPage(), lines)
	}
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	require.InDelta(t, 0.8, p.high([]Block{Close{Blocks: table}}, p.width)/p.high(table, p.width), 0.1)
}

// A fitting begins a page where that makes room and leaves little blank; what follows a way is printed with it, and Else without.
func TestAFittingMayBeginAPage(t *testing.T) {
	t.Parallel()
	all := []Block{Text{Text: strings.Repeat("matter\n", 30)}}
	f := Fitting{Ways: [][]Block{all}, After: []Block{Text{Text: "behind"}}, Else: []Block{Text{Text: "otherwise"}}, Fresh: true}
	for lines, want := range map[int]string{10: "behind", 28: "otherwise", 45: "behind"} {
		d := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Text{Text: strings.Repeat("line\n", lines)}, f}}
		r := open(t, d)
		text, err := r.Page(r.NumPage()).GetPlainText(nil)
		require.NoError(t, err)
		require.Contains(t, strings.Join(strings.Fields(text), ""), want, lines)
		for n := 1; n <= r.NumPage(); n++ {
			text, err := r.Page(n).GetPlainText(nil)
			require.NoError(t, err)
			require.Equal(t, n == r.NumPage() && want == "otherwise", strings.Contains(text, "otherwise"), "either, and never both")
		}
	}
	f.Fresh = false
	r := open(t, &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Text{Text: strings.Repeat("line\n", 45)}, f}})
	require.Equal(t, 1, r.NumPage(), "where it may not, what stands for it does")
}

// A table that goes on to another page for its end takes some rows with it.
func TestTheEndOfATableStandsTogether(t *testing.T) {
	t.Parallel()
	for n := 30; n < 60; n++ {
		rows := make([]Row, n)
		for i := range rows {
			rows[i].Cells = []string{"row"}
		}
		r := open(t, &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Table{Columns: []Column{{Title: "a", Weight: 1}}, Rows: rows}}})
		if last := r.NumPage(); last > 1 {
			text, err := r.Page(last).GetPlainText(nil)
			require.NoError(t, err)
			require.GreaterOrEqual(t, strings.Count(text, "row"), tableTail, n)
		}
	}
	apart := 0 // the shortest table that has an end
	rows := make([]Row, 2*tableTail)
	for i := range rows {
		rows[i].Cells = []string{"row"}
	}
	for lines := 30; lines < 55; lines++ {
		r := open(t, &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Text{Text: strings.Repeat("line\n", lines)},
			Table{Columns: []Column{{Title: "a", Weight: 1}}, Rows: rows}}})
		if r.NumPage() > 1 {
			text, err := r.Page(2).GetPlainText(nil)
			require.NoError(t, err)
			n := strings.Count(text, "row")
			require.GreaterOrEqual(t, n, tableTail, "after %d lines", lines)
			if n < len(rows) {
				apart++
			}
		}
	}
	require.Positive(t, apart, "some went on for their end")
}
