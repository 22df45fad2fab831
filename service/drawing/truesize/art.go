package truesize

import (
	"math"

	"seamwright/service/drawing/pen"
)

// art is a drawing at true size before it is on paper, in millimetres, y downwards: as a whole for machines, or in tiles.
type art struct {
	width, height float64
	strokes       []stroke
	labels        []label
}

// stroke is a line, a closed shape, or a circle round its only point.
type stroke struct {
	group  string // of the SVG
	id     string
	points []pen.Point
	open   bool
	radius float64
	look   pen.Stroke
}

// label is a line of text at its place.
type label struct {
	at    pen.Point
	text  string
	l     pen.Letters
	check bool // of a check line, which every tile has of its own
	block int  // labels of one number are lines that are read together; 0: none
}

// draw draws a stroke whole.
func (k *stroke) draw(p *pen.Pen) {
	if k.radius > 0 {
		p.Circle(k.points[0].X, k.points[0].Y, k.radius, k.look)
		return
	}
	p.Poly(k.points, k.open, k.look)
}

// box is what a label covers, as the pen reckons it.
func (l *label) box() window {
	w := pen.Width(l.text, l.l)
	b := window{0, -0.72 * l.l.Size, w, 0.2 * l.l.Size}
	switch l.l.At {
	case pen.Middle:
		b.x0, b.x1 = -w/2, w/2
	case pen.Right:
		b.x0, b.x1 = -w, 0
	case pen.Left:
	}
	if l.l.Upward {
		b = window{b.y0, -b.x1, b.y1, -b.x0}
	}
	return b.moved(l.at.X, l.at.Y)
}

// window is a rectangle of the drawing.
type window struct{ x0, y0, x1, y1 float64 }

func (w window) moved(x, y float64) window { return window{w.x0 + x, w.y0 + y, w.x1 + x, w.y1 + y} }

func (w window) meets(o window) bool { return w.x0 < o.x1 && o.x0 < w.x1 && w.y0 < o.y1 && o.y0 < w.y1 }

func (w window) contains(o window) bool {
	return o.x0 >= w.x0 && o.x1 <= w.x1 && o.y0 >= w.y0 && o.y1 <= w.y1
}

// segment cuts a segment to the window; ok is false when nothing of it is inside.
//
// Source: Y.-D. Liang and B. A. Barsky, A New Concept and Method for Line Clipping, ACM Transactions on Graphics 3 (1984).
func (w window) segment(p, q pen.Point) (a, b pen.Point, ok bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := q.X-p.X, q.Y-p.Y
	for _, e := range [4][2]float64{{-dx, p.X - w.x0}, {dx, w.x1 - p.X}, {-dy, p.Y - w.y0}, {dy, w.y1 - p.Y}} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return a, b, false
		case e[0] < 0:
			t0 = math.Max(t0, e[1]/e[0])
		case e[0] > 0:
			t1 = math.Min(t1, e[1]/e[0])
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	return pen.At(p.X+t0*dx, p.Y+t0*dy), pen.At(p.X+t1*dx, p.Y+t1*dy), true
}

// part draws what of a stroke lies in a window, moved so that the window's corner comes to lie at a place, and says whether there was
// anything.
func (k *stroke) part(p *pen.Pen, w window, to pen.Point) bool {
	dx, dy := to.X-w.x0, to.Y-w.y0
	points, open := k.points, k.open
	if k.radius > 0 {
		c := k.points[0]
		if c.X-k.radius >= w.x0 && c.X+k.radius <= w.x1 && c.Y-k.radius >= w.y0 && c.Y+k.radius <= w.y1 {
			p.Circle(c.X+dx, c.Y+dy, k.radius, k.look)
			return true
		}
		points, open = ring(c, k.radius), false
	}
	n := len(points)
	if open {
		n--
	}
	any := false
	for i := range n {
		a, b, ok := w.segment(points[i], points[(i+1)%len(points)])
		if !ok {
			continue
		}
		p.Line(a.X+dx, a.Y+dy, b.X+dx, b.Y+dy, k.look)
		any = true
	}
	return any
}

// ring is a circle as straight stretches, no further from it than a fiftieth of a millimetre where it is 40 mm across.
func ring(c pen.Point, r float64) []pen.Point {
	const sides = 72
	points := make([]pen.Point, sides)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		points[i] = pen.At(c.X+r*cos, c.Y+r*sin)
	}
	return points
}

// reach is what points reach.
func reach(points []pen.Point) window {
	w := window{points[0].X, points[0].Y, points[0].X, points[0].Y}
	for _, p := range points {
		w = window{math.Min(w.x0, p.X), math.Min(w.y0, p.Y), math.Max(w.x1, p.X), math.Max(w.y1, p.Y)}
	}
	return w
}

func (w window) middle() pen.Point { return pen.At((w.x0+w.x1)/2, (w.y0+w.y1)/2) }

func (w window) grown(by float64) window { return window{w.x0 - by, w.y0 - by, w.x1 + by, w.y1 + by} }

// inside reports whether a point lies in a polygon.
func inside(polygon []pen.Point, p pen.Point) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}
