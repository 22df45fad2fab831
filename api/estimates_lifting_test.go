package api_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
)

// liftedDesk is the desk of deskMadeAt with something of its site.
func liftedDesk(site string) string {
	return strings.Replace(deskMadeAt(8), `"pricing"`, `"site":{`+site+`},"pricing"`, 1)
}

// What an estimate says of a lift is what POST /v1/lifts says for the same numbers, in either units.
func TestAnEstimatesLiftsAreThoseOfTheCallForThem(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, lift := range []string{``, `"horizontal":18,"height":10,"travel":26,"asymmetry":30,"per_minute":0.5,"hours":2,"coupling":"good"`} {
		for _, units := range []string{"in", "mm"} {
			body := liftedDesk(`"lift":{` + lift + `}`)
			if units == "mm" {
				body = strings.NewReplacer(`"units":"in"`, `"units":"mm"`, `"thickness":1.5`, `"thickness":38`, `"length":96`, `"length":2438`,
					`"length":72`, `"length":1829`, `"depth":25.5`, `"depth":648`, `"temperature":70`, `"temperature":21`,
					`"temperature":72`, `"temperature":22`, `"horizontal":18`, `"horizontal":457`, `"height":10`, `"height":254`,
					`"travel":26`, `"travel":660`).Replace(body)
			}
			a := c.post(t, "/v1/estimates", body)
			require.Equal(t, http.StatusOK, a.status, string(a.body))
			e := a.tree(t)["lifting"].(map[string]any)
			l := e["lift"].(map[string]any)
			loads := append(e["pieces"].([]any), e["joined"])
			require.Len(t, loads, 3)
			for i, x := range loads {
				load := x.(map[string]any)
				if i < 2 {
					run := a.tree(t)["runs"].([]any)[i].(map[string]any)
					require.Equal(t, []any{run["people"], run["piece"].(map[string]any)["weight"]}, []any{load["people"], load["weight"]})
				}
				alone := c.post(t, "/v1/lifts", fmt.Sprintf(`{"units":%q,"weight":%v,"people":%v,"horizontal":%v,"height":%v,"travel":%v,"asymmetry":%v,"per_minute":%v,"hours":%v,"coupling":%q}`,
					units, load["weight"], load["people"], l["horizontal"], l["height"], l["travel"], l["asymmetry"], l["per_minute"],
					l["hours"], l["coupling"])).tree(t)
				require.Equal(t, alone["multipliers"], e["multipliers"])
				require.Equal(t, alone["limit"], e["limit"])
				require.Equal(t, alone["people_enough"], load["people_enough"])
				// Weights are written to a tenth, so that the index differs by no more than that.
				require.InDelta(t, at(t, alone, "index"), at(t, load, "index"), 0.0001+0.05/at(t, load, "weight")*at(t, alone, "index"))
				require.InDelta(t, at(t, load, "weight")/at(t, load, "people"), at(t, load, "share"), 0.1)
			}
			require.InDelta(t, at(t, a.tree(t), "weight")+at(t, e, "joined", "hardware"), at(t, e, "joined", "weight"), 0.11)
			read, err := estimates.Read(string(a.body))
			require.NoError(t, err)
			require.InDelta(t, at(t, e, "joined", "index"), read.Lifting.Joined.Index, 1e-4)
			require.False(t, math.IsNaN(read.Lifting.Pieces[0].Along.Inches()))
		}
	}
}

func TestALiftThatCannotBeIsRefusedAtItsPlace(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/estimates", liftedDesk(`"lift":{"hours":9}`))
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	require.Equal(t, "/site/lift/hours", a.problem(t).Errors[0].Pointer)
	a = c.post(t, "/v1/estimates", liftedDesk(`"lift":{"coupling":"strong"}`))
	require.Equal(t, http.StatusBadRequest, a.status, string(a.body))
	// Not asked for: not told.
	require.NotContains(t, string(c.post(t, "/v1/estimates", deskMadeAt(8)).body), `"lifting"`)
}
