package api_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// usedDesk is an order for a desk made at a moisture, with one corner as more says.
func usedDesk(making float64, more string) string {
	return fmt.Sprintf(
		`{"units":"mm","top":{"species":"maple_sugar","thickness":38,"runs":[{"name":"A","length":2400,"depth":650},{"name":"B","length":1800,"depth":650}],
		"corners":[{"angle":90,"joint":"miter"%s}]},"moisture":{"making":{"content":%g},"service":{"dry":{"content":6.2},"humid":{"content":10}}},"pricing":{"as_of":"2026-11-01"}}`,
		more,
		making,
	)
}

func diagnosis(estimate, date, measured, more string) string {
	return fmt.Sprintf(`{"estimate":%s,"date":%q,"measured":{%s}%s}`, estimate, date, measured, more)
}

// at is a number of an answer by its way.
func at(t *testing.T, tree map[string]any, way ...string) float64 {
	t.Helper()
	for _, name := range way[:len(way)-1] {
		tree = tree[name].(map[string]any)
	}
	return tree[way[len(way)-1]].(float64)
}

// trueWidth is how wide a run made at a moisture is at another one, by a movement that is asked by itself.
func trueWidth(t *testing.T, c *client, making, now float64) float64 {
	t.Helper()
	a := c.post(t, "/v1/movements", fmt.Sprintf(`{"units":"mm","species":"maple_sugar","width":650,"moisture":{"making":{"content":%g},"service":{"dry":{"content":%g},"humid":{"content":%g}}}}`, making, now, now)).
		tree(t)
	return 650 + at(t, a, "movement", "to_dry")
}

// Tops whose truth is known: the order said 8 %, the wood was made at another moisture. The finding and the moisture
// that it implies are those of the truth.
func TestADiagnosisFindsHowTheWoodWasReallyMade(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, x := range []struct {
		truth, now float64
		finding    string
	}{{8, 6.2, "as_predicted"}, {8, 10, "as_predicted"}, {8.4, 7, "as_predicted"}, {11.5, 6.2, "made_wet"}, {11.5, 9, "made_wet"},
		{5, 9.5, "made_dry"}, {5, 6.4, "made_dry"}, {19, 7, "not_explained"}} {
		width := trueWidth(t, c, x.truth, x.now)
		a := c.post(
			t,
			"/v1/diagnoses",
			diagnosis(usedDesk(8, ""), "2028-02-10", fmt.Sprintf(`"width":%.2f,"content":%g`, width, x.now), ""),
		)
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		tree := a.tree(t)
		require.Equal(t, x.finding, tree["finding"], "made at %g, now %g: %s", x.truth, x.now, a.body)
		require.InDelta(t, trueWidth(t, c, 8, x.now), at(t, tree, "predicted", "width"), 0.03)
		if x.finding == "made_wet" || x.finding == "made_dry" {
			require.InDelta(t, x.truth, tree["implied_making"], 0.5)
		} else {
			require.Nil(t, tree["implied_making"])
		}
		require.Equal(t, "content", tree["moisture"].(map[string]any)["by"])
		require.Contains(t, fmt.Sprint(tree["advice"]), "no promise")
		off := width - at(t, tree, "predicted", "width")
		require.Equal(
			t,
			x.finding == "as_predicted",
			off*off <= at(t, tree, "tolerance", "width")*at(t, tree, "tolerance", "width"),
		)
	}
}

// A seam whose legs should swing gapes as if they could not: a leg is held. One that is said to be rigid gapes as was
// said. A gap far beyond either is the wood's.
func TestADiagnosisTellsAHeldLegFromWrongWood(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	const depth = 300
	// its legs are short enough to swing
	narrow := func(more string) string {
		return strings.NewReplacer("650", strconv.Itoa(depth), "2400", "1000", "1800", "900").Replace(usedDesk(8, more))
	}
	free, rigid := narrow(`,"restrained":false`), narrow(`,"restrained":true`)
	finding := func(estimate, measured, more string) map[string]any {
		a := c.post(t, "/v1/diagnoses", diagnosis(estimate, "2028-02-10", measured, more))
		require.Equal(t, http.StatusOK, a.status, string(a.body))
		return a.tree(t)
	}
	shut := finding(free, `"gap":0.1,"content":6.2`, "")
	require.Equal(t, "as_predicted", shut["finding"])
	require.Zero(t, at(t, shut, "predicted", "gap"))
	bound := at(t, shut, "held_gap")
	require.InDelta(t, 1.41421*depth*0.00353*1.8, bound, 0.02, "√2·d·ε")
	held := finding(free, fmt.Sprintf(`"gap":%.2f,"content":6.2`, bound), "")
	require.Equal(t, "held", held["finding"])
	require.Contains(t, fmt.Sprint(held["advice"]), "Slack the fixings")
	require.Equal(t, "as_predicted", finding(rigid, fmt.Sprintf(`"gap":%.2f,"content":6.2`, bound), "")["finding"])

	// made at 12 and not 8: √2·300·0.00353·(12 − 6.2) at the front
	gap := fmt.Sprintf(`"gap":%.2f,"content":6.2`, 1.41421*depth*0.00353*(12-6.2))
	for _, order := range []string{free, rigid} {
		wet := finding(order, gap, `,"gap_at":"front"`)
		require.Equal(t, "made_wet", wet["finding"])
		require.InDelta(t, 12, wet["implied_making"], 0.2)
	}
	dry := finding(rigid, `"gap":8,"content":9.9`, `,"gap_at":"wall"`)
	require.Equal(t, "made_dry", dry["finding"], "it gapes at the wall: the wood has swollen more than was reckoned")
	require.Equal(t, "not_explained", finding(rigid, `"gap":40,"content":6.2`, "")["finding"])
	require.Equal(
		t,
		"not_explained",
		finding(rigid, fmt.Sprintf(`"gap":14,"width":%.2f,"content":6.2`, depth*(1-0.00353*1.8)), "")["finding"],
		"the width says that the wood is as it was said",
	)
}

