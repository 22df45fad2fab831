package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/summary"
	"seamwright/store/storetest"
)

// What the README shows of the first estimate is what the service says. UPDATE_GOLDEN writes it anew.
func TestTheReadmeShowsWhatTheServiceSays(t *testing.T) {
	t.Parallel()
	request, err := os.ReadFile("../testdata/requests/l_desk.json")
	require.NoError(t, err)
	est, err := estimates.Make(request, storetest.Demo(t), noon, false)
	require.NoError(t, err)
	var printed bytes.Buffer
	require.NoError(t, summary.Write(&printed, est, summary.Screen{}))
	answer := estimates.Encode(est)

	const file = "../README.md"
	raw, err := os.ReadFile(file)
	require.NoError(t, err)
	was := string(raw)
	is := inBlock(t, was, "```text\n", beginning(t, printed.String()))
	is = inBlock(t, is, "and a few lines of the answer:\n\n```json\n", lines(t, answer))
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, []byte(is), 0o644))
		return
	}
	require.Equal(t, is, was)
}

// inBlock is a page with other content in the block that begins so.
func inBlock(t *testing.T, page, start, content string) string {
	t.Helper()
	before, after, found := strings.Cut(page, start)
	require.True(t, found, start)
	_, rest, found := strings.Cut(after, "```")
	require.True(t, found)
	return before + start + content + "```" + rest
}

// beginning is the head of what is printed, and of its first corner what is said and the joint that was chosen.
func beginning(t *testing.T, printed string) string {
	t.Helper()
	var b strings.Builder
	all := strings.Split(printed, "\n")
	for _, line := range all[:5] {
		b.WriteString(line + "\n")
	}
	for i, line := range all {
		if !strings.HasPrefix(line, "Corner ") {
			continue
		}
		b.WriteString("\n" + line + "\n")
		said := true
		for _, row := range all[i+1:] {
			if said {
				b.WriteString(row + "\n")
				said = !strings.HasPrefix(row, "    joint ")
			}
			if strings.HasPrefix(row, "  ► ") {
				b.WriteString(row + "\n  …\n")
				return b.String()
			}
		}
	}
	require.Fail(t, "no corner")
	return ""
}

// lines are a few lines of an answer.
func lines(t *testing.T, answer []byte) string {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(answer))
	d.UseNumber()
	var tree map[string]any
	require.NoError(t, d.Decode(&tree))
	pick := func(of any, names ...string) string {
		parts := make([]string, len(names))
		for i, name := range names {
			value, there := of.(map[string]any)[name]
			require.True(t, there, name)
			raw, err := json.Marshal(value)
			require.NoError(t, err)
			parts[i] = fmt.Sprintf("%q: %s", name, raw)
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	run := tree["runs"].([]any)[0].(map[string]any)
	corner := tree["corners"].([]any)[0].(map[string]any)
	for _, c := range corner["candidates"].([]any) {
		chosen := c.(map[string]any)
		if chosen["joint"] != corner["chosen"] || chosen["through"] != corner["through"] {
			continue
		}
		head := pick(chosen, "joint", "through", "feasible", "score")
		why, _, _ := strings.Cut(corner["why"].(string), ":")
		return `"runs": [ { "name": "A",
  "moisture": ` + pick(run["moisture"], "making", "dry", "humid") + `,
  "movement": ` + pick(run["movement"], "coefficient", "method", "to_dry", "to_humid", "range", "wall_gap", "wall_gap_text") + `,
  "piece": ` + pick(run["piece"], "long_edge", "short_edge", "end_angle", "area") + `,
  "blank": ` + pick(run["blank"], "length", "width", "staves", "stave_width", "stave_length", "board_feet") + ` } ],
"corners": [ { "angle": 90, "chosen": "` + corner["chosen"].(string) + `", "why": "` + why + `: …",
  "candidates": [ ` + strings.TrimSuffix(head, "}") + `, "findings": ["…"], "hardware": {"pull": ` + pick(chosen["hardware"].(map[string]any)["pull"], "item", "count") + `}} ] } ],
"price": ` + pick(tree["price"], "materials", "labour", "cost", "net", "tax", "total") + "\n"
	}
	require.Fail(t, "no candidate was chosen")
	return ""
}
