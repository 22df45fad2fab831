package truesize

import (
	"math"
	"slices"

	"seamwright/service/drawing/pen"
)

// written is what is written and marked on one tile. Its places are those of the drawing.
type written struct {
	labels  []label     // the drawing's own, as far as they are this tile's
	crosses []pen.Point // that must meet their neighbours'
	names   []label     // of the neighbours
}

// arm is how far a cross reaches from its middle.
const arm = 4.0

// written finds the places of a tile: crosses stand where cells meet, the drawing's letters keep off them and on what is left of
// the tile when it is cut, and the neighbours' names keep off both and off the lines.
func (g *grid) written(column, row int, printed map[string]bool) written {
	out := written{crosses: g.crosses(column, row)}
	var taken []window
	for _, c := range out.crosses {
		taken = append(taken, around(c, arm))
	}
	w := g.window(column, row)
	for i := range g.labels {
		l := g.labels[i]
		if at, ok := g.seated[l.block]; ok && at.tile == [2]int{column, row} {
			l.at = pen.At(l.at.X+at.by.X, l.at.Y+at.by.Y)
			taken = append(taken, l.box())
			out.labels = append(out.labels, l)
		}
	}
	for i := range g.labels {
		l := g.labels[i]
		if _, seated := g.seated[l.block]; seated || l.check || g.owner(&l, printed) != [2]int{column, row} {
			continue
		}
		l = g.single(l, column, row, taken)
		taken = append(taken, l.box())
		out.labels = append(out.labels, l)
	}
	for _, l := range g.neighbours(column, row, printed) {
		l = g.besideLines(l, w, taken)
		taken = append(taken, l.box())
		out.names = append(out.names, l)
	}
	return out
}

// single finds the place of one label: on what is left of the tile when it is cut; where that has no room, beyond the line that is cut
// off but not across it, where one reads it on the uncut sheet.
func (g *grid) single(l label, column, row int, taken []window) label {
	w, kept := g.window(column, row), g.kept(column, row)
	whole := l.text
	if !l.l.Upward { // which stands at a line, and goes with it
		l.text = pen.Fit(whole, kept.x1-kept.x0-4, l.l)
		if off, ok := aside(l.within(kept), kept, taken); ok {
			return off
		}
	}
	l.text = pen.Fit(whole, w.x1-w.x0-4, l.l)
	l = l.within(w)
	if off, ok := aside(l, w, slices.Concat(taken, g.cuts(column, row))); ok {
		return off
	}
	l, _ = aside(l, w, taken)
	return l
}

// within is the label moved so that all of it lies in a window.
func (l label) within(w window) label {
	b := l.box()
	l.at.X += math.Max(0, w.x0-b.x0+1) - math.Max(0, b.x1-w.x1+1)
	l.at.Y += math.Max(0, w.y0-b.y0+1) - math.Max(0, b.y1-w.y1+1)
	return l
}

// owner is the tile that a label is written on: the one in whose cell it is anchored, or the one where it begins if that one holds all of
// it and the first does not; where its own is not printed, the nearest that is.
func (g *grid) owner(l *label, printed map[string]bool) [2]int {
	cell := func(x, y float64) [2]int {
		return [2]int{min(max(int(math.Floor(x/g.cellW)), 0), g.columns-1), min(max(int(math.Floor(y/g.cellH)), 0), g.rows-1)}
	}
	on := g.kept
	if l.l.Upward { // it stands at a line, and must not be moved off it
		on = g.window
	}
	b := l.box()
	anchored, begun := cell(l.at.X, l.at.Y), cell(b.x0, b.y0)
	if !on(anchored[0], anchored[1]).contains(b) && on(begun[0], begun[1]).contains(b) && printed[tileName(begun[0], begun[1])] {
		return begun
	}
	if !printed[tileName(anchored[0], anchored[1])] {
		return g.nearest(b, printed)
	}
	return anchored
}

// nearest is the printed tile to which a box has least far to go.
func (g *grid) nearest(b window, printed map[string]bool) (tile [2]int) {
	best := math.Inf(1)
	for row := range g.rows {
		for column := range g.columns {
			w := g.kept(column, row)
			far := math.Hypot(max(w.x0-b.x0, b.x1-w.x1, 0), max(w.y0-b.y0, b.y1-w.y1, 0))
			if printed[tileName(column, row)] && far < best {
				best, tile = far, [2]int{column, row}
			}
		}
	}
	return tile
}

// cuts are the lines of a tile to which its neighbours are laid, where paper is cut off.
func (g *grid) cuts(column, row int) (list []window) {
	const hair = 0.3
	w := g.window(column, row)
	if x := w.x0 + g.cellW; column < g.columns-1 {
		list = append(list, window{x - hair, w.y0, x + hair, w.y1})
	}
	if y := w.y0 + g.cellH; row < g.rows-1 {
		list = append(list, window{w.x0, y - hair, w.x1, y + hair})
	}
	return list
}

