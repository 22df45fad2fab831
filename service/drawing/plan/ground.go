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
	lines []segment
}

func (g *ground) line(a, b pen.Point) { g.lines = append(g.lines, segment{a, b}) }

// free reports whether a label may stand there: on the paper, on no other label and on no line.
func (g *ground) free(b box) bool {
	if b.x0 < g.edge.x0 || b.y0 < g.edge.y0 || b.x1 > g.edge.x1 || b.y1 > g.edge.y1 {
		return false
	}
	near := b.grow(0.35)
	for _, o := range g.boxes {
		if near.x0 < o.x1 && o.x0 < near.x1 && near.y0 < o.y1 && o.y0 < near.y1 {
			return false
		}
	}
	for _, l := range g.lines {
		if _, _, hit := clip(l, near); hit {
			return false
		}
	}
	return true
}

// clear reports whether a line from a to b runs over no label, and stays on the paper.
func (g *ground) clear(a, b pen.Point) bool {
	for _, p := range []pen.Point{a, b} {
		if p.X < g.edge.x0 || p.Y < g.edge.y0 || p.X > g.edge.x1 || p.Y > g.edge.y1 {
			return false
		}
	}
	for _, o := range g.boxes {
		if _, _, hit := clip(segment{a, b}, o.grow(0.3)); hit {
			return false
		}
	}
	return true
}

// crosses reports whether a line from a to b meets another line; its ends may touch.
func (g *ground) crosses(a, b pen.Point) bool {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	if l < 0.8 {
		return false
	}
	ux, uy := (b.X-a.X)/l*0.3, (b.Y-a.Y)/l*0.3
	a, b = pen.At(a.X+ux, a.Y+uy), pen.At(b.X-ux, b.Y-uy)
	for _, o := range g.lines {
		if turn(a, b, o.a)*turn(a, b, o.b) < 0 && turn(o.a, o.b, a)*turn(o.a, o.b, b) < 0 {
			return true
		}
	}
	return false
}

func turn(a, b, c pen.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }

// clip returns the part of a line, as shares of it, that lies in a box (Liang and Barsky's algorithm, ACM Transactions
// on Graphics 3, 1984; from memory).
func clip(l segment, b box) (from, to float64, hit bool) {
	if max(l.a.X, l.b.X) < b.x0 || min(l.a.X, l.b.X) > b.x1 || max(l.a.Y, l.b.Y) < b.y0 || min(l.a.Y, l.b.Y) > b.y1 {
		return 0, 0, false
	}
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
