package api_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/estimates"
	"seamwright/service/catalogue"
	"seamwright/service/drawing/seam"
	"seamwright/service/drawing/season"
	"seamwright/store/storetest"
	"seamwright/store/storetest/drawtest"
)

// What was kept reads back into what gives the same answer: byte for byte, but for assumptions and workings, which are not
// read, and for texts of lengths and the dearer rounding of a gap, where a figure that was rounded once lies on the edge
// between two fractions.
func sameAgain(t require.TestingT, cat *catalogue.Snapshot, raw string) {
	est, err := estimates.Make([]byte(raw), cat, noon, false)
	if err != nil {
		return // an order that cannot be made; others are
	}
	first := estimates.Encode(est)
	kept, err := estimates.Read(string(first))
	require.NoError(t, err)
	again := estimates.Encode(kept)
	var a, b any
	require.NoError(t, json.Unmarshal(first, &a))
	require.NoError(t, json.Unmarshal(again, &b))
	require.Equal(t, withoutTexts(a), withoutTexts(b))
	for k := range est.Corners {
		was, err := seam.Draw(est, k, seam.Options{})
		require.NoError(t, err)
		is, err := seam.Draw(kept, k, seam.Options{})
		require.NoError(t, err)
		require.Len(t, drawtest.Read(t, is).Rows, len(drawtest.Read(t, was).Rows))
		// An arrow more or less: a slide that rounds to nothing on one side of the reading.
		require.InDelta(t, len(drawtest.Read(t, was).Elements), len(drawtest.Read(t, is).Elements), 8,
			"nothing that is drawn is lost")
	}
	for k := range est.Runs {
		_, err := season.Draw(kept, k, season.Options{})
		require.NoError(t, err)
	}
}

func withoutTexts(value any) any {
	switch v := value.(type) {
	case map[string]any:
		out := map[string]any{}
		for key, inside := range v {
			if !strings.HasSuffix(key, "_text") && key != "assumptions" {
				out[key] = withoutTexts(inside)
			}
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = withoutTexts(v[i])
		}
		return out
	}
	return value
}

func TestAKeptAnswerReadsBack(t *testing.T) {
	t.Parallel()
	cat := storetest.Demo(t)
	files, err := filepath.Glob("../testdata/requests/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	for _, file := range files {
		raw, err := os.ReadFile(file)
		require.NoError(t, err)
		sameAgain(t, cat, string(raw))
	}
	sameAgain(t, cat, deskMadeAt(12))
	sameAgain(t, cat, deskMadeAt(10))
	orders := rapid.Custom(drawRequest)
	for seed := range 60 {
		sameAgain(t, cat, orders.Example(seed))
	}
}

// drawRequest draws an ordinary request.
func drawRequest(t *rapid.T) string {
	units := rapid.SampledFrom([]string{"in", "mm"}).Draw(t, "units")
	size := func(low, high float64) float64 {
		mm := rapid.Float64Range(low, high).Draw(t, "size")
		if units == "in" {
			return mm / 25.4
		}
		return mm
	}
	n := rapid.IntRange(1, 3).Draw(t, "runs")
	runs, corners := []any{}, []any{}
	for i := range n {
		runs = append(runs, map[string]any{"length": size(1500, 3200), "depth": size(450, 800)})
		if i > 0 {
			corners = append(corners, map[string]any{"angle": rapid.SampledFrom([]float64{90, 83, 100, 135, 270}).Draw(t,
				"angle"),
				"joint": rapid.SampledFrom([]string{"auto", "butt", "miter", "masons_miter"}).Draw(t, "joint")})
		}
	}
	top := map[string]any{"species": rapid.SampledFrom([]string{"maple_sugar", "walnut_black", "oak_white",
		"teak"}).Draw(t, "species"), "thickness": size(25, 45), "runs": runs, "corners": corners,
		"hand": rapid.SampledFrom([]string{"left", "right"}).Draw(t, "hand"),
		"edge": map[string]any{"profile": rapid.SampledFrom([]string{"square", "eased", "roundover", "ogee"}).Draw(t,
			"profile")}}
	raw, err := json.Marshal(map[string]any{"units": units, "top": top, "pricing": map[string]any{"as_of": "2026-11-01"}})
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

func TestWhatIsNoAnswerIsNotRead(t *testing.T) {
	t.Parallel()
	for _, raw := range []string{"", "[]", `{"price": {"total": "x"}}`, `{"runs": 3}`} {
		_, err := estimates.Read(raw)
		require.Error(t, err, raw)
	}
	old, err := estimates.Read(`{"units": "mm", "price": {"total": "5.00"}}`)
	require.NoError(t, err, "fields that an older answer lacks are zero")
	require.Equal(t, "5.00", old.Price.Total.String())
}

// An answer of before steps said what they give, or staves how wide they are glued, still says what is included and is still read.
func TestAnAnswerKeptBeforeStepsGaveIsRead(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "requests", "l_desk.json"))
	require.NoError(t, err)
	est, err := estimates.Make(raw, storetest.Demo(t), noon, false)
	require.NoError(t, err)
	first := estimates.Encode(est)
	var tree map[string]any
	require.NoError(t, json.Unmarshal(first, &tree))
	for _, step := range tree["labour"].(map[string]any)["steps"].([]any) {
		delete(step.(map[string]any), "gives")
	}
	for _, run := range tree["runs"].([]any) {
		delete(run.(map[string]any)["blank"].(map[string]any), "stave_finished")
	}
	delete(tree["top"].(map[string]any)["edge"].(map[string]any), "moulding")
	old, err := json.Marshal(tree)
	require.NoError(t, err)
	kept, err := estimates.Read(string(old))
	require.NoError(t, err)
	included, left := kept.Services()
	require.Equal(t, catalogue.Services[:], included)
	require.Empty(t, left)
	require.Zero(t, kept.Runs[0].Blank.StaveWidth)
	require.InDelta(t, float64(est.Runs[0].Blank.StaveRip), float64(kept.Runs[0].Blank.StaveRip), 1e-3)
}
