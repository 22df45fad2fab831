package plan

import "math"

// The paper in cells: a label, which is small, asks only for what lies in those under it.
const (
	cellSize = 8.0 // mm
	cellRows = 48  // what is lower on the paper is in the last row, what is further to the right in the last column
	cellCols = 26
)

// cells are the boxes and lines that touch each cell of the paper, the latest first.
type cells struct {
	last [cellRows * cellCols]int32 // of each cell, its place in list, from 1; 0: none
	list []inCell
}

// inCell is a line or a box in a cell, and what was put there before it.
type inCell struct {
	thing  int32 // a line's number; boxes are counted down from -1
	before int32
}

func rowOf(y float64) int { return min(max(int(y/cellSize), 0), cellRows-1) }

func colOf(x float64) int { return min(max(int(x/cellSize), 0), cellCols-1) }

// put puts a thing into the cells of a row from one place to another.
func (c *cells) put(row, thing int, from, to float64) {
	first, last := row*cellCols+colOf(from), row*cellCols+colOf(to)
	for k := first; k <= last; k++ {
		c.list = append(c.list, inCell{int32(thing), c.last[k]}) //nolint:gosec // a plan has some hundred lines
		c.last[k] = int32(len(c.list))                           //nolint:gosec // see above
	}
}

// box puts a box into the cells that it touches.
func (c *cells) box(i int, b *box) {
	for k := rowOf(b.y0); k <= rowOf(b.y1); k++ {
		c.put(k, -i-1, b.x0, b.x1)
	}
}

// line puts a line into the cells that it runs through.
func (c *cells) line(i int, d *drawn) {
	top, low := rowOf(d.round.y0), rowOf(d.round.y1)
	if top == low {
		c.put(top, i, d.round.x0, d.round.x1)
		return
	}
	const hair = 1e-6 // mm, for the last digits of what is reckoned here
	slope := (d.b.X - d.a.X) / (d.b.Y - d.a.Y)
	in := d.a.X + slope*(d.round.y0-d.a.Y)
	for k := top; k <= low; k++ {
		y := d.round.y1
		if k < low {
			y = math.Min(y, float64(k+1)*cellSize)
		}
		out := d.a.X + slope*(y-d.a.Y)
		c.put(k, i, min(in, out)-hair, max(in, out)+hair)
		in = out
	}
}
