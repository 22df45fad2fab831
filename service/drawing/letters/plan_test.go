package letters

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// Each golden file is one plan, looked at in a terminal.
func TestGoldenPlans(t *testing.T) {
	left := drawtest.Desk()
	left.Top.Hand = plan.Left
	straight := drawtest.Desk()
	straight.Top.Runs, straight.Top.Corners = straight.Top.Runs[:1], nil
	for name, order := range map[string]estimate.Order{"desk": drawtest.Desk(), "desk_left": left, "bar": drawtest.Bar(),
		"u_counter": drawtest.Counter(), "straight": straight, "holes": drawtest.Furnished()} {
		t.Run(name, func(t *testing.T) {
			got := strings.Join(Plan(drawtest.Make(t, order), 64), "\n") + "\n"
			path := filepath.Join("testdata", name+".txt")
			goldentest.Hold(t, path, got)
		})
	}
}

// Every cut-out is told with its size, in the plan or below it, by its number where its place has room for no more; one that is not
// named is called what it is. Nothing is drawn in less than ten columns.
func TestHolesAreTold(t *testing.T) {
	o := drawtest.Furnished()
	e := drawtest.Make(t, o)
	e.Cutouts[2].Kind = ""
	require.Nil(t, Plan(e, 9))
	require.Nil(t, Plan(&estimate.Estimate{Outline: []plan.Point{{}, {X: 100}}}, 40))
	require.Nil(t, Plan(&estimate.Estimate{Outline: []plan.Point{{}, {Y: 100}}}, 40))
	seen := map[string]bool{}
	for most := 10; most < 200; most++ {
		lines := Plan(e, most)
		require.NotEmpty(t, lines)
		all := strings.Join(lines, " ")
		for number, name := range map[string]string{"1": "sink 22 × 14", "2": "cable 2 × 2", "3": "cut-out 6 × 4"} {
			require.Contains(t, all, name, "%d columns", most)
			if strings.Contains(all, number+": "+name) {
				seen["by number"] = true
				continue
			}
			seen[name] = true
		}
	}
	require.Len(t, seen, 4, "each has a width at which it is told by its number, and one at which its name has room")
}

// Over any tops the plan keeps to its width, names each run, or does so below.
func TestAnyTopsAreDrawn(t *testing.T) {
	cat := demotest.Catalogue(t)
	rapid.Check(t, func(r *rapid.T) {
		o := drawtest.Desk()
		o.Top.Hand = rapid.SampledFrom([]plan.Hand{plan.Left, plan.Right}).Draw(r, "hand")
		o.Top.Runs, o.Top.Corners = nil, nil
		for i := range rapid.IntRange(1, 4).Draw(r, "runs") {
			o.Top.Runs = append(o.Top.Runs, estimate.Run{Name: string(rune('A' + i)),
				Length: measure.Length(rapid.Float64Range(900, 3000).Draw(r, "length")),
				Depth:  measure.Length(rapid.Float64Range(300, 700).Draw(r, "depth"))})
			if i > 0 {
				o.Top.Corners = append(o.Top.Corners,
					estimate.Corner{Angle: measure.Angle(rapid.SampledFrom([]float64{75, 90, 120, 135, 160}).Draw(r,
						"angle")) * measure.Degree})
			}
		}
		e, err := estimate.Make(o, cat)
		if err != nil {
			r.Skip("no such top")
		}
		most := rapid.IntRange(30, 100).Draw(r, "columns")
		lines := Plan(e, most)
		all := strings.Join(lines, "\n")
		for _, line := range lines {
			require.LessOrEqual(r, len([]rune(line)), most)
		}
		require.LessOrEqual(r, len(lines), mostRows+1+len(e.Runs)+len(e.Cutouts))
		for i := range e.Runs {
			require.Contains(r, all, labels(&e.Runs[i], e.Units)[0], "the whole of each run is told, in the plan or below it")
		}
	})
}

func TestNamesCannotSteerTheTerminal(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Runs[0].Name = "A\x1b[31m\u202ered🪵"
	all := strings.Join(Plan(drawtest.Make(t, o), 64), "\n")
	require.NotContains(t, all, "\x1b")
	require.NotContains(t, all, "\u202e")
	require.Contains(t, all, "A·[31m·red·")
}

// Letters of Latin scripts stay as they are; controls, soft hyphens and letters that may be wide become points.
func TestLettersThatStay(t *testing.T) {
	for r, stays := range map[rune]bool{'A': true, ' ': true, '~': true, 0x7f: false, 0x80: false, 0x9f: false, 0xa0: true, 'ü': true,
		0xad: false, 0xae: true, 0x24f: true, 0x250: false, 0x1f: false, '漢': false} {
		want := "·"
		if stays {
			want = string(r)
		}
		require.Equal(t, want, plain(string(r)), "%x", r)
	}
}

// A top that is long and shallow is two rows deep, however narrow the plan.
func TestAShallowTopHasTwoRows(t *testing.T) {
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners = []estimate.Run{{Name: "A", Length: 180 * measure.Inch, Depth: 12 * measure.Inch}}, nil
	lines := Plan(drawtest.Make(t, o), 20)
	drawn := 0
	for _, line := range lines {
		if strings.ContainsAny(line, "│┌└") {
			drawn++
		}
	}
	require.Equal(t, 3, drawn, strings.Join(lines, "\n"))
}
