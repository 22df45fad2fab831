package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
)

// stockOf is the desk of deskMadeAt without a moisture at making, and with what is known of its stock.
func stockOf(stock string) string {
	return strings.Replace(deskMadeAt(8), `"making":{"content":8}`, `"stock":{`+stock+`}`, 1)
}

// Readings and air decide whether stock is accepted, rests or is refused; the wait is the one that POST
// /v1/conditionings tells, stands in the labour plan and moves the day of delivery.
func TestStockIsAcceptedRestedOrRefused(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	of := func(stock string) map[string]any {
		a := c.post(t, "/v1/estimates", stockOf(stock))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		return a.tree(t)
	}
	stockIn := func(e map[string]any) map[string]any {
		return e["conditioning"].(map[string]any)["stock"].(map[string]any)
	}
	good := of(`"readings":[7.5,8.2,8.9]`)
	require.Equal(t, "accept", stockIn(good)["verdict"])
	require.InDelta(
		t,
		8.2,
		at(t, good["runs"].([]any)[0].(map[string]any), "moisture", "making"),
		1e-9,
		"the mean counts as made",
	)
	require.Equal(t, []any{7.5, 8.9}, []any{stockIn(good)["least"], stockIn(good)["greatest"]})
	require.Zero(t, stockIn(good)["days"])
	require.Positive(t, good["labour"].(map[string]any)["working_days"])

	// The mean is ready, one board is not: it rests, and everything waits for it.
	spread := of(`"readings":[7.2,7.6,10.4]`)
	require.Equal(t, "rest", stockIn(spread)["verdict"])
	require.Equal(t, false, spread["conditioning"].(map[string]any)["ready"])
	days := at(t, stockIn(spread), "days")
	require.Greater(t, days, 10.0)
	require.Less(t, at(t, stockIn(spread), "days_low"), days)
	require.Greater(t, at(t, spread, "labour", "working_days"), at(t, good, "labour", "working_days"))
	require.GreaterOrEqual(t, at(t, spread, "labour", "critical_path_hours"), 24*days)
	require.Equal(t, "wood_must_rest", spread["warnings"].([]any)[0].(map[string]any)["code"])

	// The same days as the call for them tells, in air whose equilibrium is the middle of the service range.
	shop := of(`"readings":[10.4],"air":{"humidity":42.7,"temperature":70}`)
	target := at(t, shop, "conditioning", "target")
	equilibrium := at(t, stockIn(shop), "equilibrium")
	require.InDelta(t, target, equilibrium, 0.06)
	alone := c.post(t, "/v1/conditionings", `{"units":"in","species":"maple_sugar","thickness":2,"moisture":{"making":{"content":10.4}},"air":{"humidity":42.7,"temperature":70},"within":1}`).
		tree(t)
	require.InEpsilon(t, at(t, alone, "days"), at(t, stockIn(shop), "days"), 0.05)
	require.Equal(t, 2., at(t, shop, "conditioning", "thickness"))

	// A damp shed never dries it so far, dry air does it sooner.
	shed := of(`"readings":[12],"air":{"humidity":70,"temperature":50}`)
	require.Equal(t, "refuse", stockIn(shed)["verdict"])
	require.Nil(t, shed["labour"].(map[string]any)["working_days"])
	require.Contains(t, shed["labour"].(map[string]any)["no_promise"], "never comes near enough")
	require.Equal(t, "wood_not_ready", shed["warnings"].([]any)[0].(map[string]any)["code"])
	dry := of(`"readings":[10.4],"air":{"humidity":30,"temperature":70}`)
	require.Equal(t, "rest", stockIn(dry)["verdict"])
	require.Less(t, at(t, stockIn(dry), "days"), at(t, stockIn(shop), "days"))
	far := of(`"readings":[14]`)
	require.Equal(t, "rest", stockIn(far)["verdict"])
	require.Nil(t, far["labour"].(map[string]any)["working_days"], "more than three points off")

	// What was kept is read back.
	kept := c.post(t, "/v1/estimates", stockOf(`"readings":[7.2,7.6,10.4]`))
	read, err := estimates.Read(string(kept.body))
	require.NoError(t, err)
	require.InDelta(t, days, read.Conditioning.Stock.Days.Likely, 0.051)
}

func TestStockThatCannotBeIsRefusedAtItsPlace(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for stock, pointer := range map[string]string{
		`"readings":[8,24]`: "/moisture/stock/readings/1",
		`"readings":[8,9],"air":{"humidity":50,"temperature":-10}`: "/moisture/stock/air",
	} {
		a := c.post(t, "/v1/estimates", stockOf(stock))
		require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
		require.Contains(t, a.problem(t).Errors[0].Pointer, pointer)
	}
	both := strings.Replace(
		deskMadeAt(8),
		`"making":{"content":8}`,
		`"making":{"content":8},"stock":{"readings":[8]}`,
		1,
	)
	a := c.post(t, "/v1/estimates", both)
	require.Equal(t, "/moisture/stock/readings", a.problem(t).Errors[0].Pointer)
	a = c.post(
		t,
		"/v1/movements",
		`{"units":"in","species":"maple_sugar","width":25.5,"moisture":{"stock":{"readings":[8]}}}`,
	)
	require.Equal(t, http.StatusBadRequest, a.status, "a width alone has no stock")
	require.Equal(
		t,
		"accept",
		c.post(t, "/v1/estimates", stockOf("")).tree(t)["conditioning"].(map[string]any)["stock"].(map[string]any)["verdict"],
	)
}
