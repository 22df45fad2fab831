package truesize

import (
	"math"
	"slices"

	"seamwright/service/drawing/pen"
	"seamwright/service/template"
)

// seat is where a block of labels stands: the tile that has all of it, and how far it was moved for that.
type seat struct {
	tile [2]int
	by   pen.Point
}

// seats finds for each block of labels the tile on which it can stand whole, the nearest place first. A block that has room on no
// tile has no seat: its lines go their own ways.
func (g *grid) seats(printed map[string]bool) map[int]seat {
	all := map[int]window{}
	for i := range g.labels {
		if l := &g.labels[i]; l.block > 0 {
			b, there := all[l.block]
			if !there {
				b = l.box()
			}
			all[l.block] = b.joined(l.box())
		}
	}
	out := make(map[int]seat, len(all))
	var taken []window
	for n := 1; len(out) < len(all) && n <= len(g.labels); n++ {
		b, there := all[n]
		if !there {
			continue
		}
		if at, ok := g.seatOf(n, b, taken, printed); ok {
			out[n] = at
			taken = append(taken, b.moved(at.by.X, at.by.Y))
		}
	}
	return out
}

// seatOf looks for the place of one block that is nearest to where it stands in the whole drawing: within what is left of a tile when
// it is cut, in the same piece or opening, on no line, no mark and no other label.
func (g *grid) seatOf(block int, b window, taken []window, printed map[string]bool) (seat, bool) {
	home := g.around(b.middle())
	taken = slices.Clone(taken)
	for i := range g.labels {
		if l := &g.labels[i]; !l.check && l.block != block {
			taken = append(taken, l.box())
		}
	}
	best, found := math.Inf(1), seat{}
	for row := range g.rows {
		for column := range g.columns {
			if !printed[tileName(column, row)] {
				continue
			}
			own := slices.Clone(taken)
			for _, c := range g.crosses(column, row) {
				own = append(own, around(c, arm))
			}
			for _, by := range g.kept(column, row).grown(-1).steps(b) {
				d := math.Hypot(by.X, by.Y)
				if d >= best {
					continue
				}
				at := b.moved(by.X, by.Y)
				if slices.ContainsFunc(own, at.meets) || !g.seatable(at.grown(1), home) {
					continue
				}
				best, found = d, seat{[2]int{column, row}, by}
			}
		}
	}
	return found, !math.IsInf(best, 1)
}

// steps are by how much a box may move to lie in a window: as little as may be, and in steps over all of it. There is none when
// the window is smaller.
func (w window) steps(b window) (list []pen.Point) {
	const step = 5.0
	x0, x1, y0, y1 := w.x0-b.x0, w.x1-b.x1, w.y0-b.y0, w.y1-b.y1
	if x1 < x0 || y1 < y0 {
		return nil
	}
	list = append(list, pen.At(min(max(0, x0), x1), min(max(0, y0), y1)))
	for x := x0; x <= x1; x += step {
		for y := y0; y <= y1; y += step {
			list = append(list, pen.At(x, y))
		}
	}
	return list
}

// around is the smallest closed shape round a place: the opening or the piece that it lies in; nil when it lies in none.
func (g *grid) around(p pen.Point) (home *stroke) {
	size := math.Inf(1)
	for i := range g.strokes {
		k := &g.strokes[i]
		if k.open || k.radius > 0 || k.group != string(template.Outline) && k.group != string(template.Cutouts) ||
			!inside(k.points, p) {
			continue
		}
		if r := reach(k.points); (r.x1-r.x0)*(r.y1-r.y0) < size {
			size, home = (r.x1-r.x0)*(r.y1-r.y0), k
		}
	}
	return home
}

// seatable reports whether a box lies in a shape and in nothing that lies in this, and no line runs through it. The mark in the
// middle of an opening may, as its name stands there.
func (g *grid) seatable(b window, home *stroke) bool {
	if home == nil || g.around(b.middle()) != home {
		return false
	}
	for i := range g.strokes {
		if k := &g.strokes[i]; k.tiled() && k.group != string(template.Centres) && k.crosses(b) {
			return false
		}
	}
	return true
}

// kept is what is left of a tile when its paper is cut off where its neighbours are laid.
func (g *grid) kept(column, row int) window {
	w := g.window(column, row)
	if column < g.columns-1 {
		w.x1 = w.x0 + g.cellW
	}
	if row < g.rows-1 {
		w.y1 = w.y0 + g.cellH
	}
	return w
}

// joined is what two windows reach together.
func (w window) joined(o window) window {
	return window{math.Min(w.x0, o.x0), math.Min(w.y0, o.y0), math.Max(w.x1, o.x1), math.Max(w.y1, o.y1)}
}
