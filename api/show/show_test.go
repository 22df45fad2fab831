package show_test

import (
	"bytes"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/service/document/words"
	"seamwright/service/drawing/seam"
	"seamwright/store/storetest"
)

var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func subjectOf(t testing.TB, request []byte) *show.Subject {
	t.Helper()
	cat := storetest.Demo(t)
	est, err := estimates.Make(request, cat, noon, false)
	require.NoError(t, err)
	return &show.Subject{Estimate: est, Shop: &cat.Settings.ShopSettings, Terms: cat.Settings.QuoteTerms, Number: "17-4",
		Revision: 2, Date: "2026-11-25", ValidUntil: "2026-12-25",
		Reference: est.Reference, Customer: []string{"Ada Example", "2 Harbour Street"}}
}

func request(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("../../testdata/requests", name))
	require.NoError(t, err)
	return raw
}

// textOf is the text of a PDF, page by page, with the number of its pages.
func textOf(t testing.TB, raw []byte) (text string, pages int) {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	plain, err := r.GetPlainText()
	require.NoError(t, err)
	all, err := io.ReadAll(plain)
	require.NoError(t, err)
	return string(all), r.NumPage()
}

func TestEveryRequestOfTheProjectHasAllViews(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/requests/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	for _, file := range files {
		s := subjectOf(t, request(t, filepath.Base(file)))
		views, err := show.All(s, show.Options{})
		require.NoError(t, err, file)
		require.GreaterOrEqual(t, len(views), len(show.Names())-6+len(s.Estimate.Runs)-1,
			"a straight top has no seam, opening, stick or comparison")
		again, err := show.All(s, show.Options{})
		require.NoError(t, err)
		require.Len(t, again, len(views))
		for i, v := range views {
			require.NotEmpty(t, v.Raw, "%s: %s", file, v.Name)
			require.Equal(t, v.Name, again[i].Name)
			require.True(t, bytes.Equal(v.Raw, again[i].Raw), "%s: %s is not the same twice", file, v.Name)
		}
	}
}

func TestAnOfferSaysWhatACustomerNeedsAndNothingOfTheShopsCosts(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "l_desk.json"))
	raw, err := show.Make("offer.pdf", s, show.Options{})
	require.NoError(t, err)
	text, pages := textOf(t, raw)
	require.LessOrEqual(t, pages, 4)
	page, err := show.Make("offer.html", s, show.Options{})
	require.NoError(t, err)
	flat := strings.Join(strings.Fields(text), "")
	p := &s.Estimate.Price
	for _, wanted := range []string{"Offer no. 17", "Ada Example", "Valid until", "25 December 2026", "Old Mill Workshop",
		thousands(p.Total.String()), thousands(p.Deposit.String()), "Deposit", "Customer", "care sheet", "not glued",
		s.Terms[:40]} {
		require.Contains(t, flat, strings.Join(strings.Fields(wanted), ""), wanted)
		require.Contains(t, string(page), wanted)
	}
	for _, secret := range []string{p.Cost.String(), p.Margin.String(), p.Labour.String(), p.Materials.String()} {
		require.NotContains(t, flat, thousands(secret))
		require.NotContains(t, string(page), thousands(secret))
		require.NotContains(t, string(page), secret)
	}
	for _, word := range []string{"demo", "biscuit_20", "draw_bolt_150", "lumber_maple", "margin", "overhead", "minutes"} {
		require.NotContains(t, bodyOf(string(page)), word)
	}
}

// bodyOf is a page without its styles.
func bodyOf(page string) string {
	_, body, _ := strings.Cut(page, "</style>")
	return body
}

