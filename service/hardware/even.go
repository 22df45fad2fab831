package hardware

import (
	"math"

	"seamwright/service/measure"
)

// insets is in how many steps the evenly spaced pull parts move inwards from their least to their greatest distance
// from the ends.
const insets = 12

// strides are in how large steps the best of them is looked for: in small ones when large ones find none.
var strides = [...]int{3, 1}

// evenly places evenly spaced pull parts, the fewest, and alignment parts between them. It takes the first distance
// from the ends at which all alignment parts have their ideal places; else of five distances, or of all when none of
// the five will do, the best by leastStray.
func (r *placing) evenly(l *layout) bool {
	n := r.evenPulls()
	if n > mostParts {
		return false
	}
	if r.idealInset(l, n) {
		return true
	}
	for _, stride := range strides {
		if r.leastStray(l, n, stride) {
			r.evenAligns(l)
			return true
		}
	}
	return false
}

// idealInset takes the first distance from the ends at which all alignment parts have their ideal places, and reports
// whether there is one.
func (r *placing) idealInset(l *layout, n int) bool {
	if !r.ideal(l) {
		return false
	}
	l.work.slots(r, l.aligns)
	for k := 0; k <= insets; k++ {
		if r.inset(l, n, k, l.aligns) {
			return true
		}
	}
	return false
}

// evenPulls is how many evenly spaced pull parts are the fewest.
func (r *placing) evenPulls() int {
	return max(r.leastPulls, steps(r.pullLast-r.pullFirst, r.pullSpacing)+1)
}

// leastStray lays out the best of every so manieth distance from the ends, and reports whether there is one: the fewest
// alignment parts, of those the ones nearest to their ideal places, of those the first.
func (r *placing) leastStray(l *layout, n, stride int) bool {
	w, found, least := l.work, false, 0.0
	for k := 0; k <= insets; k += stride {
		if !r.flanked(r.insetEnds(k)) || !r.inset(l, n, k, nil) || !r.cover(l, l.pulls) {
			continue
		}
		stray := r.stray(l.aligns)
		if !found || len(l.aligns) < len(w.aligns) || len(l.aligns) == len(w.aligns) && stray < least-1e-6 {
			found, least = true, stray
			l.pulls, w.pulls, l.aligns, w.aligns = w.pulls, l.pulls, w.aligns, l.aligns
		}
	}
	if found {
		l.pulls, w.pulls, l.aligns, w.aligns = w.pulls, l.pulls, w.aligns, l.aligns
	}
	return found
}

// insetEnds are the places of the outermost pull parts at the k-th distance from both ends.
func (r *placing) insetEnds(k int) (first, last measure.Length) {
	t := r.pullEnd + (r.pullWindow-r.pullEnd)*measure.Length(k)/insets
	return min(max(t, r.pullFrom), r.pullFirst), max(min(r.length-t, r.pullTo), r.pullLast)
}

// inset spaces n pull parts evenly between the k-th distances from both ends, and reports whether they may stand so,
// clear of alignment parts whose slots are stated. The layout is good for nothing when they may not.
func (r *placing) inset(l *layout, n, k int, aligns []measure.Length) bool {
	first, last := r.insetEnds(k)
	w := l.work
	l.pulls = l.pulls[:0]
	var before, halfBefore measure.Length
	for i := range n {
		at := spreadAt(i, n, first, last)
		half := r.pullHalf(at)
		if !r.pullStandsWith(at, half) ||
			i > 0 && !(at-before <= r.pullSpacing+noise && at-half >= before+halfBefore+r.clear-noise) {
			return false
		}
		for j, a := range aligns {
			if measure.Length(math.Abs(float64(a-at))) < w.slotHalf[j]+half+r.clear-noise {
				return false
			}
		}
		l.pulls = append(l.pulls, at)
		before, halfBefore = at, half
	}
	return n > 0 && l.pulls[0] <= r.pullFirst+noise && before >= r.pullLast-noise
}

// flanked reports whether outermost pull parts at these places may leave room for outermost alignment parts, whichever
// is nearer to the end. Where they do not there is no cover. It overlooks a little more than a cover does.
func (r *placing) flanked(first, last measure.Length) bool {
	const overlooked = 10 * noise
	p, q := r.pullHalf(first)+r.clear, r.pullHalf(last)+r.clear
	return (first+p <= r.alignFirst-r.alignHalf(r.alignFirst)+overlooked ||
		r.slotFrom+r.alignHalf(r.slotFrom) <= first-p+overlooked) &&
		(last-q >= r.alignLast+r.alignHalf(r.alignLast)-overlooked || r.slotTo-r.alignHalf(r.slotTo) >= last+q-overlooked)
}

// ideal spaces the fewest alignment parts evenly and as far from the ends as allowed, and reports whether they may
// stand so as far as no pull part is in the way.
func (r *placing) ideal(l *layout) bool {
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
func (r *placing) idealAt(i, m int) measure.Length {
	if m == 1 {
		return (r.alignFirst + r.alignLast) / 2
	}
	return r.alignFirst + (r.alignLast-r.alignFirst)*measure.Length(i)/measure.Length(m-1)
}

// stray is the sum of squares of the distances from the ideal places, in square millimetres.
func (r *placing) stray(aligns []measure.Length) float64 {
	sum := 0.0
	for i, a := range aligns {
		d := float64(a - r.idealAt(i, len(aligns)))
		sum += d * d
	}
	return sum
}

// spreadAt is the i-th of n positions evenly from first to last, or the middle alone.
func spreadAt(i, n int, first, last measure.Length) measure.Length {
	switch {
	case n == 1:
		return (first + last) / 2
	case i == 0:
		return first
	}
	return first + (last-first)*measure.Length(i)/measure.Length(n-1)
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
