package plan

import (
	"math"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
)

// wallSizes are the runs' lengths along their walls, and nearer to the wood those of the pieces' own wall edges where a piece
// ends elsewhere than its run: a butt's stopping piece does.
func (s *sheet) wallSizes() {
	for i := range s.runs {
		r := &s.runs[i]
		out := pen.At(-r.room.X, -r.room.Y)
		first := math.Max(5, s.beside(s.text(r.length), out)+wallBand)
		if math.Abs(float64(r.piece.wall()-r.length)) > float64(s.least64()) {
			figure := s.text(r.piece.wall())
			from, to := move(r.wall[0], r.along, float64(r.piece.wallFrom)/float64(s.ratio)),
				move(r.wall[0], r.along, float64(r.piece.wallTo)/float64(s.ratio))
			near := math.Max(4.5, s.beside(figure, out)+wallBand)
			if !s.dimension(from, to, out, figure, []float64{near, near + 2}) {
				s.mark(middle(from, to), s.say("Wall edge of piece %s: %s", s.name(i), figure))
			}
			first += near
		}
		if !s.dimension(r.wall[0], r.wall[1], out, s.text(r.length),
			[]float64{first, first + 2, first + 4, first - 1, first + 8}) {
			s.mark(middle(r.wall[0], r.wall[1]), s.say("Wall length of run %s: %s", s.name(i), s.text(r.length)))
		}
	}
}

// beside is how far from an edge a dimension must stand in the direction n so that its figure in the line keeps off the edge.
func (s *sheet) beside(figure string, n pen.Point) float64 {
	w, h := size([]string{figure}, s.figures())
	return math.Abs(n.X)*w/2 + math.Abs(n.Y)*h/2 + 0.8
}

// least64 is the smallest difference that shows in a length as it is written.
func (s *sheet) least64() measure.Length {
	if s.inches() {
		return measure.Inch / 64
	}
	return measure.Millimetre / 4
}

// frontSizes are of the fronts that show. They stand in the wood beside an inner corner, where the room side is both runs', and
// otherwise in the room.
func (s *sheet) frontSizes() {
	for i := range s.runs {
		r := &s.runs[i]
		near := s.beside(s.text(r.frontLength), r.room)
		in, out := math.Max(4, near), math.Max(5, near)
		offsets := []float64{out, out + 4, out + 8, -in, -in - 4}
		for _, k := range []int{i - 1, i} {
			if k >= 0 && k < len(s.est.Corners) && s.est.Corners[k].Angle.Degrees() < 180 {
				offsets = []float64{-in, -in - 2, -in - 4, out, out + 4, out + 8}
			}
		}
		for k := range offsets {
			if -offsets[k] > s.depth(i)-2 {
				offsets[k] = out
			}
		}
		if !s.dimension(r.front[0], r.front[1], r.room, s.text(r.frontLength), offsets) {
			s.mark(middle(r.front[0], r.front[1]), s.say("Visible front of run %s: %s", s.name(i), s.text(r.frontLength)))
		}
	}
}

func (s *sheet) depths() {
	for i := range s.runs {
		r := &s.runs[i]
		figure := s.text(s.est.Runs[i].Depth)
		done := false
		if i == 0 {
			done = s.dimension(r.front[0], r.wall[0], pen.At(-r.along.X, -r.along.Y), figure, []float64{5, 8, 11})
		}
		if !done && i == len(s.runs)-1 {
			done = s.dimension(r.front[1], r.wall[1], r.along, figure, []float64{5, 8, 11})
		}
		l, depth := distance(r.wall[0], r.wall[1]), s.depth(i)
		for _, share := range []float64{0.25, 0.75, 0.15, 0.85, 0.35, 0.65, 0.45, 0.55} {
			top := move(r.wall[0], r.along, l*share)
			if !done && inside(r.outline, move(top, r.room, depth/2)) {
				done = s.dimension(move(top, r.room, depth), top, r.along, figure, []float64{0})
			}
		}
		if !done {
			s.mark(s.heart(i), s.say("Depth of run %s: %s", s.name(i), figure))
		}
	}
}

// angles are written in the room, at the front corner, beside an arc from front edge to front edge.
func (s *sheet) angles() {
	bold := pen.Letters{Size: pen.Body, Bold: true}
	for k := range s.est.Corners {
		if s.est.Corners[k].InLine != nil {
			continue // nothing turns there
		}
		a, b := &s.runs[k], &s.runs[k+1]
		theta := float64(s.est.Corners[k].Angle)
		u := pen.At(-a.along.X, -a.along.Y)
		at := a.front[1]
		sign := 1.0
		if u.X*a.room.Y-u.Y*a.room.X < 0 {
			sign = -1
		}
		ray := func(share float64) pen.Point {
			sin, cos := math.Sincos(sign * theta * share)
			return pen.At(u.X*cos-u.Y*sin, u.X*sin+u.Y*cos)
		}
		r := math.Min(4, 0.8*math.Min(distance(a.front[0], a.front[1]), distance(b.front[0], b.front[1])))
		arc := make([]pen.Point, 0, 13)
		for i := range 13 {
			arc = append(arc, move(at, ray(float64(i)/12), r))
			if i > 0 {
				s.ground.line(arc[i-1], arc[i])
			}
		}
		s.notes.Poly(arc, true, pen.Stroke{Ink: pen.Faint, Width: pen.Medium})
		text := s.degrees(s.est.Corners[k].Angle)
		if len(s.est.Corners) > 1 {
			text = s.say("corner %s: %s", strconv.Itoa(k+1), text)
		}
		rays := [...]pen.Point{ray(0.5), ray(0.4), ray(0.6), ray(0.3), ray(0.7)}
		done := false
		for _, label := range []string{text, s.degrees(s.est.Corners[k].Angle)} {
			w, h := size([]string{label}, bold)
			places := make([]pen.Point, 0, 4*len(rays))
			for _, more := range [...]float64{0.6, 2, 4, 7} {
				for _, d := range rays {
					places = append(places, move(at, d, r+more+math.Abs(d.X)*w/2+math.Abs(d.Y)*h/2))
				}
			}
			done = done || s.tryAt(places, []string{label}, bold, nil)
		}
		if !done {
			s.mark(at, s.say("Corner %s: %s", strconv.Itoa(k+1), s.degrees(s.est.Corners[k].Angle)))
		}
	}
}
