package shopsheet_test

import (
	"html"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/shopsheet"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/takeoff"
	"seamwright/store/storetest/drawtest"
)

// The sheets of a bar of two woods with a sink, and of a straight shelf from a panel, as pages with their drawings of boards and days.
func TestSheetsAsPages(t *testing.T) {
	t.Parallel()
	bar, shelf := drawtest.Bar(), drawtest.Desk()
	start := 20 * measure.Inch
	bar.Top.Cutouts = []estimate.Cutout{{Run: "A", Kind: "sink", Length: 400, Depth: 300, FromStart: &start,
		FromFront: 120}}
	shelf.Top.Runs, shelf.Top.Corners, shelf.Top.Construction = shelf.Top.Runs[:1], nil, estimate.Panel
	for name, in := range map[string]*shopsheet.Input{
		"bar":   {Paper: document.A4, Estimate: drawtest.Make(t, bar), Number: "2026-0012", Revision: 1, Date: "2026-11-03"},
		"shelf": {Paper: document.Letter, Estimate: drawtest.Make(t, shelf), Date: "2026-11-03"},
	} {
		in.Language, in.Shop = "en", document.Letterhead{Name: "Old Mill Workshop (invented)"}
		d, err := shopsheet.New(in)
		require.NoError(t, err)
		page, err := d.HTML()
		require.NoError(t, err)
		_, text, found := strings.Cut(string(page), "<body")
		require.True(t, found)
		if name == "bar" { // the drawings of seams have files of their own
			text = regexp.MustCompile(`(?s)<svg .*?</svg>`).ReplaceAllString(text, "<svg/>")
		}
		got := d.Title + "\n" + d.Foot + "\n" + text
		file := "testdata/" + name + ".html"
		if os.Getenv("UPDATE_GOLDEN") != "" {
			require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		require.Equal(t, string(want), got, "run UPDATE_GOLDEN=1 go test ./service/document/... and look at the difference")
	}
}

// What is to get is said once, with all the packs that it comes in; what is only worn is not to be got, and what is sold in the other
// system's unit stands in the job's own as well.
func TestWhatIsToGetIsSaidOnce(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Bar())
	quantity := func(text string) money.Quantity {
		q, err := money.ParseQuantity(text)
		require.NoError(t, err)
		return q
	}
	oil := takeoff.BillLine{Item: "oil", Description: "Oil for this test", Unit: catalogue.Litre, Need: quantity("1.149"), Packs: 1}
	small, large := oil, oil
	small.PackSize, large.PackSize = quantity("0.375"), quantity("1")
	e.Bill = []takeoff.BillLine{
		{Item: "boards", Description: "Boards for this test", Unit: catalogue.BoardFoot, Need: quantity("87.4"), Buy: quantity("94.5")},
		small, large,
		{Item: "bits", Description: "Wear for this test", Unit: catalogue.Each, Need: quantity("0.085"), Buy: quantity("0.085")},
		{Item: "blankets", Description: "Blankets for this test", Unit: catalogue.Each, Need: quantity("4"), Buy: quantity("4")},
	}
	d, err := shopsheet.New(&shopsheet.Input{Paper: document.A4, Estimate: e, Date: "2026-11-03", Language: "en"})
	require.NoError(t, err)
	raw, err := d.HTML()
	require.NoError(t, err)
	_, page, _ := strings.Cut(html.UnescapeString(string(raw)), "</figure>")
	require.Equal(t, 1, strings.Count(page, "Oil for this test"))
	require.Contains(t, page, ">1 × 0.375 l + 1 × 1 l<")
	require.NotContains(t, page, "Wear for this test")
	require.Contains(t, page, ">4<")
	require.Contains(t, page, ">0.207 m³<")
	require.Contains(t, page, ">94.5 board feet (0.223 m³)<")
}
