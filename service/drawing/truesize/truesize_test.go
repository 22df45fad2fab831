package truesize

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
	"seamwright/store/demotest"
	"seamwright/store/storetest/drawtest"
	"seamwright/store/storetest/goldentest"
)

var letter, a4 = Paper{215.9, 279.4}, Paper{210, 297}

func drawings(t require.TestingT, e *estimate.Estimate, o Options) map[string]*Drawing {
	all := map[string]*Drawing{}
	for i := range e.Runs {
		d, err := OfRun(e, i, o)
		require.NoError(t, err)
		all[fmt.Sprintf("run-%d", i+1)] = d
	}
	for i := range e.Corners {
		d, err := OfCorner(e, i, o)
		require.NoError(t, err)
		all[fmt.Sprintf("corner-%d", i+1)] = d
		d, err = OfStick(e, i, o)
		require.NoError(t, err)
		all[fmt.Sprintf("stick-%d", i+1)] = d
	}
	return all
}

// svg is what the root of a drawing says of its size, and the identifiers in it.
type svg struct {
	Width   string `xml:"width,attr"`
	Height  string `xml:"height,attr"`
	ViewBox string `xml:"viewBox,attr"`
	Groups  []struct {
		ID    string `xml:"id,attr"`
		Inner []struct {
			XMLName xml.Name
			ID      string `xml:"id,attr"`
		} `xml:",any"`
	} `xml:"g"`
}

func readSVG(t require.TestingT, raw []byte) (s svg) {
	require.NoError(t, xml.NewDecoder(bytes.NewReader(raw)).Decode(&s))
	return s
}

// One unit is a millimetre, every shape has an identifier of its own, and the groups are those that the spec names.
func TestTheSVGIsTrueToSize(t *testing.T) {
	known := map[string]bool{checkGroup: true, "notes": true, "stick": true, "centres": true}
	for _, l := range template.Layers {
		known[string(l)] = true
	}
	for _, o := range []estimate.Order{drawtest.Desk(), drawtest.Bar(), drawtest.Counter()} {
		e := drawtest.Make(t, o)
		for name, d := range drawings(t, e, Options{}) {
			s := readSVG(t, d.SVG())
			var w, h float64
			_, err := fmt.Sscanf(s.ViewBox, "0 0 %g %g", &w, &h)
			require.NoError(t, err)
			require.Equal(t, fmt.Sprint(w)+"mm", s.Width, name)
			require.Equal(t, fmt.Sprint(h)+"mm", s.Height, name)
			ids := map[string]bool{}
			for _, g := range s.Groups {
				require.True(t, known[g.ID], "group %q", g.ID)
				require.False(t, ids[g.ID], "group %q stands twice", g.ID)
				ids[g.ID] = true
				for _, one := range g.Inner {
					if g.ID != "notes" {
						require.NotEmpty(t, one.ID)
						require.False(t, ids[one.ID], "%s: %q stands twice", name, one.ID)
						ids[one.ID] = true
					}
				}
			}
		}
	}
}

// length of what a stroke draws.
func (k *stroke) length() (sum float64) {
	points := k.points
	if k.radius > 0 {
		return 2 * math.Pi * k.radius
	}
	n := len(points)
	if k.open {
		n--
	}
	for i := range n {
		q := points[(i+1)%len(points)]
		sum += math.Hypot(q.X-points[i].X, q.Y-points[i].Y)
	}
	return sum
}

