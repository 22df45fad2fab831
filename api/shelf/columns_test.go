package shelf

import (
	"slices"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/api/wire"
	"seamwright/openapi"
	"seamwright/service/measure"
	"seamwright/service/sheet"
)

// besides are properties of the schemas that are no columns.
var besides = []string{"units", "currency", "dry.temperature_unit", "humid.temperature_unit"}

// paths lists the values of an object and of the objects in it.
func paths(s *openapi3.Schema, before string) (list []string) {
	for _, all := range s.AllOf { // an object that the spec names
		list = append(list, paths(all.Value, before)...)
	}
	for name, p := range s.Properties {
		if within := paths(p.Value, before+name+"."); len(within) > 0 {
			list = append(list, within...)
		} else if !slices.Contains(besides, before+name) {
			list = append(list, before+name)
		}
	}
	slices.Sort(list)
	return list
}

// The schemas of answers and of bodies have what the list of columns has.
func TestTheSpecHasEveryColumnAndNoOther(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	for name, part := range map[string]*sheet.Part{"Species": sheet.Species, "Fastener": sheet.Fasteners,
		"Material":       sheet.Materials,
		"LabourStandard": sheet.LabourStandards, "LabourRole": sheet.LabourRoles, "ClimateProfile": sheet.ClimateProfiles,
		"Place": sheet.Places, "TaxRegion": sheet.TaxRegions} {
		var shown, taken []string
		for _, c := range part.Columns {
			for _, h := range c.Held {
				taken = append(taken, h.Path)
				if h.Field != nil {
					shown = append(shown, h.Path)
				}
			}
		}
		slices.Sort(shown)
		slices.Sort(taken)
		require.Equal(t, shown, paths(document.Components.Schemas[name].Value, ""), "%s: as answers have it", name)
		require.Equal(t, taken, paths(document.Components.Schemas[name+"Entry"].Value, ""), "%s: as bodies have it", name)
	}
}

// Every kind of field that a column may have is written and read: one that is not known would be left out without a word.
func TestEveryKindOfFieldIsWritten(t *testing.T) {
	t.Parallel()
	for _, part := range sheet.Parts() {
		if part.New == nil {
			continue
		}
		for _, s := range part.Answer() {
			if s.Column == nil {
				continue
			}
			require.Contains(t, written(t, &s, part.New()), `"`+s.Name+`":`, "%s: %s", part.Name,
				strings.TrimPrefix(s.Object+"."+s.Name, "."))
		}
	}
}

func written(t *testing.T, s *sheet.Shown, thing any) string {
	t.Helper()
	return string(wire.Encode(measure.Millimetres, func(w *wire.Writer) { writeShown(w, s, thing, view{}) }))
}
