package wire_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/wire"
	"seamwright/service/measure"
)

// thing is an answer with a field of each sort.
type thing struct {
	word, maybe string
	truth       bool
	count       int
	ratio       float64
	length      measure.Length
	lengths     []measure.Length
	texts       []string
	parts       []part
	inner       part
	there       bool
}

type part struct{ x, y measure.Length }

func walkThing(f *wire.Fields, t *thing) {
	f.Open()
	f.Units = measure.Millimetres
	wire.Word(f, "word", &t.word)
	wire.WordOrNull(f, "maybe", &t.maybe)
	f.Bool("truth", &t.truth)
	wire.Int(f, "count", &t.count)
	wire.Number(f, "ratio", &t.ratio, 3)
	f.Made("length", &t.length)
	f.SizedAll("lengths", &t.lengths, measure.Least)
	f.Texts("texts", &t.texts)
	wire.List(f, "parts", &t.parts, walkPart)
	if f.OpenOrNull("inner", t.there) {
		t.there = true
		f.Pair("at", &t.inner.x, &t.inner.y)
		f.Close()
	}
	f.Close()
}

func walkPart(f *wire.Fields, p *part) { f.PairItem(&p.x, &p.y) }

func drawThing(t *rapid.T) thing {
	length := rapid.Map(rapid.IntRange(-1e6, 1e6), func(n int) measure.Length { return measure.Length(n) / 4 })
	text := rapid.OneOf(rapid.String(),
		rapid.SampledFrom([]string{`"`, `\`, `\"`, "a\\", "\n", "é\u2028", "]}", `{"word":`}))
	return thing{word: text.Draw(t, "word"), maybe: text.Draw(t, "maybe"), truth: rapid.Bool().Draw(t, "truth"),
		count: rapid.IntRange(-9, 9999).Draw(t, "count"),
		ratio: float64(rapid.IntRange(-9999, 9999).Draw(t, "ratio")) / 8, length: length.Draw(t, "length"),
		lengths: rapid.SliceOfN(length, 0, 3).Draw(t, "lengths"),
		texts:   rapid.SliceOfN(text, 0, 3).Draw(t, "texts"), there: rapid.Bool().Draw(t, "there"),
		parts: rapid.SliceOfN(rapid.Map(length, func(l measure.Length) part { return part{l, -l} }), 0, 3).Draw(t, "parts")}
}

func written(t *thing) string {
	return string(wire.Encode(measure.Millimetres, func(w *wire.Writer) { walkThing(wire.WriteFields(w), t) }))
}

func readBack(text string) (thing, error) {
	var t thing
	f := wire.ReadFields(text)
	walkThing(f, &t)
	return t, f.End()
}

// What is written reads back: as it was written, laid out by another program, and with its members in another order.
func TestWhatIsWrittenReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		was := drawThing(t)
		text := written(&was)
		var tree map[string]any
		require.NoError(t, json.Unmarshal([]byte(text), &tree))
		sorted, err := json.MarshalIndent(tree, " ", "\t")
		require.NoError(t, err)
		for _, kept := range []string{text, string(sorted), " " + text + "\n"} {
			is, err := readBack(kept)
			require.NoError(t, err, kept)
			require.JSONEq(t, text, written(&is))
		}
	})
}

// A member that is not there is left as it is, and one that nobody asks for is passed over.
func TestAnAnswerFromBeforeAFieldWasTold(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		was := drawThing(t)
		var tree map[string]any
		require.NoError(t, json.Unmarshal([]byte(written(&was)), &tree))
		name := rapid.SampledFrom([]string{"word", "maybe", "truth", "count", "ratio", "length", "lengths", "texts", "parts",
			"inner"}).Draw(t, "name")
		delete(tree, name)
		tree["news"] = map[string]any{"word": []any{1.5, "x", nil, true, map[string]any{}}}
		raw, err := json.Marshal(tree)
		require.NoError(t, err)
		is, err := readBack(string(raw))
		require.NoError(t, err)
		again := written(&is)
		var seen map[string]any
		require.NoError(t, json.Unmarshal([]byte(again), &seen))
		delete(tree, "news")
		delete(seen, name)
		delete(seen, name+"_text")
		delete(tree, name+"_text")
		require.Equal(t, tree, seen)
	})
}

// Whatever is cut off, put in or changed: what is no JSON is an error, never something read.
func TestWhatIsNoAnswerIsAnError(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		was := drawThing(t)
		text := written(&was)
		at := rapid.IntRange(0, len(text)-1).Draw(t, "at")
		_, err := readBack(text[:at])
		require.Error(t, err, "cut off at %d: %s", at, text)
		junk := rapid.SampledFrom([]string{",", "}", "]", "{", "[", ":", "x", "\"", "1", "null"}).Draw(t, "junk")
		if broken := text[:at] + junk + text[at:]; !json.Valid([]byte(broken)) {
			_, err = readBack(broken)
			require.Error(t, err, broken)
		}
	})
	for _, text := range []string{"", "[]", "{", "{}}", "{} {}", `{,}`, `{"word":"x",}`, `{"word" "x"}`, `{"count":"1"}`,
		`{"count":1.5}`, `{"texts":["x",]}`, `{"texts":[1]}`, `{"length":[]}`, `{"parts":3}`, `{"inner":[]}`, `{"x":}`} {
		_, err := readBack(text)
		require.Error(t, err, text)
	}
	_, err := readBack(`{"word":"x"`)
	require.ErrorContains(t, err, "the end found")
}

// Whatever is read back as an answer, it ends, and what can be read is written again.
func FuzzReadBack(f *testing.F) {
	f.Add(written(&thing{word: "a\"b", lengths: []measure.Length{1.5}, texts: []string{"x"}, parts: []part{{1, 2}},
		there: true}))
	f.Add(`{"news":[{"a":[]},null,true,-1.5e3],"word":"x"}`)
	f.Add(`{"texts":["\u00e9\\"],"count":07}`)
	f.Fuzz(func(t *testing.T, text string) {
		if is, err := readBack(text); err == nil {
			again := written(&is)
			same, err := readBack(again)
			require.NoError(t, err, again)
			require.Equal(t, again, written(&same))
		}
	})
}
