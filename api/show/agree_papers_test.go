package show_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/show"
	"seamwright/service/measure"
	"seamwright/store/storetest/drawtest"
)

// One number, one figure: what two papers of a top say of the same thing, a gap, a strip, a weight, they say alike.
func TestPapersOfATopSayTheSameFigures(t *testing.T) {
	t.Parallel()
	strip := regexp.MustCompile(`a strip at least (\S+) (?:in|mm) wide`)
	weight := regexp.MustCompile(`[0-9][0-9.]* (lb|kg)\b`)
	strips := 0
	for name, s := range tops(t) {
		e := s.Estimate
		unit := e.Units.String()
		paper := func(view string) string {
			raw, err := show.Make(view, s, show.Options{Language: "en"})
			require.NoError(t, err)
			return drawtest.Page(string(raw))
		}
		sheet, installed := paper("shop-sheet.html"), paper("installation.html")
		weigh := map[measure.System]string{measure.Inches: " lb", measure.Millimetres: " kg"}[e.Units]
		whole, sum := e.WholeMass()+weigh, 0
		require.Contains(t, sheet, whole, "%s: the whole top", name)
		require.Contains(t, installed, whole+" in all", name)
		weights := map[string]bool{whole: true}
		for i := range e.Runs {
			r := &e.Runs[i]
			gap := r.GapAtWall().TextAs(e.Units, measure.Least)
			for _, cell := range []string{gap, r.Piece.Mass.Whole(e.Units) + weigh} {
				require.Contains(t, sheet, ">"+cell+"<", "%s, %s", name, r.Name)
				require.Contains(t, installed, ">"+cell+"<", "%s, %s", name, r.Name)
			}
			weights[r.Piece.Mass.Whole(e.Units)+weigh] = true
			told, err := strconv.Atoi(r.Piece.Mass.Whole(e.Units))
			require.NoError(t, err)
			sum += told
			require.True(t, strings.HasPrefix(r.WallJoint.Text, "Leave "+gap+" "+unit+" at the wall"), "%s: %s", name, r.WallJoint.Text)
			if wide := strip.FindStringSubmatch(r.WallJoint.Text); wide != nil {
				strips++
				require.Contains(t, installed, ", "+wide[1]+" "+unit+" wide<", "%s, %s", name, r.Name)
			}
		}
		require.Equal(t, strconv.Itoa(sum)+weigh, whole, "%s: the pieces and the whole top", name)
		require.InDelta(t, e.Mass.Number(e.Units), float64(sum), 0.55*float64(len(e.Runs)), "%s: told and reckoned", name)
		labels, err := show.Make("labels.pdf", s, show.Options{Language: "en"})
		require.NoError(t, err)
		told := paper("plan.svg")
		for _, page := range inkOf(t, labels) {
			told += "\n" + page.text
		}
		found := weight.FindAllString(told, -1)
		require.GreaterOrEqual(t, len(found), len(e.Runs), name)
		for _, figure := range found {
			require.True(t, weights[figure], "%s: a drawing or label says %s, tables %v", name, figure, weights)
		}
	}
	require.Positive(t, strips)
}
