// Package spell finds the known words that a mistyped one may have meant.
package spell

import (
	"slices"
	"sort"
	"strings"
)

// longest is how many bytes of a word are compared.
const longest = 64

// near is a known word and its distance.
type near struct {
	word     string
	distance int
}

// before reports whether n is a better hint than o.
func (n near) before(o near) bool {
	return n.distance < o.distance || n.distance == o.distance && n.word < o.word
}

// Closest returns up to most of the known words nearest to word, nearest first, leaving out those that share too little
// with it. Words that have it as a whole part, as oak_red has oak, count as one letter off. Ties go in alphabetical order. Only words
// that may still be among the nearest are compared to their end, so that it stays quick over many.
func Closest(word string, known []string, most int) []string {
	best := make([]near, 0, max(0, most)+1)
	begins, ends, inside := word+"_", "_"+word, "_"+word+"_"
	for _, k := range known {
		limit := max(2, len(k)/2)
		if most > 0 && len(best) == most {
			limit = min(limit, best[most-1].distance)
		}
		d, ok := within(word, k, limit)
		if word != "" &&
			(strings.HasPrefix(k, begins) || strings.HasSuffix(k, ends) || strings.Contains(k, inside)) {
			d, ok = 1, true
		}
		if !ok {
			continue
		}
		n := near{k, d}
		at := sort.Search(len(best), func(i int) bool { return n.before(best[i]) })
		best = slices.Insert(best, at, n)
		best = best[:min(len(best), max(0, most))]
	}
	out := make([]string, 0, len(best))
	for _, n := range best {
		out = append(out, n.word)
	}
	return out
}

// Distance is how many bytes must be inserted, deleted or replaced to turn a into b. Words of more than 64 bytes are compared
// by their first 64.
//
// Source: V. I. Levenshtein, Binary codes capable of correcting deletions, insertions and reversals (1966).
func Distance(a, b string) int {
	d, _ := within(a, b, longest)
	return d
}

// within is the distance of a and b if that is at most limit; it stops as soon as it cannot be.
func within(a, b string, limit int) (int, bool) {
	a, b = a[:min(len(a), longest)], b[:min(len(b), longest)]
	if max(len(a)-len(b), len(b)-len(a)) > limit {
		return 0, false
	}
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] { // what both begin or end with costs nothing
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	var rows [2][longest + 1]uint8
	last, row := &rows[0], &rows[1]
	for j := range len(b) + 1 {
		last[j] = uint8(j)
	}
	for i := range len(a) {
		row[0] = uint8(i + 1)
		least := row[0]
		for j := range len(b) {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
			least = min(least, row[j+1])
		}
		if int(least) > limit {
			return 0, false
		}
		last, row = row, last
	}
	d := int(last[len(b)])
	return d, d <= limit
}
