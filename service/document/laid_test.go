package document

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"seamwright/store/storetest/goldentest"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var (
	named   = regexp.MustCompile(`/[FI][0-9a-f]{40}`) // fonts and images
	wordsIn = regexp.MustCompile(`(?s)\(((?:[^()\\]|\\.)*)\)Tj`)
	textAt  = regexp.MustCompile(`BT ([0-9.-]+) ([0-9.-]+) Td "(.*)" ET`)
)

// laid is what is drawn on a page, as its own file says it, in points from the lower left corner: fonts and images are numbered as
// they come, and texts can be read.
func laid(t require.TestingT, page pdf.Page, names map[string]string) string {
	raw := new(bytes.Buffer)
	_, err := raw.ReadFrom(page.V.Key("Contents").Reader())
	require.NoError(t, err)
	readable := wordsIn.ReplaceAllStringFunc(raw.String(), func(found string) string {
		inner := wordsIn.FindStringSubmatch(found)[1]
		var plain []byte
		for i := 0; i < len(inner); i++ {
			if inner[i] == '\\' {
				i++
			}
			plain = append(plain, inner[i])
		}
		units := make([]uint16, len(plain)/2)
		for i := range units {
			units[i] = uint16(plain[2*i])<<8 | uint16(plain[2*i+1])
		}
		return strconv.Quote(string(utf16.Decode(units)))
	})
	return named.ReplaceAllStringFunc(readable, func(name string) string {
		if names[name] == "" {
			names[name] = fmt.Sprint(name[:2], len(names)+1)
		}
		return names[name]
	})
}

// sample is one of everything, on four pages and two sheets.
func sample(t *testing.T) *Document {
	t.Helper()
	var logo bytes.Buffer
	require.NoError(t, png.Encode(&logo, image.NewGray(image.Rect(0, 0, 40, 10))))
	picture := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 60"><title>T</title><g>` +
		`<line x1="10" y1="5" x2="110" y2="15" fill="none" stroke="#123456" stroke-width="0.4" stroke-dasharray="3 1.2"/>` +
		`<rect x="20" y="10" width="30" height="8" fill="#abc" stroke="none"/>` +
		`<rect x="60" y="10" width="30" height="8" rx="2" fill="none" stroke="#000" stroke-width="0.2"/>` +
		`<ellipse cx="120" cy="20" rx="6" ry="4" fill="#fff" stroke="#111111" stroke-width="0.3"/>` +
		`<polyline points="5,40 25,45 40,42" fill="none" stroke="#222222" stroke-width="0.5"/>` +
		`<polygon points="60,40 80,45 95,52" fill="#eeeeee" stroke="#222222" stroke-width="0.5"/>` +
		`<path d="M100 40L110 45M112 41L130 50" fill="none" stroke="#333333" stroke-width="0.1"/>` +
		`<text x="150" y="12" font-size="4" font-weight="600" fill="#0000ff">bold</text>` +
		`<text x="150" y="22" font-size="4" font-weight="500" text-anchor="middle" fill="none">middle</text>` +
		`<text x="150" y="32" font-size="4" text-anchor="end" paint-order="stroke">end</text>` +
		`<text x="170" y="42" font-size="3" transform="rotate(90 170 42)">turned</text>` +
		`<text x="5" y="58" font-size="4">木 mixed 板 letters</text></g></svg>`)
	rows := []Row{{Cells: []string{"One", "12"}, Tick: true}, {Cells: []string{"Two, which takes more than a line of its column", "3"},
		Strong: true}, {Cells: []string{"Three"}, High: 14}}
	table := Table{Columns: []Column{{Title: "What", Weight: 1}, {Title: "How many of them", Weight: 2, Right: true}}, Rows: rows}
	long := table
	for i := range 40 {
		long.Rows = append(long.Rows, Row{Cells: []string{fmt.Sprint("Row ", i), "1"}})
	}
	side := []Block{Heading{Level: 3, Text: "Beside"}, Text{Text: "Words on one side."}}
	sheet := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 297 210"><line x1="0" y1="0" x2="297" y2="210" ` +
		`fill="none" stroke="#000000" stroke-width="0.2"/></svg>`)
	return &Document{Title: "Sample", Language: "en", Paper: A4, Page: "Page %d of %s", Created: "2026-11-30T12:00:00Z",
		Letter: Letterhead{Name: "An invented shop", Lines: []string{"1 Invented Lane", "Telephone 000"}, Logo: logo.Bytes()},
		Foot:   "A sample · " + strings.Repeat("invented ", 16) + "· of 30 November · the last part",
		Blocks: []Block{Heading{Level: 1, Text: "A sample"}, Text{Tone: Lead, Text: "What matters most."},
			Text{Text: "Plain words."}, Text{Tone: Fine, Text: "For the record."}, Text{Text: "木天板"},
			Text{Tone: Caution, Text: "Mind the blade."}, List{Items: []string{"first", "second " + strings.Repeat("and on ", 20)}},
			Heading{Level: 2, Text: "Facts"}, Facts{Rows: [][2]string{{"Name", "value"}, {strings.Repeat("A long name ", 5), "short"}}},
			Facts{Rows: [][2]string{{"Half", "half"}}, Names: 0.5}, table, Figure{Picture: picture, Caption: "A picture"}, Break{},
			Figure{Picture: picture, Share: 0.4}, Columns{Left: side, Right: append(side, side...), Share: 0.6, Apart: true},
			Close{Blocks: []Block{table, Text{Text: "Close words."}, Text{Tone: Caution, Text: "Close caution."}}},
			Signature{Under: []string{"Here", "And there, " + strings.Repeat("which is too long for a line ", 4)}}, Notes{Title: "Notes"},
			Heading{Level: 2, Text: "A long table"}, long, Sheet{Picture: sheet, Landscape: true}, Sheet{Picture: sheet}}}
}

