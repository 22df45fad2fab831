// Package letters draws the plan of a top in characters, for a terminal: outline, seams, cut-outs, and each run's name, length and
// depth, seen from above. Slanted edges become steps; what finds no room stands below.
//
// It is pure: the same estimate and width give the same lines.
package letters

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

const (
	// cellHeight is how many times as high as wide a character is, about, in the usual terminals' fonts.
	cellHeight = 2.0
	// mostRows bounds how high a plan gets.
	mostRows = 24
)

// grid is the plan cut into cells: which run's wood is there, from 1, or behind the runs which cut-out; 0: neither.
type grid struct {
	columns, rows int
	owner         []int
	canvas        [][]rune // the lines between cells: one more of each
}

// Plan draws a top in at most that many columns.
func Plan(e *estimate.Estimate, most int) []string {
	lo, hi := bounds(e.Outline)
	width, depth := (hi.X - lo.X).Millimetres(), (hi.Y - lo.Y).Millimetres()
	if width <= 0 || depth <= 0 || most < 10 {
		return nil
	}
	cell := math.Max(width/float64(most-1), depth/cellHeight/mostRows) // width of a cell
	g := &grid{columns: max(int(math.Round(width/cell)), 1), rows: max(int(math.Round(depth/cell/cellHeight)), 2)}
	g.fill(e, lo, hi)
	g.draw()
	var apart []string // what is told below, as its place is too narrow for all of it
	for i := range e.Runs {
		names := labels(&e.Runs[i], e.Units)
		switch written := g.label(i+1, names); {
		case written == len(names):
			apart = append(apart, names[0])
		case written > 0:
			apart = append(apart, runTold(names, written))
		}
	}
	for i := range e.Cutouts {
		names := holeNames(&e.Cutouts[i], i, e.Units)
		if written := g.label(len(e.Runs)+i+1, names); written > 0 {
			apart = append(apart, holeTold(names, written))
		}
	}
	lines := make([]string, 0, len(g.canvas))
	for _, line := range g.canvas {
		lines = append(lines, strings.TrimRight(string(line), " "))
	}
	return append(lines, below(apart, most)...)
}

