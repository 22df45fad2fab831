package body_test

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/body"
	"seamwright/service/fault"
)

func TestParseReadsWhatJSONSays(t *testing.T) {
	t.Parallel()
	value, err := body.Parse([]byte(` {"a": [1, -2.5e3, "x\"\\\/\b\f\n\r\t\u00e9\ud83d\ude00é", true, false, null, {}, []], "b": {"c~/d": "7' 3-1/2\""}} `))
	require.NoError(t, err)
	require.Equal(t, map[string]any{
		"a": []any{json.Number("1"), json.Number("-2.5e3"), "x\"\\/\b\f\n\r\té😀é", true, false, nil, map[string]any{},
			[]any{}},
		"b": map[string]any{"c~/d": `7' 3-1/2"`},
	}, value)
}

func TestParseRefusesWithThePlaceAndAReason(t *testing.T) {
	t.Parallel()
	deep := strings.Repeat("[", body.MaxDepth+1) + strings.Repeat("]", body.MaxDepth+1)
	for name, c := range map[string]struct{ text, says string }{
		"nothing":                    {"", "empty"},
		"spaces only":                {" \n ", "line 2, column 2: the text ends where a value"},
		"a byte order mark":          {"\ufeff{}", "byte order mark"},
		"bytes that are not UTF-8":   {"{\"a\":\"\xff\"}", "not valid UTF-8 at byte 6"},
		"a second value":             {"{} {}", "line 1, column 4: there is something behind"},
		"garbage behind":             {"{}x", "something behind"},
		"an object left open":        {`{"a":1`, "a comma or }"},
		"a list left open":           {`[1`, "a comma or ]"},
		"a list with a last comma":   {`[1,]`, "a value is expected"},
		"an object with last comma":  {`{"a":1,}`, "comma before }"},
		"a key without marks":        {`{a:1}`, "a key in double quotation marks"},
		"no colon":                   {`{"a" 1}`, "a colon is expected"},
		"single quotation marks":     {`{"a":'x'}`, "double quotation marks"},
		"NaN":                        {`{"a":NaN}`, "must be finite"},
		"Infinity":                   {`[Infinity]`, "must be finite"},
		"a plus sign":                {`[+1]`, "a value is expected"},
		"a leading zero":             {`[01]`, "a comma or ]"},
		"a bare decimal point":       {`[1.]`, "after the decimal point"},
		"an empty exponent":          {`[1e]`, "in the exponent"},
		"a lonely minus":             {`[-]`, "a digit is expected"},
		"a control character":        {"[\"a\nb\"]", "control character"},
		"one behind an escape":       {"[\"\\na\nb\"]", "control character"},
		"an unknown escape":          {`["\x"]`, "no such escape"},
		"a short \\u":                {`["\u12"]`, "four hexadecimal"},
		"a signed \\u":               {`["\u+123"]`, "four hexadecimal"},
		"what no text can have":      {`["a\u0000"]`, "no text may have it"},
		"half a surrogate pair":      {`["\ud83d"]`, "surrogate pair"},
		"the wrong half":             {`["\ude00\ud83d"]`, "surrogate pair"},
		"text left open":             {`["a`, "no closing"},
		"escaped text left open":     {`["a\n`, "no closing"},
		"a comment":                  {"[1] // one", "something behind"},
		"more levels than allowed":   {deep, "more than 32 deep"},
		"more values than allowed":   {"[" + strings.Repeat("1,", body.MaxValues) + "1]", "more than 10000 values"},
		"a word that is nearly true": {`[tru]`, "a value is expected"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := body.Parse([]byte(c.text))
			require.ErrorContains(t, err, c.says)
			require.Len(t, fault.All(err), 1)
			require.Equal(t, fault.Invalid, fault.All(err)[0].Kind)
		})
	}
}

func TestParseNamesEveryKeyThatStandsTwice(t *testing.T) {
	t.Parallel()
	_, err := body.Parse([]byte(`{"a":1,"b":[{"x/y":1,"x/y":2},{"~":1,"\u007e":2}],"a":3,"A":4}`))
	var got []string
	for _, f := range fault.All(err) {
		got = append(got, f.Pointer)
	}
	require.Equal(t, []string{"/a", "/b/0/x~1y", "/b/1/~0"}, got)
}

func TestParsePointsToTheTextThatCannotBe(t *testing.T) {
	t.Parallel()
	for text, pointer := range map[string]string{
		"{\"a\":{\"b/c\":[\"d\",\"e\x00f\"]}}":    "/a/b~1c/1",
		`{"a":{"b/c":["d","e\u0000f"]}}`:          "/a/b~1c/1",
		"{\"a\":{\"b\":\"c\"},\"d\":\"\\n\x07\"}": "/d",
		`{"a":[{"b":"c"},{"b":"\ud83d"}]}`:        "/a/1/b",
		"{\"a\":{\"b\":\"c\",\"d\x00\":\"e\"}}":   "", // a key, not the text before it
		"\"a\x00\"":                               "",
	} {
		_, err := body.Parse([]byte(text))
		require.Error(t, err)
		require.Equal(t, pointer, fault.All(err)[0].Pointer, "%q", text)
		require.Contains(t, fault.All(err)[0].Detail, "line 1, column ")
	}
}

// whatJSONSays is the slow twin: the standard library, one value and nothing behind it.
func whatJSONSays(raw []byte) (any, bool) {
	decoder := json.NewDecoder(bytes.NewReader(raw))
	decoder.UseNumber()
	var value any
	if decoder.Decode(&value) != nil {
		return nil, false
	}
	_, err := decoder.Token()
	return value, err == io.EOF
}

func FuzzParseAgreesWithTheStandardLibrary(f *testing.F) {
	for _, seed := range []string{`{"a":[1,2.5e-3,"x\u00e9",true,null]}`, `[]`, ` "😀" `, `{"a":1,"a":2}`, `-0`, `1e400`,
		`["\ud83d\ude00"]`, `[[[[]]]]`, `{"a":{"b":{}}}`, "\ufeff1"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		got, err := body.Parse(raw)
		want, valid := whatJSONSays(raw)
		if err == nil {
			require.True(t, valid, "accepted what is no JSON: %q", raw)
			require.Equal(t, want, got)
			return
		}
		if !valid {
			return
		}
		for _, f := range fault.All(err) { // what the standard library lets pass and this package does not
			require.Regexp(t, "stands twice|surrogate|no text may have|UTF-8|nested more|more than 10000|byte order", f.Detail,
				"%q", raw)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	raw := []byte(strings.ReplaceAll(`{"units":"in","top":{"species":"maple_sugar","thickness":"1-1/2","runs":[{"name":"A","length":96,"depth":25.5},{"name":"B","length":72,"depth":25.5}],"corners":[{"angle":90,"joint":"auto"}],"edge":{"profile":"roundover","size":0.25}},"moisture":{"making":{"content":7.5},"service":{"dry":{"humidity":30,"temperature":70},"humid":{"humidity":55,"temperature":72}}}}`, ",", ",\n      "))
	b.ReportAllocs()
	b.SetBytes(int64(len(raw)))
	for b.Loop() {
		if _, err := body.Parse(raw); err != nil {
			b.Fatal(err)
		}
	}
}
