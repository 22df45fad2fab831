package hardware

import (
	"math"

	"seamwright/service/measure"
)

// sweeps is how often, at most, settling goes over the parts, and least the smallest move worth while.
const (
	sweeps    = 16
	leastMove = measure.Millimetre / 2
)

// evenAligns moves each alignment part, in turn, towards the middle of its neighbours, the outer ones towards their
// ideal places, as far as the rules allow. A part that could not move is left alone until a neighbour has moved.
func (r *placing) evenAligns(l *layout) {
	w := l.work
	w.rooms(r, l.pulls)
	w.slots(r, l.aligns)
	w.stuck = append(w.stuck[:0], make([]bool, len(l.aligns))...)
	for n, moved := 0, true; moved && n < sweeps; n++ {
		moved = false
		for i := range l.aligns {
			if w.stuck[i] {
				continue
			}
			if !r.nudgeAlign(l, i) {
				w.stuck[i] = true
				continue
			}
			moved = true
			w.stuck[max(i-1, 0)], w.stuck[min(i+1, len(w.stuck)-1)] = false, false
		}
	}
}

// nudgeAlign moves the i-th alignment part as nudge does, with half the room of all parts stated, and reports whether
// it moved.
func (r *placing) nudgeAlign(l *layout, i int) bool {
	w, last := l.work, len(l.aligns)-1
	was, goal := l.aligns[i], r.idealAt(i, len(l.aligns))
	if i > 0 && i < last {
		goal = (l.aligns[i-1] + l.aligns[i+1]) / 2
	}
	for way := goal - was; way > leastMove || way < -leastMove; way /= 2 {
		at := was + way
		if i == 0 && at > r.alignFirst || i == last && at < r.alignLast {
			continue
		}
		half := r.alignHalf(at)
		if i > 0 && !r.follow(l.aligns[i-1], w.slotHalf[i-1], at, half) ||
			i < last && !r.follow(at, half, l.aligns[i+1], w.slotHalf[i+1]) ||
			!r.slotWoodWith(at, half) || !r.clearOf(l, at, half) {
			continue
		}
		l.aligns[i], w.slotHalf[i] = at, half
		return true
	}
	return false
}

// follow reports whether two alignment parts with these half slots may follow each other.
func (r *placing) follow(first, firstHalf, second, secondHalf measure.Length) bool {
	return second-first <= r.alignSpacing+noise && second-secondHalf >= first+firstHalf+r.clear-noise
}

// clearOf reports whether an alignment part is clear of the layout's pull parts, whose rooms are stated.
func (r *placing) clearOf(l *layout, at, half measure.Length) bool {
	for j, p := range l.pulls {
		if measure.Length(math.Abs(float64(at-p))) < half+l.work.pullHalf[j]+r.clear-noise {
			return false
		}
	}
	return true
}

// sweepAligns moves each alignment part once, and reports whether any moved.
func (r *placing) sweepAligns(l *layout) bool {
	moved := false
	for i := range l.aligns {
		if nudge(l.aligns, i, r.idealAt(i, len(l.aligns)), func() bool { return r.alignKeeps(l, i) }) {
			moved = true
		}
	}
	return moved
}

// evenBoth does the same with pull and alignment parts together; the outer pull parts move towards the ends.
func (r *placing) evenBoth(l *layout) {
	for n, moved := 0, true; moved && n < sweeps; n++ {
		moved = false
		for i := range l.pulls {
			outer := r.pullFrom
			if i > 0 {
				outer = r.pullTo
			}
			if nudge(l.pulls, i, outer, func() bool { return r.pullKeeps(l, i) }) {
				moved = true
			}
		}
		moved = r.sweepAligns(l) || moved
	}
}

// nudge moves the i-th part to the middle of its neighbours (an outer one to the place named), or as much of the way,
// by halves, as keeps the rules. It reports whether the part moved.
func nudge(parts []measure.Length, i int, outer measure.Length, keeps func() bool) bool {
	was, goal := parts[i], outer
	if i > 0 && i < len(parts)-1 {
		goal = (parts[i-1] + parts[i+1]) / 2
	}
	for way := goal - was; way > leastMove || way < -leastMove; way /= 2 {
		if parts[i] = was + way; keeps() {
			return true
		}
	}
	parts[i] = was
	return false
}

// alignKeeps reports whether the i-th alignment part keeps the rules.
func (r *placing) alignKeeps(l *layout, i int) bool {
	at, last := l.aligns[i], len(l.aligns)-1
	switch {
	case i == 0 && at > r.alignFirst, i == last && at < r.alignLast,
		i > 0 && !r.alignsFollow(l.aligns[i-1], at), i < last && !r.alignsFollow(at, l.aligns[i+1]):
		return false
	}
	return r.alignStands(at, l.pulls)
}

// pullKeeps reports whether the i-th pull part keeps the rules.
func (r *placing) pullKeeps(l *layout, i int) bool {
	at, last := l.pulls[i], len(l.pulls)-1
	switch {
	case i == 0 && at > r.pullFirst, i == last && at < r.pullLast,
		i > 0 && !r.pullsFollow(l.pulls[i-1], at), i < last && !r.pullsFollow(at, l.pulls[i+1]), !r.pullStands(at):
		return false
	}
	one := l.pulls[i : i+1]
	for _, a := range l.aligns {
		if !r.alignStands(a, one) {
			return false
		}
	}
	return true
}
