package document

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever is left of a page when a block begins, none of its lines stands below the text, and what must stand together does: a
// caution, two columns, a picture and what is said under it, a signature and its line.
func TestNoBlockRunsOverTheEndOfAPage(t *testing.T) {
	t.Parallel()
	words := strings.Repeat("words ", 60)
	for name, c := range map[string]struct {
		block    Block
		together bool // all its words, marked by !, stand on one page
	}{
		"caution":   {Text{Tone: Caution, Text: "!first " + words + "!last"}, true},
		"text":      {Text{Text: "!first " + words + "!last"}, false},
		"list":      {List{Items: []string{"!first " + words, words + "!last"}}, false},
		"facts":     {Facts{Rows: [][2]string{{"!first", words}, {"!last", words}}}, false},
		"columns":   {Columns{Left: []Block{Text{Text: "!first " + words}}, Right: []Block{Text{Text: words + "!last"}}, Share: 0.5}, true},
		"signature": {Signature{Under: []string{"!first", "!last"}}, true},
		"picture":   {Figure{Print: pictureOf(120, 40), Caption: "!first !last"}, true},
		"together":  {Together{Blocks: []Block{Heading{Level: 2, Text: "!first"}, Text{Text: words + "!last"}}}, true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			d := &Document{Paper: A4, Page: "p %d %s", Foot: "foot"}
			for lines := 36; lines <= 54; lines++ {
				d.Blocks = append(d.Blocks, Break{}, Text{Text: strings.Repeat("fill\n", lines)}, c.block)
			}
			r, firsts, lasts, over := open(t, d), 0, 0, 0
			for n := 1; n <= r.NumPage(); n++ {
				text := laid(t, r.Page(n), map[string]string{})
				for _, m := range textAt.FindAllStringSubmatch(text, -1) {
					y, err := strconv.ParseFloat(m[2], 64)
					require.NoError(t, err)
					if m[3] != "foot" && !strings.HasPrefix(m[3], "p ") {
						require.Greater(t, y, footMargin*pointsPerMillimetre, "page %d: %s", n, m[3])
					}
				}
				first, last := strings.Count(text, "!first"), strings.Count(text, "!last")
				firsts, lasts = firsts+first, lasts+last
				if !strings.Contains(text, "fill") {
					over++
				}
				if c.together {
					require.Equal(t, first, last, "page %d", n)
				}
			}
			require.Equal(t, []int{19, 19}, []int{firsts, lasts}, "each once")
			require.Positive(t, over, "some went on to another page")
		})
	}
}

// A picture that nearly fits on what is left of a page is made smaller, down to seven tenths; one that does not begins another.
func TestAPictureIsMadeALittleSmallerForItsPage(t *testing.T) {
	t.Parallel()
	line := regexp.MustCompile(`([0-9.]+) [0-9.]+ m ([0-9.]+) [0-9.]+ l S`)
	_, high := A4.Room()
	whole, smaller, next := 0, 0, 0
	for left := 50.0; left <= 110; left += 5 {
		p := &printer{doc: &Document{Paper: A4, Page: "%d %s"}}
		p.start()
		p.pdf.AddPage()
		p.pdf.SetY(margin + high - left)
		p.figure(Figure{Picture: pictureOf(174, 100)}) // 100 mm high where it is whole
		require.NoError(t, p.pdf.Error())
		switch end := p.pdf.GetY(); {
		case p.pdf.PageNo() == 2:
			require.Less(t, left, 70.0)
			next++
		case left >= 100:
			require.InDelta(t, margin+high-left+100+1+between, end, 1e-6)
			whole++
		default:
			require.GreaterOrEqual(t, left, 70.0)
			require.InDelta(t, margin+high+1+between, end, 1e-6, "down to the end of the page")
			smaller++
		}
	}
	require.Equal(t, []int{3, 6, 4}, []int{whole, smaller, next})
	require.True(t, line.MatchString(linesOf(t, open(t, &Document{Paper: A4, Page: "%d %s",
		Blocks: []Block{Figure{Picture: pictureOf(174, 100)}}}).Page(1))))
}

// Names and addresses keep off the logo, whose 50 mm are at the right margin.
func TestALetterheadKeepsOffItsLogo(t *testing.T) {
	t.Parallel()
	long := strings.TrimSpace(strings.Repeat("Invented Lane ", 14))
	d := &Document{Paper: A4, Page: "%d %s", Letter: Letterhead{Name: long, Lines: []string{long}}, Blocks: []Block{Text{Text: "body"}}}
	p := &printer{doc: d}
	p.start()
	p.pdf.AddPage()
	sizes, seen := map[string]float64{}, 0
	for _, style := range []struct {
		style string
		size  float64
	}{{"B", 13}, {"", 8.5}} {
		p.letters(style.style, style.size)
		for _, line := range p.split(long, p.width-55) {
			sizes[line] = max(sizes[line], p.measure(line))
		}
	}
	for _, m := range textAt.FindAllStringSubmatch(laid(t, open(t, d).Page(1), map[string]string{}), -1) {
		if strings.HasPrefix(m[3], "Invented") || strings.HasPrefix(m[3], "Lane") {
			require.Contains(t, sizes, m[3], "it is broken where the logo's room begins")
			require.Less(t, sizes[m[3]], p.width-50)
			seen++
		}
	}
	require.GreaterOrEqual(t, seen, 4)
}

func TestAPaperThatIsNotKnownIsRefused(t *testing.T) {
	t.Parallel()
	for _, paper := range []Paper{"", "A5", "a4"} {
		_, err := (&Document{Paper: paper, Blocks: []Block{Text{Text: "a"}}}).PDF()
		require.ErrorContains(t, err, fmt.Sprintf("paper %q", paper))
	}
}
