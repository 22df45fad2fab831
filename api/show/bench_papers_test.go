package show_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/document"
	"seamwright/service/document/words"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// The shop sheets of two dozen invented tops, on both papers and in both languages, are read as a printer would: sizes of
// letters, lengths of lines and where they are, from the PDF's own drawing operators.
func TestShopSheetsCanBeReadAndMeasuredAtTheBench(t *testing.T) {
	t.Parallel()
	for _, name := range benchOrders(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := benchSubject(t, name)
			for _, paper := range []document.Paper{document.A4, document.Letter} {
				for _, language := range words.Languages() {
					raw, err := show.Make("shop-sheet.pdf", s, show.Options{Paper: string(paper), Language: language})
					require.NoError(t, err)
					pages := inkOf(t, raw)
					at := fmt.Sprintf("%s %s", paper, language)
					for n, page := range pages {
						require.GreaterOrEqual(t, page.smallest(), 8.0, "%s, page %d: letters under 8 pt", at, n+1)
						require.Contains(t, page.text, s.Reference[:20], "%s, page %d names no job", at, n+1)
						require.Contains(t, page.text,
							fmt.Sprintf(map[string]string{"en": "Page %d of %d", "de": "Seite %d von %d"}[language], n+1, len(pages)))
						require.GreaterOrEqual(t, page.rows(), 8, "%s, page %d of %d: hardly anything on it", at, n+1, len(pages))
						if flat := strings.Join(strings.Fields(page.text), " "); strings.HasPrefix(flat, "Step How") || strings.HasPrefix(flat, "Schritt Wie") {
							require.GreaterOrEqual(t, page.rows(), 12, "%s, page %d: little goes on to a seam's third page", at, n+1)
						}
						page.keepsItsMargins(t, paper, fmt.Sprintf("%s, page %d", at, n+1))
						if n < len(pages)-1 {
							require.Less(t, page.foot(paper), 1.0/3, "%s: the last third of page %d of %d is blank", at, n+1, len(pages))
						}
					}
					requireScale(t, s.Estimate, pages, at)
				}
			}
		})
	}
}

