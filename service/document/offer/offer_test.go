package offer_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/offer"
	"seamwright/service/document/words"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
	"seamwright/service/price"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// mill is an invented shop.
var mill = document.Letterhead{Name: "Old Mill Workshop (invented)",
	Lines: []string{"1 Mill Lane", "Exampleton", "shop@example.com"}}

// body is a document's page without its head, which holds its looks.
func body(t *testing.T, in *offer.Input, of func(*offer.Input) (*document.Document, error)) string {
	t.Helper()
	in.Paper = document.A4
	d, err := of(in)
	require.NoError(t, err)
	page, err := d.HTML()
	require.NoError(t, err)
	_, text, found := strings.Cut(string(page), "<body")
	require.True(t, found)
	// pictures have golden files of their own
	text = regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(text, "<svg/>")
	return d.Title + "\n" + d.Foot + "\n" + d.Created + "\n" + text
}

// A stored offer for a desk and an estimate for a straight counter, in every language.
func TestOffersAsPages(t *testing.T) {
	t.Parallel()
	desk, counter, shelf := drawtest.Make(t, drawtest.Desk()), drawtest.Make(t, counter()), drawtest.Make(t, shelf())
	furnished, bar := drawtest.Make(t, drawtest.Furnished()), drawtest.Make(t, drawtest.FurnishedBar())
	for _, language := range words.Languages() {
		t.Run(language, func(t *testing.T) {
			t.Parallel()
			stored := func() *offer.Input {
				return &offer.Input{Estimate: desk, Shop: mill, Number: "12-9", Revision: 2, Date: "2026-11-03",
					ValidUntil: "2026-12-03", Reference: "Desk by the window",
					Customer: []string{"R. Example", "3 Field Row"}, Terms: "Half with the order.", Language: language,
					Address: "https://shop.example/12-9"}
			}
			goldentest.Hold(t, "testdata/"+language+"_desk.html", body(t, stored(), offer.New))
			goldentest.Hold(t, "testdata/"+language+"_desk_short.html", body(t, stored(), offer.Short))
			goldentest.Hold(t, "testdata/"+language+"_counter.html",
				body(t, &offer.Input{Estimate: counter, Shop: mill, Date: "2026-11-03", Language: language}, offer.New))
			goldentest.Hold(t, "testdata/"+language+"_shelf.html",
				body(t, &offer.Input{Estimate: shelf, Shop: mill, Date: "2026-11-03", Language: language,
					Terms: "Until the date named."}, offer.Short))
			goldentest.Hold(t, "testdata/"+language+"_furnished.html",
				body(t, &offer.Input{Estimate: furnished, Shop: mill, Number: "12-10", Revision: 1, Date: "2026-11-03",
					Language: language}, offer.New))
			goldentest.Hold(t, "testdata/"+language+"_furnished_bar.html",
				body(t, &offer.Input{Estimate: bar, Shop: mill, Number: "12-11", Revision: 1, Date: "2026-11-03",
					Language: language}, offer.Short))
			goldentest.Hold(t, "testdata/"+language+"_furnished_bar_about.html",
				body(t, &offer.Input{Estimate: bar, Shop: mill, Date: "2026-11-03", Language: language}, offer.New))
		})
	}
}

// counter is bare and square, for a customer who joins it himself.
func counter() estimate.Order {
	o := drawtest.Counter()
	o.Finish.System, o.Top.Edge = "none", estimate.Edge{Profile: estimate.Square}
	o.Site.AssembledBy = "customer"
	return o
}

// shelf is straight.
func shelf() estimate.Order {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = o.Top.Runs[:1], nil
	return o
}

