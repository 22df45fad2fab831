package labour

import "math/bits"

// standardSet is a set of standards, by their places: a bit for each.
type standardSet []uint64

// newSets makes sets over so many standards.
func newSets(n, standards int) []standardSet {
	words := (standards + 63) / 64
	sets, memory := make([]standardSet, n), make([]uint64, n*words)
	for i := range sets {
		sets[i] = memory[i*words : (i+1)*words : (i+1)*words]
	}
	return sets
}

func (s standardSet) add(i int) { s[i/64] |= 1 << (i % 64) }

func (s standardSet) clear() { clear(s) }

// all fills a set of so many.
func (s standardSet) all(standards int) {
	for i := range standards {
		s.add(i)
	}
}

// join adds the members of another set.
func (s standardSet) join(other standardSet) {
	for w := range s {
		s[w] |= other[w]
	}
}

// each yields the members in their order.
func (s standardSet) each(yield func(int) bool) {
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			if !yield(64*w + bits.TrailingZeros64(word)) {
				return
			}
		}
	}
}
