package takeoff

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/measure"
	"seamwright/service/publishedtest"
)

// mixed is a number printed with a fraction, as 4 1/6.
func mixed(t *testing.T, s string) float64 {
	t.Helper()
	whole, fraction, _ := strings.Cut(s, " ")
	x, err := strconv.ParseFloat(whole, 64)
	require.NoError(t, err)
	if over, under, ok := strings.Cut(fraction, "/"); ok {
		a, err := strconv.ParseFloat(over, 64)
		require.NoError(t, err)
		b, err := strconv.ParseFloat(under, 64)
		require.NoError(t, err)
		x += a / b
	}
	return x
}

// Worked examples of surface and board measure. A square foot of surface is a board foot of an inch.
func TestBoardFeetAgainstWorkedExamples(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "worked_examples_lumber.csv", 8) {
		require.True(t, row.Read(), "%v", row)
		thick, wide, long := measure.Length(row.Float(t, "thickness_in"))*in, measure.Length(row.Float(t, "width_in"))*in,
			measure.Length(row.Float(t, "length_ft"))*measure.Foot
		surface := BoardFeet(in, wide, long)
		var got float64
		switch row["what"] {
		case "surface":
			got = surface
		case "rounded":
			got = math.Round(surface)
		case "tallied":
			got = math.Round(surface) * thick.Inches()
		case "board":
			got = BoardFeet(thick, wide, long)
		default:
			t.Fatalf("%v", row)
		}
		require.InDelta(t, mixed(t, row["printed"]), got, 1e-9, "%v", row)
		read++
	}
	publishedtest.Compared(t, "worked_examples_lumber.csv", read)
}

// The grades' cutting units and the percentages printed beside them: a yield in twelfths as the catalogue keeps it, and
// the percentage that answers show.
func TestYieldsInTwelfthsAreThePrintedPercentages(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "nhla_yields.csv", 7) {
		require.True(t, row.Read(), "%v", row)
		require.InDelta(t, mixed(t, row["printed_percent"]), float64(measure.Fraction(row.Float(t, "units")/12).Percent()),
			1e-9, "%v", row)
		read++
	}
	publishedtest.Compared(t, "nhla_yields.csv", read)
}
