package coherence_test

import (
	"testing"

	"seamwright/store/storetest"
)

// Orders whose answers did not agree with themselves, found by drawing.
func TestChainsThatOnceDisagreed(t *testing.T) {
	cat := storetest.Demo(t)
	for name, o := range map[string]order{
		// The slots of the first corner were placed by the edges of another joint's pieces.
		"edges of another joint": {inches: true, names: []string{"A", "B", "C"},
			lengths: []float64{33.8125 * inch, 37.5625 * inch, 26.375 * inch},
			depths:  []float64{10.625 * inch, 10.5 * inch, 10.5 * inch}, angles: []float64{135 * degree, 134.13 * degree},
			hand: "left",
			body: map[string]any{"units": "in", "pricing": map[string]any{"as_of": "2026-11-01"},
				"moisture": map[string]any{"service": map[string]any{"dry": map[string]any{"content": 10.0},
					"humid": map[string]any{"content": 12.8}}},
				"top": map[string]any{"species": "maple_sugar", "thickness": "19.05 mm", "hand": "left",
					"edge":   map[string]any{"profile": "square"},
					"fixing": map[string]any{"kind": "slotted_screws"},
					"runs": []any{map[string]any{"length": 33.8125, "depth": 10.625},
						map[string]any{"length": 37.5625, "depth": 10.5}, map[string]any{"length": 26.375, "depth": 10.5}},
					"corners": []any{map[string]any{"angle": 135.0, "joint": "butt", "hold_at": "back", "restrained": false},
						map[string]any{"angle": 134.13, "hold_at": "front"}}}}},
		// The second corner's cost was reckoned with the first corner's parts as they began.
		"parts as they began": {inches: true, names: []string{"A", "B", "C"},
			lengths: []float64{24.75 * inch, 50.375 * inch, 33.625 * inch},
			depths:  []float64{8.6875 * inch, 9 * inch, 17.875 * inch}, angles: []float64{90 * degree, 145.3 * degree},
			body: map[string]any{"units": "in", "pricing": map[string]any{"as_of": "2026-11-01"},
				"top": map[string]any{"species": "douglas_fir", "sawn": "mixed", "thickness": "38.10 mm",
					"fixing": map[string]any{"fixed_line": "back"},
					"edge":   map[string]any{"profile": "ogee", "inside_corner": "carved"},
					"runs": []any{map[string]any{"length": 24.75, "depth": 8.6875}, map[string]any{"length": 50.375, "depth": 9.0},
						map[string]any{"length": 33.625, "depth": 17.875}},
					"corners": []any{map[string]any{"angle": 90.0, "joint": "butt", "through": "first", "hold_at": "front",
						"carry": "none"}, map[string]any{"angle": 145.3, "pull": "draw_bolt"}}}}},
	} {
		t.Run(name, func(t *testing.T) {
			answer, refused := ask(t, o.body, cat)
			if refused != nil {
				t.Fatalf("refused: %v", refused)
			}
			newAnswer(answer, o).agrees()
		})
	}
}
