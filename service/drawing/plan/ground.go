package plan

import (
	"math"

	"seamwright/service/drawing/pen"
)

// segment is a line that no label may lie on.
type segment struct{ a, b pen.Point }

// box is a rectangle on the paper.
type box struct{ x0, y0, x1, y1 float64 }

func around(c pen.Point, w, h float64) box {
	return box{c.X - w/2, c.Y - h/2, c.X + w/2, c.Y + h/2}
}

func (b box) grow(d float64) box { return box{b.x0 - d, b.y0 - d, b.x1 + d, b.y1 + d} }

// ground is the paper on which labels look for room.
type ground struct {
	edge  box
	boxes []box
	lines []drawn
	sizes []drawn // those of the lines that are dimensions
	cells cells   // boxes and lines again, by where they lie on the paper

	// Where one place is taken, the next one that is tried often is by the same: it is looked at first.
	lastBox, lastLine int
}

// drawn is a line with the box round it.
type drawn struct {
	segment
	round box
}

func (g *ground) line(a, b pen.Point) {
	d := drawn{segment{a, b}, round(a, b)}
	g.cells.line(len(g.lines), &d)
	g.lines = append(g.lines, d)
}

// keep keeps a box for what stands in it.
func (g *ground) keep(b box) {
	g.cells.box(len(g.boxes), &b)
	g.boxes = append(g.boxes, b)
}

// bottom is how far down anything reaches.
func (g *ground) bottom() float64 {
	y := g.edge.y0
	for i := range g.boxes {
		y = max(y, g.boxes[i].y1)
	}
	for i := range g.lines {
		y = max(y, g.lines[i].round.y1)
	}
	return y
}

func round(a, b pen.Point) box {
	return box{min(a.X, b.X), min(a.Y, b.Y), max(a.X, b.X), max(a.Y, b.Y)}
}

// free reports whether a label may stand there: on the paper, on no other label and on no line.
func (g *ground) free(b box) bool {
	if b.x0 < g.edge.x0 || b.y0 < g.edge.y0 || b.x1 > g.edge.x1 || b.y1 > g.edge.y1 {
		return false
	}
	wide := b.grow(0.35)
	if g.lastBox < len(g.boxes) && overlap(&wide, &g.boxes[g.lastBox]) ||
		g.lastLine < len(g.lines) && g.lines[g.lastLine].hits(&wide) {
		return false
	}
	left, right := colOf(wide.x0), colOf(wide.x1)
	for row := rowOf(wide.y0); row <= rowOf(wide.y1); row++ {
		for col := left; col <= right; col++ {
			if g.taken(&wide, g.cells.last[row*cellCols+col]) {
				return false
			}
		}
	}
	return true
}

// taken reports whether a box meets something in one of the cells under it; k is what was put there last.
func (g *ground) taken(b *box, k int32) bool {
	for k > 0 {
		in := g.cells.list[k-1]
		k = in.before
		if in.thing >= 0 {
			if g.lines[in.thing].hits(b) {
				g.lastLine = int(in.thing)
				return true
			}
		} else if i := int(-in.thing - 1); overlap(b, &g.boxes[i]) {
			g.lastBox = i
			return true
		}
	}
	return false
}

// hits reports whether a part of the line lies in a box.
func (d *drawn) hits(b *box) bool { return !d.beside(b) && d.cuts(b) }

// beside reports whether the line lies wholly on one side of a box.
func (d *drawn) beside(b *box) bool {
	return d.round.x0 > b.x1 || d.round.x1 < b.x0 || d.round.y0 > b.y1 || d.round.y1 < b.y0
}

func overlap(a, b *box) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

// clear reports whether a line from a to b runs over no label, and stays on the paper.
func (g *ground) clear(a, b pen.Point) bool {
	for _, p := range []pen.Point{a, b} {
		if p.X < g.edge.x0 || p.Y < g.edge.y0 || p.X > g.edge.x1 || p.Y > g.edge.y1 {
			return false
		}
	}
	l := drawn{segment{a, b}, round(a, b)}
	for i := range g.boxes {
		if o := g.boxes[i].grow(0.3); l.hits(&o) {
			return false
		}
	}
	return true
}

// crosses reports whether a line from a to b meets another line; its ends may touch.
func (g *ground) crosses(a, b pen.Point) bool { return meets(g.lines, a, b) }

// cuts reports whether a line from a to b meets a dimension.
func (g *ground) cuts(a, b pen.Point) bool { return meets(g.sizes, a, b) }

// crowds reports whether a line from a to b would run beside a dimension, so near that one reads the one's figure for the other's.
func (g *ground) crowds(a, b pen.Point) bool {
	const near, beside = 2.0, 1.0 // millimetres: apart, and along each other
	d, l := unit(a, b), distance(a, b)
	for i := range g.sizes {
		o := &g.sizes[i]
		pa, pb := pen.At(o.a.X-a.X, o.a.Y-a.Y), pen.At(o.b.X-a.X, o.b.Y-a.Y)
		if max(math.Abs(pa.X*d.Y-pa.Y*d.X), math.Abs(pb.X*d.Y-pb.Y*d.X)) >= near {
			continue
		}
		from, to := pa.X*d.X+pa.Y*d.Y, pb.X*d.X+pb.Y*d.Y
		if min(max(from, to), l)-max(min(from, to), 0) > beside {
			return true
		}
	}
	return false
}

func meets(lines []drawn, a, b pen.Point) bool {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l < 0.8 {
		return false
	}
	ux, uy := (b.X-a.X)/l*0.3, (b.Y-a.Y)/l*0.3
	a, b = pen.At(a.X+ux, a.Y+uy), pen.At(b.X-ux, b.Y-uy)
	whole := round(a, b)
	for i := range lines {
		o := &lines[i]
		if !o.beside(&whole) && turn(a, b, o.a)*turn(a, b, o.b) < 0 && turn(o.a, o.b, a)*turn(o.a, o.b, b) < 0 {
			return true
		}
	}
	return false
}

func turn(a, b, c pen.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// cuts reports whether the endless line through a segment meets a box: its corners do not all lie on one side. A segment that
// also has something of the box beside it both ways meets it itself.
func (l *segment) cuts(b *box) bool {
	dx, dy := l.b.X-l.a.X, l.b.Y-l.a.Y
	off := dx*((b.y0+b.y1)/2-l.a.Y) - dy*((b.x0+b.x1)/2-l.a.X)
	return math.Abs(off) <= math.Abs(dx)*(b.y1-b.y0)/2+math.Abs(dy)*(b.x1-b.x0)/2
}

// clip returns the part of a line, as shares of it, that lies in a box (Liang and Barsky's algorithm, ACM Transactions
// on Graphics 3, 1984; from memory).
func clip(l segment, b box) (from, to float64, hit bool) {
	from, to = 0, 1
	dx, dy := l.b.X-l.a.X, l.b.Y-l.a.Y
	for _, side := range [4][2]float64{{-dx, l.a.X - b.x0}, {dx, b.x1 - l.a.X}, {-dy, l.a.Y - b.y0}, {dy, b.y1 - l.a.Y}} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return 0, 0, false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			to = math.Min(to, q/p)
		}
		if from > to {
			return 0, 0, false
		}
	}
	return from, to, true
}
