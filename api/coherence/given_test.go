package coherence_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// The tops that the project shows, tries and measures itself by agree with themselves as any drawn one does.
func TestTheReferenceTopsAgree(t *testing.T) {
	cat := storetest.Demo(t)
	walked := 0
	for _, folder := range []string{"requests", "tops"} {
		files, err := filepath.Glob(filepath.Join("..", "..", "testdata", folder, "*.json"))
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			raw, err := os.ReadFile(file)
			require.NoError(t, err)
			t.Run(folder+"/"+filepath.Base(file), func(t *testing.T) {
				o := given(t, raw)
				answer, refused := ask(t, o.body, cat)
				require.Empty(t, refused)
				a := newAnswer(answer, o.asMade(answer))
				a.agrees()
			})
			walked++
		}
	}
	require.Greater(t, walked, 30)
}

// given is an order as somebody wrote it, and what it means by the rules of the spec that this file knows itself.
func given(t *testing.T, raw []byte) order {
	t.Helper()
	var body map[string]any
	require.NoError(t, json.Unmarshal(raw, &body))
	object(body, "pricing")["as_of"] = "2026-11-01"
	o := order{body: body, inches: body["units"] == "in"}
	top := body["top"].(map[string]any)
	o.hand, _ = top["hand"].(string)
	o.thickness = o.written(t, top["thickness"])
	for i, r := range top["runs"].([]any) {
		r := r.(map[string]any)
		name, said := r["name"].(string)
		if !said {
			name = string(rune('A' + i))
		}
		o.names = append(o.names, name)
		o.lengths, o.depths = append(o.lengths, o.written(t, r["length"])), append(o.depths, o.written(t, r["depth"]))
	}
	corners, _ := top["corners"].([]any)
	for _, c := range corners {
		o.angles = append(o.angles, o.turn(t, c.(map[string]any)))
	}
	return o
}

// asMade is the order with the runs that were made of pieces told piece by piece, where the answer says that they meet.
func (o order) asMade(answer node) order {
	made := answer.get("runs").list()
	if len(made) == len(o.names) {
		return o
	}
	whole, k := o, 0
	o.names, o.lengths, o.depths, o.angles = nil, nil, nil, nil
	for i := range whole.names {
		pieces := 1
		if part := made[k]; part.has("part_of") {
			pieces = part.get("part_of", "count").int()
		}
		from := 0.0
		for n := range pieces {
			to := whole.lengths[i]
			if n < pieces-1 {
				to = made[k+n].get("part_of", "to").num()
				if o.inches {
					to *= inch
				}
				o.angles = append(o.angles, math.Pi)
			}
			o.names, o.lengths, o.depths = append(o.names, made[k+n].get("name").text()), append(o.lengths, to-from), append(o.depths, whole.depths[i])
			from = to
		}
		if k += pieces; i < len(whole.angles) {
			o.angles = append(o.angles, whole.angles[i])
		}
	}
	return o
}

// turn is a corner's angle as it is said, or of three taped lengths by the law of cosines (trade.md 2).
func (o *order) turn(t *testing.T, corner map[string]any) float64 {
	t.Helper()
	if angle, said := corner["angle"].(float64); said {
		return angle * degree
	}
	taped := corner["measured"].(map[string]any)
	a, b, c := o.written(t, taped["along_first"]), o.written(t, taped["along_second"]), o.written(t, taped["across"])
	angle := math.Acos((a*a + b*b - c*c) / (2 * a * b))
	if taped["reflex"] == true {
		angle = 2*math.Pi - angle
	}
	return angle
}

// written is a length as makers write it, in mm: a number of the order's units, or a text such as 25-1/2 or 38 mm.
func (o *order) written(t *testing.T, v any) float64 {
	t.Helper()
	unit := 1.0
	if o.inches {
		unit = inch
	}
	if number, plain := v.(float64); plain {
		return number * unit
	}
	text := v.(string)
	for _, suffix := range []struct {
		text string
		mm   float64
	}{{"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", inch}, {"ft", 12 * inch}, {"\"", inch}} {
		if rest, cut := strings.CutSuffix(text, suffix.text); cut {
			text, unit = strings.TrimSpace(rest), suffix.mm
			break
		}
	}
	sum := 0.0
	if feet, rest, cut := strings.Cut(text, "'"); cut {
		n, err := strconv.ParseFloat(feet, 64)
		require.NoError(t, err, text)
		sum, text, unit = 12*n, rest, inch
	}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == '-' || r == ' ' }) {
		above, below, fraction := strings.Cut(part, "/")
		x, err := strconv.ParseFloat(above, 64)
		require.NoError(t, err, text)
		if fraction {
			y, err := strconv.ParseFloat(below, 64)
			require.NoError(t, err, text)
			x /= y
		}
		sum += x
	}
	return sum * unit
}