// aside moves a label off what is taken, by as little as may be: along its line when it reads upwards, as it belongs to one, else to any
// side. Where there is no room it stays, which is no success.
func aside(l label, w window, taken []window) (label, bool) {
	const step, most = 0.5, 24.0
	ways := []pen.Point{{Y: -1}, {Y: 1}}
	if !l.l.Upward {
		ways = append(ways, pen.At(-1, 0), pen.At(1, 0), pen.At(-1, -1), pen.At(1, -1), pen.At(-1, 1), pen.At(1, 1))
	}
	for by := 0.0; by <= most; by += step {
		for _, way := range ways {
			moved := l
			moved.at = pen.At(l.at.X+way.X*by, l.at.Y+way.Y*by)
			if b := moved.box(); w.contains(b) && !slices.ContainsFunc(taken, b.meets) {
				return moved, true
			}
		}
	}
	return l, false
}

// crosses are the registration marks of a tile.
func (g *grid) crosses(column, row int) (list []pen.Point) {
	w := g.window(column, row)
	x1, y1 := w.x0+g.cellW, w.y0+g.cellH
	right, down := column < g.columns-1, row < g.rows-1
	for _, c := range []struct {
		x, y  float64
		there bool
	}{{w.x0, w.y0, column > 0 || row > 0}, {x1, w.y0, right || row > 0}, {w.x0, y1, down || column > 0},
		{x1, y1, right || down}} {
		if c.there {
			list = append(list, pen.At(c.x, c.y))
		}
	}
	return list
}

// neighbours are the names of the printed tiles round a tile, each in the middle of what it shares with it.
func (g *grid) neighbours(column, row int, printed map[string]bool) (list []label) {
	w := g.window(column, row)
	x1, y1 := w.x0+g.cellW, w.y0+g.cellH
	middleX, middleY := (w.x0+x1)/2, (w.y0+y1)/2
	for _, n := range []struct {
		column, row   int
		before, after string
		x, y          float64
	}{{column + 1, row, "", " →", x1 + overlap/2, middleY}, {column - 1, row, "← ", "", w.x0 + overlap/2, middleY},
		{column, row + 1, "", " ↓", middleX, y1 + overlap/2 + 1}, {column, row - 1, "", " ↑", middleX, w.y0 + overlap/2 + 1}} {
		if n.column < 0 || n.row < 0 || !printed[tileName(n.column, n.row)] {
			continue
		}
		list = append(list, label{at: pen.At(n.x, n.y), text: n.before + tileName(n.column, n.row) + n.after,
			l: pen.Letters{Size: 3, Ink: pen.Faint, At: pen.Middle, Halo: true}})
	}
	return list
}

// besideLines moves a neighbour's name along what the tiles share, to where it lies on no line and on nothing that is taken; where that
// is nowhere, just inside the line to which the neighbour is laid, else it stays.
func (g *grid) besideLines(l label, w window, taken []window) label {
	const step = 2.0
	alongX := l.at.Y < w.y0+overlap || l.at.Y > w.y1-overlap // above or below: it moves to the side
	for _, in := range []float64{0, 1.5, -1.5, overlap, -overlap} {
		for n := range int(math.Max(g.cellW, g.cellH) / step) {
			by := step * float64((n+1)/2) * float64(1-2*(n%2)) // to either side by turns
			moved := l
			if alongX {
				moved.at = pen.At(l.at.X+by, l.at.Y+in)
			} else {
				moved.at = pen.At(l.at.X+in, l.at.Y+by)
			}
			if b := moved.box().grown(0.5); w.contains(b) && !slices.ContainsFunc(taken, b.meets) && !g.crossed(b) {
				return moved
			}
		}
	}
	return l
}

// crossed reports whether a line of the drawing that is printed, or one to which a neighbour is laid, crosses a window.
func (g *grid) crossed(b window) bool {
	for c := 1; c < g.columns; c++ {
		if x := float64(c) * g.cellW; b.x0 < x && x < b.x1 {
			return true
		}
	}
	for r := 1; r < g.rows; r++ {
		if y := float64(r) * g.cellH; b.y0 < y && y < b.y1 {
			return true
		}
	}
	for i := range g.strokes {
		if k := &g.strokes[i]; k.tiled() && k.crosses(b) {
			return true
		}
	}
	return false
}

// crosses reports whether some of a stroke lies in a window.
func (k *stroke) crosses(b window) bool {
	points, open := k.points, k.open
	if k.radius > 0 {
		if !reach(points).grown(k.radius).meets(b) {
			return false
		}
		points, open = ring(points[0], k.radius), false
	}
	n := len(points)
	if open {
		n--
	}
	for i := range n {
		if _, _, ok := b.segment(points[i], points[(i+1)%len(points)]); ok {
			return true
		}
	}
	return false
}

// around is a square round a point.
func around(p pen.Point, by float64) window { return window{p.X - by, p.Y - by, p.X + by, p.Y + by} }
