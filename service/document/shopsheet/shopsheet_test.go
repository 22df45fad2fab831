package shopsheet_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/shopsheet"
	"seamwright/service/estimate"
	"seamwright/service/measure"
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
