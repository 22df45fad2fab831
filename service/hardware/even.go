package hardware

import (
	"math"

	"seamwright/service/measure"
)

// insets is in how many steps the evenly spaced pull parts move inwards from their least to their greatest distance
// from the ends.
const insets = 12

// evenly places evenly spaced pull parts, the fewest, and alignment parts between them. It takes the first distance from
// the ends at which all alignment parts have their ideal places; else of five distances, or of all when none of the
// five will do, the best by leastStray.
func (r *room) evenly(l *layout) bool {
	n := max(r.leastPulls, steps(r.pullLast-r.pullFirst, r.pullSpacing)+1)
	if n > mostParts {
		return false
	}
	if r.ideal(l) {
		for k := 0; k <= insets; k++ {
			if r.inset(l, n, k) && r.allClearOfPulls(l.aligns, l.pulls) {
				return true
			}
		}
	}
	k := r.leastStray(l, n, 3)
	if k < 0 {
		k = r.leastStray(l, n, 1)
	}
	if k < 0 {
		return false
	}
	r.inset(l, n, k)
	r.cover(l, l.pulls)
	r.evenAligns(l)
	return true
}

// leastStray returns the best of every so manieth distance from the ends, or −1: the fewest alignment parts, of those
// the ones nearest to their ideal places, of those the first.
func (r *room) leastStray(l *layout, n, stride int) int {
	best, fewest, least := -1, 0, 0.0
	for k := 0; k <= insets; k += stride {
		if !r.inset(l, n, k) || !r.cover(l, l.pulls) {
			continue
		}
		stray := r.stray(l.aligns)
		if best < 0 || len(l.aligns) < fewest || len(l.aligns) == fewest && stray < least-1e-6 {
			best, fewest, least = k, len(l.aligns), stray
		}
	}
	return best
}

// inset spaces n pull parts evenly between the k-th distances from both ends, and reports whether they may stand so.
func (r *room) inset(l *layout, n, k int) bool {
	t := r.pullEnd + (r.pullWindow-r.pullEnd)*measure.Length(k)/insets
	first := min(max(t, r.pullFrom), r.pullFirst)
	last := max(min(r.length-t, r.pullTo), r.pullLast)
	l.pulls = spread(l.pulls[:0], n, first, last)
	return r.pullsStand(l.pulls)
}

// ideal spaces the fewest alignment parts evenly and as far from the ends as allowed, and reports whether they may stand so as far as
// no pull part is in the way.
func (r *room) ideal(l *layout) bool {
	m := steps(r.alignLast-r.alignFirst, r.alignSpacing) + 1
	if r.alignLast > r.alignFirst {
		m = max(m, 2)
	}
	if m > mostParts {
		return false
	}
	l.aligns = l.aligns[:0]
	for i := range m {
		l.aligns = append(l.aligns, r.idealAt(i, m))
	}
	return r.alignsStand(l.aligns, nil)
}

// idealAt is where the i-th of m alignment parts would stand if nothing were in its way.
func (r *room) idealAt(i, m int) measure.Length {
	if m == 1 {
		return (r.alignFirst + r.alignLast) / 2
	}
	return r.alignFirst + (r.alignLast-r.alignFirst)*measure.Length(i)/measure.Length(m-1)
}

// stray is the sum of squares of the distances from the ideal places, in square millimetres.
func (r *room) stray(aligns []measure.Length) float64 {
	sum := 0.0
	for i, a := range aligns {
		d := float64(a - r.idealAt(i, len(aligns)))
		sum += d * d
	}
	return sum
}

// spread appends n positions evenly from first to last, or the middle alone.
func spread(to []measure.Length, n int, first, last measure.Length) []measure.Length {
	if n == 1 {
		return append(to, (first+last)/2)
	}
	for i := range n {
		to = append(to, first+(last-first)*measure.Length(i)/measure.Length(n-1))
	}
	return to
}

// steps is how many spacings, at most so long, a length takes: none when it is not positive, and over mostParts when
// that many are not enough.
func steps(length, spacing measure.Length) int {
	if !(length > 0) {
		return 0
	}
	n := math.Ceil(float64(length/spacing) - 1e-12)
	if !(n <= mostParts) {
		return mostParts + 1
	}
	return int(n)
}
