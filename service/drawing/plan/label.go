package plan

import (
	"iter"
	"math"
	"slices"

	"seamwright/service/drawing/pen"
)

// figures is how dimensions are written.
func (s *sheet) figures() pen.Letters {
	if s.customer {
		return pen.Letters{Size: pen.Large, Bold: true, At: pen.Middle}
	}
	return pen.Letters{Size: pen.Body, At: pen.Middle}
}

// size of a block of lines on the paper.
func size(lines []string, l pen.Letters) (w, h float64) {
	for i, line := range lines {
		k := l
		k.Bold = l.Bold && i == 0
		w = math.Max(w, pen.Width(line, k))
	}
	return w + 0.6, float64(len(lines))*l.Size*1.25 + 0.2
}

// put writes a block of lines in a box that is free, and keeps the box.
func (s *sheet) put(b box, lines []string, l pen.Letters) {
	s.ground.keep(b)
	l.At = pen.Middle
	for i, line := range lines {
		k := l
		k.Bold = l.Bold && i == 0
		s.notes.Text((b.x0+b.x1)/2, b.y0+l.Size*(1.25*float64(i)+0.98), line, k)
	}
}

// strays reports whether what tells of one place would stand in a cut-out that this place does not lie in: it would name the
// cut-out.
func (s *sheet) strays(c, to pen.Point) bool {
	return slices.ContainsFunc(s.voids, func(void []pen.Point) bool { return inside(void, c) && !inside(void, to) })
}

// tryAt writes a block at the first of the places that is free.
func (s *sheet) tryAt(places []pen.Point, lines []string, l pen.Letters, also func(box) bool) bool {
	return s.tryAmong(slices.Values(places), lines, l, also)
}

// tryAmong does it with places that are worked out one after the other.
func (s *sheet) tryAmong(places iter.Seq[pen.Point], lines []string, l pen.Letters, also func(box) bool) bool {
	w, h := size(lines, l)
	for p := range places {
		if b := around(p, w, h); s.ground.free(b) && (also == nil || also(b)) {
			s.put(b, lines, l)
			return true
		}
	}
	return false
}

// directions round a place, the upright and level ones last.
var directions = func() (list [12]pen.Point) {
	for i := range list {
		a := (float64(i) + 0.5) * math.Pi / 6
		list[i] = pen.At(math.Cos(a), math.Sin(a))
	}
	return list
}()

// leader writes a block outside what it tells of, with a thin line to the place that is meant.
func (s *sheet) leader(to pen.Point, lines []string, l pen.Letters, most float64) bool {
	w, h := size(lines, l)
	var barred [len(directions)]bool // something is in the way there, of longer lines as well
	for r := 4.0; r <= most; r += 3 {
		for i, d := range directions {
			c := move(to, d, r+math.Min((w/2+0.7)/math.Abs(d.X), (h/2+0.7)/math.Abs(d.Y)))
			end := move(to, d, r)
			b := around(c, w, h)
			if barred[i] || !s.ground.free(b) || s.strays(c, to) {
				continue
			}
			if barred[i] = !s.ground.clear(to, end) || s.ground.cuts(to, end); barred[i] {
				continue
			}
			s.notes.Line(to.X, to.Y, end.X, end.Y, thin)
			s.notes.Circle(to.X, to.Y, 0.4, pen.Stroke{Fill: pen.Ink})
			s.ground.line(to, end)
			s.put(b, lines, l)
			return true
		}
	}
	return false
}

// letter names a mark: a to z, then aa, ab and so on. Numbers are the corners'.
func letter(n int) string {
	if n < 26 {
		return string(rune('a' + n))
	}
	return letter(n/26-1) + letter(n%26)
}

