package document

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"
)

// lineAt is a picture whose one line is 100 mm long.
const lineAt = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g"><line x1="10" y1="5" x2="110" y2="5" fill="none" stroke="#000000" stroke-width="0.3"/></svg>`

func pictureOf(w, h float64) []byte { return fmt.Appendf(nil, lineAt, w, h) }

func open(t *testing.T, d *Document) *pdf.Reader {
	t.Helper()
	raw, err := d.PDF()
	require.NoError(t, err)
	r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	return r
}

func linesOf(t *testing.T, page pdf.Page) string {
	t.Helper()
	raw, err := io.ReadAll(page.V.Key("Contents").Reader())
	require.NoError(t, err)
	return string(raw)
}

// 100 mm are 283.46 points: the drawing's left margin and the picture's own 10 mm are before it.
func TestAPictureForPaperKeepsItsSize(t *testing.T) {
	t.Parallel()
	for _, paper := range []Paper{A4, Letter} {
		w, _ := paper.Room()
		d := &Document{Paper: paper, Page: "Page %d of %s",
			Blocks: []Block{Figure{Picture: pictureOf(400, 40), Print: pictureOf(w, 40)}}}
		left := (margin + 10) * pointsPerMillimetre
		require.Contains(t, linesOf(t, open(t, d).Page(1)), fmt.Sprintf("%.2f %.2f m %.2f", left,
			(sizes[paper][1]-margin-5)*pointsPerMillimetre, left+100*pointsPerMillimetre))
	}
}

func TestAPictureForPaperThatHasNoRoomIsRefused(t *testing.T) {
	t.Parallel()
	w, h := A4.Room()
	for _, size := range [][2]float64{{w + 1, 40}, {w, h + 1}} {
		_, err := (&Document{Paper: A4, Page: "%d %s", Blocks: []Block{Figure{Print: pictureOf(size[0], size[1])}}}).PDF()
		require.ErrorContains(t, err, "at its own size")
	}
	pages := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Text{Text: "Before it."}, Figure{Print: pictureOf(w, h)}}}
	require.Equal(t, 2, open(t, pages).NumPage())
}

// Every foot has its page's number and how many there are, and ends at the right margin.
func TestEveryPageSaysHowManyThereAre(t *testing.T) {
	t.Parallel()
	d := &Document{Paper: Letter, Page: "Page %d of %s", Foot: "Shop sheet", Blocks: []Block{Text{Text: "One"}}}
	for range 11 {
		d.Blocks = append(d.Blocks, Break{}, Text{Text: "More"}, Notes{Title: "Notes"})
	}
	r := open(t, d)
	require.Equal(t, 12, r.NumPage())
	for n := 1; n <= 12; n++ {
		text, err := r.Page(n).GetPlainText(nil)
		require.NoError(t, err)
		require.Contains(t, text, fmt.Sprintf("Page %d of 12", n))
		require.Contains(t, text, "Shop sheet")
		require.Equal(t, n > 1, bytes.Contains([]byte(text), []byte("Notes")))
	}
}

// A table under its heading: wherever on the page they come, the heading stands with the table.
func TestAHeadingStandsWithItsTable(t *testing.T) {
	t.Parallel()
	moved := 0
	for lines := range 60 {
		d := &Document{Paper: A4, Page: "%d %s"}
		for range lines {
			d.Blocks = append(d.Blocks, Text{Text: "A line.", Tone: Fine})
		}
		d.Blocks = append(d.Blocks, Heading{Level: 2, Text: "Pieces"},
			Table{Columns: []Column{{Title: "Piece", Weight: 1}}, Rows: []Row{{Cells: []string{"First"}}}})
		r := open(t, d)
		for n := 1; n <= r.NumPage(); n++ {
			text, err := r.Page(n).GetPlainText(nil)
			require.NoError(t, err)
			require.Equal(t, strings.Contains(text, "Pieces"), strings.Contains(text, "First"), "after %d lines", lines)
			if n > 1 && strings.Contains(text, "Pieces") {
				moved++
			}
		}
	}
	require.Greater(t, moved, 3, "some had to go to the next page")
}

// A word that has no room on a line goes on behind its hyphen; a number with a fraction stays whole, and a column gives no more than the
// words in it leave.
func TestWordsGoOnBehindTheirHyphens(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.letters("", tableBody)
	require.Equal(t, len("Kochinsel-"), hyphenated("Kochinsel-Anschluss"))
	require.Equal(t, len("57-15/16"), hyphenated("57-15/16"))
	require.Equal(t, len("Rough-2x"), hyphenated("Rough-2x"), "a number binds to the word before it")
	require.Equal(t, []string{"Kochinsel-", "Anschluss"}, p.split("Kochinsel-Anschluss", p.measure("Kochinsel-An")))
	require.Len(t, p.split("Kochinselanschluss", p.measure("Kochinselan")), 2)

	p.width = p.measure("Kochinsel-") + p.measure("Vorderkante")*1.1 + p.measure("Enden")*1.1 + 6*cellSide + 1
	table := Table{Columns: []Column{{Title: "Teil", Weight: 1}, {Title: "Vorderkante", Weight: 1.5}, {Title: "Enden", Weight: 1.5}},
		Rows: []Row{{Cells: []string{"Kochinsel-Anschluss", "2450", "90° / 90°"}}}}
	for i, width := range p.widths(&table) {
		p.letters("B", tableBody)
		require.Len(t, p.split(table.Columns[i].Title, width-2*cellSide), 1, table.Columns[i].Title)
	}
}

