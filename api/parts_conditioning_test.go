package api_test

import (
	"fmt"
	"math"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

func resting(species string, thickness, making, humidity, celsius, within float64, faces string) string {
	return fmt.Sprintf(
		`{"units":"mm","species":%q,"thickness":%g,"moisture":{"making":{"content":%g}},"air":{"humidity":%g,"temperature":%g},"faces":%q,"within":%g}`,
		species,
		thickness,
		making,
		humidity,
		celsius,
		faces,
		within,
	)
}

// left is the share of a change that is still to be made after days: Crank's series, with its roots found by halving.
func left(t float64, d, surface, way float64) float64 {
	l, sum := way*surface/d, 0.0
	for n := range 60 {
		low, high := float64(n)*math.Pi, float64(n)*math.Pi+math.Pi/2-1e-12
		for range 200 {
			if mid := (low + high) / 2; mid*math.Tan(mid) < l {
				low = mid
			} else {
				high = mid
			}
		}
		b := high
		sum += 2 * l * l / (b * b * (b*b + l*l + l)) * math.Exp(-b*b*d*t/(way*way))
	}
	return sum
}

// The days are those after which the series, reckoned from the answer's own figures, leaves so many points.
func TestDaysOfRestFollowFromTheAnswer(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, faces := range []string{"both", "one"} {
		for _, making := range []float64{13, 4} {
			a := c.post(t, "/v1/conditionings", resting("cherry_black", 34, making, 50, 19, 0.7, faces)).tree(t)
			number := func(name string) float64 { return a[name].(float64) }
			way := 17.0
			if faces == "one" {
				way = 34
			}
			off := math.Abs(making - number("equilibrium"))
			require.InDelta(t, making-number("equilibrium"), number("off"), 1e-9)
			require.InDelta(t, 0.7/off, left(number("days"), number("diffusion"), number("surface"), way), 0.0005)
			require.InDelta(
				t,
				0.7/off,
				left(number("days_low"), number("diffusion_high"), number("surface"), way),
				0.0005,
			)
			require.InDelta(
				t,
				0.7/off,
				left(number("days_high"), number("diffusion_low"), number("surface"), way),
				0.0005,
			)
			require.False(t, a["ready"].(bool))
			require.NotEmpty(t, a["sources"])
			require.Less(t, number("days_low"), number("days"))
			require.Less(t, number("days"), number("days_high"))
		}
	}
}

// What a maker would expect without a formula.
func TestDaysOfRestGoTheRightWay(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	days := func(body string) float64 { return c.post(t, "/v1/conditionings", body).tree(t)["days"].(float64) }
	usual := days(resting("maple_sugar", 34, 12, 45, 20, 1, "both"))
	require.Greater(t, usual, days(resting("poplar_yellow", 34, 12, 45, 20, 1, "both")), "a lighter wood")
	require.Greater(t, usual, days(resting("maple_sugar", 34, 12, 45, 20, 2, "both")), "nearer is enough")
	require.Less(t, usual, days(resting("maple_sugar", 34, 14, 45, 20, 1, "both")), "wetter at first")
	require.Greater(t, days(resting("maple_sugar", 34, 12, 45, 5, 1, "both")), 1.5*usual, "a cold shed")
	require.InEpsilon(t, 4*usual, days(resting("maple_sugar", 68, 12, 45, 20, 1, "both")), 0.02, "twice as thick")
	require.InEpsilon(
		t,
		4*usual,
		days(resting("maple_sugar", 34, 12, 45, 20, 1, "one")),
		0.02,
		"one face is twice the thickness",
	)

	ready := c.post(t, "/v1/conditionings", resting("maple_sugar", 34, 9, 45, 20, 1, "both")).tree(t)
	require.Equal(
		t,
		[]any{true, 0., 0., 0.},
		[]any{ready["ready"], ready["days"], ready["days_low"], ready["days_high"]},
	)

	inches := c.post(t, "/v1/conditionings", `{"units":"in","species":"maple_sugar","thickness":"34 mm","moisture":{"making":{"content":12}},"air":{"humidity":45,"temperature":68},"faces":"both","within":1}`).
		tree(t)
	require.Equal(t, usual, inches["days"], "in inches and °F")
	air := c.post(t, "/v1/conditionings", `{"units":"mm","species":"maple_sugar","thickness":34,"moisture":{"making":{"humidity":45,"temperature":20}},"air":{"humidity":45,"temperature":20}}`).
		tree(t)
	require.Equal(t, air["making"], air["equilibrium"])
	require.Equal(t, true, air["ready"])
}

func TestRestThatCannotBeReckonedIsRefusedWhole(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/conditionings", resting("maple", 900, 40, 45, 90, 1, "both"))
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	var at []string
	for _, e := range a.problem(t).Errors {
		at = append(at, e.Pointer)
	}
	require.Equal(t, []string{"/air/temperature", "/moisture/making", "/species", "/thickness"}, at)

	a = c.post(
		t,
		"/v1/conditionings",
		`{"units":"mm","species":"maple_sugar","thickness":0,"moisture":{},"air":{"humidity":45},"face":"one"}`,
	)
	require.Equal(t, http.StatusBadRequest, a.status)
	require.GreaterOrEqual(t, len(a.problem(t).Errors), 4, string(a.body))
}
