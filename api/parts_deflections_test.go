package api_test

import (
	"fmt"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

const overhang = `{"units":"in","species":"maple_sugar","thickness":1.5,"direction":"across","support":"overhang","length":10,"width":24,
	"load":{"uniform":10,"point":50}}`

// The same strip in inches and in millimetres sags alike; what is asked of it agrees with what is answered.
func TestDeflectionsAgreeInBothUnitsAndWithThemselves(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	in := c.post(t, "/v1/deflections", overhang).tree(t)
	mm := c.post(t, "/v1/deflections", `{"units":"mm","species":"maple_sugar","thickness":38.1,"direction":"across","support":"overhang","length":254,
		"width":609.6,"load":{"uniform":0.478802589804,"point":222.41108076}}`).tree(t)
	number := func(tree map[string]any, name string) float64 { return tree[name].(float64) }
	for name, by := range map[string]float64{"deflection": 25.4, "long_term": 25.4, "limit": 25.4, "greatest_length": 25.4,
		"stiffness": 0.006894757293168, "stress": 0.006894757293168} {
		require.InEpsilon(t, number(in, name)*by, number(mm, name), 2e-4, name)
	}
	require.Equal(t, 0.055556, in["limit"])
	require.Equal(t, number(in, "long_term") <= number(in, "limit"), in["holds"])
	at := fmt.Sprintf(`{"units":"in","species":"maple_sugar","thickness":1.5,"direction":"across","support":"overhang","length":%g,"width":24,
		"load":{"uniform":10,"point":50}}`, number(in, "greatest_length"))
	greatest := c.post(t, "/v1/deflections", at).tree(t)
	require.InEpsilon(t, number(greatest, "limit"), number(greatest, "long_term"), 1e-4, "at the greatest length the bound is reached")
	require.NotEmpty(t, in["sources"])
	require.NotEmpty(t, in["cautions"])
}

func TestWhatCannotSagIsRefusedAllAtOnce(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, k := range []struct {
		name, body string
		status     int
		pointers   []string
	}{
		{"no table has teak's elastic ratios", `{"units":"mm","species":"teak","thickness":38,"direction":"across","support":"overhang","length":250,"width":600,"load":{"uniform":1}}`,
			422, []string{"/species"}},
		{"nor how rift-sawn maple shears", `{"units":"mm","species":"maple_sugar","sawn":"rift","thickness":38,"direction":"across","support":"overhang","length":250,"width":600,"load":{"uniform":1}}`,
			422, []string{"/sawn"}},
		{"one length and several", `{"units":"mm","species":"mapel_sugar","thickness":3800,"direction":"along","support":"span","spans":[900,900],"back":100,"width":600,"load":{}}`,
			422, []string{"/back", "/spans", "/species", "/thickness"}},
		{"several spans without any", `{"units":"mm","species":"maple_sugar","thickness":38,"direction":"along","support":"spans","width":600,"load":{}}`,
			422, []string{"/spans"}},
		{"no length", `{"units":"mm","species":"maple_sugar","thickness":38,"direction":"along","support":"span","width":600,"load":{}}`, 422, []string{"/length"}},
		{"no span", `{"units":"mm","species":"maple_sugar","thickness":38,"direction":"along","support":"spans","spans":["0 mm","wide"],"width":600,"load":{}}`,
			400, []string{"/spans/0", "/spans/1"}},
		{"what is not known here", `{"units":"mm","species":"maple_sugar","thickness":38,"direction":"up","support":"span","width":600,"load":{"uniform":-1,"weight":3}}`,
			400, []string{"/direction", "/load/uniform", "/load/weight"}},
	} {
		a := c.post(t, "/v1/deflections", k.body)
		require.Equal(t, k.status, a.status, "%s: %s", k.name, a.body)
		require.Equal(t, k.pointers, pointersOf(a.tree(t)), k.name)
	}
}

// pointersOf lists what is wrong, in the order of the answer.
func pointersOf(problem map[string]any) (list []string) {
	for _, e := range problem["errors"].([]any) {
		list = append(list, e.(map[string]any)["pointer"].(string))
	}
	return list
}

func TestAStripWithNothingToCarryHolds(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/deflections", `{"units":"mm","species":"walnut_black","thickness":38,"direction":"along","support":"span","length":900,"width":600,"load":{"uniform":0}}`)
	require.Equal(t, http.StatusOK, a.status)
	tree := a.tree(t)
	require.Equal(t, true, tree["holds"])
	require.Nil(t, tree["greatest_length"])
	require.Equal(t, 0., tree["deflection"])
}