func thousands(amount string) string {
	whole, cents, _ := strings.Cut(amount, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return whole + "." + cents
}

// An offer names the lengths along the walls that were asked for, whichever piece runs through the corner, and for either hand.
func TestAnOfferNamesTheLengthsAlongTheWalls(t *testing.T) {
	t.Parallel()
	says := func(raw []byte, want string) {
		page, err := show.Make("offer.html", subjectOf(t, raw), show.Options{})
		require.NoError(t, err)
		_, lead, _ := strings.Cut(string(page), `class="lead">`)
		lead, _, _ = strings.Cut(lead, "</p>")
		require.Contains(t, strings.ReplaceAll(lead, "&#43;", "+"), want)
	}
	says(request(t, "l_desk.json"), " 96 + 72 in along the walls")
	says(request(t, "straight_shelf.json"), "thick.")
	bar := request(t, "l_bar.json")
	require.Contains(t, string(bar), `"hand": "left"`)
	says(bar, " 2600 + 1900 mm along the walls")
	says(bytes.Replace(bar, []byte(`"hand": "left"`), []byte(`"hand": "right"`), 1), " 2600 + 1900 mm along the walls")
}

func TestEveryLanguageHasAllWords(t *testing.T) {
	t.Parallel()
	require.Equal(t, []string{"de", "en"}, words.Languages())
	for _, name := range []string{"l_desk.json", "straight_shelf.json", "u_counter.json", "l_bar.json"} {
		for _, language := range words.Languages() {
			page, err := show.Make("offer.html", subjectOf(t, request(t, name)), show.Options{Language: language})
			require.NoError(t, err, "%s in %s", name, language)
			require.Contains(t, string(page), `<html lang="`+language+`">`)
			require.NotContains(t, string(page), "no value")
		}
	}
	german, err := show.Make("offer.pdf", subjectOf(t, request(t, "l_desk.json")),
		show.Options{Language: "de", Paper: "A4"})
	require.NoError(t, err)
	text, _ := textOf(t, german)
	require.Contains(t, text, "Gültig bis")
	require.Contains(t, text, "25.12.2026")
	for _, o := range []show.Options{{Language: "xx"}, {Paper: "A9"}} {
		_, err = show.Make("offer.pdf", subjectOf(t, request(t, "l_desk.json")), o)
		require.Equal(t, 400, web.ProblemOf(err).Status)
	}
	_, err = show.Make("nothing.svg", subjectOf(t, request(t, "l_desk.json")), show.Options{})
	require.Equal(t, 404, web.ProblemOf(err).Status)
	_, err = show.Make("seam.svg", subjectOf(t, request(t, "l_desk.json")), show.Options{Corner: 2})
	require.Equal(t, 404, web.ProblemOf(err).Status)
}

func TestAShopSheetHasEverythingForTheBench(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "l_desk.json"))
	speaker, err := speak.In("en")
	require.NoError(t, err)
	told := speaker.Drawings.Told
	raw, err := show.Make("shop-sheet.pdf", s, show.Options{})
	require.NoError(t, err)
	text, _ := textOf(t, raw)
	flat := strings.Join(strings.Fields(text), "")
	for i := range s.Estimate.Labour.Steps {
		require.Contains(t, flat, strings.Join(strings.Fields(told(s.Estimate.Labour.Steps[i].Name)), ""))
	}
	worn := 0
	for i := range s.Estimate.Bill {
		l := &s.Estimate.Bill[i]
		name := strings.Join(strings.Fields(told(l.Description)), "")
		if l.Unit == catalogue.Each && l.Buy.Float() < 1 { // the wear of a bit is paid, but nobody goes to get it
			worn++
			require.NotContains(t, flat, name)
			continue
		}
		require.Contains(t, flat, name)
	}
	require.Equal(t, 2, worn)
	for _, c := range s.Estimate.Cautions {
		require.Contains(t, flat, strings.Join(strings.Fields(c), ""))
	}
	page, err := show.Make("shop-sheet.html", s, show.Options{})
	require.NoError(t, err)
	ticks := len(s.Estimate.Labour.Steps) + len(s.Estimate.Bill) - worn + 4*len(s.Estimate.Runs) + len(s.Estimate.Cutouts)
	for i := range s.Estimate.Corners {
		bench, err := seam.New(s.Estimate, i, 170, seam.Options{})
		require.NoError(t, err)
		ticks += len(bench.Marking.Rows) + len(bench.Steps)
	}
	require.Equal(t, ticks, strings.Count(string(page), `class="tick"`))
}

// hostile texts must come out as texts; printed is how a PDF has them, as far as the reader of these tests can read it.
var hostile = []struct{ text, printed string }{
	{"<script>alert(1)</script>", "<script>alert(1)</script>"}, {`"><img src=x onerror=alert(1)>`, `"><imgsrc=xonerror=alert(1)>`},
	{"'; DROP TABLE quote; --", "';DROPTABLEquote;--"}, {"שלום עולם", ""}, {"مرحبا", ""}, {"田中 한글", ""}, {"😀🪵", "(grinningface)(wood)"}, {"🇩🇪 👍🏽", "DE(thumbsupsign)"},
	{"\u202eevil", "evil"}, {strings.Repeat("W", 200), "WWWWWWWWWWWWWWWW"}, {"=HYPERLINK(1)", "=HYPERLINK(1)"}, {"]]>", "]]>"}, {"&lt;b&gt;", "&lt;b&gt;"},
}

