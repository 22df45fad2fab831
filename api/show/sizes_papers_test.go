package show_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/drawing/plan"
	"seamwright/service/measure"
)

var digits = regexp.MustCompile(`^\d`)

// toldOf is how many of the sentences below a drawing say a figure.
func toldOf(marks []string, figure string) (n int) {
	for _, mark := range marks {
		_, what, _ := strings.Cut(mark, ": ")
		if slices.Contains(strings.FieldsFunc(what, func(r rune) bool { return r == ' ' || r == ',' }), figure) {
			n++
		}
	}
	return n
}

// No size of a plan is left out where it has no room: what is asked for is counted against what is drawn and what is told below. Asked
// are each run's length, visible front and depth, and of each cut-out how far it lies from the front and from the nearer end of its
// piece, unless it is open there.
func TestEverySizeOfAPlanIsDrawnOrTold(t *testing.T) {
	t.Parallel()
	width, _ := document.A4.Room()
	figures, below := 0, 0
	for name, s := range tops(t) {
		e := s.Estimate
		asked := map[string]int{}
		wall, front := e.Chain()
		for i := range e.Runs {
			for _, l := range []measure.Length{wall[i].Distance(wall[i+1]), front[i].Distance(front[i+1]), e.Runs[i].Depth} {
				asked[l.Text(e.Units)]++
			}
		}
		var along [][2]string
		for i := range e.Runs {
			piece, err := plan.Piece(e, i, plan.Options{Width: width, Height: 60})
			require.NoError(t, err)
			for _, c := range piece.Cutouts {
				if digits.MatchString(c.FromFront) {
					asked[c.FromFront]++
				}
				if digits.MatchString(c.FromStart) && digits.MatchString(c.FromEnd) {
					along = append(along, [2]string{c.FromStart, c.FromEnd})
				}
			}
		}
		for o, options := range []plan.Options{{Width: width, Height: 72}, {Width: width, Height: 50}, {Narrow: true}} {
			svg, marks, err := plan.Picture(e, options)
			require.NoError(t, err)
			drawn := map[string]int{}
			for _, text := range written.FindAllStringSubmatch(string(svg), -1) {
				drawn[text[1]]++
			}
			for figure, count := range asked {
				told := toldOf(marks, figure)
				figures += count
				below += told
				require.GreaterOrEqual(t, drawn[figure]+told, count, "%s, picture %d: %s asked for %d times, drawn %d, told %d: %v",
					name, o, figure, count, drawn[figure], told, marks)
			}
			for _, ends := range along {
				figures++
				require.Positive(t, drawn[ends[0]]+drawn[ends[1]]+toldOf(marks, ends[0])+toldOf(marks, ends[1]),
					"%s, picture %d: neither %s nor %s: %v", name, o, ends[0], ends[1], marks)
			}
		}
	}
	require.Greater(t, figures, 500)
	require.Positive(t, below, "none was without room: nothing was tried")
}
