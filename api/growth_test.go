package api_test

import (
	"encoding/json"
	"net/http"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// Answers may get new fields within /v1. A client that validates them takes additionalProperties as true, as the spec
// tells it to, and such an answer is then good to it at every level; as they stand the schemas find what is not written down.
func TestAClientThatValidatesSurvivesAnAddedField(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	offer, _ := s.offer(t, `{"estimate":`+deskPart+`}`)
	opened, err := openapi3.NewLoader().LoadFromData(openapi.YAML())
	require.NoError(t, err)
	for _, schema := range opened.Components.Schemas {
		open(schema.Value)
	}
	closed, err := openapi.Document()
	require.NoError(t, err)
	for name, a := range map[string]answer{
		"Estimate": s.post(t, "/v1/estimates", deskPart), "QuoteRead": s.get(t, "/v1/quotes/"+offer["id"].(string)),
		"Supplier": s.get(t, "/v1/suppliers/demo"), "SpeciesPage": s.get(t, "/v1/species"), "AuditPage": s.get(t, "/v1/audit-entries"),
	} {
		require.Equal(t, http.StatusOK, a.status, "%s: %s", name, a.body)
		var value any
		require.NoError(t, json.Unmarshal(a.body, &value))
		require.NoError(t, opened.Components.Schemas[name].Value.VisitJSON(value), name)
		grown(value)
		require.NoError(t, opened.Components.Schemas[name].Value.VisitJSON(value), "%s with fields that came later", name)
		require.Error(t, closed.Components.Schemas[name].Value.VisitJSON(value), name)
	}
}

// open takes additionalProperties as true in a schema and all that it has inside.
func open(s *openapi3.Schema) {
	if s.AdditionalProperties.Has != nil {
		yes := true
		s.AdditionalProperties.Has = &yes
	}
	for _, property := range s.Properties {
		open(property.Value)
	}
	if s.Items != nil {
		open(s.Items.Value)
	}
}

// grown puts a field that nobody knows into every object.
func grown(value any) {
	switch v := value.(type) {
	case map[string]any:
		for name, inside := range v {
			if name != "metadata" { // whose names are the caller's own
				grown(inside)
			}
		}
		v["came_later"] = map[string]any{"a": 1}
	case []any:
		for _, inside := range v {
			grown(inside)
		}
	}
}
