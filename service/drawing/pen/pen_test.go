package pen_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/drawing/pen"
	"seamwright/store/storetest/drawtest"
)

func TestSpreadKeepsOrderAndDistanceAndMovesNoFurtherThanItMust(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(r, "n")
		at := make([]float64, n)
		x := 0.0
		for i := range at {
			x += rapid.Float64Range(0, 9).Draw(r, "gap")
			at[i] = x
		}
		width := rapid.Float64Range(0.5, 8).Draw(r, "width")
		hi := math.Max(x+5, float64(n)*width+1)
		got, ok := pen.Spread(at, width, -1, hi)
		require.True(r, ok)
		free := true
		for i, g := range got {
			require.GreaterOrEqual(r, g, -1+width/2-1e-6)
			require.LessOrEqual(r, g, hi-width/2+1e-6)
			if i > 0 {
				require.GreaterOrEqual(r, g-got[i-1], width-1e-6)
				free = free && at[i]-at[i-1] >= width
			}
		}
		if free && at[0]-width/2 >= -1 && at[n-1]+width/2 <= hi {
			require.InDeltaSlice(r, at, got, 1e-9, "labels with room stay where they want to be")
		}
	})
}

func TestSpreadSaysWhenThereIsNoRoom(t *testing.T) {
	t.Parallel()
	_, ok := pen.Spread([]float64{1, 2, 3}, 4, 0, 11)
	require.False(t, ok)
	got, ok := pen.Spread([]float64{5, 5}, 4, 0, 20)
	require.True(t, ok)
	require.Equal(t, []float64{3, 7}, got, "two that want the same place share the way")
}

func TestWrapLosesNothingAndKeepsTheWidth(t *testing.T) {
	t.Parallel()
	l := pen.Letters{Size: pen.Body}
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.StringMatching(`([A-Za-zäß漢字🪵,.]{1,40} ?){0,12}`).Draw(r, "text")
		w := rapid.Float64Range(8, 90).Draw(r, "w")
		lines := pen.Wrap(text, w, l)
		for _, line := range lines {
			require.LessOrEqual(r, pen.Width(line, l), w+1e-9)
		}
		strip := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		require.Equal(r, strip(text), strip(strings.Join(lines, "")))
	})
}

// A measure stays on one line with its unit, where a line has room for both.
func TestWrapTearsNoMeasure(t *testing.T) {
	t.Parallel()
	l := pen.Letters{Size: pen.Body}
	for _, whole := range []string{"3 in", "25-1/2 Zoll", "56 × 23 × 4 mm", "1 : 24"} {
		text := "as long as " + whole + " or so"
		for w := pen.Width(whole, l) + 0.1; w < pen.Width(text, l); w += 0.5 {
			require.Contains(t, strings.Join(pen.Wrap(text, w, l), "\n"), whole, "in %.1f mm", w)
		}
	}
}

func TestFitShortensOnlyWhatIsTooLong(t *testing.T) {
	t.Parallel()
	l := pen.Letters{Size: pen.Body, Bold: true}
	require.Equal(t, "short", pen.Fit("short", 40, l))
	got := pen.Fit(strings.Repeat("very long ", 20), 40, l)
	require.LessOrEqual(t, pen.Width(got, l), 40.0)
	require.True(t, strings.HasSuffix(got, "…"))
	require.Empty(t, pen.Fit("x", 0.1, l))
}

// Whatever is written, the document is well-formed and the text comes back.
func TestAnyTextIsText(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.String().Draw(r, "text")
		var p pen.Pen
		p.Text(5, 5, text, pen.Letters{Size: pen.Body})
		got := drawtest.Read(r, p.Document(10, 10, "x", text, text))
		require.LessOrEqual(r, len(got.Elements), 5)
		require.Equal(r, []string{"svg", "title", "desc", "rect"}, got.Elements[:4])
	})
	var p pen.Pen
	p.Text(5, 5, `</text><script>alert("1")</script>&`, pen.Letters{Size: pen.Body})
	require.Contains(t, drawtest.Read(t, p.Document(10, 10, "x", "", "")).Texts, `</text><script>alert("1")</script>&`)
}

func TestBoxesStandWhereTheTextsDo(t *testing.T) {
	t.Parallel()
	var p pen.Pen
	l := pen.Letters{Size: 3}
	w := pen.Width("words", l)
	p.Text(50, 20, "words", l)
	l.At = pen.Middle
	p.Text(50, 30, "words", l)
	l.At = pen.Right
	p.Text(50, 40, "words", l)
	l.Upward = true
	p.Text(50, 60, "words", l)
	b := p.Boxes()
	require.InDelta(t, 50, b[0].X0, 1e-9)
	require.InDelta(t, 50-w/2, b[1].X0, 1e-9)
	require.InDelta(t, 50, b[2].X1, 1e-9)
	require.Less(t, b[2].Y0, 40.0)
	require.InDelta(t, 60, b[3].Y0, 1e-9, "an upward text that ends at 60 begins below it")
	require.InDelta(t, 60+w, b[3].Y1, 1e-9)
	require.Len(t, drawtest.Collisions(append(b, b[0])), 1)
}

// Where there is no room at all, each word stands alone, and nothing goes on for ever.
func TestWrapEndsWithoutRoom(t *testing.T) {
	t.Parallel()
	for _, room := range []float64{0, -36.5} {
		require.Equal(t, []string{"no", "room"}, pen.Wrap("no room", room, pen.Letters{Size: 3}))
	}
}