// The sample as it lies on paper. Look at the difference, and at the paper, before a new one is kept.
func TestGoldenSample(t *testing.T) {
	t.Parallel()
	r, fonts, all := open(t, sample(t)), map[string]string{}, ""
	for n := 1; n <= r.NumPage(); n++ {
		all += fmt.Sprintf("page %d, %s\n%s", n, r.Page(n).V.Key("MediaBox"), laid(t, r.Page(n), fonts))
	}
	path := filepath.Join("testdata", "sample.txt")
	goldentest.Hold(t, path, all)
}

// Nothing but the foot stands below the text's last line, whatever comes where, and nothing of a document is lost on its way over
// the pages.
func TestNothingStandsBelowTheText(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		d := &Document{Paper: rapid.SampledFrom([]Paper{A4, Letter}).Draw(r, "paper"), Page: "p %d %s", Foot: "foot"}
		word := 0
		text := func(most int) string {
			var b strings.Builder
			for range rapid.IntRange(1, most).Draw(r, "words") {
				word++
				fmt.Fprintf(&b, "w%d ", word)
			}
			return b.String()
		}
		for range rapid.IntRange(1, 14).Draw(r, "blocks") {
			var b Block
			switch rapid.IntRange(0, 9).Draw(r, "kind") {
			case 0:
				b = Heading{Level: rapid.IntRange(1, 3).Draw(r, "level"), Text: text(6)}
			case 1:
				b = Text{Tone: Tone(rapid.IntRange(0, 3).Draw(r, "tone")), Text: text(300)}
			case 2:
				b = List{Items: []string{text(60), text(60), text(60)}}
			case 3:
				b = Facts{Rows: [][2]string{{text(4), text(60)}, {text(20), text(10)}}}
			case 4:
				table := Table{Columns: []Column{{Title: text(1), Weight: 1}, {Title: text(2), Weight: 3}}}
				for range rapid.IntRange(1, 40).Draw(r, "rows") {
					table.Rows = append(table.Rows, Row{Cells: []string{text(1), text(12)}, Tick: rapid.Bool().Draw(r, "tick")})
				}
				b = table
			case 5:
				b = Signature{Under: []string{text(1), text(1)}}
			case 6:
				b = Together{Blocks: []Block{Heading{Level: 2, Text: text(3)}, List{Items: []string{text(80)}}}}
			case 7:
				b = Columns{Left: []Block{Text{Text: text(60)}}, Right: []Block{List{Items: []string{text(40)}}}, Share: 0.5,
					Loose: rapid.Bool().Draw(r, "loose")}
			case 8:
				way := []Block{Text{Text: text(200)}}
				b = Fitting{Ways: [][]Block{way}, Fresh: rapid.Bool().Draw(r, "fresh")}
			default:
				b = Close{Blocks: []Block{Text{Text: text(100)}, List{Items: []string{text(30)}}}}
			}
			d.Blocks = append(d.Blocks, b)
		}
		raw, err := d.PDF()
		require.NoError(r, err)
		reader, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
		require.NoError(r, err)
		seen, fonts := "", map[string]string{}
		for n := 1; n <= reader.NumPage(); n++ {
			body := 0
			for _, m := range textAt.FindAllStringSubmatch(laid(r, reader.Page(n), fonts), -1) {
				y, err := strconv.ParseFloat(m[2], 64)
				require.NoError(r, err)
				if strings.HasPrefix(m[3], "w") || m[3] == "–" {
					require.Greater(r, y, footMargin*pointsPerMillimetre, "page %d: %s", n, m[3])
					require.Less(r, y, (sizes[d.Paper][1]-margin)*pointsPerMillimetre, "page %d: %s", n, m[3])
					seen += " " + m[3]
					body++
				}
			}
			require.Positive(r, body, "page %d is empty", n)
		}
		there := map[string]bool{}
		for w := range strings.FieldsSeq(seen) {
			there[w] = true
		}
		for i := 1; i <= word; i++ {
			require.True(r, there[fmt.Sprint("w", i)], "word %d of %d", i, word)
		}
	})
}

