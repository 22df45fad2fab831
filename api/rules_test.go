package api_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// Rules that whoever reads a body says in better words than a schema could stand in the spec all the same: what breaks
// them fits no schema, and is refused at its place; what keeps them is taken.
func TestRulesThatAreSaidInWordsStandInTheSpecToo(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	s := newShop(t)
	season := func(unit string) string {
		return `{"name":"Boat","dry":{"humidity":40,"temperature":60` + unit + `},"humid":{"content":12},"source":"demo"}`
	}
	glue := s.get(t, "/v1/materials/glue_wood_water_resistant").tree(t)["glue"]
	paste := func(kind string) string {
		return text(t, tree{"name": "Paste", "kind": kind, "units": "in", "unit": "litre", "glue": glue})
	}
	for _, c := range []struct{ method, path, schema, body, pointer, says string }{
		{"POST", requestsPath, "OrderFormOrder", strings.Replace(text(t, orderedBy("A")), `"consent":true`, `"consent":false`, 1), "/consent", "Must be true: without it"},
		{"POST", requestsPath, "OrderFormOrder", text(t, orderedBy("A")), "", ""},
		{"POST", "/v1/quotes", "QuoteEntry", `{"valid_until":"2027-01-01","valid_days":3,"estimate":` + smallest + `}`, "/valid_days", "not both"},
		{"POST", "/v1/quotes", "QuoteEntry", `{"valid_days":3,"estimate":` + smallest + `}`, "", ""},
		{"POST", "/v1/quotes", "QuoteEntry", `{"estimate":{"units":"in","top":{"species":"maple_sugar","thickness":"Ada","runs":[{"length":60,"depth":25}]}}}`,
			"/estimate/top/thickness", "is not a length"},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a"}`, "/scopes", "at least one scope"},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","scopes":["estimate"],"origins":["https://shop.example"]}`, "/origins", "Only a publishable key"},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","kind":"publishable"}`, "/origins", "needs the origins"},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","kind":"publishable","scopes":["estimate"],"origins":["https://shop.example"]}`, "/scopes", "has no scopes"},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","scopes":["estimate"]}`, "", ""},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","kind":"secret","scopes":["estimate"],"origins":[]}`, "", ""},
		{"POST", "/v1/keys", "KeyEntry", `{"name":"a","kind":"publishable","origins":["https://shop.example"]}`, "", ""},
		{"PUT", "/v1/climate-profiles/boat", "ClimateProfileEntry", season(""), "/dry/temperature_unit", "F or C"},
		{"PUT", "/v1/climate-profiles/boat", "ClimateProfileEntry", season(`,"temperature_unit":"F"`), "", ""},
		{"PUT", "/v1/materials/paste", "MaterialEntry", paste("panel"), "", "anel"},
		{"PUT", "/v1/materials/paste", "MaterialEntry", paste("glue"), "", ""},
	} {
		var value any
		require.NoError(t, json.Unmarshal([]byte(c.body), &value), c.body)
		fits := document.Components.Schemas[c.schema].Value.VisitJSON(value, openapi3.MultiErrors())
		a := s.do(t, c.method, c.path, strings.NewReader(c.body), "Content-Type", "application/json")
		if c.says == "" {
			require.NoError(t, fits, c.body)
			require.Equal(t, http.StatusCreated, a.status, "%s: %s", c.body, a.body)
			continue
		}
		require.Error(t, fits, c.body)
		require.Contains(t, []int{http.StatusBadRequest, http.StatusUnprocessableEntity}, a.status, "%s: %s", c.body, a.body)
		found := false
		for _, e := range a.problem(t).Errors {
			found = found || strings.Contains(e.Detail, c.says) && (c.pointer == "" || e.Pointer == c.pointer)
		}
		require.True(t, found, "%s: %s", c.body, a.body)
	}
}
