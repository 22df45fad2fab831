package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every entry that does not fit is refused at its place, in words for the person who wrote it, and nothing is written.
func TestAnEntryThatDoesNotFitIsRefusedAtThePlace(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	type pairs []any
	list := func(items ...any) []any { return items }
	const (
		species, lumber, bolt, screw, pocket = "species/maple_sugar", "materials/lumber_maple_sugar_8_4",
			"fasteners/draw_bolt_150", "fasteners/slotted_screw", "fasteners/pocket_screw_8_32"
		glueUp, house, cloth, role = "labour-standards/glue_up", "climate-profiles/heated_house",
			"materials/sundry_oil_cloth", "labour-roles/maker"
	)
	for name, x := range map[string]struct {
		one     string
		change  pairs
		pointer string
		says    string
	}{
		"a value without a source": {species, pairs{"tangential_coefficient.source", nil},
			"/tangential_coefficient/source", "needs the source"},
		"an unknown source": {species, pairs{"gravity_12.source", "my-book"}, "/gravity_12/source",
			"known are WH-4-2"},
		"a source without a value": {species, pairs{"gravity_12.value", nil, "gravity_12.value", 0.5,
			"radial_coefficient", map[string]any{"value": nil, "source": "WH-13-5"}}, "/radial_coefficient/value",
			"source but no value"},
		"verified but not there": {species, pairs{"gravity_12", map[string]any{"value": nil, "verified": true}},
			"/gravity_12/verified", "no value that could be verified"},
		"a coefficient in percent": {species, pairs{"tangential_coefficient.value", 0.353},
			"/tangential_coefficient/value", "less than 0.02"},
		"a wood that would not float": {species, pairs{"gravity_12.value", 15}, "/gravity_12/value", "less than 1.5"},
		"a name of blanks":            {species, pairs{"name", " "}, "/name", "must not be blank"},
		"a name of two lines":         {species, pairs{"name", "a\nb"}, "/name", "one line"},
		"lumber by the litre":         {lumber, pairs{"unit", "litre"}, "/unit", "counted in board_foot"},
		"lumber of an unknown wood": {lumber, pairs{"lumber.species", "maple_sugr"}, "/lumber/species",
			"did you mean maple_sugar"},
		"surfaced thicker than rough": {lumber, pairs{"lumber.surfaced_thickness", 60}, "/lumber/surfaced_thickness",
			"surfacing takes wood"},
		"a clear yield of no twelfths": {lumber, pairs{"lumber.clear_yield", 80}, "/lumber/clear_yield", "twelfths"},
		"no clear wood at all":         {lumber, pairs{"lumber.clear_yield", 0}, "/lumber/clear_yield", "at least 1"},
		"stock lengths that fall": {lumber, pairs{"lumber.stock_lengths", list(3000, 2000)}, "/lumber/stock_lengths",
			"must ascend"},
		"a stock length of nothing": {lumber, pairs{"lumber.stock_lengths", list(0, 2000)}, "/lumber/stock_lengths",
			"more than 0"},
		"lumber without its data": {lumber, pairs{"lumber", nil}, "/lumber/grade",
			"Must not be empty for the kind lumber"},
		"lumber with a glue's data": {lumber, pairs{"glue", map[string]any{"spread": 1, "clamp_hours": 1}},
			"/glue/spread", "Only glue has this"},
		"lumber that became glue": {lumber, pairs{"kind", "glue", "unit", "litre"}, "/kind", "never changes"},
		"a pack twice": {lumber, pairs{"packs",
			list(map[string]any{"size": 10}, map[string]any{"size": 10.0})}, "/packs", "10 twice"},
		"a sundry for an unknown finish": {cloth, pairs{"sundry.finish", "hardwax"}, "/sundry/finish",
			"no finish of the system"},
		"a bolt that comes through": {bolt, pairs{"least_thickness", 25}, "/least_thickness", "at least 28.35 mm"},
		"a recess that breaks out":  {bolt, pairs{"recess_distance", 17}, "/recess_distance", "break into the seam"},
		"a bolt too short":          {bolt, pairs{"length", 100}, "/length", "twice the recess"},
		"a bolt with a pocket":      {bolt, pairs{"bore_diameter", 9}, "/bore_diameter", "has no such measure"},
		"a bolt with a washer": {bolt, pairs{"washer_diameter", 9}, "/washer_diameter",
			"it has length, bolt_diameter, recess_diameter, recess_depth, recess_distance, bearing_diameter, least_thickness, working_load, greatest_thickness."},
		"a bolt of unknown strength": {bolt, pairs{"working_load", nil}, "/working_load", "Must not be empty"},
		"a bolt that mixes": {bolt, pairs{"may_mix_with_bolts", true}, "/may_mix_with_bolts",
			"Only pocket screws"},
		"a screw through the top":     {screw, pairs{"penetration", 23}, "/penetration", "would come through"},
		"a screw all thread and more": {screw, pairs{"penetration", 40}, "/penetration", "whole length"},
		"a pocket screw through the top": {pocket, pairs{"length", 80, "penetration", 60}, "/penetration",
			"would come through"},
		"a head that stays out": {pocket, pairs{"bore_diameter", 9}, "/bore_diameter", "goes into the pocket"},
		"least over greatest": {pocket, pairs{"greatest_thickness", 19}, "/greatest_thickness",
			"more than the least"},
		"low over likely":  {glueUp, pairs{"setup.low", 31}, "/setup/low", "not be more than the likely"},
		"likely over high": {glueUp, pairs{"each.likely", 99}, "/each/likely", "not be more than the high"},
		"work in no time": {glueUp, pairs{"setup", map[string]any{"low": 0, "likely": 0, "high": 0}, "each",
			map[string]any{"low": 0, "likely": 0, "high": 0}}, "/each/high", "no time at all"},
		"an unknown role":       {glueUp, pairs{"role", "makr"}, "/role", "did you mean maker"},
		"after an unknown step": {glueUp, pairs{"after", list("dry_layut")}, "/after", "did you mean dry_layout"},
		"after itself": {glueUp, pairs{"after", list("glue_up")}, "/after",
			"follow itself: glue_up after glue_up"},
		"after what follows it":           {glueUp, pairs{"after", list("flatten")}, "/after", "follow itself"},
		"a rate finer than it can be":     {role, pairs{"rate", "99999999"}, "/rate", "at most 100000"},
		"a dry season that is the wetter": {house, pairs{"dry.humidity", 80}, "/dry/humidity", "wetter"},
		"a season of air and moisture":    {house, pairs{"dry.content", 8}, "/dry/content", "either"},
		"a season of nothing": {house, pairs{"humid.humidity", nil, "humid.temperature", nil}, "/humid/content",
			"either"},
		"air colder than the equation": {house, pairs{"dry.temperature", -20}, "/dry/temperature",
			"No moisture content can be told"},
		"a profile of no source": {house, pairs{"source", "nobody"}, "/source", "not in the list of sources"},
		"a kerf of a metre":      {"settings/kerf", pairs{"value", "1000"}, "/value", "from 0 to 10"},
		"a basis of no name":     {"settings/basis", pairs{"value", "guess"}, "/value", "one of [margin markup]"},
		"a margin of all":        {"settings/rate", pairs{"value", "120"}, "/value", "under 100 percent"},
		"a climate of no name": {"settings/default_climate", pairs{"value", "heated_hous"}, "/value",
			"did you mean heated_house"},
		"another currency than the prices": {"settings/currency", pairs{"value", "EUR"}, "/value", "prices in USD"},
		"a currency of no form":            {"settings/currency", pairs{"value", "usd"}, "/value", "three capital letters"},
	} {
		before := s.get(t, "/v1/"+x.one)
		require.Equal(t, http.StatusOK, before.status, x.one)
		a := s.put(t, "/v1/"+x.one, changed(t, before.tree(t), x.change...), "If-Match", before.header.Get("ETag"))
		require.Equal(t, http.StatusUnprocessableEntity, a.status, "%s: %s", name, a.body)
		p := a.problem(t)
		require.Equal(t, "/problems/unfit-entry", p.Type)
		found := ""
		for _, v := range p.Errors {
			if v.Pointer == x.pointer {
				found = v.Detail
			}
		}
		require.Contains(t, found, x.says, "%s: %s", name, a.body)
	}
	require.Empty(t, s.get(t, "/v1/audit-entries").tree(t)["items"])
}

