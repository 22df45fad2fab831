package plan

import "seamwright/service/drawing/pen"

// wallBand is how far the hatching of a wall reaches, in millimetres of paper.
const wallBand = 1.7

// picture draws the top: what is fixed is put on the ground first, then each label looks for its place, the main sizes
// before the lesser ones, and the grain is drawn round them.
func (s *sheet) picture(x, y, w float64) float64 {
	y = s.setUp(x, y, w)
	var holes []hole
	for i := range s.est.Cutouts {
		if h, ok := s.hole(&s.est.Cutouts[i]); ok {
			holes = append(holes, h)
		}
	}
	s.fixed(holes)
	s.wallSizes()
	s.names(holes)
	s.angles()
	s.depths()
	s.frontSizes()
	s.holeSizes(holes)
	s.seamNotes()
	s.wood(holes)
	s.below()
	if s.bare { // the document goes on where the picture ends
		y = s.ground.bottom() + 3
	}
	return y
}

// fixed puts the lines of the top on the ground.
func (s *sheet) fixed(holes []hole) {
	for i := range s.runs {
		r := &s.runs[i]
		for k, p := range r.outline {
			s.ground.line(p, r.outline[(k+1)%len(r.outline)])
		}
		s.ground.line(r.front[0], r.front[1])
		s.ground.line(move(r.wall[0], r.room, -wallBand), move(r.wall[1], r.room, -wallBand))
	}
	s.void(holes)
}

// void puts the lines of cut-outs on the ground, and remembers what is no wood.
func (s *sheet) void(holes []hole) {
	for i := range holes {
		outline := holes[i].outline
		for k, p := range outline {
			s.ground.line(p, outline[(k+1)%len(outline)])
		}
		s.voids = append(s.voids, outline)
	}
}

// wood draws the pieces, their grain round the labels, the walls, the front edges, the seams and the cut-outs.
func (s *sheet) wood(holes []hole) {
	for i := range s.runs {
		s.Poly(s.runs[i].outline, false, pen.Stroke{Fill: pen.Wood})
		s.grain(i)
	}
	for _, h := range holes {
		s.Poly(h.outline, false, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	}
	for i := range s.runs {
		s.Poly(s.runs[i].outline, false, pen.Stroke{Ink: pen.Ink, Width: 0.25})
	}
	for i := range s.runs {
		s.edges(i)
		s.crooked(i)
	}
	for i := range holes {
		s.openings(&holes[i])
	}
	for k := range s.est.Corners {
		if c := s.chosen(k); c != nil {
			var path []pen.Point
			for _, p := range c.Geometry.SeamPath {
				path = append(path, s.place(p))
			}
			s.Poly(path, true, pen.Stroke{Ink: pen.Ink, Width: 0.4})
		}
	}
}

// openings breaks the front or a free end where a cut-out goes through it; at the wall the line is the wall's and stays.
func (s *sheet) openings(h *hole) {
	for i, open := range h.open {
		if open && sides[i] != "wall" {
			a, b := h.corners[i], h.corners[(i+1)%4]
			d := unit(a, b)
			a, b = move(a, d, 0.15), move(b, d, -0.15)
			s.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.White, Width: 0.9})
		}
	}
}

// crooked draws a run's piece as walls that are not straight leave it: the line that is scribed.
func (s *sheet) crooked(i int) {
	var line []pen.Point
	for _, p := range s.est.Runs[i].Piece.Scribed {
		line = append(line, s.place(p))
	}
	if line != nil {
		s.Poly(line, false, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Dash: "2 0.8"})
	}
}

// edges draws a run's wall, hatched away from the room, and its front edge.
func (s *sheet) edges(i int) {
	r := &s.runs[i]
	s.hatchedWall(&s.Pen, r.wall[0], r.wall[1], pen.At(-r.room.X, -r.room.Y))
	s.Line(r.front[0].X, r.front[0].Y, r.front[1].X, r.front[1].Y, pen.Stroke{Ink: pen.Ink, Width: 0.7})
}

func (s *sheet) hatchedWall(p *pen.Pen, a, b, out pen.Point) {
	p.Line(a.X, a.Y, b.X, b.Y, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
	d, l := unit(a, b), distance(a, b)
	hatching := make([]pen.Point, 0, 2*int(l/1.6)+2)
	for t := 0.6; t+1 < l; t += 1.6 {
		from := move(a, d, t)
		hatching = append(hatching, from, move(move(from, d, 1), out, 1.3))
	}
	p.Lines(hatching, pen.Stroke{Ink: pen.Faint, Width: pen.Thin})
}
