package compare

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/storetest/drawtest"
)

// Names of a word or two stand whole in the sketch of every joint on paper and on a phone: within their legs, or beside them
// where these spread. At an acute corner there is room for neither. No name lies on another.
func TestUsualNamesAreWholeInSketches(t *testing.T) {
	t.Parallel()
	names := []string{"Fensterseite", "counter side", "gallery"}
	for angle, least := range map[measure.Angle]int{60: 5, 75: 12, 90: 12, 105: 12, 120: 12, 135: 12, 150: 12, 200: 12, 250: 12, 270: 12} {
		for _, narrow := range []bool{false, true} {
			for i := range names {
				o := drawtest.Desk()
				o.Top.Corners[0].Angle = angle * measure.Degree
				o.Top.Runs[0].Name, o.Top.Runs[1].Name = names[i], names[(i+1)%3]
				e := drawtest.Make(t, o)
				p, _, _, err := draw(e, Options{Narrow: narrow})
				require.NoError(t, err)
				texts := drawtest.Read(t, p.Document(1, 1, "x", "", "")).Texts
				for _, name := range []string{names[i], names[(i+1)%3]} {
					begin := name[:min(least, len(name))]
					found := 0
					for _, text := range texts {
						if short := strings.TrimSuffix(text, "…"); strings.HasPrefix(text, begin) && strings.HasPrefix(name, short) {
							found++
						}
					}
					require.Equal(t, len(e.Corners[0].Candidates), found, "%g degrees, narrow %v, %s in %v", float64(angle), narrow, name, texts)
				}
				require.Empty(t, drawtest.Collisions(p.Boxes()))
			}
		}
	}
}

func TestALongNameIsShortenedInSketches(t *testing.T) {
	t.Parallel()
	o := drawtest.Desk()
	o.Top.Runs[0].Name = "the long side under the windows of the hall"
	o.Top.Runs[0].StraightSeams = []estimate.StraightSeam{{At: 50 * measure.Inch}}
	doc, err := Draw(drawtest.Make(t, o), Options{})
	require.NoError(t, err)
	require.Regexp(t, `>the long side…?[^<]*…<`, string(doc))
	require.NotContains(t, strings.Join(drawtest.Read(t, doc).Texts[2:], "|"), "|the long side under the windows of the hall|")
}

// A leg that goes down the page has its name upwards where only so it is whole; a level one has it level, and a short name always is.
func TestANameTurnsWhereOnlySoItIsWhole(t *testing.T) {
	t.Parallel()
	down, level := leg{along: vector{0, 1}, long: 1.6, depth: 1}, leg{along: vector{-1, 0}, long: 1.6, depth: 1}
	for _, c := range []struct {
		of     leg
		name   string
		upward bool
		size   float64
	}{{down, "B", false, pen.Body}, {level, "B", false, pen.Body}, {level, "gallery", false, pen.Body}, {down, "island bar", true, pen.Body},
		{down, "Fensterseite", true, pen.Small}, {level, "Fensterseite", false, pen.Small}} {
		name, l := c.of.label(c.name, 13)
		require.Equal(t, c.name, name)
		require.Equal(t, c.upward, l.Upward, c.name)
		require.InDelta(t, c.size, l.Size, 1e-9, c.name)
		require.LessOrEqual(t, pen.Width(name, l), 1.6*13.0)
	}
}
