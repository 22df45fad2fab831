// Package spell finds the known words that a mistyped one may have meant.
package spell

import "sort"

// Closest returns up to most of the known words nearest to word, nearest first, leaving out those that share too little
// with it. Ties go in alphabetical order.
func Closest(word string, known []string, most int) []string {
	type near struct {
		word     string
		distance int
	}
	var list []near
	for _, k := range known {
		if d := Distance(word, k); d <= max(2, len(k)/2) {
			list = append(list, near{k, d})
		}
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].distance != list[j].distance {
			return list[i].distance < list[j].distance
		}
		return list[i].word < list[j].word
	})
	out := make([]string, 0, most)
	for i := 0; i < len(list) && i < most; i++ {
		out = append(out, list[i].word)
	}
	return out
}

// Distance is how many bytes must be inserted, deleted or replaced to turn a into b. Words of more than 64 bytes are compared
// by their first 64.
//
// Source: V. I. Levenshtein, Binary codes capable of correcting deletions, insertions and reversals (1966).
func Distance(a, b string) int {
	const longest = 64
	a, b = a[:min(len(a), longest)], b[:min(len(b), longest)]
	var rows [2][longest + 1]int
	last, row := &rows[0], &rows[1]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := range len(a) {
		row[0] = i + 1
		for j := range len(b) {
			change := last[j]
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, last[j+1]+1, row[j]+1)
		}
		last, row = row, last
	}
	return last[len(b)]
}