func benchOrders(t testing.TB) []string {
	files, err := filepath.Glob("testdata/bench/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 20)
	return files
}

func benchSubject(t testing.TB, file string) *show.Subject {
	raw, err := os.ReadFile(file)
	require.NoError(t, err)
	return subjectOf(t, raw)
}

// ink is what a page's drawing operators put on it, in points from its lower left corner.
type ink struct {
	text   string
	sizes  []float64
	lines  [][4]float64
	boxes  [][4]float64 // rectangles: left, top, width, height
	places [][2]float64 // of texts: where their base lines begin
}

// inkOf reads all pages.
func inkOf(t testing.TB, raw []byte) (pages []*ink) {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	for n := 1; n <= r.NumPage(); n++ {
		page := r.Page(n)
		content, err := io.ReadAll(page.V.Key("Contents").Reader())
		require.NoError(t, err)
		p := &ink{}
		p.text, err = page.GetPlainText(nil)
		require.NoError(t, err)
		p.read(string(content))
		pages = append(pages, p)
	}
	return pages
}

// read takes the operators that fpdf writes: m and l for lines, re for rectangles, Td for the place of a text and Tf for its letters.
func (p *ink) read(content string) {
	var at [2]float64
	for _, line := range strings.Split(content, "\n") {
		fields := strings.Fields(line)
		size := 0.0
		for i, f := range fields {
			value := func(back int) float64 {
				if i < back {
					return math.NaN()
				}
				x, err := strconv.ParseFloat(fields[i-back], 64)
				if err != nil {
					return math.NaN()
				}
				return x
			}
			switch f {
			case "Tf":
				size = value(1)
			case "m":
				at = [2]float64{value(2), value(1)}
			case "l":
				next := [2]float64{value(2), value(1)}
				if !math.IsNaN(next[0]) && !math.IsNaN(at[0]) {
					p.lines = append(p.lines, [4]float64{at[0], at[1], next[0], next[1]})
				}
				at = next
			case "re":
				p.boxes = append(p.boxes, [4]float64{value(4), value(3), value(2), -value(1)})
			case "Td":
				p.places = append(p.places, [2]float64{value(2), value(1)})
			}
		}
		if size > 0 {
			p.sizes = append(p.sizes, size)
		}
	}
}

const pointsPerMM = 72 / 25.4

// smallest is the smallest size of letters on the page.
func (p *ink) smallest() float64 { return slices.Min(p.sizes) }

// keepsItsMargins holds every line, box and text against the margins of 18 mm, and 20 mm at the foot with its own lines under it.
func (p *ink) keepsItsMargins(t *testing.T, paper document.Paper, at string) {
	t.Helper()
	width, height := paper.Room()
	left, right, top := 18*pointsPerMM-1, (18+width)*pointsPerMM+1, (20+height)*pointsPerMM+1
	inside := func(x, y float64) {
		require.True(t, x >= left && x <= right && y >= 8*pointsPerMM && y <= top, "%s: ink at %.1f, %.1f leaves the margins",
			at, x, y)
	}
	for _, l := range p.lines {
		inside(l[0], l[1])
		inside(l[2], l[3])
	}
	for _, b := range p.boxes {
		inside(b[0], b[1])
		inside(b[0]+b[2], b[1]-b[3])
	}
	for _, q := range p.places {
		inside(q[0], q[1])
	}
}

// rows is how many lines of text stand over the page's foot.
func (p *ink) rows() int {
	seen := map[float64]bool{}
	for _, q := range p.places {
		if q[1] > 20*pointsPerMM {
			seen[math.Round(q[1])] = true
		}
	}
	return len(seen)
}

// foot is the share of the text's height that is blank at its end, over the page's foot.
func (p *ink) foot(paper document.Paper) float64 {
	_, height := paper.Room()
	bottom := 20 * pointsPerMM
	lowest := math.Inf(1)
	reach := func(y float64) {
		if y > bottom-0.5 {
			lowest = min(lowest, y)
		}
	}
	for _, l := range p.lines {
		reach(l[1])
		reach(l[3])
	}
	for _, q := range p.places {
		reach(q[1])
	}
	return (lowest - bottom) / (height * pointsPerMM)
}

var (
	ratioOf = regexp.MustCompile(`1 : (\d+)\)?, `)
	barOf   = regexp.MustCompile(`(?:this bar is then|dieser Balken ist dann) (\d+) (in|mm|Zoll)`)
)

// requireScale measures what says that it is to scale: the bar of every drawing against the length that is printed beside it, and
// the pieces' edges on the plan and on their own sheets.
func requireScale(t *testing.T, e *estimate.Estimate, pages []*ink, at string) {
	t.Helper()
	outlines, bars := 0, 0
	for n, p := range pages {
		flat := strings.Join(strings.Fields(p.text), " ")
		ratios, lengths := ratioOf.FindAllStringSubmatch(flat, -1), barOf.FindAllStringSubmatch(flat, -1)
		require.Len(t, lengths, len(ratios), "%s, page %d: %s", at, n+1, flat)
		if len(ratios) == 0 {
			continue
		}
		for _, l := range lengths {
			paper, err := strconv.ParseFloat(l[1], 64)
			require.NoError(t, err)
			if l[2] != "mm" {
				paper *= 25.4
			}
			require.InDelta(t, paper, p.bar()/pointsPerMM, 0.1, "%s, page %d: the bar", at, n+1)
			bars++
		}
		ratio, err := strconv.ParseFloat(ratios[0][1], 64)
		require.NoError(t, err)
		for i := range e.Runs {
			heading := regexp.MustCompile(`(Piece|Teil) ` + regexp.QuoteMeta(e.Runs[i].Name) + `, ` + strconv.Itoa(i+1) +
				` (of|von) `)
			if n > 0 && !heading.MatchString(flat) {
				continue
			}
			outline := e.Runs[i].Piece.Outline
			for k := range outline {
				side := outline[k].Distance(outline[(k+1)%len(outline)])
				if side < 20*measure.Millimetre {
					continue
				}
				require.True(t, p.hasLine(float64(side)/ratio*pointsPerMM), "%s, page %d: no line of %v at 1 : %v for %s", at, n+1,
					side, ratio, e.Runs[i].Name)
				outlines++
			}
		}
	}
	require.GreaterOrEqual(t, bars, 1+len(e.Runs)+len(e.Corners), "%s: plan, pieces and seams have a bar each", at)
	require.GreaterOrEqual(t, outlines, 8*len(e.Runs), "%s: each piece's edges are measured on the plan and on its sheet",
		at)
}

// bar is how long the row of boxes 1.6 mm high is.
func (p *ink) bar() float64 {
	from, to := math.Inf(1), math.Inf(-1)
	for _, b := range p.boxes {
		if math.Abs(b[3]-1.6*pointsPerMM) < 0.02 {
			from, to = min(from, b[0]), max(to, b[0]+b[2])
		}
	}
	return to - from
}

// hasLine reports whether a line of that length is on the page, as near as coordinates of a hundredth of a millimetre are.
func (p *ink) hasLine(length float64) bool {
	return slices.ContainsFunc(p.lines, func(l [4]float64) bool {
		return math.Abs(math.Hypot(l[2]-l[0], l[3]-l[1])-length) < 0.06
	})
}

// In another language than English nothing stays English but what callers named, what is quoted and what a unit is called.
func TestAGermanShopSheetIsGerman(t *testing.T) {
	t.Parallel()
	english := regexp.MustCompile(`(?i)\b(the|and|with|of|is|are|piece|pieces|seam|corner|wall|edge|edges|front|from|stave|staves|wood|slab|joint|screw|bolt|biscuit|made|dry|humid|cut|long|deep|wide|rough|day|days|hours)\b`)
	tag := regexp.MustCompile(`<[^>]*>`)
	for _, name := range benchOrders(t) {
		s := benchSubject(t, name)
		raw, err := show.Make("shop-sheet.html", s, show.Options{Language: "de"})
		require.NoError(t, err)
		body := bodyOf(string(raw))
		body = body[:strings.LastIndex(body, "<ul>")] // what the numbers rest on: titles of publications
		for _, text := range strings.Split(tag.ReplaceAllString(body, "\n"), "\n") {
			text = strings.ReplaceAll(text, "Board Feet", "")
			for i := range s.Estimate.Runs {
				if n := s.Estimate.Runs[i].Name; len(n) > 2 {
					text = strings.ReplaceAll(text, n, "")
				}
			}
			// names, whole and shortened
			if strings.Contains(text, "invented") || strings.Contains(text, "…") ||
				strings.Contains(text, "The long run along") {
				continue
			}
			require.Empty(t, english.FindAllString(text, -1), "%s: %s", name, text)
		}
	}
}
