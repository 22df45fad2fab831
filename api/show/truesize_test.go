package show_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/ledongthuc/pdf"
	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/web"
	"seamwright/service/measure"
)

// page is what a page of a PDF is in its own units, points of 1/72 in.
type page struct {
	width, height float64
	lines         [][4]float64 // straight ones, each drawn by itself
	text          string
	letters       []float64 // sizes that are set
}

var lettersOfPDF = regexp.MustCompile(`/F\S+ ([\d.]+) Tf`)

var lineOfPDF = regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S`)

func pagesOf(t testing.TB, raw []byte) (pages []page) {
	t.Helper()
	r, err := pdf.NewReader(bytes.NewReader(raw), int64(len(raw)))
	require.NoError(t, err)
	for n := 1; n <= r.NumPage(); n++ {
		p := r.Page(n)
		box := p.V.Key("MediaBox")
		if box.Len() != 4 {
			box = p.V.Key("Parent").Key("MediaBox")
		}
		one := page{width: box.Index(2).Float64(), height: box.Index(3).Float64()}
		content, err := io.ReadAll(p.V.Key("Contents").Reader())
		require.NoError(t, err)
		for _, m := range lineOfPDF.FindAllStringSubmatch(string(content), -1) {
			var line [4]float64
			for i := range line {
				line[i], err = strconv.ParseFloat(m[i+1], 64)
				require.NoError(t, err)
			}
			one.lines = append(one.lines, line)
		}
		for _, m := range lettersOfPDF.FindAllStringSubmatch(string(content), -1) {
			size, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			one.letters = append(one.letters, size)
		}
		one.text, err = p.GetPlainText(nil)
		require.NoError(t, err)
		pages = append(pages, one)
	}
	return pages
}

// On every tile the check line is as long as it says in the PDF's own units, on paper of its true size, either way up.
func TestTheCheckLineOfEveryTileIsTrueInThePDF(t *testing.T) {
	t.Parallel()
	const millimetre = 72 / 25.4
	for name, want := range map[string]float64{"l_desk.json": 4 * 72, "l_bar.json": 100 * millimetre} {
		s := subjectOf(t, request(t, name))
		for _, view := range []string{"template.pdf", "stick.pdf"} {
			for paper, size := range map[string][2]float64{"A4": {210 * millimetre, 297 * millimetre}, "Letter": {612, 792}} {
				o := show.Options{Paper: paper, Language: "de"}
				if view == "template.pdf" {
					o.Corner = 1
				}
				raw, err := show.Make(view, s, o)
				require.NoError(t, err)
				pages := pagesOf(t, raw)
				require.Greater(t, len(pages), 2)
				require.GreaterOrEqual(t, slices.Min(pages[0].letters), 8.0)
				foot := false // its rule, 15 mm above the paper's end, or as much more as a second and third line take, and 18 mm from its sides
				for _, l := range pages[0].lines {
					foot = foot || l[1] > 15*millimetre-0.02 && l[1] < 18.5*millimetre+0.02 && l[1] == l[3] && math.Abs(l[2]-l[0]-pages[0].width+36*millimetre) < 0.02
				}
				require.True(t, foot, "%s %s %s: the first page has its foot", name, view, paper)
				for n, p := range pages[1:] {
					require.GreaterOrEqual(t, slices.Min(p.letters), 8.0, "%s %s: read at arm's length", name, view)
					at := fmt.Sprintf("%s %s %s tile %d", name, view, paper, n+1)
					require.InDelta(t, size[0], math.Min(p.width, p.height), 0.01, at)
					require.InDelta(t, size[1], math.Max(p.width, p.height), 0.01, at)
					found := 0
					for _, l := range p.lines {
						if l[1] == l[3] && math.Abs(math.Abs(l[2]-l[0])-want) < 0.02 { // two decimals of a point
							found++
						}
						for i, end := range l {
							require.GreaterOrEqual(t, end, 0.0, at)
							require.LessOrEqual(t, end, []float64{p.width, p.height}[i%2], at)
						}
					}
					require.Equal(t, 1, found, "%s: one check line", at)
					require.Contains(t, p.text, "muss", at)
					require.Contains(t, p.text, fmt.Sprintf("Blatt %d von %d", n+1, len(pages)-1), at)
				}
			}
		}
	}
}

// The shelf's left end stands on its first tiles where the template has it: 5 mm within the part that is drawn, which begins 10 mm from
// the paper's edges and ends 23 mm above its foot.
func TestTilesAreDrawnAtTrueSize(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "straight_shelf.json"))
	raw, err := show.Make("template.pdf", s, show.Options{Paper: "A4"})
	require.NoError(t, err)
	p := pagesOf(t, raw)[1]
	const point = 25.4 / 72 // millimetres
	want, found := math.Min(float64(s.Estimate.Runs[0].Depth), p.height*point-10-23-5), false
	for _, l := range p.lines {
		if l[0] == l[2] && math.Abs(l[0]*point-15) < 0.01 && math.Abs(math.Abs(l[3]-l[1])*point-want) < 0.01 {
			found = true
		}
	}
	require.True(t, found, "an upright of %.2f mm, 15 mm from the paper's edge", want)
}

func rowsOf(t testing.TB, s *show.Subject, view string, o show.Options) []map[string]string {
	t.Helper()
	raw, err := show.Make(view, s, o)
	require.NoError(t, err)
	all, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, cell := range cells {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return x
}

// Millimetres, inches and fractions of every point are one place; a run's points alone are the same as among all.
func TestPointsAreOnePlaceInEveryUnit(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"l_desk.json", "l_bar.json", "u_counter.json", "straight_shelf.json"} {
		s := subjectOf(t, request(t, name))
		all := rowsOf(t, s, "points.csv", show.Options{})
		byPiece := map[string]int{}
		for _, row := range all {
			byPiece[row["piece"]]++
			for _, axis := range []string{"x", "y"} {
				mm, in := number(t, row[axis+"_mm"]), number(t, row[axis+"_in"])
				require.InDelta(t, mm, in*25.4, 0.005+0.00005*25.4+1e-9, "halves of the last digits")
				negative := strings.HasPrefix(strings.TrimPrefix(row[axis+"_in_text"], "'"), "-") // guarded against formulas
				text, err := measure.ParseLength(strings.TrimLeft(row[axis+"_in_text"], "'-"), measure.Inches)
				require.NoError(t, err)
				require.InDelta(t, math.Abs(in), text.Inches(), 1.0/64+0.0001)
				require.Equal(t, in < -1.0/64, negative && text > 0)
			}
		}
		require.Len(t, byPiece, len(s.Estimate.Runs))
		for i := range s.Estimate.Runs {
			require.Len(t, rowsOf(t, s, "points.csv", show.Options{Run: i + 1}), byPiece[s.Estimate.Runs[i].Name])
		}
	}
}

// Every cut-out is in its table with distances that add up to its piece, and pieces.csv has decimals beside its fractions.
func TestTablesAgreeWithThePieces(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"l_desk.json", "l_bar.json", "u_counter.json", "straight_shelf.json"} {
		s := subjectOf(t, request(t, name))
		unit := s.Estimate.Units
		digit := map[measure.System]float64{measure.Inches: 0.0001, measure.Millimetres: 0.01}[unit]
		holes := map[string]int{}
		rows := rowsOf(t, s, "cutouts.csv", show.Options{})
		require.Len(t, rows, len(s.Estimate.Cutouts))
		for _, row := range rows {
			holes[row["piece"]]++
			for i := range s.Estimate.Runs {
				r := &s.Estimate.Runs[i]
				if r.Name != row["piece"] {
					continue
				}
				require.InDelta(t, r.Depth.In(unit), number(t, row["from_front"])+number(t, row["depth"])+
					number(t, row["from_wall"]), 2*digit)
				require.InDelta(t, r.Piece.FrontEdge.In(unit), number(t, row["from_left_at_front"])+number(t, row["length"])+
					number(t, row["from_right_at_front"]), 2*digit)
				require.InDelta(t, r.Piece.WallEdge.In(unit), number(t, row["from_left_at_wall"])+number(t, row["length"])+
					number(t, row["from_right_at_wall"]), 2*digit)
			}
		}
		for i, row := range rowsOf(t, s, "pieces.csv", show.Options{}) {
			r := &s.Estimate.Runs[i]
			require.Equal(t, strconv.Itoa(holes[r.Name]), row["cutouts"])
			for name, l := range map[string]measure.Length{"wall_edge": r.Piece.WallEdge, "front_edge": r.Piece.FrontEdge,
				"depth": r.Depth, "blank_length": r.Blank.Length, "blank_width": r.Blank.Width} {
				require.Equal(t, l.Text(unit), row[name])
				require.InDelta(t, l.In(unit), number(t, row[name+"_decimal"]), digit/2+1e-9)
			}
			if r.Blank.Staves > 0 {
				require.InDelta(t, r.Blank.StaveRip.In(unit), number(t, row["stave_width_decimal"]), digit/2+1e-9)
				require.Equal(t, r.Blank.StaveRip.Text(unit), row["stave_width"])
				require.InDelta(t, r.Blank.StaveWidth.In(unit), number(t, row["stave_finished_decimal"]), digit/2+1e-9)
			}
		}
	}
}

func TestATemplateIsOfARunOrOfACorner(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "l_desk.json"))
	for _, view := range []string{"template.svg", "template.pdf"} {
		_, err := show.Make(view, s, show.Options{Run: 1, Corner: 1})
		require.Equal(t, 400, web.ProblemOf(err).Status)
		for _, o := range []show.Options{{Run: 3}, {Corner: 2}} {
			_, err = show.Make(view, s, o)
			require.Equal(t, 404, web.ProblemOf(err).Status)
		}
	}
	for _, view := range []string{"stick.svg", "stick.pdf"} {
		_, err := show.Make(view, subjectOf(t, request(t, "straight_shelf.json")), show.Options{})
		require.Equal(t, 404, web.ProblemOf(err).Status)
	}
	_, err := show.Make("points.csv", s, show.Options{Run: 3})
	require.Equal(t, 404, web.ProblemOf(err).Status)
	face, err := show.Make("template.svg", s, show.Options{})
	require.NoError(t, err)
	under, err := show.Make("template.svg", s, show.Options{Below: true, Language: "de"})
	require.NoError(t, err)
	require.NotEqual(t, string(face), string(under))
	require.Contains(t, string(under), "Von unten gesehen")
}

// boards.csv is the wood of the answer: every board that is bought, every stave of every blank, in lengths that add up to their boards.
func TestCutsAreTheAnswersWood(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"l_desk.json", "l_bar.json", "u_counter.json", "straight_shelf.json"} {
		s := subjectOf(t, request(t, name))
		boards, staves := map[string]string{}, map[string]int{}
		ends := map[string]float64{}
		for _, row := range rowsOf(t, s, "boards.csv", show.Options{}) {
			boards[row["board"]] = row["board_length"]
			if row["is"] == "stave" || row["is"] == "blank" {
				staves[row["piece"]]++
			}
			at := row["board"] + " " + row["strip"]
			require.GreaterOrEqual(t, number(t, row["from"]), ends[at], "cuts stand one behind the other")
			ends[at] = number(t, row["from"]) + number(t, row["length"])
			require.LessOrEqual(t, ends[at], number(t, row["board_length"])+0.02)
		}
		bought := 0
		for i := range s.Estimate.Lumber {
			for _, b := range s.Estimate.Lumber[i].Boards {
				bought += b.Buy
			}
		}
		require.Len(t, boards, bought)
		for i := range s.Estimate.Runs {
			r := &s.Estimate.Runs[i]
			require.Equal(t, max(1, r.Blank.Staves), staves[r.Name])
		}
	}
}

// The papers for the saw are on the paper that is asked for, in the language that is asked for, and name every stave.
func TestPapersForTheSaw(t *testing.T) {
	t.Parallel()
	s := subjectOf(t, request(t, "l_bar.json"))
	for paper, width := range map[string]float64{"A4": 210, "Letter": 215.9} {
		for _, view := range []string{"boards.pdf", "labels.pdf"} {
			raw, err := show.Make(view, s, show.Options{Paper: paper, Language: "de"})
			require.NoError(t, err)
			text := ""
			for _, p := range pagesOf(t, raw) {
				require.NotEmpty(t, p.letters)
				require.GreaterOrEqual(t, slices.Min(p.letters), 8.0, "%s on %s: read at arm's length", view, paper)
				require.InDelta(t, width*72/25.4, p.width, 0.01)
				text += p.text
			}
			flat := strings.Join(strings.Fields(text), "")
			require.Contains(t, flat, map[string]string{"boards.pdf": "Brett1:", "labels.pdf": "Brett1,Streifen1"}[view])
			for i := range s.Estimate.Runs {
				r := &s.Estimate.Runs[i]
				for n := range r.Blank.Staves {
					require.Contains(t, flat, r.Name+strconv.Itoa(n+1))
				}
			}
		}
	}
}

// A quote's templates and boards are drawn from its kept answer: places are off by no more than its rounding, and no stave is lost.
func TestKeptAnswersGiveTheSameTemplates(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"l_desk.json", "l_bar.json", "u_counter.json", "straight_shelf.json"} {
		s := subjectOf(t, request(t, name))
		kept := *s
		var err error
		kept.Estimate, err = estimates.Read(string(estimates.Encode(s.Estimate)))
		require.NoError(t, err)
		fresh, again := rowsOf(t, s, "points.csv", show.Options{}), rowsOf(t, &kept, "points.csv", show.Options{})
		require.Len(t, again, len(fresh))
		for i, row := range fresh {
			for _, column := range []string{"x_mm", "y_mm"} {
				require.InDelta(t, number(t, row[column]), number(t, again[i][column]), 0.05, "%s %v", name, row)
			}
			require.Equal(t, row["layer"]+row["feature"]+row["number"], again[i]["layer"]+again[i]["feature"]+again[i]["number"])
		}
		require.Len(t, rowsOf(t, &kept, "boards.csv", show.Options{}), len(rowsOf(t, s, "boards.csv", show.Options{})))
		require.Len(t, rowsOf(t, &kept, "cutouts.csv", show.Options{}), len(s.Estimate.Cutouts))
	}
}
