// Package view draws a top as one sees it standing in the room before it: its thickness, fronts and ends, seams and cut-outs,
// and the walls behind it. It is for a customer to recognise what is meant; nothing is measured in it.
//
// It is pure: the same estimate and options give the same bytes.
package view

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
)

// Options say how a view is drawn.
type Options struct {
	Width, Height float64 // in millimetres of paper, that it fits into; 0: 84 by 62
	Speech        pen.Speech
}

// Draw returns the view as an SVG document. It returns an Impossible fault when the estimate holds no outline.
func Draw(e *estimate.Estimate, o Options) ([]byte, error) {
	if n := len(e.Runs); n == 0 || len(e.Outline) != 2*n+2 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no outline to draw."}
	}
	if o.Width == 0 || o.Height == 0 {
		o.Width, o.Height = 84, 62
	}
	v := &picture{body: bodyOf(e), o: o}
	v.Grow(8 << 10)
	v.eye = v.body.seenFrom()
	width, height := v.fit()
	v.walls()
	v.sides()
	v.face()
	v.grain()
	v.seams()
	v.nearWalls()
	v.edges()
	v.holes()
	v.names()
	title := o.Speech.Say("View of the top")
	if e.Reference != "" {
		title = o.Speech.Say("View: %s", pen.Isolate(e.Reference))
	}
	return v.Document(width, height, "view", title,
		o.Speech.Say("The top as one sees it from the room, with its seams, its cut-outs and the walls behind it. It is no drawing to measure.")), nil
}

// picture is a view being drawn.
type picture struct {
	pen.Pen
	*body
	o   Options
	eye eye
	// from the eye's picture to the paper
	scale, left, top float64
}

// Room round the drawing, in millimetres of paper.
const space = 1.5

// fit finds the scale at which all of it has room, and returns the size of the paper.
func (v *picture) fit() (width, height float64) {
	lo, hi := pen.At(math.Inf(1), math.Inf(1)), pen.At(math.Inf(-1), math.Inf(-1))
	for _, p := range v.corners(v.eye) {
		q := v.eye.see(p)
		lo, hi = pen.At(min(lo.X, q.X), min(lo.Y, q.Y)), pen.At(max(hi.X, q.X), max(hi.Y, q.Y))
	}
	v.scale = min((v.o.Width-2*space)/(hi.X-lo.X), (v.o.Height-2*space)/(hi.Y-lo.Y))
	width, height = v.o.Width, (hi.Y-lo.Y)*v.scale+2*space
	v.left, v.top = (width-(lo.X+hi.X)*v.scale)/2, space-lo.Y*v.scale
	return width, height
}

// at is where a place in the room stands on the paper.
func (v *picture) at(p place) pen.Point {
	q := v.eye.see(p)
	return pen.At(v.left+q.X*v.scale, v.top+q.Y*v.scale)
}

func (v *picture) all(places []place) []pen.Point {
	out := make([]pen.Point, len(places))
	for i, p := range places {
		out[i] = v.at(p)
	}
	return out
}

// The shades of a view: the light comes from above.
const (
	frontShade = "#d8ccb4"
	endShade   = "#c9bb9f"
	wallShade  = "#efede8"
	holeShade  = "#8d877b"
)

var (
	line = pen.Stroke{Ink: pen.Ink, Width: 0.25}
	fine = pen.Stroke{Ink: pen.Faint, Width: pen.Thin}
)

// walls draws the walls that stand behind the top, the farthest first.
func (v *picture) walls() {
	for _, w := range v.behind(v.eye) {
		v.Poly(v.all([]place{w.a.at(v.low), w.b.at(v.low), w.b.at(v.high), w.a.at(v.high)}), false,
			pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Fill: wallShade})
	}
}

// nearWalls draws a band where a wall would hide the top and is left away.
func (v *picture) nearWalls() {
	for _, w := range v.before(v.eye) {
		out := w.room.times(-60)
		v.Poly(v.all([]place{w.a.at(0), w.b.at(0), w.b.plus(out).at(0), w.a.plus(out).at(0)}), false,
			pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Fill: wallShade})
	}
}

