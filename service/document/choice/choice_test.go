package choice_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/choice"
	"seamwright/service/document/words"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/options"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// option is an invented one; n tells them apart.
func option(n int, wood string) options.Option {
	return options.Option{Species: wood, Wood: wood, Thickness: 1.5 * measure.Inch, Joint: plan.Miter,
		Joints: []plan.JointKind{plan.Miter}, Finish: "hardwax_oil", FinishName: "Hardwax oil",
		Total: money.RoundAmount(float64(3000 + n)), Movement: 6, Weight: 40 * measure.Kilogram, WholeWeight: "88", WorkingDays: 10 + n}
}

func input(t *testing.T, list ...options.Option) *choice.Input {
	t.Helper()
	return &choice.Input{Set: &options.Set{Units: measure.Inches, Reference: "By the window", Currency: "USD",
		PricedAsOf: "2026-11-01", Options: list}, Top: drawtest.Make(t, drawtest.Desk()),
		Shop: document.Letterhead{Name: "Old Mill Workshop (invented)"}, Date: "2026-11-03", Language: "en", Paper: document.A4}
}

func rows(t *testing.T, in *choice.Input) [][]string {
	t.Helper()
	d, err := choice.New(in)
	require.NoError(t, err)
	for _, b := range d.Blocks {
		if table, ok := b.(document.Table); ok {
			list := make([][]string, len(table.Rows))
			for i, row := range table.Rows {
				list[i] = row.Cells
			}
			return list
		}
	}
	return nil
}

// The page of two woods, one bare with two joints and no promised days, in both languages.
func TestTheChoiceAsAPage(t *testing.T) {
	t.Parallel()
	second := option(1, "Walnut, black")
	second.FinishName, second.WorkingDays = "", 0
	second.Joints = []plan.JointKind{plan.Butt, plan.Butt, plan.MasonsMiter}
	for _, language := range words.Languages() {
		in := input(t, option(0, "Maple, sugar"), second)
		in.Language = language
		d, err := choice.New(in)
		require.NoError(t, err)
		page, err := d.HTML()
		require.NoError(t, err)
		_, text, _ := strings.Cut(string(page), "<body")
		got := d.Title + "\n" + d.Foot + "\n" + d.Created + "\n" + regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(text, "<svg/>")
		file := "testdata/" + language + ".html"
		goldentest.Hold(t, file, got)
	}
}

// Of each wood, thickness and finish the best ranked stands there, numbered in the ranking's order, and never more than 24.
func TestOfEachWoodThicknessAndFinishOneIsShown(t *testing.T) {
	t.Parallel()
	first := option(0, "Maple, sugar")
	other, thick, bare := option(1, "Maple, sugar"), option(2, "Maple, sugar"), option(3, "Maple, sugar")
	other.Joint, other.Joints = plan.Butt, []plan.JointKind{plan.Butt}
	thick.Thickness, bare.Finish = 2*measure.Inch, "none"
	got := rows(t, input(t, first, other, thick, bare, option(4, "Oak, white")))
	var days []string
	for i, row := range got {
		require.Equal(t, fmt.Sprint(i+1), row[0])
		days = append(days, row[4])
	}
	require.Equal(t, []string{"10", "12", "13", "14"}, days)
	var many []options.Option
	for n := range 30 {
		many = append(many, option(n, fmt.Sprint("Wood ", n)))
	}
	require.Len(t, rows(t, input(t, many...)), 24)
	require.Len(t, rows(t, input(t, many[:24]...)), 24)
	require.Len(t, rows(t, input(t, many[:23]...)), 23)
}

// The top is shown as wide as paper is, and narrow for a telephone.
func TestTheTopIsShownForPaperAndTelephone(t *testing.T) {
	t.Parallel()
	d, err := choice.New(input(t, option(0, "Maple, sugar")))
	require.NoError(t, err)
	wide := func(picture []byte) (w float64) {
		_, err := fmt.Sscanf(string(picture[strings.Index(string(picture), "viewBox"):]), `viewBox="0 0 %g`, &w)
		require.NoError(t, err)
		return w
	}
	for _, b := range d.Blocks {
		if f, ok := b.(document.Figure); ok {
			require.Less(t, wide(f.Phone), 100.0)
			require.Greater(t, wide(f.Picture), wide(f.Phone)+10)
			return
		}
	}
	require.Fail(t, "no figure")
}

// A day is promised from one on; none stands as a dash.
func TestDaysOfAChoice(t *testing.T) {
	t.Parallel()
	for days, text := range map[int]string{0: "–", 1: "1", 2: "2"} {
		o := option(0, "Maple, sugar")
		o.WorkingDays = days
		require.Equal(t, text, rows(t, input(t, o))[0][4])
	}
}

// Without a reference none is named; without words in a language, or a top that can be drawn, there is no page.
func TestAChoiceThatThereIsNot(t *testing.T) {
	t.Parallel()
	in := input(t, option(0, "Maple, sugar"))
	in.Set.Reference = ""
	d, err := choice.New(in)
	require.NoError(t, err)
	for _, b := range d.Blocks {
		require.NotEqual(t, fmt.Sprintf("%T", document.Facts{}), fmt.Sprintf("%T", b))
	}
	in.Language = "xx"
	_, err = choice.New(in)
	require.ErrorContains(t, err, "xx")
	in.Language, in.Top = "en", &estimate.Estimate{}
	_, err = choice.New(in)
	require.Error(t, err)
}
