package api_test

import (
	"fmt"
	"math"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

func passing(units string, length, depth, thickness any, way string) string {
	return fmt.Sprintf(`{"units":%q,"piece":{"length":%v,"depth":%v,"thickness":%v},"way":[%s]}`, units, length, depth, thickness, way)
}

// The ladder problem: a rod passes a square corner of corridors a and b up to (a^⅔ + b^⅔)^1½, and stands in a lift up to
// its space diagonal.
func TestPassagesOfRodsAreThoseOfGeometry(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/passages", passing("in", 90, 20, 0,
		`{"kind":"turn","first":40,"second":52,"height":96},{"kind":"door","width":30,"height":78}`)).tree(t)
	way := a["way"].([]any)
	require.Len(t, way, 2)
	turn, door := way[0].(map[string]any), way[1].(map[string]any)
	want := math.Pow(math.Pow(40, 2./3)+math.Pow(52, 2./3), 1.5)
	require.InDelta(t, want, turn["longest"], 2e-4)
	require.LessOrEqual(t, turn["longest"].(float64), want)
	require.Equal(t, true, turn["passes"])
	require.Equal(t, "on_edge", turn["hold"])
	require.Greater(t, turn["end_up"].(float64), want)
	require.Nil(t, door["longest"])
	require.Equal(t, true, a["passes"])

	a = c.post(t, "/v1/passages", passing("mm", 2900, 0.01, 0,
		`{"kind":"lift","width":1100,"depth":1400,"height":2200,"door_width":800,"door_height":2000}`)).tree(t)
	lift := a["way"].([]any)[0].(map[string]any)
	require.InDelta(t, math.Sqrt(1100*1100+1400*1400+2200*2200), lift["longest"], 0.1)
	require.Equal(t, false, lift["passes"])
	require.Nil(t, lift["hold"])
	require.Equal(t, false, a["passes"])
	require.NotEmpty(t, a["sources"])
	require.NotEmpty(t, a["assumptions"])
	require.NotEmpty(t, a["cautions"])
}

// What is told as longest passes when it is asked for, in either units.
func TestTheLongestThatIsToldPasses(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, units := range []string{"in", "mm"} {
		for _, step := range []string{
			`{"kind":"turn","first":"42 in","second":"36 in","angle":117,"height":"94 in"}`,
			`{"kind":"lift","width":"51 in","depth":"55 in","height":"86 in"}`,
			`{"kind":"door","width":"20 in","height":"30 in"}`,
		} {
			first := c.post(t, "/v1/passages", passing(units, `"6 ft"`, `"40 in"`, `"1-1/2 in"`, step)).tree(t)
			longest := first["way"].([]any)[0].(map[string]any)["longest"]
			require.NotNil(t, longest)
			again := c.post(t, "/v1/passages", passing(units, longest, `"40 in"`, `"1-1/2 in"`, step)).tree(t)
			require.Equal(t, true, again["passes"], "%s %s %v", units, step, longest)
		}
	}
}

// Clearance makes a way narrower by as much.
func TestAClearanceNarrowsTheWay(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	body := `{"units":"mm","piece":{"length":2000,"depth":700,"thickness":40},"clearance":25,"way":[{"kind":"turn","first":1025,"second":925,"height":2025}]}`
	with := c.post(t, "/v1/passages", body).tree(t)
	without := c.post(t, "/v1/passages", passing("mm", 2000, 700, 40, `{"kind":"turn","first":1000,"second":900,"height":2000}`)).tree(t)
	require.Equal(t, without["way"], with["way"])
	require.InDelta(t, 25, with["clearance"], 0)
}

func TestImpossibleWaysAreToldAllAtOnce(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, test := range []struct {
		way      string
		status   int
		pointers []string
	}{
		{`{"kind":"door","width":30},{"kind":"turn","first":40,"depth":3},{"kind":"lift","width":30,"depth":40,"height":80,"angle":90}`,
			http.StatusBadRequest, []string{"/way/0/height", "/way/1/depth", "/way/1/second", "/way/2/angle"}},
		{`{"kind":"lift","width":30,"depth":40,"height":80,"door_width":31,"door_height":81},{"kind":"turn","first":40,"second":40,"angle":3}`,
			http.StatusUnprocessableEntity, []string{"/way/0/door_height", "/way/0/door_width", "/way/1/angle"}},
		{`{"kind":"door","width":1,"height":80},{"kind":"turn","first":40,"second":"99 mm"},{"kind":"door","width":"100 mm","height":"100 mm"}`,
			http.StatusUnprocessableEntity, []string{"/way/0/width", "/way/1/second"}},
		{`{"kind":"stairs"},{"kind":"door","width":0,"height":-2}`,
			http.StatusBadRequest, []string{"/way/0/kind", "/way/1/height", "/way/1/width"}},
		{``, http.StatusBadRequest, []string{"/way"}},
	} {
		a := c.post(t, "/v1/passages", passing("in", 90, 20, 1.5, test.way))
		require.Equal(t, test.status, a.status, "%s", a.body)
		var pointers []string
		for _, e := range a.tree(t)["errors"].([]any) {
			pointers = append(pointers, e.(map[string]any)["pointer"].(string))
		}
		require.Equal(t, test.pointers, pointers, "%s", a.body)
	}
}
