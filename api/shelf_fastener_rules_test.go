package api_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

// notOfTheKind are the sentences about a measure that a kind lacks, or has and is not given.
var notOfTheKind = []string{"Must not be empty for the kind", "has no such measure", "must be more than 0", "Only pocket screws mix"}

// Which measures a kind of hardware has says the spec as whoever reads the body does: every kind of the catalogue as it stands, with
// each of its measures taken away, with each that it has not, and with nothing for it. It is made once as it stands; the
// others go to a code that a material has, so that all rules are looked at and nothing is ever written.
func TestTheSpecSaysWhichMeasuresAKindHas(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	schema := document.Components.Schemas["FastenerEntry"].Value
	s := newShop(t)
	kinds, refused := map[string]bool{}, 0
	for _, item := range s.get(t, "/v1/fasteners?limit=200&units=mm").tree(t)["items"].([]any) {
		f := item.(map[string]any)
		code := f["code"].(string)
		entry := map[string]any{}
		for name := range schema.Properties {
			if value, there := f[name]; there && name != "packs" {
				entry[name] = value
			}
		}
		require.NoError(t, schema.VisitJSON(map[string]any(entry)), "%s as GET gives it", code)
		kind := entry["kind"].(string)
		if kinds[kind] {
			continue
		}
		kinds[kind] = true
		delete(entry, "code")
		made := s.put(t, "/v1/fasteners/tried_"+kind, text(t, entry), "If-None-Match", "*")
		require.Equal(t, http.StatusCreated, made.status, "%s: %s", kind, made.body)
		for name, property := range schema.Properties {
			if property.Ref != "#/components/schemas/MaybeLength" && name != "working_load" && name != "may_mix_with_bolts" {
				continue
			}
			others := []any{nil, 0.0, 7.5}
			if name == "may_mix_with_bolts" {
				others = []any{true, false}
			}
			for _, value := range others {
				if (value == 7.5) && entry[name] != nil {
					continue // that it has it is seen by the entry itself
				}
				tried := map[string]any{}
				for k, v := range entry {
					tried[k] = v
				}
				tried[name] = value
				fits := schema.VisitJSON(tried, openapi3.MultiErrors())
				a := s.put(t, "/v1/fasteners/lumber_alder_red_4_4", text(t, tried), "If-None-Match", "*")
				wrong := slices.ContainsFunc(notOfTheKind, func(sentence string) bool { return strings.Contains(string(a.body), sentence) })
				require.Equal(t, wrong, fits != nil, "%s with %s %v: %v\n%s", kind, name, value, fits, a.body)
				if wrong {
					refused++
				} else {
					require.Contains(t, string(a.body), "The code belongs to another part of the catalogue", "%s with %s %v", kind, name, value)
				}
			}
		}
	}
	require.Len(t, kinds, len(schema.Properties["kind"].Value.Enum), "every kind is in the catalogue")
	require.Greater(t, refused, 150)
}
