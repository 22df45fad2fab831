package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/summary"
	"seamwright/service/drawing/days"
	"seamwright/store/storetest"
)

// deskMadeAt is an order whose wood should be at about 8.1 %.
func deskMadeAt(percent float64) string {
	return fmt.Sprintf(`{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":96,"depth":25.5},{"length":72,"depth":25.5}],"corners":[{"angle":90}]},
		"moisture":{"making":{"content":%g},"service":{"dry":{"humidity":30,"temperature":70},"humid":{"humidity":55,"temperature":72}}},"pricing":{"as_of":"2026-11-01"}}`, percent)
}

// Wherever working days stand, wood far from ready takes them away, and says why.
func TestWoodFarFromReadyPromisesNoDayAnywhere(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	est := c.post(t, "/v1/estimates", deskMadeAt(12)).tree(t)
	require.Nil(t, est["labour"].(map[string]any)["working_days"])
	require.Contains(t, est["labour"].(map[string]any)["no_promise"], "No working days are promised")
	require.Equal(t, map[string]any{"ready": false, "promise": false, "target": 8.11, "off": 3.89, "thickness": 2.,
		"thickness_text": "2", "humidity": 43.,
		"rest_days": map[string]any{"least": 62., "likely": 122., "most": 243.},
		"text":      est["conditioning"].(map[string]any)["text"]}, est["conditioning"])
	require.Equal(t, "wood_not_ready", est["warnings"].([]any)[0].(map[string]any)["code"])

	line := strings.ReplaceAll(deskMadeAt(12), "\n", "")
	require.Nil(t, c.batch(t, "?fields=summary", line+"\n")[0]["estimate"].(map[string]any)["working_days"])
	compared := c.post(t, "/v1/joint-comparisons", deskMadeAt(12)).tree(t)
	require.Equal(t, est["conditioning"], compared["conditioning"])

	made, err := estimates.Make([]byte(deskMadeAt(12)), storetest.Demo(t), noon, false)
	require.NoError(t, err)
	require.Contains(t, string(days.Draw(&made.Labour, days.Options{Width: 174, Height: 240, ID: "d"})[0]),
		"No days are promised")
	subject := &show.Subject{Estimate: made, Shop: &storetest.Demo(t).Settings.ShopSettings, Date: "2026-11-01"}
	for name, says := range map[string]string{"offer.html": "does not have the right moisture yet",
		"shop-sheet.html": "No working days are promised"} {
		page, err := show.Make(name, subject, show.Options{})
		require.NoError(t, err)
		require.Contains(t, string(page), says, name)
		require.NotContains(t, string(page), "0 working days", name)
	}
	var printed bytes.Buffer
	require.NoError(t, summary.Write(&printed, made, summary.Screen{}))
	require.Contains(t, printed.String(), "No working days are promised")

	ready := c.post(t, "/v1/estimates", deskMadeAt(8)).tree(t)
	require.Positive(t, ready["labour"].(map[string]any)["working_days"])
	require.Nil(t, ready["labour"].(map[string]any)["no_promise"])
}

func TestWoodTooWetIsRefusedAtItsPlace(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, path := range []string{"/v1/estimates", "/v1/joint-comparisons"} {
		a := c.post(t, path, deskMadeAt(35))
		require.Equal(t, http.StatusUnprocessableEntity, a.status)
		p := a.problem(t)
		require.Len(t, p.Errors, 1)
		require.Equal(t, "/moisture/making", p.Errors[0].Pointer)
	}
	// Its movement alone can be asked for: no day hangs on it.
	a := c.post(t, "/v1/movements",
		`{"units":"in","species":"maple_sugar","width":25.5,"moisture":{"making":{"content":35},"service":{"profile":"heated_house"}}}`)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	require.Equal(t, []any{"coefficient", "shrinkage"}, a.tree(t)["movement"].(map[string]any)["methods"])
}

// Answers kept from before the wood's state and the rules of movement were told are read, and shown, as they were.
func TestAnOlderAnswerKnowsNothingOfReadyWood(t *testing.T) {
	t.Parallel()
	made, err := estimates.Make([]byte(deskMadeAt(8)), storetest.Demo(t), noon, false)
	require.NoError(t, err)
	raw := estimates.Encode(made)
	var tree map[string]any
	require.NoError(t, json.Unmarshal(raw, &tree))
	delete(tree, "conditioning")
	delete(tree["labour"].(map[string]any), "no_promise")
	for _, run := range tree["runs"].([]any) {
		delete(run.(map[string]any)["movement"].(map[string]any), "methods")
	}
	old, err := json.Marshal(tree)
	require.NoError(t, err)
	kept, err := estimates.Read(string(old))
	require.NoError(t, err)
	require.Nil(t, kept.Conditioning)
	require.Equal(t, made.Labour.WorkingDays, kept.Labour.WorkingDays)
	again := estimates.Encode(kept)
	require.NotContains(t, string(again), `"conditioning"`)
}
