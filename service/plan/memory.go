package plan

import "slices"

// memory has the points of layouts in few pieces of memory. A line taken from it is the taker's alone and cannot grow into another.
type memory struct {
	all, free []Point
	corner    cut // the corner at hand
}

// clear empties the memory, with room for what a chain of so many runs usually needs.
func (s *memory) clear(runs int) {
	if n := 20 * runs; len(s.all) < n {
		s.all = make([]Point, n)
	}
	s.free = s.all
}

// Points that are taken at once, and most that are kept for the next top.
const (
	block     = 128
	mostBlock = 4096
)

// renew empties the memory for the next top.
func (s *memory) renew() {
	if len(s.all) > mostBlock {
		s.all = nil
	}
	s.free = s.all
}

// empty takes an empty line that can grow to n points.
func (s *memory) empty(n int) []Point {
	if n > len(s.free) {
		s.all = make([]Point, max(n, block, 2*len(s.all))) // lines before keep theirs
		s.free = s.all
	}
	out := s.free[:0:n]
	s.free = s.free[n:]
	return out
}

// line takes a line and copies the points into it.
func (s *memory) line(points ...Point) []Point { return append(s.empty(len(points)), points...) }

// reversed takes a line and copies the points into it, the last one first.
func (s *memory) reversed(points []Point) []Point {
	out := s.line(points...)
	slices.Reverse(out)
	return out
}