// sides draws the edges of the slab that are seen, the farthest first: what lies over them is drawn later.
func (v *picture) sides() {
	for _, s := range v.facing(v.eye) {
		shade := frontShade
		if s.end {
			shade = endShade
		}
		v.Poly(v.all([]place{s.a.at(0), s.b.at(0), s.b.at(-v.thick), s.a.at(-v.thick)}), false,
			pen.Stroke{Ink: pen.Ink, Width: 0.25, Fill: shade})
		if v.profile > 0 {
			v.Poly(v.all([]place{s.a.at(-v.profile), s.b.at(-v.profile)}), true, fine)
		}
	}
}

// face draws the top's upper face. It hides what lies under it: whoever looks from above sees through its plane once.
func (v *picture) face() {
	v.Poly(v.all(flat(v.outline)), false, pen.Stroke{Fill: pen.Wood})
}

func (v *picture) edges() {
	v.Poly(v.all(flat(v.outline)), false, line)
}

func (v *picture) seams() {
	for _, s := range v.seam {
		v.Poly(v.all(flat(s)), true, pen.Stroke{Ink: pen.Ink, Width: 0.35})
	}
}

// facet is what a side of a rounded cut-out may be long, in millimetres, and be taken for a part of its curve.
const facet = 25.0

// holes draws what is cut out: dark below, with the sides of the slab that are seen through them.
func (v *picture) holes() {
	for _, h := range v.cut {
		rim := v.all(flat(h.corners))
		v.Poly(rim, false, pen.Stroke{Fill: holeShade})
		for i, a := range h.corners {
			b := h.corners[(i+1)%len(h.corners)]
			if h.open[i] || !v.eye.faces(a, b.minus(a).left()) {
				continue
			}
			side := v.all([]place{a.at(0), b.at(0), b.at(-v.thick), a.at(-v.thick)})
			if seen := within(side, rim); len(seen) > 2 {
				rule := pen.Ink
				if len(h.corners) > 4 && b.minus(a).length() < facet {
					rule = frontShade // part of a curve
				}
				v.Poly(seen, false, pen.Stroke{Ink: rule, Width: 0.2, Fill: frontShade})
			}
		}
		for i, p := range rim {
			if q := rim[(i+1)%len(rim)]; !h.open[i] {
				v.Line(p.X, p.Y, q.X, q.Y, line)
			}
		}
	}
}

// names writes each piece's name on it, as large as it has room there. Where one has none all are left to the plan: a single name in a
// picture of several pieces would seem to be that of the top.
func (v *picture) names() {
	var all pen.Pen
	for i := range v.pieces {
		if !v.name(&all, &v.pieces[i]) {
			return
		}
	}
	v.Append(&all)
}

func (v *picture) name(on *pen.Pen, p *piece) bool {
	for _, size := range []float64{pen.Head, pen.Small} {
		l := pen.Letters{Size: size, Bold: true, At: pen.Middle, Halo: true}
		name := pen.Short(p.name, 16)
		if c, ok := v.roomFor(p, pen.Width(name, l)/2+0.5, size/2+0.4); ok {
			on.Text(c.X, c.Y+size*0.36, name, l)
			return true
		}
	}
	return false
}

// roomFor is where a box of that half width and height lies on a piece's face and on no cut-out.
func (v *picture) roomFor(p *piece, w, h float64) (pen.Point, bool) {
	rim := v.all(flat(p.outline))
	for _, spot := range v.spots(p) {
		if c := v.at(spot.at(0)); v.free(c, w, h, rim) {
			return c, true
		}
	}
	return pen.Point{}, false
}

func (v *picture) free(c pen.Point, w, h float64, rim []pen.Point) bool {
	for _, dx := range []float64{-w, 0, w} {
		for _, dy := range []float64{-h, 0, h} {
			q := pen.At(c.X+dx, c.Y+dy)
			if !inside(rim, q) {
				return false
			}
			for _, hole := range v.cut {
				if inside(v.all(flat(hole.corners)), q) {
					return false
				}
			}
		}
	}
	return true
}