// What an offer says agrees with what is priced and made: a straight top has no seam, an estimate no date, no terms and no cents, and
// every corner is named.
func TestAnOfferSaysWhatIsSo(t *testing.T) {
	t.Parallel()
	straight, counter := drawtest.Make(t, shelf()), drawtest.Make(t, drawtest.Counter())
	for language, words := range map[string]struct{ seam, until, named []string }{
		"en": {[]string{"seam", "corner", "not glued"}, []string{"until the date", "Terms", "Order"},
			[]string{"Left wing and Back", "Back and Right wing"}},
		"de": {[]string{"Fuge", "Ecke", "verleimt:"}, []string{"genannten", "Bedingungen", "Bestellung"},
			[]string{"Left wing und Back", "Back und Right wing"}},
	} {
		for _, of := range []func(*offer.Input) (*document.Document, error){offer.New, offer.Short} {
			page := body(t, &offer.Input{Estimate: straight, Shop: mill, Date: "2026-11-03", Terms: "Until the date named.",
				Language: language}, of)
			for _, word := range append(words.seam, words.until...) {
				require.NotContains(t, page, word, language)
			}
			require.NotContains(t, page, "date named")
			require.NotContains(t, page, straight.Price.Total.String()[len(straight.Price.Total.String())-3:]+"<",
				"no cents under the word estimate")
		}
		page := body(t, &offer.Input{Estimate: counter, Shop: mill, Number: "7-0", Date: "2026-11-03", Language: language},
			offer.New)
		for _, corner := range words.named {
			require.Contains(t, page, corner)
		}
	}
}

// Both languages say the same: the same numbers stand in the same order.
func TestLanguagesSayTheSameNumbers(t *testing.T) {
	t.Parallel()
	desk := drawtest.Make(t, drawtest.Desk())
	numbers := func(language string) []string {
		page := body(t, &offer.Input{Estimate: desk, Shop: mill, Number: "12-9", Revision: 2, Date: "2026-11-03",
			Language: language}, offer.New)
		_, page, _ = strings.Cut(page, "<main>")
		page = regexp.MustCompile(`<[^>]*>|3 November 2026|03\.11\.2026`).ReplaceAllString(page, " ")
		return regexp.MustCompile(`\d+`).FindAllString(page, -1)
	}
	require.Equal(t, numbers("en"), numbers("de"))
}

// Tax is said with its region; one rate of several by itself, one at which nothing is paid only where the region says so.
func TestAnOfferSaysItsTaxes(t *testing.T) {
	t.Parallel()
	rate := money.RateOf(19)
	for _, c := range []struct {
		region string
		line   *money.Rate
		taxes  []string // of an offer, one after the other
		about  string
	}{{"", nil, nil, "Total: about"},
		{"invented_south", nil, []string{"Tax, 8.25 %: South county (invented)"}, "Total, with tax of 8.25 % (South county (invented)): about"},
		{"invented_south", &rate, []string{"Tax, 8.25 %: South county (invented)", "Tax, 19 %"}, "Total, with tax: about"}} {
		o := drawtest.Desk()
		o.Pricing.Region = c.region
		if c.line != nil {
			o.Pricing.Lines = []price.Line{{Text: "A lamp", Net: money.RoundAmount(100), Tax: c.line}}
		}
		e := drawtest.Make(t, o)
		page := body(t, &offer.Input{Estimate: e, Shop: mill, Number: "1-1", Date: "2026-11-03", Language: "en"}, offer.New)
		var taxes []string
		for _, row := range regexp.MustCompile(`<td[^>]*>(Tax[^<]*)</td>`).FindAllStringSubmatch(page, -1) {
			taxes = append(taxes, row[1])
		}
		require.Equal(t, c.taxes, taxes)
		page = body(t, &offer.Input{Estimate: e, Shop: mill, Date: "2026-11-03", Language: "en"}, offer.New)
		require.Contains(t, page, ">"+c.about+"<")
	}
}

// fittings are the choices of a document's layout.
func fittings(d *document.Document) (list []document.Fitting) {
	for _, b := range d.Blocks {
		if f, ok := b.(document.Fitting); ok {
			list = append(list, f)
		}
	}
	return list
}

