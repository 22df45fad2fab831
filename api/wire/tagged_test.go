package wire_test

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/wire"
	"seamwright/service/measure"
)

type tagged struct {
	Word  *string      `json:"word"`
	List  []string     `json:"list"`
	Exact wire.Literal `json:"exact"`
	Near  float64      `json:"near"`
	Left  string       `json:"left,omitempty"`
}

// Tagged values stand among values that are written by hand, and texts are not made ready for a page.
func TestTaggedValuesStandAmongOthers(t *testing.T) {
	t.Parallel()
	v := tagged{wire.Maybe("a<b & c"), wire.Listed([]string(nil)), "12.50", wire.Rounded(-0.001, 2), ""}
	const fields = `"word":"a<b & c","list":[],"exact":12.5,"near":0`
	raw := wire.Encode(measure.Millimetres, func(w *wire.Writer) {
		w.Open()
		w.Int("first", 1)
		w.Fields(v)
		w.Fields(struct{}{})
		w.TaggedAt("inner", v)
		w.List("items")
		w.Tagged(v)
		wire.Item(func(s *tagged) *string { return s.Word })(w, &v)
		w.End()
		w.Close()
	})
	want := `{"first":1,` + fields + `,"inner":{` + fields + `},"items":[{` + fields + `},"a<b & c"]}`
	require.Equal(t, []byte(want), raw, "byte for byte: %s", raw)
}

func TestWhatHasNoFormInJSONIsAnError(t *testing.T) {
	t.Parallel()
	w := wire.NewWriter(measure.Inches)
	defer w.Free()
	w.Tagged(math.NaN())
	require.Error(t, w.Wrong)
}

func TestWordsMomentsAndDecimals(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 11, 29, 23, 30, 15, 999, time.FixedZone("east", 3600))
	require.Equal(t, "2026-11-29T22:30:15Z", wire.Moment(at))
	require.Equal(t, wire.Moment(at), *wire.MaybeMoment(&at))
	require.Nil(t, wire.MaybeMoment(nil))
	require.Nil(t, wire.Maybe(""))
	for decimal, want := range map[wire.Literal]string{"": "null", "5.00": "5", "0.0100": "0.01", "100": "100",
		"-2.50": "-2.5"} {
		raw, err := json.Marshal(decimal)
		require.NoError(t, err)
		require.Equal(t, want, string(raw))
	}
}

// Texts have the same form whether a type's tags or the walk of an estimate write them.
func TestTaggedTextsAreQuotedAsOthers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(),
			rapid.StringOf(rapid.RuneFrom([]rune("\\\"\b\t\f\r\n\x00\x1f\u2028\u2029\ufffdabtfnru/<>&é"))),
			rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text")
		tagged := wire.Encode(measure.Inches, func(w *wire.Writer) { w.Tagged(text) })
		quoted := wire.Encode(measure.Inches, func(w *wire.Writer) { w.Quote(text) })
		require.Equal(t, string(quoted), string(tagged))
	})
}
