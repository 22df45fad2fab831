package leaflet_test

import (
	"html"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/document"
	"seamwright/service/document/leaflet"
	"seamwright/service/document/words"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

// mill is an invented shop.
var mill = document.Letterhead{Name: "Old Mill Workshop (invented)", Lines: []string{"1 Mill Lane", "shop@example.com"}}

var leaflets = map[string]func(*leaflet.Input) (*document.Document, error){"care": leaflet.Care,
	"installation": leaflet.Installation}

func body(t *testing.T, of func(*leaflet.Input) (*document.Document, error), e *estimate.Estimate,
	language string) string {
	t.Helper()
	d, err := of(&leaflet.Input{Estimate: e, Shop: mill, Number: "12-9", Revision: 2, Date: "2026-11-03",
		Reference: "By the window", Customer: []string{"R. Example"}, Language: language, Paper: document.A4})
	require.NoError(t, err)
	page, err := d.HTML()
	require.NoError(t, err)
	_, text, _ := strings.Cut(string(page), "<body")
	return d.Title + "\n" + d.Foot + "\n" + regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(drawtest.Page(text), "<svg/>")
}

func TestLeafletsAsPages(t *testing.T) {
	t.Parallel()
	for name, order := range map[string]func() estimate.Order{"desk": drawtest.Desk, "bar": drawtest.Bar,
		"furnished": drawtest.Furnished, "furnished_bar": drawtest.FurnishedBar, "plain": plain} {
		e := drawtest.Make(t, order())
		for kind, of := range leaflets {
			for _, language := range words.Languages() {
				got, file := body(t, of, e, language), "testdata/"+language+"_"+kind+"_"+name+".html"
				goldentest.Hold(t, file, got)
			}
		}
	}
}

// plain is a straight counter with a hole, bare, not held down, whose days are not promised as its stock is too wet.
func plain() estimate.Order {
	o := drawtest.FurnishedBar()
	o.Top.Runs, o.Top.Corners, o.Base = o.Top.Runs[1:], nil, nil
	o.Top.Edge = estimate.Edge{Profile: estimate.Square}
	o.Top.Cutouts = []estimate.Cutout{{Run: "B", Kind: "sink", Length: 400, Depth: 300, FromStart: length(500), FromFront: 90}}
	o.Top.Fixing.Kind, o.Finish.System = estimate.FixNone, "none"
	o.Moisture.Stock.Readings, o.Support = []measure.Moisture{18, 19}, estimate.SupportOrder{}
	return o
}

// What the answer tells of the base, the way in and lifting stands on the installation sheet.
func TestAnInstallationSheetTellsAllThatIsKnown(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Furnished())
	page := html.UnescapeString(body(t, leaflet.Installation, e, "en"))
	told := append([]string{e.Carrying.Text}, e.LiftingTexts()...)
	for i := range e.Carrying.Pieces {
		for _, step := range e.Carrying.Pieces[i].Way {
			told = append(told, e.Carrying.Pieces[i].Run+": "+step.How)
		}
	}
	for i := range e.Base.Props {
		told = append(told, e.Base.Props[i].Text)
		require.NotEmpty(t, e.Base.Props[i].Positions)
		for _, at := range e.Base.Props[i].Positions {
			require.Contains(t, page, at.Text(e.Units))
		}
	}
	for i := range e.Base.Seams {
		told = append(told, e.Base.Seams[i].Text)
	}
	require.Greater(t, len(told), 8)
	for _, text := range told {
		require.Contains(t, page, text)
	}
}

// The installation sheet's numbers are the estimate's: weights, people, gaps, fixings and their slots, the parts of each seam.
func TestAnInstallationSheetHasTheEstimatesNumbers(t *testing.T) {
	t.Parallel()
	holes := drawtest.Counter()
	holes.Top.Cutouts = []estimate.Cutout{{Run: "Back", Kind: "sink", Length: 600, Depth: 400, FromStart: length(1100),
		FromFront: 80}}
	for name, o := range map[string]estimate.Order{"desk": drawtest.Desk(), "bar": drawtest.Bar(), "counter": holes} {
		e := drawtest.Make(t, o)
		for _, language := range words.Languages() {
			page := body(t, leaflet.Installation, e, language)
			cells := regexp.MustCompile(`<td[^>]*>(?:<span[^>]*></span>)?([^<]*)</td>`).FindAllStringSubmatch(page, -1)
			var flat []string
			for _, c := range cells {
				flat = append(flat, c[1])
			}
			all := strings.ReplaceAll(strings.Join(flat, "|"), ",", ".")
			for i := range e.Runs {
				r := &e.Runs[i]
				require.Contains(t, all, r.Piece.LongEdge.Text(e.Units)+" × "+r.Depth.Text(e.Units), name)
				require.Contains(t, all, r.Piece.Mass.Whole(e.Units)+" ", name)
				require.Contains(t, all, strconv.Itoa(r.People)+"|"+r.GapAtWall().TextAs(e.Units, measure.Least)+"|", "%s %s", name,
					all)
			}
			for i := range e.Runs {
				if j := &e.Runs[i].WallJoint; j.Cover == estimate.CoverStrip {
					require.Contains(t, all, j.Strip.TextAs(e.Units, measure.Least)+" ", "%s: as wide as the answer has it", name)
				}
			}
			fixings := 0
			for i := range e.Fixing.Runs {
				for _, row := range e.Fixing.Runs[i].Rows {
					n := 0
					for _, p := range e.Fixing.Runs[i].Places {
						if p.FromFront == row.FromFront {
							n++
						}
					}
					fixings += n
					require.Contains(t, all, row.FromFront.Text(e.Units)+"|"+strconv.Itoa(n)+"|", name)
				}
			}
			require.Equal(t, e.Fixing.Count, fixings, "every fixing stands in a row")
			for i := range e.Corners {
				for k := range e.Corners[i].Candidates {
					if c := &e.Corners[i].Candidates[k]; c.Joint == e.Corners[i].Chosen {
						for _, g := range c.Hardware.Pull.Groups {
							require.Regexp(t, regexp.QuoteMeta(strconv.Itoa(g.Count))+" × |one |ein ", all)
						}
					}
				}
			}
		}
	}
}