// What is for the record stays grey when it goes on to another page.
func TestFinePrintStaysGreyOverPages(t *testing.T) {
	t.Parallel()
	d := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Text{Tone: Fine, Text: strings.Repeat("fine\n", 80)}, Text{Text: "plain"}}}
	r, fine := open(t, d), 0
	require.Equal(t, 2, r.NumPage())
	for n := 1; n <= 2; n++ {
		for line := range strings.Lines(laid(t, r.Page(n), map[string]string{})) {
			if strings.Contains(line, `"fine"`) {
				require.Contains(t, line, "q 0.373 g BT", "page %d", n)
				fine++
			}
			if strings.Contains(line, `"plain"`) {
				require.Contains(t, line, "q 0.098 0.118 0.118 rg BT")
			}
		}
	}
	require.Equal(t, 80, fine)
}

// A sheet is a page without a foot, as it lies; other pages keep theirs.
func TestSheetsHaveNoFoot(t *testing.T) {
	t.Parallel()
	picture := pictureOf(210, 297)
	d := &Document{Paper: A4, Page: "Page %d of %s", Foot: "foot", Blocks: []Block{Text{Text: "before"}, Sheet{Picture: picture},
		Sheet{Picture: picture, Landscape: true}, Text{Text: "behind"}}}
	r := open(t, d)
	require.Equal(t, 4, r.NumPage())
	for n, want := range [][2]float64{{210, 297}, {210, 297}, {297, 210}, {210, 297}} {
		page := r.Page(n + 1)
		text := laid(t, page, map[string]string{})
		require.Equal(t, n == 0 || n == 3, strings.Contains(text, "foot"), "page %d", n+1)
		box := page.V.Key("MediaBox")
		if box.IsNull() {
			box = page.V.Key("Parent").Key("MediaBox")
		}
		require.InDelta(t, want[0]*pointsPerMillimetre, box.Index(2).Float64(), 0.01, "page %d", n+1)
		require.InDelta(t, want[1]*pointsPerMillimetre, box.Index(3).Float64(), 0.01, "page %d", n+1)
	}
	only := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Sheet{Picture: picture}}}
	require.Equal(t, 1, open(t, only).NumPage(), "sheets alone have no page before them")
}

