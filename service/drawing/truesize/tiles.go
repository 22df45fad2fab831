package truesize

import (
	"math"
	"slices"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/template"
)

// Paper is a sheet of paper, upright, in millimetres.
type Paper struct{ Width, Height float64 }

// Sizes of a tiled sheet, in millimetres.
const (
	white   = 10.0 // round everything: what printers cannot reach
	overlap = 12.0 // that neighbouring tiles share
	band    = 13.0 // at the foot, for what the tile is
)

// Tiling is a drawing in tiles.
type Tiling struct {
	Columns, Rows int
	Landscape     bool
	Tiles         []Tile // those with something on them, row by row
	Key           []byte // SVG: where each tile lies
	Empty         int    // tiles that are not printed
}

// Tile is one sheet of paper, drawn to its edges.
type Tile struct {
	Name    string // column and row: A1, B1, …
	Picture []byte // SVG of the paper's size
}

// grid is how a drawing is divided.
type grid struct {
	*Drawing
	paper         Paper // as it lies
	cellW, cellH  float64
	columns, rows int
	seated        map[int]seat // the blocks of labels that stand whole on a tile
}

func (d *Drawing) gridOf(p Paper) grid {
	g := grid{Drawing: d, paper: p, cellW: p.Width - 2*white - overlap, cellH: p.Height - 2*white - band - overlap}
	// the last one has no neighbour to overlap
	count := func(size, cell float64) int { return max(1, int(math.Ceil((size-overlap)/cell-1e-9))) }
	g.columns, g.rows = count(d.width, g.cellW), count(d.height, g.cellH)
	return g
}

// tiled says whether a stroke is printed: the blank would take sheets of its own, and every tile has its check line.
func (k *stroke) tiled() bool { return k.group != checkGroup && k.group != string(template.Blank) }

// cropped is the drawing with only what is printed in tiles, and as large.
func (d *Drawing) cropped() *Drawing {
	w := window{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for i := range d.strokes {
		if k := &d.strokes[i]; k.tiled() {
			r := reach(k.points).grown(k.radius)
			w = window{math.Min(w.x0, r.x0), math.Min(w.y0, r.y0), math.Max(w.x1, r.x1), math.Max(w.y1, r.y1)}
		}
	}
	w = w.grown(border)
	own := *d
	own.width, own.height = w.x1-w.x0, w.y1-w.y0
	own.strokes, own.labels = slices.Clone(d.strokes), slices.Clone(d.labels)
	for i := range own.strokes {
		own.strokes[i].points = slices.Clone(own.strokes[i].points)
		for n := range own.strokes[i].points {
			q := &own.strokes[i].points[n]
			q.X, q.Y = q.X-w.x0, q.Y-w.y0
		}
	}
	for i := range own.labels {
		q := &own.labels[i].at
		q.X, q.Y = q.X-w.x0, q.Y-w.y0
	}
	return &own
}

// Tile divides the drawing into tiles for a paper, upright or across, whichever takes fewer. job stands on every one.
func (d *Drawing) Tile(p Paper, job string) *Tiling {
	d = d.cropped()
	upright, across := d.gridOf(p), d.gridOf(Paper{p.Height, p.Width})
	a, b := upright.tiling(job), across.tiling(job)
	if len(b.Tiles) < len(a.Tiles) {
		b.Landscape = true
		return b
	}
	return a
}

// tiling draws the tiles that have something on them.
func (g *grid) tiling(job string) *Tiling {
	t := &Tiling{Columns: g.columns, Rows: g.rows}
	printed := make(map[string]bool, g.columns*g.rows)
	var pens []*pen.Pen
	var names []string
	var places [][2]int
	for row := range g.rows {
		for column := range g.columns {
			p := new(pen.Pen)
			if !g.lines(p, column, row) {
				t.Empty++
				continue
			}
			pens, names, places = append(pens, p), append(names, tileName(column, row)), append(places, [2]int{column, row})
			printed[names[len(names)-1]] = true
		}
	}
	g.seated = g.seats(printed)
	for i, p := range pens {
		g.frame(p, places[i][0], places[i][1], printed)
		g.foot(p, names[i], i+1, len(pens), job)
		t.Tiles = append(t.Tiles, Tile{names[i], p.Document(g.paper.Width, g.paper.Height, "tile-"+names[i],
			g.Title+", "+names[i], g.say("Tile %s of a drawing at true size.", names[i]))})
	}
	t.Key = g.key(printed)
	return t
}

// tileName is a tile's column as letters and its row: A1, B1, … AA1.
func tileName(column, row int) string {
	letters := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		letters = string(rune('A'+(n-1)%26)) + letters
	}
	return letters + strconv.Itoa(row+1)
}

// window is what of the drawing lies on a tile, with the overlap.
func (g *grid) window(column, row int) window {
	x, y := float64(column)*g.cellW, float64(row)*g.cellH
	return window{x, y, x + g.cellW + overlap, y + g.cellH + overlap}
}

// lines draws the tile's part of the drawing's lines and says whether there is any.
func (g *grid) lines(p *pen.Pen, column, row int) bool {
	w, to := g.window(column, row), pen.At(white, white)
	there := false
	for i := range g.strokes {
		if k := &g.strokes[i]; k.tiled() && k.part(p, w, to) {
			there = true
		}
	}
	return there
}

