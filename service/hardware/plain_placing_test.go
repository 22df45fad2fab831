package hardware

import (
	"math"

	"seamwright/service/measure"
)

// plainRoom places parts as room does, asking each rule anew for each place.
type plainRoom struct{ *placing }

// evenly works out every distance from the ends in full.
func (r plainRoom) evenly(l *layout) bool {
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
	for n, moved := 0, true; moved && n < sweeps; n++ {
		moved = r.sweepAligns(l)
	}
	return true
}

func (r plainRoom) leastStray(l *layout, n, stride int) int {
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

func (r plainRoom) inset(l *layout, n, k int) bool {
	t := r.pullEnd + (r.pullWindow-r.pullEnd)*measure.Length(k)/insets
	first := min(max(t, r.pullFrom), r.pullFirst)
	last := max(min(r.length-t, r.pullTo), r.pullLast)
	l.pulls = nil
	for i := range n {
		l.pulls = append(l.pulls, spreadAt(i, n, first, last))
	}
	return r.pullsStand(l.pulls)
}

// pullsStand reports whether pull parts keep every rule among themselves. It does not count them.
func (r plainRoom) pullsStand(pulls []measure.Length) bool {
	for i, p := range pulls {
		if !r.pullStands(p) || i > 0 && !r.pullsFollow(pulls[i-1], p) {
			return false
		}
	}
	return len(pulls) > 0 && pulls[0] <= r.pullFirst+noise && pulls[len(pulls)-1] >= r.pullLast-noise
}

// allClearOfPulls reports whether alignment parts are clear of pull parts.
func (r plainRoom) allClearOfPulls(aligns, pulls []measure.Length) bool {
	for _, a := range aligns {
		for _, p := range pulls {
			if measure.Length(math.Abs(float64(a-p))) < r.alignHalf(a)+r.pullHalf(p)+r.clear-noise {
				return false
			}
		}
	}
	return true
}