func TestNamesFromRightToLeftStandByThemselves(t *testing.T) {
	t.Parallel()
	require.Equal(t, "Island", pen.Isolate("Island"))
	require.Equal(t, "\u2068אב\u2069", pen.Isolate("א\u202eב"))
	require.Equal(t, "abcd…", pen.Short("abcdefgh", 5))
}

// Letters of scripts that run from right to left (Unicode 15.1, Bidi_Class R and AL of DerivedBidiClass: Hebrew to Arabic Extended-A,
// the presentation forms, and the blocks of the supplementary plane; from memory) are kept by themselves; those before, between and
// behind their blocks are not.
func TestTheScriptsThatRunFromRightToLeft(t *testing.T) {
	t.Parallel()
	for r, alone := range map[rune]bool{0x58f: false, 0x590: true, 0x5d0: true, 0x627: true, 0x8ff: true, 0x900: false, 0xfb1c: false,
		0xfb1d: true, 0xfdff: true, 0xfe00: false, 0xfe6f: false, 0xfe70: true, 0xfeff: true, 0xff00: false, 0x107ff: false,
		0x10800: true, 0x10fff: true, 0x11000: false, 0x1e7ff: false, 0x1e800: true, 0x1efff: true, 0x1f000: false, 'A': false} {
		text := "A " + string(r)
		want := text
		if alone {
			want = "\u2068" + text + "\u2069"
		}
		require.Equal(t, want, pen.Isolate(text), "%x", r)
	}
	for _, control := range []rune{0x202a, 0x202e, 0x2066, 0x2069, 0x200e, 0x200f, 0x061c} {
		require.Equal(t, "\u2068א1\u2069", pen.Isolate("א"+string(control)+"1"), "%x", control)
	}
	for _, kept := range []rune{0x2029, 0x202f, 0x2065, 0x206a, 0x200d, 0x2010} {
		require.Equal(t, "\u2068א"+string(kept)+"1\u2069", pen.Isolate("א"+string(kept)+"1"), "%x", kept)
	}
	require.Equal(t, "abcde", pen.Short("abcde", 5))
}

// A value in a sentence does not reach over the end of another sentence, unless it is what somebody wrote, in quotation marks.
func TestAValueStaysInItsSentence(t *testing.T) {
	t.Parallel()
	s := pen.Speech{Comma: true, Words: map[string]string{"%s people": "%s Leute", "oak": "Eiche", "and": "und", "in": "Zoll"},
		Sentences: []pen.Sentence{pen.Learn("Sold as %s at the price.", "Verkauft als %s zum Preis."), pen.Learn("Run %s is too long.", "Teil %s ist zu lang."),
			pen.Learn("%s carry it.", "%s tragen es.")}}
	for english, german := range map[string]string{
		"Sold as oak at the price.":                             "Verkauft als Eiche zum Preis.",
		`Sold as "Top. Best" at the price.`:                     `Verkauft als "Top. Best" zum Preis.`,
		`Sold as "Top". Best at the price.`:                     `Sold as "Top". Best at the price.`,
		`Sold as Top. Best at the price.`:                       `Sold as Top. Best at the price.`,
		"Run oak is too long.":                                  "Teil oak ist zu lang.",
		"2.5 people carry it.":                                  "2,5 Leute tragen es.",
		"oak carry it.":                                         "Eiche tragen es.",
		"Sold as oak at the price. Run A is too long.":          "Verkauft als Eiche zum Preis. Teil A ist zu lang.",
		"Sold as oak at the price. Something else.":             "Verkauft als Eiche zum Preis. Something else.",
		"Sold as 31 in, 40 in and 64.5 in at the price.":        "Verkauft als 31 Zoll, 40 Zoll und 64,5 Zoll zum Preis.",
		"Sold as less than 2.5 in at the price.":                "Verkauft als less than 2,5 Zoll zum Preis.",
		"Nothing is known of this.":                             "Nothing is known of this.",
		"Sold as Run A is too long. at the price.":              "Verkauft als Teil A ist zu lang. zum Preis.",
		"Sold as bread and butter at the price.":                "Verkauft als bread and butter zum Preis.",
		"Sold as oak at the price. Sold as oak at the price. x": "Verkauft als Eiche zum Preis. Verkauft als Eiche zum Preis. x",
	} {
		require.Equal(t, german, s.Told(english))
	}
	require.True(t, s.Knows("Sold as oak at the price."))
	require.False(t, s.Knows("Sold as oak at the price. x"))
}

// Coordinates are written to a hundredth, without zeros that say nothing, on either side of nothing.
func TestCoordinatesAreWrittenToAHundredth(t *testing.T) {
	t.Parallel()
	for x, text := range map[float64]string{0: "0", 3: "3", -3: "-3", 1.5: "1.5", -1.5: "-1.5", 0.05: "0.05", -0.05: "-0.05", 12.345: "12.35",
		-12.344: "-12.34", 0.004: "0", -0.004: "0", 100.1: "100.1", -20.99: "-20.99", 2e7: "20000000"} {
		var p pen.Pen
		p.Line(x, 1, 2, 3, pen.Stroke{Ink: pen.Ink, Width: 1})
		require.Contains(t, string(p.Document(10, 10, "id", "title", "text")), `<line x1="`+text+`" y1="1" x2="2" y2="3"`)
	}
}