// frame draws the lines to which neighbours are laid, the crosses that must meet, the drawing's letters and the neighbours' names.
func (g *grid) frame(p *pen.Pen, column, row int, printed map[string]bool) {
	x0, y0 := white, white
	x1, y1 := x0+g.cellW, y0+g.cellH
	thin := pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "3 2"}
	if column < g.columns-1 {
		p.Line(x1, y0, x1, y1+overlap, thin)
	}
	if row < g.rows-1 {
		p.Line(x0, y1, x1+overlap, y1, thin)
	}
	w, all := g.window(column, row), g.written(column, row, printed)
	for _, c := range all.crosses {
		cross(p, c.X-w.x0+white, c.Y-w.y0+white)
	}
	for _, list := range [][]label{all.labels, all.names} {
		for i := range list {
			p.Text(list[i].at.X-w.x0+white, list[i].at.Y-w.y0+white, list[i].text, list[i].l)
		}
	}
}

// cross is a registration mark: on every sheet that shows its place it must lie on those of the others.
func cross(p *pen.Pen, x, y float64) {
	k := pen.Stroke{Ink: pen.Ink, Width: pen.Thin}
	p.Line(x-arm, y, x+arm, y, k)
	p.Line(x, y-arm, x, y+arm, k)
	p.Circle(x, y, 1.5, k)
}

// foot writes what the tile is, and the check line.
func (g *grid) foot(p *pen.Pen, name string, number, of int, job string) {
	y := g.paper.Height - white - band + 1.4
	length := g.check()
	x := g.paper.Width - white - length - 1
	k := pen.Stroke{Ink: pen.Ink, Width: 0.25}
	p.Line(x, y+5, x+length, y+5, k)
	p.Line(x, y+3, x, y+7, k)
	p.Line(x+length, y+3, x+length, y+7, k)
	p.Text(x+length/2, y+4, g.checkText(), pen.Letters{Size: 3, At: pen.Middle})
	p.Text(x+length/2, y+11, g.say("sheet %s of %s, print at 100 %%", strconv.Itoa(number), strconv.Itoa(of)),
		pen.Letters{Size: 3, At: pen.Middle})
	room := x - white - 4
	big := pen.Letters{Size: 8, Bold: true}
	p.Text(white, y+7, name, big)
	left := pen.Width(name, big) + 2
	g.named(p, white+left, y, room-left, job)
}

// named writes the drawing's title and the job in as many lines as there is room for, in smaller letters where there are many.
func (g *grid) named(p *pen.Pen, x, y, w float64, job string) {
	size, pitch, most := 3.0, 4.0, 3
	lines := func() (title, rest []string) {
		return pen.Wrap(g.Title, w, pen.Letters{Size: size, Bold: true}), pen.Wrap(job, w, pen.Letters{Size: size})
	}
	title, rest := lines()
	if len(title)+len(rest) > most {
		size, pitch, most = 2.85, 2.95, 4
		title, rest = lines()
	}
	for i, line := range append(title, rest...) {
		l := pen.Letters{Size: size, Bold: i < len(title)}
		if i == most-1 && len(title)+len(rest) > most {
			p.Text(x, y+float64(i+1)*pitch-0.8, pen.Fit(line+" …", w, l), l)
			return
		}
		p.Text(x, y+float64(i+1)*pitch-0.8, line, l)
	}
}

// Sizes of the key plan, in millimetres.
const (
	keyWidth = 170.0
	keyHigh  = 110.0
)

// key draws the whole drawing small, with the tiles over it.
func (g *grid) key(printed map[string]bool) []byte {
	var p pen.Pen
	w, h := float64(g.columns)*g.cellW+overlap, float64(g.rows)*g.cellH+overlap
	s := math.Min((keyWidth-2)/w, keyHigh/h)
	at := func(x, y float64) pen.Point { return pen.At(1+x*s, 1+y*s) }
	var names []label
	for row := range g.rows {
		for column := range g.columns {
			q := at(float64(column)*g.cellW, float64(row)*g.cellH)
			k := pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Fill: pen.White}
			name := tileName(column, row)
			if !printed[name] {
				k.Fill, name = "#ececec", "–"
			}
			p.Rect(q.X, q.Y, g.cellW*s, g.cellH*s, 0, k)
			size := math.Max(pen.Small, math.Min(4, g.cellW*s/4))
			names = append(names, label{at: pen.At(q.X+g.cellW*s/2, q.Y+g.cellH*s/2+size/3), text: name,
				l: pen.Letters{Size: size, At: pen.Middle, Ink: pen.Faint, Halo: printed[name]}})
		}
	}
	for i := range g.strokes {
		k := g.strokes[i]
		if !k.tiled() {
			continue
		}
		points := make([]pen.Point, len(k.points))
		for n, q := range k.points {
			points[n] = at(q.X, q.Y)
		}
		k.look.Width, k.look.Dash = math.Max(k.look.Width*0.6, 0.12), ""
		k.points, k.radius = points, k.radius*s
		k.draw(&p)
	}
	for _, n := range names { // over the lines
		p.Text(n.at.X, n.at.Y, n.text, n.l)
	}
	return p.Document(keyWidth, h*s+2, "key", g.say("Where the tiles lie"), g.Title)
}