// below puts what is told below the plan into lines of at most so many columns, as far as its blanks allow.
func below(apart []string, most int) (lines []string) {
	line := ""
	for i, one := range apart {
		if i < len(apart)-1 {
			one += ";"
		}
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(one) > most {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimPrefix(line+" "+one, " ")
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// labels are what a run may be called, the longest first.
func labels(r *estimate.RunResult, units measure.System) []string {
	name := plain(r.Name)
	return []string{name + " " + r.Piece.LongEdge.Text(units) + " × " + r.Depth.Text(units),
		name + " " + r.Piece.LongEdge.Text(units), name, first(name, 3), first(name, 1)}
}

// holeNames are what a cut-out may be called, the longest first, its number last.
func holeNames(c *estimate.CutoutResult, i int, units measure.System) []string {
	kind, size := plain(strings.ReplaceAll(c.Kind, "_", " ")), ""
	if kind == "" {
		kind = "cut-out"
	}
	switch {
	case c.Making != nil:
		size = " " + c.Making.Length.Text(units) + " × " + c.Making.Depth.Text(units)
	case len(c.Outline) == 4:
		size = " " + c.Outline[0].Distance(c.Outline[1]).Text(units) + " × " + c.Outline[1].Distance(c.Outline[2]).Text(units)
	}
	return []string{kind + size, kind, strconv.Itoa(i + 1)}
}

// runTold says below what a run's place had no room for.
func runTold(names []string, written int) string {
	if name := names[2]; names[written] == name || written < 2 {
		return names[0]
	}
	return names[written] + ": " + names[0]
}

// holeTold says below what a cut-out's place had no room for.
func holeTold(names []string, written int) string {
	if written == 2 { // its number alone
		return names[written] + ": " + names[0]
	}
	return names[0]
}

// plain keeps a caller's name from steering the terminal or turning its line round; wide letters would shift the lines.
func plain(name string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r > 0x24f || r == 0x7f || r >= 0x80 && r < 0xa0 || r == 0xad {
			return '·'
		}
		return r
	}, name)
}

func first(name string, n int) string {
	runes := []rune(name)
	return string(runes[:min(n, len(runes))])
}

func bounds(points []plan.Point) (lo, hi plan.Point) {
	for i, p := range points {
		if i == 0 {
			lo, hi = p, p
		}
		lo, hi = plan.Point{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, plan.Point{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	return lo, hi
}

// fill asks of each cell's middle whose wood it is. Like the drawn plan it is turned, so that the first run's wall is at the
// top.
func (g *grid) fill(e *estimate.Estimate, lo, hi plan.Point) {
	g.owner = make([]int, g.columns*g.rows)
	for row := range g.rows {
		y := lo.Y + (hi.Y-lo.Y)*measure.Length((float64(row)+0.5)/float64(g.rows))
		for column := range g.columns {
			x := hi.X - (hi.X-lo.X)*measure.Length((float64(column)+0.5)/float64(g.columns))
			for i := range e.Runs {
				if within(e.Runs[i].Piece.Outline, x, y) {
					g.owner[row*g.columns+column] = i + 1
				}
			}
			for i := range e.Cutouts {
				if within(e.Cutouts[i].Outline, x, y) {
					g.owner[row*g.columns+column] = len(e.Runs) + i + 1
				}
			}
		}
	}
}

// within counts the edges that a ray to the right crosses.
func within(outline []plan.Point, x, y measure.Length) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > y) != (b.Y > y) && x < a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

func (g *grid) at(row, column int) int {
	if row < 0 || column < 0 || row >= g.rows || column >= g.columns {
		return 0
	}
	return g.owner[row*g.columns+column]
}

// strokes are the characters by the lines that meet in them: up 1, down 2, left 4, right 8.
var strokes = [16]rune{' ', '│', '│', '│', '─', '┘', '┐', '┤', '─', '└', '┌', '├', '─', '┴', '┬', '┼'}

// draw puts a line wherever two cells are of different runs.
func (g *grid) draw() {
	for row := range g.rows + 1 {
		line := make([]rune, g.columns+1)
		for column := range g.columns + 1 {
			a, b, c, d := g.at(row-1, column-1), g.at(row-1, column), g.at(row, column-1), g.at(row, column)
			n := 0
			if a != b {
				n |= 1
			}
			if c != d {
				n |= 2
			}
			if a != c {
				n |= 4
			}
			if b != d {
				n |= 8
			}
			line[column] = strokes[n]
		}
		g.canvas = append(g.canvas, line)
	}
}

// label writes the longest of the names that fits into the run or cut-out, as near its middle as may be, and says which: their number
// when none did.
func (g *grid) label(run int, names []string) (written int) {
	x, y, n := 0.0, 0.0, 0.0
	for i, owner := range g.owner {
		if owner == run {
			x, y, n = x+float64(i%g.columns), y+float64(i/g.columns), n+1
		}
	}
	if n == 0 {
		return len(names)
	}
	for i, name := range names {
		length := utf8.RuneCountInString(name)
		best, row, column := math.Inf(1), -1, -1
		for r := range g.canvas {
			for c := 0; c+length <= len(g.canvas[r]); c++ {
				away := math.Hypot(float64(c)+float64(length)/2-x/n-0.5, (float64(r)-y/n-0.5)*cellHeight)
				if away < best && g.free(run, r, c, length) {
					best, row, column = away, r, c
				}
			}
		}
		if row >= 0 {
			copy(g.canvas[row][column:], []rune(name))
			return i
		}
	}
	return len(names)
}

// free says whether a text stands on the run's wood alone.
func (g *grid) free(run, row, column, length int) bool {
	for c := column; c < column+length; c++ {
		if g.canvas[row][c] != ' ' || g.at(row, c) != run {
			return false
		}
	}
	return true
}