// mark stands for a label that found no room: a letter in a ring, explained under the picture. Where not even that has
// room, the words under the picture say what is meant without it.
func (s *sheet) mark(to pen.Point, what string) {
	number := letter(s.marks)
	const ring = 2.4
	places := [...]float64{0, 3, 6, 10, 15, 20, 26, 33, 40, 50, 60, 75, 90}
	var barred [len(directions)]bool // something is in the way there, of longer lines as well
	for _, r := range places {
		for i, d := range directions {
			c := move(to, d, r)
			if barred[i] || r == 0 && i > 0 || !s.ground.free(around(c, 2*ring, 2*ring)) || s.strays(c, to) {
				continue
			}
			end := move(to, d, r-ring)
			if barred[i] = r > 0 && (!s.ground.clear(to, end) || s.ground.cuts(to, end)); barred[i] {
				continue
			}
			if r > 0 {
				s.notes.Line(to.X, to.Y, end.X, end.Y, thin)
				s.notes.Circle(to.X, to.Y, 0.4, pen.Stroke{Fill: pen.Ink})
				s.ground.line(to, end)
			}
			s.notes.Circle(c.X, c.Y, ring, pen.Stroke{Ink: pen.Ink, Width: 0.2, Fill: pen.White})
			s.ground.keep(around(c, 2*ring, 2*ring))
			s.notes.Text(c.X, c.Y+0.36*pen.Small, number, pen.Letters{Size: pen.Small, Bold: true, At: pen.Middle})
			s.legend = append(s.legend, number+": "+what)
			s.marks++
			return
		}
	}
	s.legend = append(s.legend, what)
}

var thin = pen.Stroke{Ink: pen.Faint, Width: pen.Thin}

// dimension draws a dimension line from a to b, moved by one of the offsets along n, its figure in the line or, where
// that is too short, beside it. Lines end in oblique strokes. It reports false when nothing has room.
func (s *sheet) dimension(a, b, n pen.Point, figure string, offsets []float64) bool {
	w, h := size([]string{figure}, s.figures())
	d := unit(a, b)
	half := math.Min((w/2+0.3)/math.Max(1e-9, math.Abs(d.X)), (h/2+0.2)/math.Max(1e-9, math.Abs(d.Y)))
	for _, off := range offsets {
		p, q := move(a, n, off), move(b, n, off)
		l := distance(p, q)
		if !s.ground.clear(p, q) || s.ground.crosses(p, q) || !s.ground.clear(a, p) || !s.ground.clear(b, q) ||
			s.ground.crowds(p, q) {
			continue
		}
		if l >= 2*half+2 {
			for _, share := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
				at := l * share
				if at < half+1 || l-at < half+1 {
					continue
				}
				c := move(p, d, at)
				if bx := around(c, w, h); s.ground.free(bx) {
					s.stroke(a, b, p, q, n, off)
					s.part(p, move(c, d, -half))
					s.part(move(c, d, half), q)
					s.put(bx, []string{figure}, s.figures())
					return true
				}
			}
		}
		// Too short, or something is in the way: the figure stands beside the line, or beyond an end of it.
		side := math.Abs(n.X)*w/2 + math.Abs(n.Y)*h/2 + 0.6
		beyond := []pen.Point{move(middle(p, q), n, side), move(middle(p, q), n, -side), move(q, d, half+1.6),
			move(p, d, -half-1.6)}
		for i, c := range beyond {
			bx := around(c, w, h)
			if _, _, hit := clip(segment{p, q}, bx); hit || !s.ground.free(bx) {
				continue
			}
			s.stroke(a, b, p, q, n, off)
			switch i {
			case 2:
				s.part(p, move(q, d, 1.4))
			case 3:
				s.part(move(p, d, -1.4), q)
			default:
				s.part(p, q)
			}
			s.put(bx, []string{figure}, s.figures())
			return true
		}
	}
	return false
}

func (s *sheet) part(a, b pen.Point) {
	s.notes.Line(a.X, a.Y, b.X, b.Y, thin)
	s.ground.line(a, b)
	s.ground.sizes = append(s.ground.sizes, drawn{segment{a, b}, round(a, b)})
}

// stroke draws a dimension's extension lines and the oblique strokes at its ends.
func (s *sheet) stroke(a, b, p, q, n pen.Point, off float64) {
	if math.Abs(off) > 1 {
		sign := math.Copysign(1, off)
		s.part(move(a, n, sign*0.9), move(p, n, sign*0.9))
		s.part(move(b, n, sign*0.9), move(q, n, sign*0.9))
	}
	d := unit(p, q)
	o := pen.At((d.X+n.X)*0.7, (d.Y+n.Y)*0.7)
	for _, e := range []pen.Point{p, q} {
		s.notes.Line(e.X-o.X, e.Y-o.Y, e.X+o.X, e.Y+o.Y, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
	}
}
