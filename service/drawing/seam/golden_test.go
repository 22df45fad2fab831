package seam

import (
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/estimate"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// Each golden file is one sheet, looked at on paper size and at a phone's width.
func TestGoldenSheets(t *testing.T) {
	for _, c := range []struct {
		name    string
		order   estimate.Order
		options Options
	}{
		{"desk_miter", drawtest.Desk(), Options{}},
		{"desk_miter_narrow", drawtest.Desk(), Options{Narrow: true}},
		{"bar_masons_miter_left", drawtest.DryBar(), Options{}},
		{"bar_masons_miter_left_narrow", drawtest.DryBar(), Options{Narrow: true}},
		{"desk_butt_screws", butt(), Options{}},
		{"long_miter", drawtest.Long(), Options{}},
		{"short_butt", drawtest.Short(), Options{}},
		{"reflex_butt", drawtest.Reflex(), Options{}},
		{"long_miter_narrow", drawtest.Long(), Options{Narrow: true}},
		{"bar_excluded_miter", drawtest.DryBar(), Options{Joint: &plan.Joint{Kind: plan.Miter}}},
		{"harsh_butt_mixed", harsh(), Options{}},
		{"elongated_butt", elongated(), Options{}},
		{"elongated_butt_narrow", elongated(), Options{Narrow: true}},
		{"laminated_miter", laminated(), Options{}},
		{"furnished", drawtest.Furnished(), Options{}},
		{"furnished_narrow", drawtest.Furnished(), Options{Narrow: true}},
		{"desk_another_candidate", drawtest.Desk(), Options{Joint: &plan.Joint{Kind: plan.Butt, Through: plan.Second}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Draw(drawtest.Make(t, c.order), 0, c.options)
			require.NoError(t, err)
			goldentest.Hold(t, filepath.Join("testdata", c.name+".svg"), got)
		})
	}
}

// laminated is a desk of two layers.
func laminated() estimate.Order {
	o := drawtest.Desk()
	o.Top.Species, o.Top.Thickness, o.Top.Build = "oak_red", 3*measure.Inch, estimate.Laminated
	return o
}

// A slab of two layers shows its glue line along the seam and in every section; one of a single layer has none.
func TestGlueLinesOfALaminatedSlab(t *testing.T) {
	line := regexp.MustCompile(`<line [^>]*stroke="#6a6a6a" stroke-width="0.3"`)
	count := func(o estimate.Order) int {
		got, err := Draw(drawtest.Make(t, o), 0, Options{})
		require.NoError(t, err)
		return len(line.FindAll(got, -1))
	}
	one, two := laminated(), laminated()
	one.Top.Thickness, one.Top.Build = 1.5*measure.Inch, ""
	require.Zero(t, count(one))
	require.GreaterOrEqual(t, count(two), 3, "along the seam, across its tenons and across its bolts")
}

// A seam that cannot be made says each reason once, the hardware's own as well; one that can says none.
func TestWhySomethingIsNotMade(t *testing.T) {
	const no = "Not to be made like this: "
	said := func(change func(c *estimate.Candidate)) string {
		e := drawtest.Make(t, drawtest.Desk())
		change(e.Corners[0].ChosenCandidate())
		got, err := Draw(e, 0, Options{})
		require.NoError(t, err)
		return strings.Join(drawtest.Read(t, got).Texts, " ")
	}
	require.NotContains(t, said(func(*estimate.Candidate) {}), no)
	texts := said(func(c *estimate.Candidate) {
		c.Feasible, c.Hardware.Feasible, c.Hardware.Reason = false, false, "No bolt has room."
	})
	require.Equal(t, 1, strings.Count(texts, no))
	require.Contains(t, texts, no+"No bolt has room.")
	texts = said(func(c *estimate.Candidate) {
		c.Feasible, c.Hardware.Feasible, c.Hardware.Reason = false, false, "No bolt has room."
		c.Findings = append(c.Findings, joint.Finding{Effect: joint.Excludes, Text: "It is excluded. No bolt has room."})
	})
	require.Equal(t, 1, strings.Count(texts, no))
	texts = said(func(c *estimate.Candidate) { c.Feasible = false })
	require.NotContains(t, texts, no, "the hardware has room")
}

// A seam without parts has no sections and nothing that slides; its pictures are as wide as asked, and as a telephone is.
func TestPicturesOfABench(t *testing.T) {
	wide := regexp.MustCompile(`^<svg [^>]*viewBox="0 0 ([\d.]+) `)
	e := drawtest.Make(t, drawtest.Desk())
	width := func(doc []byte) string { return string(wide.FindSubmatch(doc)[1]) }
	b, err := New(e, 0, 174, Options{})
	require.NoError(t, err)
	require.NotEmpty(t, b.Kinds)
	for _, p := range []Picture{b.Views, b.Sections} {
		require.Equal(t, []string{"174", "174"}, []string{width(p.Print), width(p.Screen)})
		require.Equal(t, width(p.Phone), strconv.FormatFloat(phoneWidth, 'f', -1, 64))
	}
	for name, doc := range map[string][]byte{"bench_views": b.Views.Print, "bench_views_phone": b.Views.Phone,
		"bench_sections": b.Sections.Print, "bench_sections_phone": b.Sections.Phone} {
		goldentest.Hold(t, filepath.Join("testdata", name+".svg"), doc)
	}
	e.Corners[0].ChosenCandidate().Hardware = estimate.Candidate{}.Hardware
	b, err = New(e, 0, 174, Options{})
	require.NoError(t, err)
	require.Empty(t, b.Kinds)
	require.Empty(t, b.Sections.Print)
	texts := strings.Join(drawtest.Read(t, b.Views.Print).Texts, " ")
	require.Contains(t, texts, "It has no parts.")
	require.NotContains(t, texts, "Nothing slides")
}
