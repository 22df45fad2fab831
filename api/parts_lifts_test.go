package api_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// NIOSH 94-110 (1994, as remembered), Example 1 at its origin: 44 lb, 16.3 lb allowed, index 2.7, by multipliers of two
// decimals; the service reckons with all of them.
func TestALiftIsThatOfTheManual(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/lifts", `{"units":"in","weight":44,"people":1,"horizontal":23,"height":15,"travel":48,"asymmetry":0,"per_minute":0.2,"hours":8,"coupling":"fair"}`).tree(t)
	require.Equal(t, map[string]any{"horizontal": 0.4348, "vertical": 0.8875, "distance": 0.8575, "asymmetry": 1., "frequency": 0.85, "coupling": 0.95},
		a["multipliers"])
	limit := 51 * 10. / 23 * 0.8875 * 0.8575 * 0.85 * 0.95
	require.InDelta(t, limit, a["limit"], 0.0005)
	require.InDelta(t, 44/limit, a["index"], 0.00005)
	require.Empty(t, a["assumptions"])
}

// The index falls by sharing the load, and the people that are said to be enough are.
func TestThePeopleWhoAreEnoughAre(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	ask := func(people int) map[string]any {
		return c.post(t, "/v1/lifts", fmt.Sprintf(`{"units":"mm","weight":61,"people":%d,"horizontal":400,"height":700,"travel":300}`, people)).tree(t)
	}
	one := ask(1)
	enough := int(one["people_enough"].(float64))
	require.Greater(t, enough, 1)
	require.LessOrEqual(t, ask(enough)["index"], 1.)
	require.Greater(t, ask(enough - 1)["index"], 1.)
	require.Equal(t, one["limit"], ask(enough)["limit"])
	require.Len(t, one["assumptions"], 3)
}

func TestALiftOutOfBoundsHasNoLimit(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/lifts", `{"units":"mm","weight":10,"horizontal":700,"height":700,"travel":300}`).tree(t)
	require.Equal(t, 0., a["limit"])
	require.Nil(t, a["index"])
	require.Nil(t, a["people_enough"])
	require.Equal(t, "out_of_bounds", a["warnings"].([]any)[0].(map[string]any)["code"])
	long := c.post(t, "/v1/lifts", `{"units":"mm","weight":10,"horizontal":400,"height":700,"travel":300,"hours":9}`)
	require.Equal(t, 422, long.status)
	require.Equal(t, []string{"/hours"}, pointersOf(long.tree(t)))
	wrong := c.post(t, "/v1/lifts", `{"units":"mm","weight":0,"horizontal":-1,"height":700,"travel":300,"coupling":"firm","people":0}`)
	require.Equal(t, 400, wrong.status)
	require.Equal(t, []string{"/coupling", "/horizontal", "/people", "/weight"}, pointersOf(wrong.tree(t)))
}
