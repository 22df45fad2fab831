package wire

import (
	"encoding/json"
	"os"
	"sort"
	"strconv"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/body"
	"seamwright/openapi"
)

// published is a body that the spec has a schema for, and valid ones to start from.
type published struct {
	schema *openapi3.Schema
	values []any
}

// requests are all bodies in JSON that have examples, by path, and one request for an estimate with every property.
func requests(t *testing.T) map[string]*published {
	t.Helper()
	document, err := openapi.Document()
	require.NoError(t, err)
	full, err := os.ReadFile("testdata/everything.json")
	require.NoError(t, err)
	all := map[string]*published{}
	add := func(p *published, raw []byte) {
		value, err := body.Parse(raw)
		require.NoError(t, err)
		p.values = append(p.values, value)
	}
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			if operation.RequestBody == nil || operation.Extensions["x-own-idempotency"] != nil {
				continue // price lists are streams and pass no gate
			}
			media := operation.RequestBody.Value.Content.Get("application/json")
			if media == nil || len(media.Examples) == 0 {
				continue
			}
			p := &published{schema: media.Schema.Value}
			all[method+" "+path] = p
			for _, example := range media.Examples {
				raw, err := json.Marshal(example.Value.Value)
				require.NoError(t, err)
				add(p, raw)
			}
		}
	}
	add(all["POST /v1/estimates"], full)
	require.Greater(t, len(all), 10)
	return all
}

// odd are values that break one rule or another, and some that do not.
var odd = []any{nil, true, false, "", "x", "A", "in", "mm", "auto", "butt", "25-1/2", "2026-11-01", "2026-02-31",
	"2026-2-3", "USD", "usd", "maple_sugar", "a\n", "ä",
	json.Number("0"), json.Number("-0"), json.Number("1"), json.Number("1.5"), json.Number("2.0"), json.Number("-3"),
	json.Number("100"), json.Number("360"), json.Number("361"),
	json.Number("1e6"), json.Number("1e300"), json.Number("1e400"), json.Number("10.0000000000000000001"),
	[]any{}, []any{json.Number("1")}, map[string]any{}, map[string]any{"content": json.Number("7")},
	map[string]any{"humidity": json.Number("30"), "temperature": json.Number("70")},
	map[string]any{"humidity": json.Number("30"), "temperature": json.Number("70"), "content": json.Number("7")},
	map[string]any{"profile": "x"}, texts(32), texts(33)}

// texts is an object of so many texts.
func texts(n int) map[string]any {
	all := map[string]any{}
	for i := range n {
		all[strconv.Itoa(i)] = "x"
	}
	return all
}

// disturbed returns a copy of a value with one thing in it changed, added or taken away.
func disturbed(t *rapid.T, value any) any {
	switch v := value.(type) {
	case map[string]any:
		out, names := map[string]any{}, []string{}
		for name, inside := range v {
			out[name], names = inside, append(names, name)
		}
		sort.Strings(names)
		how := rapid.IntRange(0, 9).Draw(t, "how")
		if how == 0 || len(names) == 0 {
			name := rapid.SampledFrom([]string{"x", "Units", "angle", "measured", "from_start", "from_end", "content",
				"humidity", "profile", "name", "sawn"}).Draw(t, "name")
			out[name] = rapid.SampledFrom(odd).Draw(t, "odd")
			return out
		}
		name := rapid.SampledFrom(names).Draw(t, "name")
		if how == 1 {
			delete(out, name)
		} else {
			out[name] = disturbed(t, v[name])
		}
		return out
	case []any:
		out := append([]any{}, v...)
		if len(out) == 0 || rapid.IntRange(0, 9).Draw(t, "how") == 0 {
			for range rapid.IntRange(1, 7).Draw(t, "more") {
				out = append(out, rapid.SampledFrom(append(odd, v...)).Draw(t, "odd"))
			}
			return out
		}
		i := rapid.IntRange(0, len(out)-1).Draw(t, "i")
		out[i] = disturbed(t, out[i])
		return out
	}
	return rapid.SampledFrom(odd).Draw(t, "odd")
}

func TestTheGateSaysYesExactlyWhenTheValidatorDoes(t *testing.T) {
	t.Parallel()
	yes, no := 0, 0
	for _, p := range requests(t) {
		against, values := asChecked(p.schema), p.values
		g, err := newGate(against)
		require.NoError(t, err, "the schema has a keyword that gates do not know: teach them, or requests are slow")
		for _, value := range values {
			require.True(t, g.fits(value))
			require.NoError(t, against.VisitJSON(value, openapi3.MultiErrors()))
		}
		rapid.Check(t, func(t *rapid.T) {
			value := rapid.SampledFrom(values).Draw(t, "request")
			for range rapid.IntRange(1, 3).Draw(t, "times") {
				value = disturbed(t, value)
			}
			fits := g.fits(value)
			require.Equal(t, against.VisitJSON(value, openapi3.MultiErrors()) == nil, fits, "%v", value)
			if fits {
				yes++
			} else {
				no++
			}
		})
	}
	// A request with few fields may see no disturbance that fits, by chance: both answers are wanted of all
	// requests together.
	require.Positive(t, yes)
	require.Positive(t, no)
}

func TestAGateRefusesASchemaThatItDoesNotKnowWhole(t *testing.T) {
	t.Parallel()
	two := 2.0
	for name, s := range map[string]*openapi3.Schema{
		"multipleOf":        {MultipleOf: &two},
		"allOf":             {AllOf: openapi3.SchemaRefs{{Value: openapi3.NewStringSchema()}}},
		"a property of all": {Properties: openapi3.Schemas{"a": {Value: &openapi3.Schema{UniqueItems: true}}}},
		"an odd format":     {Format: "odd"},
		"a number in enum":  {Enum: []any{1.0}},
	} {
		_, err := newGate(s)
		require.Error(t, err, name)
	}
}
