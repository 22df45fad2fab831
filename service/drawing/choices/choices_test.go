package choices

import (
	"bytes"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/options"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// set is an invented one, of prices and movements in millimetres; those from beaten on are beaten by the first.
func set(prices, movements []float64, beaten int) *options.Set {
	s := &options.Set{Units: measure.Millimetres, Currency: "USD"}
	for i := range prices {
		o := options.Option{Number: i + 1, Wood: "Maple, sugar", Thickness: 38, Joints: []plan.JointKind{plan.Miter, plan.Miter},
			FinishName: "Hardwax oil", Total: money.RoundAmount(prices[i]), Movement: measure.Length(movements[i]),
			Weight: measure.Mass(40+i) * measure.Kilogram, WholeWeight: strconv.Itoa(40 + i), WorkingDays: i}
		if i >= beaten {
			o.DominatedBy = 1
		}
		s.Options = append(s.Options, o)
	}
	return s
}

// Two pictures, looked at: few options in millimetres, and many in inches on a phone.
func TestGoldenPictures(t *testing.T) {
	few := set([]float64{2400, 3100, 2800, 3300}, []float64{9.5, 4, 8, 9.6}, 3)
	few.Options[1].FinishName, few.Options[2].Joints = "", []plan.JointKind{plan.Butt, plan.MasonsMiter}
	many := set(nil, nil, 0)
	for i := range 30 {
		many.Options = append(many.Options, set([]float64{2000 + 40*float64(i)}, []float64{12 - 0.2*float64(i)}, 1).Options...)
		many.Options[i].Number, many.Options[i].WholeWeight = i+1, "88"
	}
	many.Units = measure.Inches
	for name, got := range map[string][]byte{"few": Draw(few, Options{}), "many": Draw(many, Options{Narrow: true})} {
		path := filepath.Join("testdata", name+".svg")
		goldentest.Hold(t, path, got)
	}
}

var (
	dots   = regexp.MustCompile(`<ellipse cx="([\d.]+)" cy="([\d.]+)"[^>]*?fill="(#\w+)"`)
	labels = regexp.MustCompile(`<text x="([\d.]+)" y="([\d.]+)"[^>]*>([\d.,]+)</text>`)
)

func number(t require.TestingT, text string) float64 {
	x, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	require.NoError(t, err)
	return x
}

// scale reads an axis: the figures at it and where they stand. One figure more stands evenly further, so that two give the whole.
func scale(t require.TestingT, at, figures []float64) func(float64) float64 {
	require.GreaterOrEqual(t, len(at), 3)
	slope := (figures[len(figures)-1] - figures[0]) / (at[len(at)-1] - at[0])
	for i := range at {
		require.InDelta(t, figures[i], figures[0]+slope*(at[i]-at[0]), 0.01*(figures[len(figures)-1]-figures[0]), "an even axis")
	}
	return func(x float64) float64 { return figures[0] + slope*(x-at[0]) }
}

// Whatever the options, each has one dot, filled where nothing beats it; read off at the axes the dot says price and movement, it
// lies between the axes' ends; no figure lies on another.
func TestDotsStandAtTheirFigures(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(r, "options")
		beaten := rapid.IntRange(1, n).Draw(r, "beaten")
		least, span := rapid.Float64Range(200, 9000).Draw(r, "least"), rapid.Float64Range(1, 5000).Draw(r, "span")
		var prices, movements []float64
		for range n {
			prices = append(prices, least+span*rapid.Float64Range(0, 1).Draw(r, "price"))
			movements = append(movements, float64(rapid.IntRange(50, 2000).Draw(r, "movement"))/100)
		}
		s := set(prices, movements, beaten)
		narrow := rapid.Bool().Draw(r, "narrow")
		doc := string(Draw(s, Options{Narrow: narrow}))
		var at, figures [2][]float64
		all := labels.FindAllStringSubmatch(doc, -1)
		axis := all[0][2] // the first figures stand in a row below the axis
		column := ""
		for _, l := range all {
			switch {
			case l[2] == axis:
				at[0], figures[0] = append(at[0], number(r, l[1])), append(figures[0], number(r, l[3]))
			case column == "" || l[1] == column:
				column = l[1] // its figures stand a millimetre below their lines
				at[1], figures[1] = append(at[1], number(r, l[2])-1), append(figures[1], number(r, l[3]))
			}
		}
		price, movement := scale(r, at[0], figures[0]), scale(r, at[1], figures[1])
		found := dots.FindAllStringSubmatch(doc, -1)
		require.Len(r, found, n)
		filled := map[string]int{}
		for i, d := range found {
			filled[d[3]]++
			o := (i + beaten) % n // the beaten ones come first
			x, y := number(r, d[1]), number(r, d[2])
			require.InDelta(r, prices[o], price(x), 0.02*(figures[0][len(figures[0])-1]-figures[0][0]), "%s", doc)
			require.InDelta(r, movements[o], movement(y), 0.02*(figures[1][len(figures[1])-1]-figures[1][0]))
			require.GreaterOrEqual(r, x, at[0][0]-0.01)
			require.LessOrEqual(r, y, at[1][0]+0.01)
		}
		require.Equal(r, beaten, filled[string(pen.Ink)])
		require.Equal(r, n-beaten, filled[string(pen.White)])
	})
}