func TestABodyThatIsNoEntryIsRefused(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	role := func(more string) string { return `{"name":"X","rate":"1"` + more + `}` }
	for name, x := range map[string]struct {
		path, body, says string
		status           int
	}{
		"no JSON":               {"labour-roles/x", `{`, "not valid JSON", 400},
		"a list":                {"labour-roles/x", `[]`, "Must be an object", 400},
		"nothing required":      {"labour-roles/x", `{}`, "2 things", 400},
		"an unknown property":   {"labour-roles/x", role(`,"rat":1`), `did you mean \"rate\"?`, 400},
		"another code":          {"labour-roles/x", role(`,"code":"y"`), "as in the path", 400},
		"another currency":      {"labour-roles/x", role(`,"currency":"EUR"`), "setting currency changes it", 400},
		"a rate that is a word": {"labour-roles/x", `{"name":"X","rate":"much"}`, "decimal text", 400},
		"a code in capitals":    {"labour-roles/Maker", role(""), "is not a code", 422},
		"a code too long":       {"labour-roles/" + strings.Repeat("a", 65), role(""), "is not a code", 422},
		"an unknown setting":    {"settings/kerv", `{"value":"1"}`, `Did you mean \"kerf\"?`, 404},
		"a setting's bounds":    {"settings/kerf", `{"value":"1","high":20}`, "Cannot be changed", 400},
		"a price": {"fasteners/biscuit_20",
			`{"name":"B","kind":"biscuit","units":"mm","packs":[{"size":100,"price":{"supplier":"demo","valid_from":"2026-10-01","amount":"1.0000"}}]}`, "come by price updates", 400},
		"a thing of two parts": {"fasteners/glue_wood_water_resistant",
			`{"name":"B","kind":"biscuit","units":"mm","width":50,"length":20,"thickness":4,"least_thickness":19}`,
			"share their codes", 422},
		"no units": {"fasteners/biscuit_x", `{"name":"B","kind":"biscuit"}`, "units", 400},
		"a length of no form": {"fasteners/biscuit_x", `{"name":"B","kind":"biscuit","units":"mm","width":"wide"}`,
			"is not a length", 422},
		"air without its scale": {"climate-profiles/x",
			`{"name":"X","source":"demo","dry":{"humidity":30,"temperature":20},"humid":{"content":9}}`, "F or C", 400},
	} {
		a := s.put(t, "/v1/"+x.path, x.body)
		require.Equal(t, x.status, a.problem(t).Status, "%s: %s", name, a.body)
		require.Contains(t, string(a.body), x.says, name)
	}
	require.Equal(t, http.StatusUnsupportedMediaType, s.put(t, "/v1/labour-roles/x", role(""), "Content-Type",
		"text/csv").status)
	require.Equal(t, http.StatusBadRequest, s.put(t, "/v1/labour-roles/x", role(""), "X-Actor",
		strings.Repeat("a", 101)).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.put(t, "/v1/labour-roles/x", role(""), "Idempotency-Key",
		strings.Repeat("a", 256)).problem(t).Status)
	require.Equal(t, http.StatusBadRequest, s.put(t, "/v1/labour-roles/x?unit=mm", role("")).problem(t).Status)
	require.Empty(t, s.get(t, "/v1/audit-entries").tree(t)["items"])
}
