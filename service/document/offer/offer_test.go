package offer_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/offer"
	"seamwright/service/document/words"
	"seamwright/service/estimate"
	"seamwright/store/storetest/drawtest"
)

// mill is an invented shop.
var mill = document.Letterhead{Name: "Old Mill Workshop (invented)", Lines: []string{"1 Mill Lane", "Exampleton", "shop@example.com"}}

// body is a document's page without its head, which holds its looks.
func body(t *testing.T, in *offer.Input) string {
	t.Helper()
	d, err := offer.New(in)
	require.NoError(t, err)
	page, err := d.HTML()
	require.NoError(t, err)
	_, text, found := strings.Cut(string(page), "<body")
	require.True(t, found)
	return d.Title + "\n" + d.Foot + "\n" + d.Created + "\n" + text
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), got, "run UPDATE_GOLDEN=1 go test ./service/document/... and look at the difference")
}

// A stored offer for a desk and an estimate for a straight counter, in every language.
func TestOffersAsPages(t *testing.T) {
	t.Parallel()
	desk, counter := drawtest.Make(t, drawtest.Desk()), drawtest.Make(t, counter())
	for _, language := range words.Languages() {
		t.Run(language, func(t *testing.T) {
			t.Parallel()
			golden(t, "testdata/"+language+"_desk.html", body(t, &offer.Input{Estimate: desk, Shop: mill, Number: "2026-0012", Revision: 2, Date: "2026-11-03", ValidUntil: "2026-12-03",
				Reference: "Desk by the window", Customer: []string{"R. Example", "3 Field Row"}, Terms: "Half with the order.", Language: language, Plan: []byte("<svg/>"), Season: []byte("<svg/>")}))
			golden(t, "testdata/"+language+"_counter.html", body(t, &offer.Input{Estimate: counter, Shop: mill, Date: "2026-11-03", Language: language}))
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

func TestAnOfferInNoLanguage(t *testing.T) {
	t.Parallel()
	_, err := offer.New(&offer.Input{Estimate: drawtest.Make(t, drawtest.Desk()), Date: "2026-11-03", Language: "xx"})
	require.ErrorContains(t, err, "xx")
}