// A picture that is as high as the page stands in its middle; one without a size, or a sheet of what is no picture, is refused.
func TestPicturesStandInTheMiddleAndHaveASize(t *testing.T) {
	t.Parallel()
	text := linesOf(t, open(t, &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Figure{Picture: pictureOf(120, 500)}}}).Page(1))
	m := regexp.MustCompile(`([0-9.]+) [0-9.]+ m ([0-9.]+) [0-9.]+ l S`).FindStringSubmatch(text)
	require.NotNil(t, m)
	from, err := strconv.ParseFloat(m[1], 64)
	require.NoError(t, err)
	to, err := strconv.ParseFloat(m[2], 64)
	require.NoError(t, err)
	require.InDelta(t, 210*pointsPerMillimetre/2, (from+to)/2, 0.02)
	require.Less(t, to-from, 60*pointsPerMillimetre, "it was made smaller")
	for _, view := range []string{"0 0 100 0", "0 0 0 100", "0 0 100", "0 0 -5 100", ""} {
		picture := []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="` + view + `"></svg>`)
		_, err := (&Document{Paper: A4, Page: "%d %s", Blocks: []Block{Figure{Picture: picture}}}).PDF()
		require.ErrorContains(t, err, "viewBox", view)
	}
	_, err = (&Document{Paper: A4, Page: "%d %s", Blocks: []Block{Sheet{Picture: []byte("<svg><circle/></svg>")}}}).PDF()
	require.ErrorContains(t, err, "draw a sheet: element circle")
}

// A file says when it was made: when it is told, else at no time that anybody could take for true.
func TestAFileSaysWhenItWasMade(t *testing.T) {
	t.Parallel()
	for created, want := range map[string]string{"2026-11-30T12:34:56Z": "D:20261130123456", "": "D:19700101000000",
		"yesterday": "D:19700101000000"} {
		d := &Document{Paper: A4, Page: "%d %s", Created: created, Title: "T", Blocks: []Block{Text{Text: "a"}}}
		info := open(t, d).Trailer().Key("Info")
		require.Equal(t, want, info.Key("CreationDate").Text(), created)
		require.Equal(t, want, info.Key("ModDate").Text(), created)
	}
}

// A reader's list of contents: chapters under their title, parts of chapters are not in it.
func TestChaptersAreMarkedUnderTheirTitle(t *testing.T) {
	t.Parallel()
	d := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Heading{Level: 1, Text: "Title"}, Heading{Level: 2, Text: "First"},
		Heading{Level: 3, Text: "Part"}, Heading{Level: 2, Text: "Second"}}}
	out := open(t, d).Outline()
	require.Len(t, out.Child, 1)
	require.Equal(t, "Title", out.Child[0].Title)
	var chapters []string
	for _, c := range out.Child[0].Child {
		chapters = append(chapters, c.Title)
		require.Empty(t, c.Child)
	}
	require.Equal(t, []string{"First", "Second"}, chapters)
}

// A break begins no page where one has just begun.
func TestABreakLeavesNoEmptyPage(t *testing.T) {
	t.Parallel()
	d := &Document{Paper: A4, Page: "%d %s", Blocks: []Block{Break{}, Text{Text: "a"}, Break{}, Break{}, Text{Text: "b"}}}
	require.Equal(t, 2, open(t, d).NumPage())
}

// The largest of a shape in a box touches it, and keeps its shape.
func TestAPictureIsFittedIntoItsBox(t *testing.T) {
	t.Parallel()
	for _, c := range [][4]float64{{40, 10, 50, 12.5}, {10, 40, 5, 20}, {100, 40, 50, 20}, {200, 100, 40, 20}, {1, 1, 20, 20}} {
		w, h := fit(c[0], c[1], 50, 20)
		require.InDelta(t, c[2], w, 1e-9)
		require.InDelta(t, c[3], h, 1e-9)
	}
}

// Colours as a picture writes them; black where it writes none.
func TestColoursOfAPicture(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][3]int{"#102030": {16, 32, 48}, "#abc": {170, 187, 204}, "#fff": {255, 255, 255}, "": {0, 0, 0},
		"red": {0, 0, 0}, "#12345": {0, 0, 0}, "#1234567": {0, 0, 0}} {
		r, g, b := rgb(text)
		require.Equal(t, want, [3]int{r, g, b}, text)
	}
}

// What has no room on one line ends in three points, and is three points where nothing has room.
func TestOneLineOfAText(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	p.letters("", body)
	require.Equal(t, "a b", p.one(" a\n b ", 50))
	require.Equal(t, "Wo…", p.one("Words", p.measure("Wo…")+0.01))
	require.Equal(t, "W…", p.one("Words", p.measure("Wo…")-0.01))
	require.Equal(t, "…", p.one("Words", 0.1))
}

// No word of a table is torn while its columns' longest words have room beside each other.
func TestNoWordOfATableIsTornWhileThereIsRoom(t *testing.T) {
	t.Parallel()
	p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
	p.start()
	p.pdf.AddPage()
	torn := 0
	rapid.Check(t, func(r *rapid.T) {
		words := rapid.StringMatching(`[A-Za-z]{1,16}( [A-Za-z]{1,12})?`)
		table := Table{}
		for range rapid.IntRange(1, 4).Draw(r, "columns") {
			table.Columns = append(table.Columns, Column{Title: words.Draw(r, "title"), Weight: rapid.Float64Range(0.3, 3).Draw(r, "weight")})
		}
		for range rapid.IntRange(1, 3).Draw(r, "rows") {
			row := Row{Tick: rapid.Bool().Draw(r, "tick"), Strong: rapid.Bool().Draw(r, "strong")}
			for range table.Columns {
				row.Cells = append(row.Cells, words.Draw(r, "cell"))
			}
			table.Rows = append(table.Rows, row)
		}
		p.width = rapid.Float64Range(30, 174).Draw(r, "width")
		needs := make([]float64, len(table.Columns))
		look := func(i int, style, text string, indent float64) {
			p.letters(style, tableBody)
			for w := range strings.FieldsSeq(text) {
				needs[i] = max(needs[i], p.measure(w)+2*cellSide+indent)
			}
		}
		for i, c := range table.Columns {
			look(i, "B", c.Title, 0)
			for k := range table.Rows {
				style, indent := table.Rows[k].look()
				if i > 0 {
					indent = 0
				}
				look(i, style, table.Rows[k].Cells[i], indent)
			}
		}
		sum, whole := 0.0, 0.0
		widths := p.widths(&table)
		for i := range needs {
			sum, whole = sum+needs[i], whole+widths[i]
		}
		require.InDelta(r, p.width, whole, 1e-6, "columns fill the width")
		if sum+0.02*float64(len(needs)) > p.width {
			torn++
			return
		}
		for i := range needs {
			require.GreaterOrEqual(r, widths[i], needs[i]-1e-6, "column %d", i)
		}
	})
	require.Positive(t, torn, "some have no room")
}

// However much a page's foot is to say, it stays within what printers reach: the last of its lines is cut.
func TestAFootHasNoMoreLinesThanItHasRoomFor(t *testing.T) {
	p := &printer{doc: &Document{Paper: A4, Foot: "A sheet · " + strings.Repeat("invented ", 90)}}
	p.start()
	p.pdf.AddPage()
	p.letters("", fine)
	lines := p.footLines(p.width - 28)
	require.Len(t, lines, footMost)
	require.True(t, strings.HasSuffix(lines[footMost-1], "…"), lines)
	for _, line := range lines {
		require.LessOrEqual(t, p.measure(line), p.width-28)
	}
	p.doc.Foot = "A sheet · of today"
	require.Equal(t, []string{"A sheet · of today"}, p.footLines(p.width-28))
}
