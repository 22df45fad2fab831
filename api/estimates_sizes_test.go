package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/api/estimates"
	"seamwright/api/summary"
	"seamwright/service/document"
	"seamwright/service/document/shopsheet"
	"seamwright/service/drawing/seam"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/store/storetest"
	"seamwright/store/storetest/drawtest"
)

// leastSizes are the properties of an answer that must not come out smaller, and in how many parts of an inch and of a
// millimetre they are printed. A new one belongs here.
var leastSizes = map[string][2]float64{
	"hole_diameter": {64, 10}, "hole_diameters": {64, 10}, "channel_width": {64, 10}, "channel_widths": {64, 10},
	"slot_width": {32, 2}, "slot_widths": {32, 2}, "slot_length": {32, 2}, "slot_across": {32, 2}, "slot_along": {32, 2},
	"wall_gap": {32, 2}, "needed_gap": {32, 2}, "wall_joint.width": {32, 2}, "wall_joint.strip": {32, 2},
}

// sizes holds every length of an answer that also stands there as text against its text.
type sizes struct {
	t     require.TestingT
	units measure.System
	seen  map[string]int
}

func (s *sizes) walk(at string, value any) {
	switch v := value.(type) {
	case map[string]any:
		for name, inside := range v {
			if text, there := v[name+"_text"]; there {
				s.pair(at, name, inside, text)
			}
			s.walk(name, inside)
		}
	case []any:
		for _, inside := range v {
			s.walk(at, inside)
		}
	}
}

func (s *sizes) pair(at, name string, number, text any) {
	switch n := number.(type) {
	case nil:
		require.Nil(s.t, text, name)
	case []any:
		texts := text.([]any)
		require.Len(s.t, texts, len(n), name)
		for i := range n {
			s.pair(at, name, n[i], texts[i])
		}
	case float64:
		s.seen[name]++
		l, err := measure.ParseLength(text.(string), s.units)
		require.NoError(s.t, err, name)
		over := l.In(s.units) - n
		// of the number's last place
		half := map[measure.System]float64{measure.Inches: 0.5e-4, measure.Millimetres: 0.5e-2}[s.units] + 1e-9
		parts, least := leastSizes[at+"."+name]
		if !least {
			parts, least = leastSizes[name]
		}
		if !least {
			require.InDelta(s.t, 0, over, 0.5/[2]float64{32, 2}[s.units]+half, "%s.%s: %v reads %v", at, name, n, text)
			return
		}
		require.GreaterOrEqual(s.t, over, -half, "%s.%s: %v reads %v", at, name, n, text)
		require.Less(s.t, over, 1/parts[s.units]+half, "%s.%s: %v reads %v", at, name, n, text)
	}
}

// pictures are what stands among the words of a document's blocks.
var pictures = regexp.MustCompile(`(?s)<svg.*?</svg>`)

// agree holds one estimate's answer, seam sheets, shop sheet and terminal against each other.
func agree(t require.TestingT, est *estimate.Estimate, seen map[string]int) {
	raw := estimates.Encode(est)
	var tree map[string]any
	require.NoError(t, json.Unmarshal(raw, &tree))
	(&sizes{t: t, units: est.Units, seen: seen}).walk("", tree)

	var printed bytes.Buffer
	require.NoError(t, summary.Write(&printed, est, summary.Screen{}))
	sheet, err := shopsheet.New(&shopsheet.Input{Estimate: est, Date: "2026-11-20", Language: "en", Paper: document.A4})
	require.NoError(t, err)
	document := pictures.ReplaceAllString(fmt.Sprintf("%s", sheet.Blocks), "")
	for _, r := range tree["runs"].([]any) {
		gap := r.(map[string]any)["wall_joint"].(map[string]any)["width_text"].(string) // as its cover asks
		require.Contains(t, printed.String(), "  "+gap+"\n", "gap at the wall on the terminal")
		require.Contains(t, document, " "+gap+" ", "gap at the wall on the shop sheet")
	}
	for k, c := range tree["corners"].([]any) {
		candidates := c.(map[string]any)["candidates"].([]any)
		hardware := candidates[chosenOf(&est.Corners[k])].(map[string]any)["hardware"].(map[string]any)
		picture, err := seam.Draw(est, k, seam.Options{})
		require.NoError(t, err)
		var cuts []string
		for _, row := range drawtest.Read(t, picture).Rows {
			cuts = append(cuts, strings.Join(row, "|"))
		}
		drawn := strings.Join(cuts, "|")
		if a, ok := hardware["alignment"].(map[string]any); ok {
			s := texts(a["slot_widths_text"])
			require.Contains(t, rowsOf(printed.String(), "slot long"), s.all())
			for _, one := range s {
				require.Contains(t, drawn, "slot "+one)
			}
		}
		pull, ok := hardware["pull"].(map[string]any)
		if !ok {
			continue
		}
		groups := []map[string]any{pull}
		if further, ok := pull["further"].(map[string]any); ok {
			groups = append(groups, further)
		}
		for _, g := range groups {
			word, name := "hole ", "hole_diameters_text"
			if g["kind"] == "draw_bolt" {
				word, name = "channel ", "channel_widths_text"
			}
			s := texts(g[name])
			require.NotEmpty(t, s)
			require.Contains(t, rowsOf(printed.String(), map[string]string{"hole ": "exit holes wide",
				"channel ": "channels wide"}[word]), s.all())
			for _, one := range s {
				require.Contains(t, drawn, word+one)
			}
		}
	}
}

func chosenOf(c *estimate.CornerResult) int {
	return slices.IndexFunc(c.Candidates, func(o estimate.Candidate) bool { return o.Joint == c.Chosen })
}

type listed []string

func texts(v any) (out listed) {
	for _, one := range v.([]any) {
		out = append(out, one.(string))
	}
	return out
}

// all is how the terminal lists sizes: one for each part.
func (l listed) all() string { return " " + strings.Join(l, " ") + " " }

// rowsOf is all that stands behind a label on the terminal, in order.
func rowsOf(printed, label string) string {
	all := " "
	for line := range strings.Lines(printed) {
		if rest, is := strings.CutPrefix(strings.TrimSpace(line), label); is {
			all += strings.Join(strings.Fields(rest), " ") + " "
		}
	}
	return all
}

// A size that must not come out too small is printed rounded up, and everywhere alike: in the answer, on the seam sheet,
// on the shop sheet and on the terminal.
func TestLeastSizesAreRoundedUpAndEverywhereTheSame(t *testing.T) {
	t.Parallel()
	cat := storetest.Demo(t)
	seen := map[string]int{}
	files, err := filepath.Glob("../testdata/requests/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	for _, file := range files {
		raw, err := os.ReadFile(file)
		require.NoError(t, err)
		est, err := estimates.Make(raw, cat, noon, false)
		require.NoError(t, err, file)
		agree(t, est, seen)
	}
	orders := rapid.Custom(drawRequest)
	made := 0
	for seed := range 80 {
		if est, err := estimates.Make([]byte(orders.Example(seed)), cat, noon, false); err == nil {
			agree(t, est, seen)
			made++
		}
	}
	require.Greater(t, made, 40)
	for _, name := range []string{"hole_diameter", "hole_diameters", "channel_widths", "slot_width", "slot_widths",
		"slot_length", "wall_gap", "seam_length"} {
		require.Positive(t, seen[name], name)
	}
}