// Where nothing has room on a page, the short form has its smallest pictures, and the first page its largest, over lists that may go on.
func TestWhatAnOfferFallsBackOn(t *testing.T) {
	t.Parallel()
	in := func() *offer.Input {
		return &offer.Input{Estimate: drawtest.Make(t, drawtest.Desk()), Shop: mill, Number: "1-1", Date: "2026-11-03", Language: "en",
			Paper: document.A4}
	}
	short, err := offer.Short(in())
	require.NoError(t, err)
	one := fittings(short)[0]
	require.Len(t, one.Ways, 4)
	require.Equal(t, one.Ways[3], one.Else)
	require.NotEqual(t, one.Ways[0][0], one.Ways[3][0])
	require.NotEqual(t, one.Ways[2][0], one.Ways[3][0])
	long, err := offer.New(in())
	require.NoError(t, err)
	first := fittings(long)[0]
	require.Equal(t, first.Ways[0][0], first.Else[0])
	last := first.Else[len(first.Else)-1].(document.Columns)
	require.True(t, last.Loose)
	last.Loose = false
	require.Equal(t, document.Block(last), first.Ways[0][len(first.Ways[0])-1])
}

// A long top has its plan over the whole width, whichever hand it is; one that turns, and the short form, have it beside the price.
func TestALongTopHasItsPlanOverTheWidth(t *testing.T) {
	t.Parallel()
	for _, hand := range []plan.Hand{plan.Left, plan.Right} {
		o := shelf()
		o.Top.Hand = hand
		in := func() *offer.Input {
			return &offer.Input{Estimate: drawtest.Make(t, o), Shop: mill, Number: "1-1", Date: "2026-11-03", Language: "en", Paper: document.A4}
		}
		d, err := offer.New(in())
		require.NoError(t, err)
		require.IsType(t, document.Figure{}, fittings(d)[0].Ways[0][0])
		d, err = offer.Short(in())
		require.NoError(t, err)
		require.IsType(t, document.Columns{}, fittings(d)[0].Ways[0][0])
		o.Top.Runs = append(o.Top.Runs, drawtest.Desk().Top.Runs[1])
		o.Top.Corners = drawtest.Desk().Top.Corners
		d, err = offer.New(in())
		require.NoError(t, err)
		require.IsType(t, document.Columns{}, fittings(d)[0].Ways[0][0])
	}
}

// The pictures of a first page leave room for the rest of it, those of the short form are as high as it says, the largest first.
func TestPicturesLeaveRoom(t *testing.T) {
	t.Parallel()
	size := regexp.MustCompile(`^<svg [^>]*viewBox="0 0 [\d.]+ ([\d.]+)"`)
	highest := func(blocks []document.Block) (most float64) {
		for _, b := range blocks[0].(document.Columns).Left {
			high, err := strconv.ParseFloat(string(size.FindSubmatch(b.(document.Figure).Picture)[1]), 64)
			require.NoError(t, err)
			most = max(most, high)
		}
		return most
	}
	o := drawtest.Desk()
	o.Top.Runs[1].Length = 120 * measure.Inch // as deep as it is wide
	in := func() *offer.Input {
		return &offer.Input{Estimate: drawtest.Make(t, o), Shop: mill, Number: "1-1", Date: "2026-11-03", Language: "en", Paper: document.A4}
	}
	_, page := document.A4.Room()
	long, err := offer.New(in())
	require.NoError(t, err)
	before := page
	for _, way := range fittings(long)[0].Ways {
		high := highest(way)
		require.LessOrEqual(t, high, before)
		require.Less(t, high, page-160, "of the page in millimetres, for what is not a picture")
		before = high
	}
	short, err := offer.Short(in())
	require.NoError(t, err)
	for i, most := range []float64{96, 82, 68, 52} {
		high := highest(fittings(short)[0].Ways[i])
		require.LessOrEqual(t, high, most+1)
		require.Greater(t, high, most*0.8)
	}
}

func TestAnOfferInNoLanguage(t *testing.T) {
	t.Parallel()
	_, err := offer.New(&offer.Input{Estimate: drawtest.Make(t, drawtest.Desk()), Date: "2026-11-03", Language: "xx"})
	require.ErrorContains(t, err, "xx")
}