func TestHostileTextAppearsAsText(t *testing.T) {
	t.Parallel()
	for _, h := range hostile {
		text := h.text
		s := subjectOf(t, request(t, "l_desk.json"))
		s.Customer, s.Reference, s.Terms, s.Estimate.Reference = []string{text, text}, text, text, text
		s.Estimate.Runs[0].Name = text
		s.Estimate.Runs[0].Wood, s.Estimate.Made.FinishName = text, text
		shop := *s.Shop
		shop.ShopName = text
		s.Shop = &shop
		views, err := show.All(s, show.Options{})
		require.NoError(t, err, text)
		for _, v := range views {
			switch filepath.Ext(v.Name) {
			case ".html":
				harmless(t, v.Raw)
			case ".pdf":
				said, pages := textOf(t, v.Raw)
				require.Positive(t, pages)
				require.NotContains(t, said, "¡", "%s of %q", v.Name, text) // the reader's low byte of a box
				require.Contains(t, strings.Join(strings.Fields(said), ""), h.printed, v.Name)
			case ".csv":
				rows, err := csv.NewReader(bytes.NewReader(v.Raw)).ReadAll()
				require.NoError(t, err)
				for _, row := range rows {
					for _, cell := range row {
						require.NotRegexp(t, `^=`, cell)
					}
				}
			}
		}
	}
}

// harmless fails when a page has an element or attribute that runs something, or loads something.
func harmless(t *testing.T, page []byte) {
	t.Helper()
	z := html.NewTokenizer(bytes.NewReader(page))
	for {
		switch z.Next() { //nolint:exhaustive // texts and ends run nothing
		case html.ErrorToken:
			require.ErrorIs(t, z.Err(), io.EOF)
			return
		case html.StartTagToken, html.SelfClosingTagToken:
			token := z.Token()
			require.NotContains(t, []string{"script", "iframe", "object", "embed", "link", "form"}, token.Data)
			for _, a := range token.Attr {
				require.False(t, strings.HasPrefix(a.Key, "on"), a.Key)
				if a.Key == "src" || a.Key == "href" {
					require.Regexp(t, `^(data:image/|#)`, a.Val)
				}
			}
		}
	}
}

func TestALogoIsShownAndAWrongOneCostsNothing(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "l_desk.json"))
	plain, err := show.Make("offer.pdf", s, show.Options{})
	require.NoError(t, err)
	s.Logo = tinyPNG
	with, err := show.Make("offer.pdf", s, show.Options{})
	require.NoError(t, err)
	require.Greater(t, len(with), len(plain))
	for _, wrong := range [][]byte{[]byte("<svg/>"), tinyPNG[:20], {}} {
		s.Logo = wrong
		raw, err := show.Make("offer.pdf", s, show.Options{})
		require.NoError(t, err)
		text, _ := textOf(t, raw)
		require.Contains(t, text, "Offer no. 17")
	}
}

var tinyPNG = []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x02\x00\x00\x00\x90wS\xde\x00\x00\x00\x0cIDATx\x9cc\xf8\xcf\xc0\x00\x00\x03\x01\x01\x00\xc9\xfe\x92\xef\x00\x00\x00\x00IEND\xaeB`\x82")

func BenchmarkOfferPDF(b *testing.B) {
	s := subjectOf(b, request(b, "l_desk.json"))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := show.Make("offer.pdf", s, show.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShopSheetPDF(b *testing.B) {
	s := subjectOf(b, request(b, "l_desk.json"))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := show.Make("shop-sheet.pdf", s, show.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBenchViews(b *testing.B) {
	s := subjectOf(b, request(b, "l_desk.json"))
	for _, name := range []string{"template.svg", "template.pdf", "stick.svg", "stick.pdf", "points.csv", "cutouts.csv",
		"boards.svg", "boards.pdf", "boards.csv", "labels.pdf"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := show.Make(name, s, show.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Whoever is offered a top that is built up at its edges is told how thick it is elsewhere.
func TestAnOfferOfABuiltUpTopSaysSo(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("../../testdata/tops/30_built_up.json")
	require.NoError(t, err)
	for language, want := range map[string]string{"en": "Slabs 40 mm thick, built up at their edges.",
		"de": "Platten 40 mm dick, am Rand aufgedoppelt."} {
		for _, view := range []string{"offer.html", "offer-short.html"} {
			page, err := show.Make(view, subjectOf(t, raw), show.Options{Language: language})
			require.NoError(t, err)
			require.Contains(t, string(page), want, "%s in %s", view, language)
		}
	}
}
