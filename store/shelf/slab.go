package shelf

// slab hands out small things that live as long as each other from larger pieces, which is faster than asking for each.
type slab[T any] struct{ free []T }

const slabSize = 1024

func (s *slab[T]) reserve(n int) {
	if len(s.free) < n {
		s.free = make([]T, slabSize)
	}
}

// one returns a new one.
func (s *slab[T]) one() *T {
	s.reserve(1)
	v := &s.free[0]
	s.free = s.free[1:]
	return v
}

// list returns an empty list with room for n, which are few.
func (s *slab[T]) list(n int) []T {
	s.reserve(n)
	l := s.free[:0:n]
	s.free = s.free[n:]
	return l
}
