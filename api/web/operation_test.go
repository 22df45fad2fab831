package web

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What needs the database follows from the spec: all but what is worked out from the catalogue in memory.
func TestTheseOperationsAreAnsweredFromMemory(t *testing.T) {
	t.Parallel()
	table, err := newOperations()
	require.NoError(t, err)
	var memory []string
	for route, op := range table {
		if op.scope != "" && !op.database {
			memory = append(memory, route)
		}
	}
	slices.Sort(memory)
	lists := []string{"climate-profiles", "fasteners", "labour-roles", "labour-standards", "materials", "places", "settings",
		"species", "tax-regions"}
	expected := []string{"GET /v1/fasteners/:code/prices", "GET /v1/materials/:code/prices", "GET /v1/order-form",
		"GET /v1/settings/:key",
		"POST /v1/conditionings", "POST /v1/deflections", "POST /v1/lifts",
		"POST /v1/diagnoses",
		"POST /v1/seasons",
		"POST /v1/estimates", "POST /v1/estimates/:view", "POST /v1/estimates/batch", "POST /v1/joint-comparisons",
		"POST /v1/movements",
		"POST /v1/option-sets", "POST /v1/option-sets/:view",
		"POST /v1/quotes/:id/option-sets", "POST /v1/quotes/:id/option-sets/:view",
		"POST /v1/order-form/angles", "POST /v1/order-form/comparisons", "POST /v1/order-form/estimates",
		"POST /v1/passages"}
	for _, list := range lists {
		expected = append(expected, "GET /v1/"+list)
		if list != "settings" {
			expected = append(expected, "GET /v1/"+list+"/:code")
		}
	}
	slices.Sort(expected)
	require.Equal(t, expected, memory)
}

// Whoever may change the catalogue, or the keys, is answered when this instance has the change; see settled.
func TestTheseOperationsMayChangeTheCatalogue(t *testing.T) {
	t.Parallel()
	table, err := newOperations()
	require.NoError(t, err)
	for route, op := range table {
		writes := strings.Contains(op.scope, "catalogue:write") || strings.Contains(op.scope, "prices:write")
		require.Equal(t, writes && op.method != "GET", op.changes, route)
		require.Equal(t, slices.Contains([]string{"POST /v1/keys", "DELETE /v1/keys/:id", "POST /v1/keys/:id/rotate"}, route), op.changesKeys, route)
		require.False(t, op.keyed && op.streams, route)
		require.True(t, !op.keyed || op.database, route)
	}
}

// A form can be made of every body in JSON that the table reads: the gate knows all of its vocabulary.
func TestEveryBodyHasAGate(t *testing.T) {
	t.Parallel()
	table, err := newOperations()
	require.NoError(t, err)
	gates := 0
	for route, op := range table {
		if op.form == nil {
			continue
		}
		if _, err := op.form(); err == nil {
			gates++
		} else {
			require.ErrorContains(t, err, "takes no JSON", route)
		}
	}
	require.Greater(t, gates, 20)
}

func TestParametersAreHeldAgainstTheirBounds(t *testing.T) {
	t.Parallel()
	table, err := newOperations()
	require.NoError(t, err)
	for _, x := range []struct{ route, name, text, says string }{
		{"GET /v1/keys", "limit", "200", ""},
		{"GET /v1/keys", "limit", "201", "Must be a whole number from 1 to 200."},
		{"GET /v1/keys", "limit", "", "Must be a whole number from 1 to 200."},
		{"GET /v1/fasteners", "units", "cm", "Must be in or mm."},
		{"GET /v1/audit-entries", "from", "2026-02-29", "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01."},
		{"GET /v1/audit-entries", "entity", "specie", `"specie" is not one of`},
		{"GET /v1/audit-entries", "code", "", "Must be 1 to 300 visible characters."},
		{"GET /v1/price-updates", "supplier", "", ""},
		{"GET /v1/price-updates", "supplier", "a\nb", "Must be at most 80 visible characters."},
		{"GET /v1/quotes", "moved", "NaN", "Must be a number of percent from 0 to 1000."},
		{"GET /v1/quotes", "drifted", "yes", "Must be true or false."},
		{"GET /v1/quotes", "reference", "Größe", ""},
		{"GET /v1/quotes/:id/revisions/:number/difference", "from", "0", "Must be the number of a revision."},
	} {
		op := table[x.route]
		at := slices.Index(op.known, x.name)
		require.NotEqual(t, -1, at, "%s %s", x.route, x.name)
		if says := op.parameters[at].wrong(x.text); x.says == "" {
			require.Empty(t, says, "%s %q", x.name, x.text)
		} else {
			require.Contains(t, says, x.says, "%s %q", x.name, x.text)
		}
	}
}

func TestWhatMustBeThereHasItsSentence(t *testing.T) {
	t.Parallel()
	table, err := newOperations()
	require.NoError(t, err)
	found := 0
	for route, op := range table {
		for i := range op.parameters {
			if p := &op.parameters[i]; p.required {
				found++
				require.NotEmpty(t, p.wrong(""), "%s %s", route, p.name)
			}
		}
	}
	require.Positive(t, found)
}
