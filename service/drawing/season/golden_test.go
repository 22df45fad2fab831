package season

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/plan"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// Each golden file is one chart, looked at on paper size and at a phone's width.
func TestGoldenCharts(t *testing.T) {
	still := drawtest.Desk()
	still.Moisture = estimate.MoistureOrder{Making: drawtest.Wet(8), Dry: drawtest.Wet(8), Humid: drawtest.Wet(8)}
	square := drawtest.Desk()
	square.Top.Edge = estimate.Edge{Profile: estimate.Square}
	square.Top.Corners[0].Joint = plan.Butt
	held := func(at hardware.Hold) estimate.Order {
		o := drawtest.Bar()
		o.Top.Corners[0].HoldAt = at
		return o
	}
	for name, draw := range map[string]func() ([]byte, error){
		"desk_run": func() ([]byte, error) { return Draw(drawtest.Make(t, drawtest.Desk()), 0, Options{}) },
		"desk_run_narrow": func() ([]byte, error) {
			return Draw(drawtest.Make(t, drawtest.Desk()), 0, Options{Narrow: true})
		},
		"bar_run_wet": func() ([]byte, error) { return Draw(drawtest.Make(t, drawtest.Bar()), 1, Options{}) },
		"still_run":   func() ([]byte, error) { return Draw(drawtest.Make(t, still), 1, Options{}) },
		"desk_seam":   func() ([]byte, error) { return DrawSeam(drawtest.Make(t, drawtest.Desk()), 0, Options{}) },
		"bar_seam_narrow": func() ([]byte, error) {
			return DrawSeam(drawtest.Make(t, drawtest.Bar()), 0, Options{Narrow: true})
		},
		"desk_year": func() ([]byte, error) { return Draw(drawtest.Make(t, yearlong()), 0, Options{}) },
		"desk_year_narrow": func() ([]byte, error) {
			return Draw(drawtest.Make(t, yearlong()), 1, Options{Narrow: true})
		},
		"bar_seam_held_back":   func() ([]byte, error) { return DrawSeam(drawtest.Make(t, held(hardware.HoldBack)), 0, Options{}) },
		"bar_seam_held_middle": func() ([]byte, error) { return DrawSeam(drawtest.Make(t, held(hardware.HoldCentre)), 0, Options{}) },
		"offer_desk": func() ([]byte, error) {
			return Draw(drawtest.Make(t, drawtest.Desk()), 0, Options{Width: 174, Picture: true})
		},
		"offer_bar_low": func() ([]byte, error) {
			return Draw(drawtest.Make(t, drawtest.Bar()), 0, Options{Width: 174, Picture: true, Low: true})
		},
		"offer_narrow": func() ([]byte, error) {
			return Draw(drawtest.Make(t, drawtest.Bar()), 1, Options{Narrow: true, Picture: true})
		},
		"square_butt": func() ([]byte, error) { return DrawSeam(drawtest.Make(t, square), 0, Options{}) },
	} {
		t.Run(name, func(t *testing.T) {
			got, err := draw()
			require.NoError(t, err)
			path := filepath.Join("testdata", name+".svg")
			goldentest.Hold(t, path, got)
		})
	}
}

// yearlong is the desk, varnished on its top alone, through the months.
func yearlong() estimate.Order {
	o := drawtest.Desk()
	o.Finish = estimate.FinishOrder{System: "film_varnish", Faces: estimate.TopFace}
	o.Moisture.Seasonal = &estimate.SeasonalOrder{}
	return o
}

// The chart of a year tells its months and the bound, which are the estimate's.
func TestAYearIsDrawnByItsMonths(t *testing.T) {
	e := drawtest.Make(t, yearlong())
	s := e.Runs[0].Seasonal
	doc, err := Draw(e, 0, Options{})
	require.NoError(t, err)
	texts := strings.Join(drawtest.Read(t, doc).Texts, "|")
	require.Contains(t, texts, "J|F|M|A|M|J|J|A|S|O|N|D")
	require.Contains(t, texts, told("bound ", s.Bound.Least, e.Units))
	require.Contains(t, texts, told("bound ", s.Bound.Greatest, e.Units))
	require.Contains(t, texts, told("dry: ", e.Runs[0].Movement.ToDry, e.Units))
	require.NotContains(t, texts, "Only the dry and the humid season are computed")
	c, err := ofRun(e, 0, pen.Speech{})
	require.NoError(t, err)
	for k := range s.Months {
		require.InDelta(t, float64(s.Months[k].Change), float64(c.on((float64(k)+0.5)/12)), 1e-9, "month %d", k+1)
	}
	require.InDelta(t, float64(c.on(0)), float64(c.on(1)), 1e-9, "the year comes round")
	dry, humid := c.seasonTimes()
	require.InDelta(t, float64(e.Runs[0].Movement.ToDry), float64(c.on(dry)), 1e-6)
	require.InDelta(t, float64(e.Runs[0].Movement.ToHumid), float64(c.on(humid)), 1e-6)
}