// The tiles without what they share hold every line once, and only tiles without any are left out.
func holdTiles(t require.TestingT, whole *Drawing, p Paper) {
	d := whole.cropped()
	all := window{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range d.strokes {
		if k := &d.strokes[i]; k.tiled() {
			r := reach(k.points).grown(k.radius)
			all = window{min(all.x0, r.x0), min(all.y0, r.y0), max(all.x1, r.x1), max(all.y1, r.y1)}
		}
	}
	for _, side := range []float64{all.x0, all.y0, d.width - all.x1, d.height - all.y1} {
		require.InDelta(t, border, side, 1e-9, "the same border all round")
	}
	for _, g := range []grid{d.gridOf(p), d.gridOf(Paper{p.Height, p.Width})} {
		require.Greater(t, float64(g.columns)*g.cellW+overlap+1e-9, d.width)
		require.Greater(t, float64(g.rows)*g.cellH+overlap+1e-9, d.height)
		tiling := g.tiling("job")
		printed := map[string]bool{}
		for _, tile := range tiling.Tiles {
			printed[tile.Name] = true
			s := readSVG(t, tile.Picture)
			require.Equal(t, fmt.Sprintf("%gmm", g.paper.Width), s.Width)
			require.Equal(t, fmt.Sprintf("%gmm", g.paper.Height), s.Height)
		}
		require.Equal(t, g.columns*g.rows, len(tiling.Tiles)+tiling.Empty)
		for i := range d.strokes {
			k := &d.strokes[i]
			if !k.tiled() || k.radius > 0 {
				continue
			}
			sum := 0.0
			n := len(k.points)
			if k.open {
				n--
			}
			for row := range g.rows {
				for column := range g.columns {
					w := g.window(column, row)
					// Cells share no border: each stands a trifle to the left and up, so that a line on a border, where two
					// sums of the same lengths may differ in their last digit, is in the next cell whole.
					const trifle = 1e-7
					if column > 0 {
						w.x0 -= trifle
					}
					if row > 0 {
						w.y0 -= trifle
					}
					if column < g.columns-1 {
						w.x1 -= overlap + trifle
					}
					if row < g.rows-1 {
						w.y1 -= overlap + trifle
					}
					for m := range n {
						if a, b, ok := w.segment(k.points[m], k.points[(m+1)%len(k.points)]); ok && a != b {
							require.True(t, printed[tileName(column, row)], "a tile with something on it is printed")
							sum += math.Hypot(b.X-a.X, b.Y-a.Y)
						}
					}
				}
			}
			require.InDelta(t, k.length(), sum, 1e-6*(1+k.length()), "%s in tiles", k.id)
		}
	}
}

// Of any top, every drawing can be laid together from its tiles, and no label leaves its tile or lies on another drawing's foot.
func TestTilesHoldEverythingOnce(t *testing.T) {
	cat := demotest.Catalogue(t)
	made := 0
	var speeches []pen.Speech
	for _, tag := range words.Languages() {
		speaker, err := speak.In(tag)
		require.NoError(t, err)
		speeches = append(speeches, speaker.Drawings)
	}
	rapid.Check(t, func(r *rapid.T) {
		e, err := estimate.Make(drawtest.Any(r), cat)
		if err != nil {
			return
		}
		made++
		all := drawings(r, e, Options{Below: rapid.Bool().Draw(r, "below"), Speech: rapid.SampledFrom(speeches).Draw(r, "language")})
		for _, name := range slices.Sorted(maps.Keys(all)) { // in one order, so that a failure comes again
			d := all[name]
			paper := rapid.SampledFrom([]Paper{letter, a4}).Draw(r, "paper")
			holdTiles(r, d, paper)
			holdWritten(r, d, paper)
			var boxes []pen.Box
			for i := range d.labels {
				b := d.labels[i].box()
				boxes = append(boxes, pen.Box{X0: b.x0, Y0: b.y0, X1: b.x1, Y1: b.y1, Text: d.labels[i].text})
				require.True(r, b.x0 > -1 && b.y0 > -1 && b.x1 < d.width+1 && b.y1 < d.height+1, "%q leaves the drawing %q",
					d.labels[i].text, d.Title)
			}
			require.Empty(r, drawtest.Collisions(boxes), d.Title)
		}
	})
	require.Greater(t, made, 10)
}

// On every tile the drawing's letters keep off the crosses, each other and the lines where it ends, and the neighbours' names off both and off every line.
func holdWritten(t require.TestingT, whole *Drawing, p Paper) {
	d := whole.cropped()
	for _, g := range []grid{d.gridOf(p), d.gridOf(Paper{p.Height, p.Width})} {
		printed := map[string]bool{}
		for row := range g.rows {
			for column := range g.columns {
				printed[tileName(column, row)] = g.lines(new(pen.Pen), column, row)
			}
		}
		g.seated = g.seats(printed)
		labels := 0
		for i := range d.labels {
			if !d.labels[i].check {
				labels++
			}
		}
		for row := range g.rows {
			for column := range g.columns {
				tile, all := tileName(column, row), g.written(column, row, printed)
				labels -= len(all.labels)
				require.True(t, printed[tile] || len(all.labels) == 0, "%s: what is written on %s is not printed", d.Title, tile)
				var boxes []pen.Box
				box := func(w window, text string) {
					boxes = append(boxes, pen.Box{X0: w.x0, Y0: w.y0, X1: w.x1, Y1: w.y1, Text: text})
				}
				for _, c := range all.crosses {
					box(window{c.X - arm, c.Y - arm, c.X + arm, c.Y + arm}, "cross")
				}
				for i := range all.labels {
					l := &all.labels[i]
					box(l.box(), l.text)
					b, next := l.box(), g.window(column+1, row+1) // upright figures stay on their lines
					right, down := column+1 < g.columns && b.x0 < next.x0 && next.x0 < b.x1,
						row+1 < g.rows && b.y0 < next.y0 && next.y0 < b.y1
					require.False(t, !l.l.Upward && (right || down), "%s, %s: the tile ends across %q", d.Title, tile, l.text)
				}
				for i := range all.names {
					b := all.names[i].box()
					box(b, all.names[i].text)
					w := g.window(column, row)
					side := map[bool]float64{true: 0}
					for arrow, off := range map[string]float64{"→": w.x1 - b.x1, "←": b.x0 - w.x0, "↓": w.y1 - b.y1, "↑": b.y0 - w.y0} {
						side[strings.Contains(all.names[i].text, arrow)] = off
					}
					require.Less(t, side[true], 2*overlap, "%s, %s: %q stands at its neighbour's side", d.Title, tile, all.names[i].text)
					for k := range d.strokes {
						if d.strokes[k].tiled() {
							require.False(t, d.strokes[k].crosses(b), "%s, %s: %s crosses %q", d.Title, tile, d.strokes[k].id, all.names[i].text)
						}
					}
				}
				require.Empty(t, drawtest.Collisions(boxes), "%s, %s", d.Title, tile)
			}
		}
		require.Zero(t, labels, "%s: what is written on the drawing is written on one of its tiles", d.Title)
	}
}

// What is read together stands together: the lines that name a piece are on one tile, as far apart as in the whole drawing, in their
// piece and within what is left when the tile is cut. Letters that name no line of their own lie beyond the cut nowhere.
func TestABlockOfWordsStandsOnOneTile(t *testing.T) {
	blocks := 0
	for name, order := range map[string]estimate.Order{"desk": drawtest.Desk(), "bar": drawtest.Bar(), "reflex": drawtest.Reflex(),
		"counter": drawtest.Counter()} {
		e := drawtest.Make(t, order)
		for corner := range e.Corners {
			whole, err := OfCorner(e, corner, Options{})
			require.NoError(t, err)
			d := whole.cropped()
			for _, p := range []Paper{letter, a4, {letter.Height, letter.Width}, {a4.Height, a4.Width}} {
				g := d.gridOf(p)
				printed := map[string]bool{}
				for row := range g.rows {
					for column := range g.columns {
						printed[tileName(column, row)] = g.lines(new(pen.Pen), column, row)
					}
				}
				g.seated = g.seats(printed)
				var found [][2]int // each block and its tile
				for row := range g.rows {
					for column := range g.columns {
						for _, l := range g.written(column, row, printed).labels {
							b := l.box()
							require.True(t, l.l.Upward || g.kept(column, row).contains(b), "%s, corner %d, %s: %q is cut off", name, corner+1,
								tileName(column, row), l.text)
							if l.block == 0 {
								continue
							}
							found = append(found, [2]int{l.block, row*g.columns + column})
							home := g.around(b.middle())
							require.NotNil(t, home, "%s, corner %d: %q lies outside of its piece", name, corner+1, l.text)
							for i := range d.labels {
								if o := &d.labels[i]; o.block == l.block && o.text == l.text {
									require.Equal(t, g.around(o.box().middle()), home, "%s, corner %d: %q left its piece", name, corner+1, l.text)
								}
							}
						}
					}
				}
				tiles := map[int]int{}
				for _, f := range found {
					if at, there := tiles[f[0]]; there {
						require.Equal(t, at, f[1], "%s, corner %d: block %d stands on two tiles of %v", name, corner+1, f[0], p)
					}
					tiles[f[0]] = f[1]
				}
				blocks += len(tiles)
			}
		}
	}
	require.Greater(t, blocks, 30)
}

// A stick of which a tile once had its neighbour's name on a slot's line and a figure on a cross.
func TestNothingIsWrittenOnAStickTilesMarks(t *testing.T) {
	german, err := speak.In("de")
	require.NoError(t, err)
	e := drawtest.Make(t, estimate.Order{Units: measure.Millimetres, Reference: "Granary bar (invented order)",
		Top: estimate.Top{Species: "oak_white", Thickness: 38,
			Runs:    []estimate.Run{{Name: "A", Length: 2600, Depth: 620}, {Name: "B", Length: 1900, Depth: 500}},
			Corners: []estimate.Corner{{Angle: 270 * measure.Degree}},
			Edge:    estimate.Edge{Profile: estimate.Eased, Size: 1.5}}, Pricing: estimate.PricingOrder{AsOf: "2026-11-01"}})
	d, err := OfStick(e, 0, Options{Speech: german.Drawings})
	require.NoError(t, err)
	for _, p := range []Paper{letter, a4} {
		holdWritten(t, d, p)
	}
}

// Whatever the job is called, a tile's foot stays within what printers reach and nothing in it lies on the check line or on another text.
func TestAFootHasRoomForAnyName(t *testing.T) {
	d, err := OfRun(drawtest.Make(t, drawtest.Bar()), 0, Options{})
	require.NoError(t, err)
	d = d.cropped()
	d.Title = strings.Repeat("A long name of a piece, ", 20)
	for _, p := range []Paper{letter, a4} {
		for _, g := range []grid{d.gridOf(p), d.gridOf(Paper{p.Height, p.Width})} {
			for name, job := range map[string]string{"A1": "Job 7", "AB12": strings.Repeat("for somebody's reception bar ", 20)} {
				var foot pen.Pen
				g.foot(&foot, name, 118, 119, job)
				boxes := foot.Boxes()
				require.Empty(t, drawtest.Collisions(boxes))
				y, length := g.paper.Height-white-band+6.4, g.check()
				for _, b := range append(boxes, pen.Box{X0: g.paper.Width - white - length - 1, Y0: y - 2, X1: g.paper.Width - white - 1, Y1: y + 2}) {
					require.True(t, b.X0 >= white && b.X1 <= g.paper.Width-white && b.Y0 >= g.paper.Height-white-band && b.Y1 <= g.paper.Height-white+0.01,
						"%v", b)
				}
				for _, b := range boxes[2:] { // the first two stand at the line: how long it is, and which sheet this is
					require.Less(t, b.X1, g.paper.Width-white-length-1, "%q reaches the check line", b.Text)
				}
			}
		}
	}
}

// The plan of the tiles is as large as it may be: all of it lies on its paper, and it fills the width or the height.
func TestTheKeyFillsItsPaper(t *testing.T) {
	cell := regexp.MustCompile(`<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"`)
	for _, o := range []estimate.Order{drawtest.Desk(), drawtest.Bar()} {
		for name, d := range drawings(t, drawtest.Make(t, o), Options{}) {
			d = d.cropped()
			for _, g := range []grid{d.gridOf(letter), d.gridOf(Paper{letter.Height, letter.Width})} {
				raw := g.key(map[string]bool{"A1": true})
				var w, h float64
				_, err := fmt.Sscanf(readSVG(t, raw).ViewBox, "0 0 %g %g", &w, &h)
				require.NoError(t, err)
				require.LessOrEqual(t, h, keyHigh+2.01)
				right, bottom, n := 0.0, 0.0, 0
				for _, found := range cell.FindAllStringSubmatch(string(raw), -1) {
					var at [4]float64
					for i := range at {
						at[i], err = strconv.ParseFloat(found[i+1], 64)
						require.NoError(t, err)
					}
					if at[0] == 0 {
						continue // the paper
					}
					n++
					right, bottom = max(right, at[0]+at[2]), max(bottom, at[1]+at[3])
				}
				require.Equal(t, g.columns*g.rows, n)
				s := (right - 1) / (float64(g.columns) * g.cellW)
				require.LessOrEqual(t, right+s*overlap, w-0.98, name)
				require.LessOrEqual(t, bottom+s*overlap, h-0.98, name)
				require.True(t, right+s*overlap > w-1.1 || bottom+s*overlap > keyHigh+0.9, "%s: %v of %v, %v", name, right, w, bottom)
			}
		}
	}
}

// Crosses of neighbours lie at one place of the drawing, and at the same places of the paper on every sheet.
func TestCrossesMeet(t *testing.T) {
	d, err := OfRun(drawtest.Make(t, drawtest.Desk()), 0, Options{})
	require.NoError(t, err)
	g := d.cropped().gridOf(letter)
	a, b, below := g.window(0, 0), g.window(1, 0), g.window(0, 1)
	require.InDelta(t, a.x0+g.cellW, b.x0, 1e-9)
	require.InDelta(t, a.y0+g.cellH, below.y0, 1e-9)
	require.InDelta(t, overlap, a.x1-b.x0, 1e-9)
	require.InDelta(t, overlap, a.y1-below.y0, 1e-9)
	require.InDelta(t, letter.Width, a.x1-a.x0+2*white, 1e-9, "a tile and its white margins are the paper")
	require.Equal(t, []string{"A1", "Z3", "AA1", "AB12"}, []string{tileName(0, 0), tileName(25, 2), tileName(26, 0),
		tileName(27, 11)})
}

// The stick is as long as its seam; of a mason's miter as its straight part. Its marks stand at the answer's places.
func TestTheStickIsAsLongAsTheSeam(t *testing.T) {
	for _, o := range []estimate.Order{drawtest.Desk(), drawtest.Bar()} {
		e := drawtest.Make(t, o)
		d, err := OfStick(e, 0, Options{})
		require.NoError(t, err)
		c := e.Corners[0].ChosenCandidate()
		turn := 0.0
		if c.Joint.Kind.Turns() {
			turn = float64(c.Geometry.SeamPath[0].Distance(c.Geometry.SeamPath[1]))
			require.Contains(t, strings.Join(d.About, " "), "bends")
		}
		require.InDelta(t, float64(c.Geometry.SeamLength)-turn, d.width-2*border, 1e-6)
		marks := c.Hardware.Marks()
		require.NotEmpty(t, marks)
		var at []float64
		for i := range d.strokes {
			if d.strokes[i].group == "centres" && !strings.Contains(d.strokes[i].id, "recess") {
				at = append(at, d.strokes[i].points[0].X-border+turn)
			}
		}
		require.Len(t, at, len(marks))
		for i := range marks {
			require.InDelta(t, float64(marks[i].At), at[i], 1e-6)
			found := false
			for _, l := range d.labels {
				found = found || strings.HasPrefix(l.text, fmt.Sprintf("%d: %s", marks[i].Number,
					(marks[i].At-measure.Length(turn)).Text(e.Units)))
			}
			require.True(t, found, "mark %d is told", i+1)
		}
	}
	_, err := OfStick(drawtest.Make(t, drawtest.Desk()), 1, Options{})
	require.ErrorContains(t, err, "There is no corner 2")
}

// Whatever part pulls a seam, on whichever side, all of it lies on its stick.
func TestAStickHoldsItsParts(t *testing.T) {
	for _, pull := range []catalogue.FastenerKind{catalogue.PocketScrew, catalogue.DrawBolt} {
		for _, through := range []estimate.ThroughWish{estimate.ThroughFirst, estimate.ThroughSecond} {
			o := drawtest.Desk()
			o.Top.Edge = estimate.Edge{Profile: estimate.Square}
			o.Top.Corners[0] = estimate.Corner{Joint: plan.Butt, Through: through, Pull: pull}
			d, err := OfStick(drawtest.Make(t, o), 0, Options{})
			require.NoError(t, err)
			for i := range d.strokes {
				k := &d.strokes[i]
				w := reach(k.points).grown(k.radius)
				require.True(t, k.group == checkGroup || w.y0 >= border-1e-6 && w.y1 <= d.height-border+1e-6, "%s, %s, %s: %v", pull,
					through, k.id, w)
			}
		}
	}
}

// A name of a cut-out stands whole on a line or two in letters that the room takes, before any letter is left out; no line is wider
// than the room.
func TestANameInAnOpening(t *testing.T) {
	const name = "cut-out 12: dishwasher outlet"
	size := 6.0
	for room := 90.0; room > 8; room-- {
		lines, l := inOpening(name, room)
		for _, line := range lines {
			require.LessOrEqual(t, pen.Width(line, l), room)
		}
		require.LessOrEqual(t, len(lines), 2)
		require.LessOrEqual(t, l.Size, size, "the smaller the room the smaller the letters")
		size = l.Size
		small := pen.Letters{Size: pen.Small + 0.2, At: pen.Middle}
		if room > pen.Width("cut-out 12:dishwasher", small) {
			require.Equal(t, name, strings.Join(lines, " "), "%g", room)
		}
		if pen.Width(name, pen.Letters{Size: 5}) < room {
			require.Len(t, lines, 1)
			require.InDelta(t, 5, l.Size, 1e-9)
		}
	}
	require.Less(t, size, 3.0)
}

// A label moves to any side on which there is room, by as little as may be, and stays where there is none; one that reads upwards
// belongs to its line and keeps to it.
func TestALabelMovesToTheNearestRoom(t *testing.T) {
	w := window{0, 0, 100, 100}
	l := label{at: pen.At(50, 50), text: "12", l: pen.Letters{Size: 3, At: pen.Middle}}
	b := l.box()
	wide, high := b.x1-b.x0, b.y1-b.y0
	// everything is taken but a gap as large as the label, further off by 10 to one of eight sides
	for _, way := range []pen.Point{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
		gap := b.moved(10*way.X, 10*way.Y).grown(0.01)
		around := []window{{0, 0, 100, gap.y0}, {0, gap.y1, 100, 100}, {0, gap.y0, gap.x0, gap.y1}, {gap.x1, gap.y0, 100, gap.y1}}
		moved, ok := aside(l, w, around)
		require.True(t, ok, "%v", way)
		require.InDelta(t, 50+10*way.X, moved.at.X, 1e-9)
		require.InDelta(t, 50+10*way.Y, moved.at.Y, 1e-9)
		far := b.moved(25*way.X, 25*way.Y).grown(0.01)
		around = []window{{0, 0, 100, far.y0}, {0, far.y1, 100, 100}, {0, far.y0, far.x0, far.y1}, {far.x1, far.y0, 100, far.y1}}
		moved, ok = aside(l, w, around)
		require.False(t, ok, "too far off to belong there")
		require.Equal(t, l, moved)
	}
	moved, ok := aside(l, w, []window{b})
	require.True(t, ok)
	require.LessOrEqual(t, math.Hypot(moved.at.X-50, moved.at.Y-50), min(wide, high)+0.5)
	up := l
	up.l.Upward = true
	band := up.box()
	_, ok = aside(up, w, []window{{band.x0, 0, band.x1, 100}})
	require.False(t, ok, "it does not leave its line")
	moved, ok = aside(up, w, []window{band})
	require.True(t, ok)
	require.InDelta(t, 50, moved.at.X, 1e-9)
}

// A circle that lies on a tile is drawn as one; of one that lies across its side the part on it is drawn, within a fiftieth of a millimetre.
func TestCirclesOnATile(t *testing.T) {
	w := window{0, 0, 100, 100}
	draw := func(x, y float64) (string, bool) {
		var p pen.Pen
		there := (&stroke{points: []pen.Point{{X: x, Y: y}}, radius: 17.5, look: pen.Stroke{Ink: pen.Ink, Width: 1}}).part(&p, w, pen.At(0, 0))
		return string(p.Document(100, 100, "id", "title", "text")), there
	}
	for _, at := range [][2]float64{{50, 50}, {17.5, 50}, {82.5, 50}, {50, 17.5}, {50, 82.5}} {
		doc, there := draw(at[0], at[1])
		require.True(t, there)
		require.Contains(t, doc, "<ellipse")
		require.NotContains(t, doc, "<line")
	}
	ends := regexp.MustCompile(`<line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"`)
	for _, at := range [][2]float64{{17.4, 50}, {82.6, 50}, {50, 17.4}, {50, 82.6}, {100, 50}, {0, 0}} {
		doc, there := draw(at[0], at[1])
		require.True(t, there)
		require.NotContains(t, doc, "<ellipse")
		sum := 0.0
		for _, found := range ends.FindAllStringSubmatch(doc, -1) {
			var q [4]float64
			for i := range q {
				var err error
				q[i], err = strconv.ParseFloat(found[i+1], 64)
				require.NoError(t, err)
			}
			middle := math.Hypot((q[0]+q[2])/2-at[0], (q[1]+q[3])/2-at[1])
			require.InDelta(t, 17.5, middle, 0.03)
			sum += math.Hypot(q[2]-q[0], q[3]-q[1])
		}
		share := map[float64]float64{100: 0.5, 0: 0.25}[at[0]]
		if share > 0 {
			require.InDelta(t, 2*math.Pi*17.5*share, sum, 0.3)
		}
	}
	_, there := draw(-20, 50)
	require.False(t, there)
}

// Each golden file was looked at.
func TestGoldenDrawings(t *testing.T) {
	german := pen.Speech{Words: map[string]string{"visible front": "sichtbare Vorderkante", "wall edge": "Wandkante"}}
	for name, o := range map[string]estimate.Order{"desk": drawtest.Desk(), "bar": drawtest.Bar()} {
		e := drawtest.Make(t, o)
		for part, d := range drawings(t, e, Options{}) {
			goldentest.Hold(t, "testdata/"+name+"-"+part+".svg", d.SVG())
		}
		corner, err := OfCorner(e, 0, Options{Below: true, Speech: german})
		require.NoError(t, err)
		goldentest.Hold(t, "testdata/"+name+"-corner-1-below.svg", corner.SVG())
		tiling := corner.Tile(a4, "Job 7")
		goldentest.Hold(t, "testdata/"+name+"-corner-1-key.svg", tiling.Key)
		goldentest.Hold(t, "testdata/"+name+"-corner-1-tile.svg", tiling.Tiles[len(tiling.Tiles)/2].Picture)
	}
}

func BenchmarkTemplate(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		d, err := OfRun(e, 0, Options{})
		if err != nil {
			b.Fatal(err)
		}
		d.SVG()
	}
}

func BenchmarkTiles(b *testing.B) {
	e := drawtest.Make(b, drawtest.Desk())
	b.ReportAllocs()
	for b.Loop() {
		d, err := OfRun(e, 0, Options{})
		if err != nil {
			b.Fatal(err)
		}
		d.Tile(letter, "job")
	}
}

// The name of an edge lies on no line: a wall that is not straight comes down to it, and it goes lower.
func TestTheNameOfAnEdgeKeepsOffItsLine(t *testing.T) {
	for _, comes := range []float64{0, 6, 9} {
		s := &sheet{Drawing: &Drawing{}}
		s.strokes = []stroke{{group: string(template.Outline), points: []pen.Point{{X: 0, Y: 0}, {X: 400, Y: comes}, {X: 800, Y: 0},
			{X: 800, Y: 600}, {X: 0, Y: 600}}}}
		s.addBeside(pen.At(400, 8), "wall edge", window{0, 0, 800, 600})
		require.Len(t, s.labels, 1)
		require.False(t, s.strokes[0].crosses(s.labels[0].box()), "a line %v below", comes)
		require.Equal(t, comes < 3, s.labels[0].at == pen.At(400, 8))
	}
}
