package summary_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/summary"
	"seamwright/api/web"
	"seamwright/store/storetest"
)

// Orders besides those of testdata/requests.
var orders = map[string]string{
	"mm_kitchen": `{"units":"mm","reference":"Galley above the lock (invented)","top":{"species":"oak_white","thickness":38,"edge":{"profile":"eased"},
		"runs":[{"name":"Window","length":2400,"depth":640},{"name":"Return","length":1800,"depth":620}],"corners":[{"angle":91}],
		"cutouts":[{"run":"Window","kind":"sink","length":780,"depth":480,"from_start":400,"from_front":0},{"run":"Return","kind":"hob","length":560,"depth":490,"from_end":300,"from_front":65},
			{"run":"Window","kind":"tap","length":35,"depth":35,"from_start":1300,"from_front":540}]},"pricing":{"as_of":"2026-11-01"}}`,
	"long_chain": `{"units":"in","reference":"Library bench that goes round a bay, with a name that is longer than many a terminal is wide (invented)","top":{"species":"cherry_black","thickness":"1-1/2",
		"runs":[{"name":"Door side","length":60,"depth":18},{"name":"First cant","length":48,"depth":18},{"name":"Bay","length":70,"depth":20},{"name":"Second cant","length":48,"depth":18},{"name":"Hearth side","length":66,"depth":18}],
		"corners":[{"angle":135},{"angle":135},{"angle":135},{"angle":135}]},"pricing":{"as_of":"2026-11-01"}}`,
	"panel": `{"units":"mm","reference":"Desk of ready-made panels (invented)","top":{"species":"beech_american","thickness":38.1,"construction":"panel",
		"runs":[{"name":"A","length":1600,"depth":600},{"name":"B","length":1400,"depth":600}],"corners":[{"angle":90,"joint":"butt"}]},"pricing":{"as_of":"2026-11-01"}}`,
	"refused_long_mm": `{"units":"mm","top":{"species":"oak_white","thickness":38,"staves":"full_length","straight_joints":"forbid","runs":[{"length":5200,"depth":640}]}}`,
	"pieces_mm":       `{"units":"mm","top":{"species":"oak_white","thickness":38,"staves":"full_length","runs":[{"length":5200,"depth":640}]}}`,
	"refused_panels":  `{"units":"in","top":{"species":"walnut_black","thickness":1.5,"construction":"panel","runs":[{"length":96,"depth":40},{"length":72,"depth":40}],"corners":[{"angle":90}]}}`,
	"refused_cutout":  `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"name":"A","length":96,"depth":25.5},{"name":"B","length":72,"depth":25.5}],"corners":[{"angle":90}],"cutouts":[{"run":"A","kind":"sink","length":30,"depth":18,"from_end":10,"from_front":3}]}}`,
	"refused_form":    `{"units":"in","top":{"species":"maple_sugar","thickness":1.5,"runs":[{"length":"wide","depth":25.5,"colour":"red"}]}}`,
	"refused_no_json": `{"units":`,
	"laminated": `{"units":"mm","top":{"species":"walnut_black","thickness":76,
		"runs":[{"length":2000,"depth":600}]},"pricing":{"as_of":"2026-11-01"}}`,
	"refused_thick": `{"units":"mm","top":{"species":"walnut_black","thickness":76,"build":"solid","runs":[{"length":2000,"depth":600}]}}`,
}

// Every page is looked at in a terminal of its width.
func TestWhatATerminalShows(t *testing.T) {
	t.Parallel()
	all := map[string]string{}
	for name, order := range orders {
		all[name] = order
	}
	files, err := filepath.Glob("../../testdata/requests/*.json")
	require.NoError(t, err)
	require.Len(t, files, 4)
	for _, file := range files {
		raw, err := os.ReadFile(file)
		require.NoError(t, err)
		all[strings.TrimSuffix(filepath.Base(file), ".json")] = string(raw)
	}
	for name, order := range all {
		for _, columns := range []int{80, 120} {
			t.Run(fmt.Sprintf("%s at %d", name, columns), func(t *testing.T) {
				var page bytes.Buffer
				show(t, &page, order, columns)
				for line := range strings.Lines(page.String()) {
					require.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), columns, line)
				}
				path := filepath.Join("testdata", fmt.Sprintf("%s_%d.txt", name, columns))
				if os.Getenv("UPDATE_GOLDEN") != "" {
					require.NoError(t, os.MkdirAll("testdata", 0o755))
					require.NoError(t, os.WriteFile(path, page.Bytes(), 0o644))
				}
				want, err := os.ReadFile(path)
				require.NoError(t, err)
				require.Equal(t, string(want), page.String(),
					"run UPDATE_GOLDEN=1 go test ./api/summary and look at the difference")
			})
		}
	}
}

func show(t *testing.T, page *bytes.Buffer, order string, columns int) {
	t.Helper()
	est, err := estimates.Make([]byte(order), storetest.Demo(t), time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC), false)
	if err == nil {
		require.NoError(t, summary.Write(page, est, summary.Screen{Columns: columns}))
		return
	}
	p := web.ProblemOf(err)
	var list []summary.Wrong
	for _, v := range p.Errors {
		list = append(list, summary.Wrong{Where: v.Pointer, Detail: v.Detail})
	}
	require.NoError(t, summary.WriteRefusal(page, p.Title, p.Detail, list, columns))
}

// Whatever the width, nothing is lost: the words are the same, in the same order, where no table has to break its cells.
func TestNoWordIsLostByAWidth(t *testing.T) {
	t.Parallel()
	est, err := estimates.Make([]byte(orders["mm_kitchen"]), storetest.Demo(t),
		time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC), false)
	require.NoError(t, err)
	warnings := func(columns int) []string {
		var page bytes.Buffer
		require.NoError(t, summary.Write(&page, est, summary.Screen{Columns: columns}))
		_, notes, found := strings.Cut(page.String(), "\nTake care\n")
		require.True(t, found)
		return strings.Fields(notes)
	}
	want := warnings(0)
	for _, columns := range []int{1, 40, 63, 97, 120, 500} {
		require.Equal(t, want, warnings(columns), columns)
	}
}

// A refusal says each thing once: where the whole is one thing, only at its place; what is wrong at several places, with all of them.
func TestARefusalSaysNothingTwice(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		detail string
		list   []summary.Wrong
		want   string
	}{
		"one thing": {"The run is long.", []summary.Wrong{{"/top", "The run is long."}},
			"seamwright: No.\n  /top: The run is long.\n"},
		"of the whole": {"The run is long.", []summary.Wrong{{"", "The run is long."}},
			"seamwright: No: The run is long.\n"},
		"nothing in place": {"The run is long.", nil, "seamwright: No: The run is long.\n"},
		"two places": {"2 things.", []summary.Wrong{{"/a", "Wrong."}, {"/b", "Wrong."}},
			"seamwright: No: 2 things.\n  /a, /b: Wrong.\n"},
		"one place": {"2 things.", []summary.Wrong{{"/a", "Wrong."}, {"/a", "Worse."}, {"/b", "Bad."}},
			"seamwright: No: 2 things.\n  /a: Wrong.\n    Worse.\n  /b: Bad.\n"},
	} {
		var page bytes.Buffer
		require.NoError(t, summary.WriteRefusal(&page, "No", c.detail, c.list, 80))
		require.Equal(t, c.want, page.String(), name)
	}
}
