package plan

import "slices"

// store has the points of one layout in one piece of memory. A line taken from it is the taker's alone and cannot grow into another.
type store struct {
	all, free []Point
	corner    cut // the corner at hand
}

// clear makes the store empty, with room for what a chain of so many runs usually needs.
func (s *store) clear(runs int) {
	if n := 20 * runs; len(s.all) < n {
		s.all = make([]Point, n)
	}
	s.free = s.all
}

// room takes an empty line that can grow to n points.
func (s *store) room(n int) []Point {
	if n > len(s.free) {
		return make([]Point, 0, n)
	}
	out := s.free[:0:n]
	s.free = s.free[n:]
	return out
}

// line takes a line and copies the points into it.
func (s *store) line(points ...Point) []Point { return append(s.room(len(points)), points...) }

// reversed takes a line and copies the points into it, the last one first.
func (s *store) reversed(points []Point) []Point {
	out := s.line(points...)
	slices.Reverse(out)
	return out
}
