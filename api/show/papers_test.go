package show_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/service/catalogue"
	"seamwright/store/storetest"
	"seamwright/store/storetest/goldentest"
)

// papers are what a customer gets, with the most pages that each may have.
var papers = map[string]int{"offer.pdf": 2, "offer-short.pdf": 1, "care.pdf": 1, "installation.pdf": 3}

// tops are invented orders, as different as tops can be.
func tops(t testing.TB) map[string]*show.Subject {
	t.Helper()
	files, err := filepath.Glob("../../testdata/tops/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 20)
	all := map[string]*show.Subject{}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		all[name] = top(t, name)
	}
	return all
}

func top(t testing.TB, name string) *show.Subject {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/tops/" + name + ".json")
	require.NoError(t, err)
	cat := storetest.Demo(t)
	est, err := estimates.Make(raw, cat, noon, false)
	require.NoError(t, err, name)
	return stored(&show.Subject{Estimate: est, Reference: est.Reference}, cat)
}

func stored(s *show.Subject, cat *catalogue.Snapshot) *show.Subject {
	shop := cat.Settings.ShopSettings
	shop.ShopQuotes = "https://shop.example/offers/{reference}"
	s.Shop, s.Terms, s.Number, s.Revision, s.Date, s.ValidUntil = &shop, shop.QuoteTerms, "17-4", 2, "2026-11-25",
		"2026-12-25"
	s.Customer = []string{"Ada Example", "2 Harbour Street", "Exampleton"}
	return s
}

// Of every top, in both languages and on both papers: no letter under 8 pt, none on another, none outside the margins, no page but the
// last of which a third is empty, no place to sign alone on a page, and as few pages as are promised.
func TestPapersOfManyTops(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		for _, language := range []string{"en", "de"} {
			for _, paper := range []string{"A4", "Letter"} {
				for view, most := range papers {
					t.Run(strings.Join([]string{name, view, language, paper}, " "), func(t *testing.T) {
						t.Parallel()
						raw, err := show.Make(view, s, show.Options{Language: language, Paper: paper})
						require.NoError(t, err)
						r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
						require.NoError(t, err)
						require.LessOrEqual(t, r.NumPage(), most)
						for page := 1; page <= r.NumPage(); page++ {
							look(t, r.Page(page), page == r.NumPage())
						}
					})
				}
			}
		}
	}
}

const (
	left   = 18 * 72 / 25.4 // points
	bottom = 20 * 72 / 25.4
)

// look checks one page.
func look(t *testing.T, page pdf.Page, last bool) {
	t.Helper()
	box := page.V.Key("MediaBox")
	if box.IsNull() {
		box = page.V.Key("Parent").Key("MediaBox")
	}
	width, height := box.Index(2).Float64(), box.Index(3).Float64()
	lowest := height
	content := page.Content()
	words, rows := 0, map[float64]bool{}
	for _, w := range content.Text {
		if strings.TrimSpace(w.S) == "" {
			continue
		}
		words++
		if !(w.FontSize >= 7.99 && w.X >= left-1 && w.X+w.W <= width-left+1 && w.Y > 20) { // thousands of letters are asked
			require.Failf(t, "too small or in the margin", "%q of %.2f pt from %.1f, %.1f to %.1f", w.S, w.FontSize, w.X, w.Y, w.X+w.W)
		}
		if w.Y > bottom {
			lowest = min(lowest, w.Y)
			rows[math.Round(w.Y)] = true
		}
	}
	require.Greater(t, words, 100, "a page with hardly anything on it")
	require.GreaterOrEqual(t, len(rows), 8, "a page with hardly anything on it")
	if !last {
		require.Less(t, lowest-bottom, height/3, "a third of the page is empty")
	}
	require.Empty(t, meeting(content.Text))
}

// meeting are letters that lie on others: written at nearly the same place.
func meeting(all []pdf.Text) (pairs []string) {
	all = slices.DeleteFunc(slices.Clone(all), func(one pdf.Text) bool { return strings.TrimSpace(one.S) == "" })
	for i := range all {
		a := &all[i]
		for k := i + 1; k < len(all); k++ {
			b := &all[k]
			if math.Abs(a.Y-b.Y) > 0.5*min(a.FontSize, b.FontSize) {
				continue
			}
			if over := min(a.X+a.W, b.X+b.W) - max(a.X, b.X); over > 0.45*min(a.W, b.W) {
				pairs = append(pairs, fmt.Sprintf("%q on %q at %.0f, %.0f", a.S, b.S, a.X, a.Y))
			}
		}
	}
	return pairs
}

// The place to sign stands with the price and more beside it, however long the shop's terms are and whatever the customer is called.
func TestNobodySignsAnEmptyPage(t *testing.T) {
	t.Parallel()
	for name, s := range map[string]*show.Subject{"usual": top(t, "03_l_kitchen"), "long": top(t, "10_six")} {
		for _, terms := range []int{0, 1, 8, 30, 60} {
			one := *s
			one.Terms = strings.Repeat("What is agreed is written down and holds for both of us. ", terms)
			for _, paper := range []string{"A4", "Letter"} {
				for _, view := range []string{"offer.pdf", "offer-short.pdf"} {
					raw, err := show.Make(view, &one, show.Options{Paper: paper})
					require.NoError(t, err)
					r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
					require.NoError(t, err)
					text, err := r.Page(r.NumPage()).GetPlainText(nil)
					require.NoError(t, err)
					text = strings.Join(strings.Fields(text), "")
					require.Contains(t, text, "Placeanddate", name)
					require.Contains(t, text, thousands(one.Estimate.Price.Total.String()), name)
					require.Contains(t, text, "localcodes", "the cautions stand with it")
					if view == "offer-short.pdf" {
						require.Equal(t, 1, r.NumPage(), "%s with terms of %d sentences on %s", name, terms, paper)
					}
				}
			}
		}
	}
}

// Each golden file is one drawing of one top: those that customers see.
func TestGoldenDrawingsOfManyTops(t *testing.T) {
	t.Parallel()
	for name, s := range tops(t) {
		for view, o := range map[string]show.Options{"plan-customer.svg": {}, "view.svg": {Language: "de"}} {
			got, err := show.Make(view, s, o)
			require.NoError(t, err)
			file := filepath.Join("testdata", name+"-"+view)
			goldentest.Hold(t, file, got)
		}
	}
}

// Each golden file is what the papers of one top say, in one language, without their pictures.
func TestGoldenPapersOfManyTops(t *testing.T) {
	t.Parallel()
	plain := regexp.MustCompile(`(?s)<svg.*?</svg>|<head>.*?</head>`)
	tags := regexp.MustCompile(`<[^>]*>`)
	blank := regexp.MustCompile(`\s*\n\s*`)
	for name, s := range tops(t) {
		for _, language := range []string{"en", "de"} {
			var got strings.Builder
			for _, view := range []string{"offer.html", "installation.html", "care.html"} {
				page, err := show.Make(view, s, show.Options{Language: language})
				require.NoError(t, err)
				text := tags.ReplaceAllString(plain.ReplaceAllString(string(page), ""), "\n")
				got.WriteString("== " + view + "\n" + strings.TrimSpace(blank.ReplaceAllString(text, "\n")) + "\n")
			}
			file := filepath.Join("testdata", name+"-"+language+".txt")
			goldentest.Hold(t, file, got.String())
		}
	}
}