// A straight top's leaflets speak of no seam, a bare one's of no coats.
func TestLeafletsSayWhatIsSo(t *testing.T) {
	t.Parallel()
	o := drawtest.Desk()
	o.Top.Runs, o.Top.Corners, o.Finish.System = o.Top.Runs[:1], nil, "none"
	e := drawtest.Make(t, o)
	for _, of := range leaflets {
		require.NotRegexp(t, `(?i)seam|corner|coat`, body(t, of, e, "en"))
		require.NotRegexp(t, `Fuge|Ecke \d|Ecken|Auftrag`, body(t, of, e, "de"))
	}
}

// Care says how long the finish takes to harden and how far the wood moves, as reckoned.
func TestCareHasTheEstimatesNumbers(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	page := body(t, leaflet.Care, e, "en")
	require.Contains(t, page, "about "+strconv.FormatFloat(e.Made.CureDays, 'f', 0, 64)+" days")
	require.Contains(t, page, "by about "+e.Runs[0].Movement.Range.Text(e.Units)+" in")
	require.Contains(t, page, "hardwax oil")
}

// Where the fixed line is the middle and no row stands there it is said, whichever run it is; else it is not.
func TestRowsOnBothSidesOfTheMiddle(t *testing.T) {
	t.Parallel()
	says := words.Text("en", "inst_fix_middle")
	require.NotEmpty(t, says)
	for centred, there := range map[int]bool{-1: false, 0: true, 1: true} {
		e := drawtest.Make(t, drawtest.Desk())
		for i := range e.Fixing.Runs {
			if i == centred {
				e.Fixing.Runs[i].FixedLine = hardware.HoldCentre
			}
			for k := range e.Fixing.Runs[i].Rows {
				require.NotEqual(t, e.Runs[i].Depth/2, e.Fixing.Runs[i].Rows[k].FromFront)
			}
		}
		require.Equal(t, there, strings.Contains(html.UnescapeString(body(t, leaflet.Installation, e, "en")), says), "%d", centred)
	}
}

// How many people carry a piece is said where it is known, from one on; else a dash stands there.
func TestPeopleToCarry(t *testing.T) {
	t.Parallel()
	for people, text := range map[int]string{0: "–", 1: "1", 2: "2"} {
		e := drawtest.Make(t, drawtest.Desk())
		for i := range e.Runs {
			e.Runs[i].People = people
		}
		cells := regexp.MustCompile(`(?:lb|kg)</td><td[^>]*>([^<]*)</td>`).FindAllStringSubmatch(body(t, leaflet.Installation, e, "en"), -1)
		require.Len(t, cells, len(e.Runs))
		for _, cell := range cells {
			require.Equal(t, text, cell[1])
		}
	}
}

// Care speaks of the run that moves most, wherever it stands.
func TestCareSpeaksOfTheRunThatMovesMost(t *testing.T) {
	t.Parallel()
	for _, depths := range [][2]measure.Length{{18 * measure.Inch, 30 * measure.Inch}, {30 * measure.Inch, 18 * measure.Inch}} {
		o := drawtest.Desk()
		o.Top.Runs[0].Depth, o.Top.Runs[1].Depth, o.Top.Corners[0].Joint = depths[0], depths[1], estimate.AutoJoint
		e := drawtest.Make(t, o)
		most := max(e.Runs[0].Movement.Range, e.Runs[1].Movement.Range)
		require.NotEqual(t, e.Runs[0].Movement.Range.Text(e.Units), e.Runs[1].Movement.Range.Text(e.Units))
		require.Contains(t, body(t, leaflet.Care, e, "en"), "by about "+most.Text(e.Units)+" in")
	}
}

// An estimate that was kept before places of fixings were told counts them by the run.
func TestFixingsOfAnEarlierEstimateAreCounted(t *testing.T) {
	t.Parallel()
	e := drawtest.Make(t, drawtest.Desk())
	for i := range e.Fixing.Runs {
		f := &e.Fixing.Runs[i]
		f.Places, f.Along = nil, 70+i
		for k := range f.Rows {
			require.Contains(t, body(t, leaflet.Installation, e, "en"), ">"+f.Rows[k].FromFront.Text(e.Units)+"</td>")
		}
	}
	page := body(t, leaflet.Installation, e, "en")
	for i := range e.Fixing.Runs {
		require.Equal(t, len(e.Fixing.Runs[i].Rows), strings.Count(page, ">"+strconv.Itoa(70+i)+"</td>"))
	}
}

func TestALeafletInNoLanguage(t *testing.T) {
	t.Parallel()
	_, err := leaflet.Care(&leaflet.Input{Estimate: drawtest.Make(t, drawtest.Desk()), Language: "xx"})
	require.ErrorContains(t, err, "xx")
}

func length(mm float64) *measure.Length {
	l := measure.Length(mm)
	return &l
}