// A place in a list is not torn from its number, nor a pair of figures apart: "4: 1950 | 0" begins a line whole.
func TestANumberedPairIsNotTorn(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.letters("", tableBody)
	require.Equal(t, []string{"1: 1950 | 700, 3: 0 | 0,", "4: 1950 | 0"},
		p.split("1: 1950 | 700, 3: 0 | 0, 4: 1950 | 0", p.measure("1: 1950 | 700, 3: 0 | 0, 4: 1950")))
	require.Equal(t, []string{"von der Vorderkante:", "1: 1950 | 700"}, p.split("von der Vorderkante: 1: 1950 | 700", p.measure("von der Vorderkante: 1: 1950")))
}

// A text that goes on on the next page leaves no line of it alone, above or below.
func TestNoLineStandsAlone(t *testing.T) {
	t.Parallel()
	parted := 0
	for before := 33; before < 41; before++ { // lines, about as many as a page has
		for _, words := range [][]string{{"alpha", "bravo"}, {"alpha", "bravo", "charlie"}, {"alpha", "bravo", "charlie", "delta"},
			{"alpha", "bravo", "charlie", "delta", "echo"}} {
			text := strings.Join(words, "\n")
			for _, last := range []Block{Text{Text: text}, Text{Text: text, Tone: Fine}, List{Items: []string{text}}} {
				d := &Document{Paper: A4, Page: "%d %s"}
				for range before {
					d.Blocks = append(d.Blocks, Text{Text: "A line.", Tone: Fine})
				}
				d.Blocks = append(d.Blocks, last)
				r, seen := open(t, d), 0
				for n := 1; n <= r.NumPage(); n++ {
					page, err := r.Page(n).GetPlainText(nil)
					require.NoError(t, err)
					here := 0
					for _, word := range words {
						here += strings.Count(page, word)
					}
					require.NotEqual(t, 1, here, "%d lines before %v, page %d", before, words, n)
					if here > 0 && here < len(words) {
						parted++
					}
					seen += here
				}
				require.Equal(t, len(words), seen)
			}
		}
	}
	require.Greater(t, parted, 3, "some texts must go over two pages")
}

// A line ends between words, but not between a number and its unit, nor within a pair of numbers, where they have room together.
func TestNumbersStayWithTheirUnits(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.letters("", body)
	for text, want := range map[string][]string{
		"along the walls, 40 mm thick": {"along the walls,", "40 mm thick"},
		"at its corner 4: 2250 | 0":    {"at its", "corner 4: 2250 | 0"},
		"a sink so large, 560 × 440":   {"a sink so large,", "560 × 440"},
		"as it is said on page 40":     {"as it is said on", "page 40"},
	} {
		width := p.measure(want[0]) + p.measure(" 40 |")
		switch want[1] {
		case "page 40":
			width = p.measure(want[0] + " page 4")
		case "corner 4: 2250 | 0":
			width = p.measure("at its corner 4: 40 |")
		}
		require.Equal(t, want, p.split(text, width), text)
	}
	require.Equal(t, []string{"560 ×", "440"}, p.split("560 × 440", p.measure("560 ×")), "no room together")
}

// Papers are of the sizes of ISO 216 and of ANSI/ASME Y14.1, 8-1/2 by 11 in: every page says so, in points of 1/72 in.
func TestPapersAreAsLargeAsTheyAreCalled(t *testing.T) {
	t.Parallel()
	for paper, points := range map[Paper][2]float64{A4: {210 / 25.4 * 72, 297 / 25.4 * 72}, Letter: {612, 792}} {
		w, h := paper.Size()
		box := open(t, &Document{Paper: paper, Page: "%d %s", Blocks: []Block{Text{Text: "A page."}}}).Page(1).V.Key("Parent").Key("MediaBox")
		for i, millimetres := range []float64{w, h} {
			require.InDelta(t, points[i], millimetres/25.4*72, 1e-9)
			require.InDelta(t, points[i], box.Index(2+i).Float64(), 0.01)
		}
	}
}

// A letterhead without a name still has its lines; without both there is no line under it.
func TestALetterheadHasWhatItHas(t *testing.T) {
	t.Parallel()
	text := func(l Letterhead) string {
		page := open(t, &Document{Paper: A4, Page: "%d %s", Letter: l, Blocks: []Block{Text{Text: "A page."}}}).Page(1)
		said, err := page.GetPlainText(nil)
		require.NoError(t, err)
		return said
	}
	require.Contains(t, text(Letterhead{Lines: []string{"1 Mill Lane"}}), "1 Mill Lane")
	require.Contains(t, text(Letterhead{Name: "Old Mill"}), "Old Mill")
	lines := func(l Letterhead) int {
		return strings.Count(linesOf(t, open(t, &Document{Paper: A4, Page: "%d %s", Letter: l, Blocks: []Block{Text{Text: "A page."}}}).Page(1)), " l S")
	}
	require.Equal(t, lines(Letterhead{})+1, lines(Letterhead{Lines: []string{"1 Mill Lane"}}))
}
