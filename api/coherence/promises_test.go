package coherence_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// base is the order of sugar maple that examples are told of: 96 and 72 × 25-1/2 in, 1-1/2 in, made at 7.5 %.
func base(angle float64, corner map[string]any, edge map[string]any) order {
	corner["angle"] = angle
	return order{inches: true, names: []string{"A", "B"}, lengths: []float64{96 * inch, 72 * inch},
		depths: []float64{25.5 * inch, 25.5 * inch}, angles: []float64{angle * degree},
		body: map[string]any{"units": "in", "pricing": map[string]any{"as_of": "2026-11-01"},
			"moisture": map[string]any{"making": map[string]any{"content": 7.5},
				"service": map[string]any{"profile": "heated_house"}},
			"top": map[string]any{"species": "maple_sugar", "thickness": "1-1/2", "edge": edge, "corners": []any{corner},
				"runs": []any{map[string]any{"length": 96.0, "depth": 25.5}, map[string]any{"length": 72.0, "depth": 25.5}}}}}
}

func square() map[string]any { return map[string]any{"profile": "square"} }

// Nobody's nominal angle for a corner of 60° is 45°: the warning comes within 10° of a usual angle alone.
func TestOnlyACornerNearAUsualAngleIsComparedWithIt(t *testing.T) {
	cat := storetest.Demo(t)
	for angle, warns := range map[float64]bool{90: false, 88: true, 60: false, 50: true, 104: false, 140: true,
		112: false} {
		answer, refused := ask(t, base(angle, map[string]any{}, square()).body, cat)
		require.Empty(t, refused, "%v°", angle)
		found := false
		for _, w := range answer.get("warnings").list() {
			found = found || w.get("code").text() == "not_the_nominal_angle"
		}
		require.Equal(t, warns, found, "%v°", angle)
	}
}

// A refusal says what excludes each joint as an item of its own, not in one sentence as long as a page.
func TestARefusedJointListsWhatExcludesEachCandidate(t *testing.T) {
	cat := storetest.Demo(t)
	o := base(270, map[string]any{"joint": "masons_miter"}, map[string]any{"profile": "roundover", "size": 0.25})
	_, refused := ask(t, o.body, cat)
	require.Greater(t, len(refused), 1)
	for _, r := range refused {
		require.Less(t, len(r), 500, r)
	}
	require.Contains(t, strings.Join(refused, "\n"), "needs an inner corner")
}

// The base order answers as a whole, whatever is asked of its corner.
func TestTheBaseOrderAgreesWithItself(t *testing.T) {
	cat := storetest.Demo(t)
	for _, profile := range []string{"square", "roundover"} {
		for _, joint := range []string{"auto", "butt", "miter", "masons_miter"} {
			for _, angle := range []float64{60, 83, 90, 135} {
				o := base(angle, map[string]any{"joint": joint}, map[string]any{"profile": profile})
				if answer, refused := ask(t, o.body, cat); refused == nil {
					newAnswer(answer, o).agrees()
				}
			}
		}
	}
}
