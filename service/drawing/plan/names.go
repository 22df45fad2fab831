package plan

import (
	"iter"
	"math"

	"seamwright/service/drawing/pen"
	layout "seamwright/service/plan"
)

// heart is a place in a piece's wood.
func (s *sheet) heart(i int) pen.Point {
	for p := range s.spots(i) {
		return p
	}
	r := &s.runs[i]
	return middle(r.outline[0], r.outline[len(r.outline)/2])
}

// spots are places in a piece, the middle first.
func (s *sheet) spots(i int) iter.Seq[pen.Point] {
	return func(yield func(pen.Point) bool) {
		r := &s.runs[i]
		base, depth := r.wall[0], s.depth(i)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range r.outline {
			t := (p.X-base.X)*r.along.X + (p.Y-base.Y)*r.along.Y
			lo, hi = math.Min(lo, t), math.Max(hi, t)
		}
		for _, across := range [...]float64{0.5, 0.4, 0.62, 0.3, 0.72, 0.2, 0.82} {
			for _, along := range [...]float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9} {
				p := move(move(base, r.along, lo+(hi-lo)*along), r.room, depth*across)
				if inside(r.outline, p) && !yield(p) {
					return
				}
			}
		}
	}
}

const nameLength = 24

// name of a run as labels and lists carry it.
func (s *sheet) name(i int) string { return pen.Short(s.est.Runs[i].Name, nameLength) }

// fitted is a name that is at most so wide.
func fitted(name string, most float64, l pen.Letters) string {
	for n := nameLength; n > 1; n-- {
		if short := pen.Short(name, n); pen.Width(short, l) <= most {
			return short
		}
	}
	return ""
}

// names writes each piece's name and what it is in its wood.
func (s *sheet) names(holes []hole) {
	most := 46.0
	if s.o.Narrow {
		most = 27
	}
	bold := pen.Letters{Size: pen.Head, Bold: true}
	for i := range s.runs {
		r := &s.est.Runs[i]
		name := fitted(r.Name, most, bold)
		whole := []string{name, s.mass(r.Piece.Mass.Whole(s.est.Units))}
		clear := func(b box) bool {
			c := pen.At((b.x0+b.x1)/2, (b.y0+b.y1)/2)
			for _, h := range holes {
				if inside(h.corners, c) {
					return false
				}
			}
			return inside(s.runs[i].outline, c)
		}
		spots := s.spots(i)
		if s.tryAmong(spots, whole, bold, clear) || s.leader(s.heart(i), whole, bold, 30) {
			continue
		}
		if s.tryAmong(spots, whole[:1], bold, clear) {
			s.mark(s.heart(i), s.say("Weight of %s: %s", s.name(i), s.mass(r.Piece.Mass.Whole(s.est.Units))))
			continue
		}
		s.mark(s.heart(i), s.say("Run %s", s.name(i)))
	}
}

// seamNotes names the joint beside each seam, where there is room; the list of corners names it anyway.
func (s *sheet) seamNotes() {
	for k := range s.est.Corners {
		c := s.chosen(k)
		if c == nil || len(c.Geometry.SeamPath) < 2 {
			continue
		}
		path := c.Geometry.SeamPath
		a, b := s.place(path[len(path)-2]), s.place(path[len(path)-1])
		d := unit(a, b)
		n := pen.At(-d.Y, d.X)
		l := pen.Letters{Size: pen.Small}
		w, h := size([]string{s.jointWord(c.Joint)}, l)
		var places []pen.Point
		for _, share := range []float64{0.5, 0.65, 0.35, 0.8} {
			at := move(a, d, distance(a, b)*share)
			for _, side := range []float64{1, -1} {
				places = append(places, move(at, n, side*(math.Abs(n.X)*w/2+math.Abs(n.Y)*h/2+0.8)))
			}
		}
		s.tryAt(places, []string{s.jointWord(c.Joint)}, l, nil)
	}
}

func (s *sheet) jointWord(j layout.Joint) string {
	return s.say(j.Kind.Name())
}