// Under the chart each option that nothing beats is told with its price, at most 24 of them; how many more there are is said.
func TestTheRowsTellWhatIsNotBeaten(t *testing.T) {
	for n, more := range map[int]string{23: "", 24: "", 25: "1 more are in the table.", 40: "16 more are in the table."} {
		var prices, movements []float64
		for i := range n + 1 {
			prices, movements = append(prices, 2000+float64(i)), append(movements, 20-float64(i)/10)
		}
		texts := strings.Join(drawtest.Read(t, Draw(set(prices, movements, n), Options{})).Texts, "|")
		for i := range n {
			require.Equal(t, i < 24, strings.Contains(texts, fmt.Sprintf("|2,%03d.00 USD|", i)), texts)
		}
		require.NotContains(t, texts, fmt.Sprintf("|2,%03d.00 USD|", n), "it is beaten")
		if more == "" {
			require.NotContains(t, texts, "in the table")
			continue
		}
		require.Contains(t, texts, more)
	}
}

// No number lies on another text or on a dot, whatever the figures; where it has no room it is left out.
func TestTextsDoNotMeet(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 24).Draw(r, "options")
		var prices, movements []float64
		for range n {
			prices = append(prices, float64(rapid.IntRange(2000, 2600).Draw(r, "price")))
			movements = append(movements, float64(rapid.IntRange(2, 12).Draw(r, "movement")))
		}
		c := &chart{set: set(prices, movements, n), width: wide, x0: 20, y0: 100, w: 154, h: 80}
		c.bounds()
		c.axes()
		before := len(c.Boxes())
		c.marks()
		all := slices.Clone(c.Boxes())
		for i := range c.set.Options {
			x, y := c.at(c.figures(&c.set.Options[i]))
			for _, b := range all[before:] {
				require.Empty(r, drawtest.Collisions([]pen.Box{b, {X0: x - 1, Y0: y - 1, X1: x + 1, Y1: y + 1}}), "a number on a dot")
			}
		}
		require.Empty(r, drawtest.Collisions(all))
		for _, b := range c.Boxes()[before:] {
			require.GreaterOrEqual(r, b.X0, c.x0)
			require.LessOrEqual(r, b.X1, c.x0+c.w+margin)
		}
		if n == 1 {
			require.Len(r, c.Boxes(), before+1, "a dot alone has its number")
		}
	})
}

// An axis has about four steps of one, two, two and a half or five.
func TestAxesHaveRoundSteps(t *testing.T) {
	for span, want := range map[float64]float64{4: 1, 5: 1, 5.1: 2, 10: 2, 10.1: 2.5, 12.5: 2.5, 12.6: 5, 25: 5, 25.1: 10, 39: 10, 400: 100,
		0.4: 0.1} {
		require.InDelta(t, want, step(span), 1e-9, "%g", span)
	}
	require.False(t, bytes.Contains(Draw(set([]float64{2000}, []float64{5}, 1), Options{}), []byte("NaN")))
}