// Without a meter the season counts, and the air moves it.
func TestADiagnosisGoesByTheSeasonAndTheAir(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	now := func(date, measured string) (float64, map[string]any) {
		tree := c.post(t, "/v1/diagnoses", diagnosis(usedDesk(8, ""), date, measured, "")).tree(t)
		return at(t, tree, "moisture", "now"), tree
	}
	winter, w := now("2028-03-01", `"width":650`)
	summer, _ := now("2028-09-01", `"width":650`)
	require.Less(t, winter, summer)
	require.Less(t, 6.2, winter, "a slab stays behind the air")
	require.Less(t, summer, 10.0)
	require.Equal(t, "season", w["moisture"].(map[string]any)["by"])
	require.NotEmpty(t, w["assumptions"])
	dry, d := now("2028-03-01", `"width":650,"humidity":18,"temperature":22`)
	require.Less(t, dry, winter)
	require.Equal(t, "air", d["moisture"].(map[string]any)["by"])
	_, alone := now("2028-03-01", `"content":14`)
	require.Equal(t, "not_explained", alone["finding"])
	_, alone = now("2028-03-01", fmt.Sprintf(`"content":%.1f`, winter))
	require.Equal(t, "as_predicted", alone["finding"])
}

func TestADiagnosisIsRefusedWhole(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	a := c.post(t, "/v1/diagnoses", `{"date":"2028-02-10","measured":{"gap":1}}`)
	require.Equal(t, http.StatusUnprocessableEntity, a.status)
	require.Contains(t, string(a.body), "by an estimate or by a quote")
	straight := `{"units":"mm","top":{"species":"maple_sugar","thickness":38,"runs":[{"length":2400,"depth":650}]}}`
	a = c.post(
		t,
		"/v1/diagnoses",
		diagnosis(straight, "2028-02-10", `"gap":1,"step":1,"width":900`, `,"run":"Z","corner":2`),
	)
	require.Equal(t, http.StatusUnprocessableEntity, a.status, string(a.body))
	var pointers []string
	for _, e := range a.problem(t).Errors {
		pointers = append(pointers, e.Pointer)
	}
	require.Equal(t, []string{"/corner", "/measured/gap", "/measured/step", "/measured/width", "/run"}, pointers)
	a = c.post(t, "/v1/diagnoses", diagnosis(usedDesk(35, ""), "2028-02-10", `"gap":1`, ""))
	require.Equal(t, "/estimate/moisture/making", a.problem(t).Errors[0].Pointer)
	a = c.post(t, "/v1/diagnoses", diagnosis(usedDesk(8, ""), "2028-02-30", `"gaap":1,"humidity":40`, ""))
	require.Equal(t, http.StatusBadRequest, a.status)
	require.GreaterOrEqual(t, len(a.problem(t).Errors), 3, string(a.body))
	require.Equal(
		t,
		http.StatusUnprocessableEntity,
		c.post(t, "/v1/diagnoses", diagnosis(usedDesk(8, ""), "2028-02-10", "", "")).status,
	)
}

// A kept quote is diagnosed by its own figures, whatever its units.
func TestAKeptQuoteIsDiagnosed(t *testing.T) {
	t.Parallel()
	s := newShop(t)
	made := s.post(t, "/v1/quotes", `{"estimate":`+usedDesk(8, "")+`}`)
	require.Equal(t, http.StatusCreated, made.status, string(made.body))
	var quote struct{ ID string }
	require.NoError(t, json.Unmarshal(made.body, &quote))
	by := s.post(
		t,
		"/v1/diagnoses",
		fmt.Sprintf(`{"quote":%q,"date":"2028-02-10","measured":{"width":633,"content":6.2}}`, quote.ID),
	)
	require.Equal(t, http.StatusOK, by.status, string(by.body))
	direct := s.post(t, "/v1/diagnoses", diagnosis(usedDesk(8, ""), "2028-02-10", `"width":633,"content":6.2`, ""))
	require.Equal(t, direct.tree(t)["finding"], by.tree(t)["finding"])
	require.Equal(t, "made_wet", by.tree(t)["finding"])
	require.InDelta(t, at(t, direct.tree(t), "predicted", "width"), at(t, by.tree(t), "predicted", "width"), 0.02)
	inches := s.post(t, "/v1/diagnoses", fmt.Sprintf(`{"quote":%q,"units":"in","date":"2028-02-10","measured":{"width":"24-59/64","content":6.2}}`, quote.ID)).
		tree(t)
	require.Equal(t, by.tree(t)["finding"], inches["finding"])
	require.Equal(t, by.tree(t)["predicted"], inches["predicted"], "the answer is in the top's units")
	none := s.post(t, "/v1/diagnoses", `{"quote":"quote_none","date":"2028-02-10","measured":{"width":633}}`)
	require.Equal(t, http.StatusUnprocessableEntity, none.status, string(none.body))
	require.Equal(t, "/quote", none.problem(t).Errors[0].Pointer)
}