// What a customer is shown adds up: what is taken off and what is sold with the top give the net sum, and with the taxes the total.
func TestAnOffersPricesAddUp(t *testing.T) {
	t.Parallel()
	for _, order := range []estimate.Order{drawtest.Desk(), drawtest.Furnished(), drawtest.FurnishedBar()} {
		e := drawtest.Make(t, order)
		page := body(t, &offer.Input{Estimate: e, Shop: mill, Number: "12-10", Date: "2026-11-03", Language: "en"}, offer.New)
		_, page, _ = strings.Cut(page, ">Price</caption>")
		require.NotEmpty(t, page)
		page, _, _ = strings.Cut(page, "</table>")
		var sums, taxes int64 // cents
		total, parts := int64(0), 0
		for _, row := range regexp.MustCompile(`<td[^>]*>([^<]*)</td><td[^>]*>([−-]?[0-9,.]+)</td>`).FindAllStringSubmatch(page, -1) {
			cents, err := strconv.ParseInt(strings.NewReplacer(",", "", ".", "", "−", "-").Replace(row[2]), 10, 64)
			require.NoError(t, err)
			switch {
			case strings.HasPrefix(row[1], "Total"):
				total = cents
			case strings.HasPrefix(row[1], "Before tax"):
				require.Equal(t, sums, cents, "%s", page)
			case strings.HasPrefix(row[1], "Tax"):
				taxes += cents
			case !strings.HasPrefix(row[1], "Deposit"):
				sums += cents
				parts++
			}
		}
		require.Equal(t, total, sums+taxes, "%s", page)
		require.Equal(t, e.Price.Total.Float(), float64(total)/100)
		if a := e.Price.Adjusted; a != nil {
			require.GreaterOrEqual(t, parts, 1+len(a.Discounts)+len(a.Lines))
		}
	}
}

// Terms of up to 350 letters stand on the one page of the short form, longer ones are told to be elsewhere; in the full form those of
// more than 1600 stand before the place to sign, which no page break parts from shorter ones.
func TestTermsStandWhereTheyHaveRoom(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, shelf())
	in := func(terms string) *offer.Input {
		return &offer.Input{Estimate: e, Shop: mill, Number: "1-1", Date: "2026-11-03", Language: "en", Paper: document.A4,
			Terms: terms}
	}
	for letters, there := range map[int]bool{350: true, 351: false} {
		terms := strings.Repeat("x", letters)
		require.Equal(t, there, strings.Contains(body(t, in(terms), offer.Short), terms))
	}
	for letters, apart := range map[int]bool{1600: false, 1601: true} {
		terms := strings.Repeat("x", letters)
		d, err := offer.New(in(terms))
		require.NoError(t, err)
		page := d.Blocks[len(d.Blocks)-1].(document.Fitting)
		require.Len(t, page.Ways, 2)
		for _, way := range page.Ways {
			require.Equal(t, apart, slices.Contains(way, document.Block(document.Text{Text: terms})))
			last := way[len(way)-1].(document.Together)
			require.Equal(t, !apart, slices.ContainsFunc(last.Blocks, func(b document.Block) bool {
				text, _ := b.(document.Text)
				return text.Text == terms
			}))
			require.IsType(t, document.Signature{}, last.Blocks[len(last.Blocks)-1])
		}
	}
}

// An address too long for a code stands among the facts alone, as does one that has no number to be found by.
func TestAnAddressTooLongForACode(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, shelf())
	code := func(number, address string) (facts, codes bool) {
		page := body(t, &offer.Input{Estimate: e, Shop: mill, Number: number, Date: "2026-11-03", Language: "en", Address: address},
			offer.New)
		head, _, _ := strings.Cut(page, "lead")
		return strings.Contains(head, address), strings.Contains(head, "<svg/>")
	}
	for _, c := range []struct {
		number, address string
		facts, codes    bool
	}{{"1-1", "https://shop.example/1-1", true, true}, {"1-1", "https://shop.example/" + strings.Repeat("x", 3000), true, false},
		{"", "https://shop.example/1-1", false, false}} {
		facts, codes := code(c.number, c.address)
		require.Equal(t, c.facts, facts)
		require.Equal(t, c.codes, codes)
	}
}
