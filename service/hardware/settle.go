package hardware

import "seamwright/service/measure"

// sweeps is how often settling goes over the parts; positions change by less than a tenth of a millimetre after that.
const sweeps = 16

// evenAligns moves each alignment part, in turn, towards the middle of its neighbours, the outer ones towards their
// ideal places, as far as the rules allow.
func (r *room) evenAligns(l *layout) {
	for range sweeps {
		for i := range l.aligns {
			nudge(l.aligns, i, r.idealAt(i, len(l.aligns)), func() bool { return r.alignKeeps(l, i) })
		}
	}
}

// evenBoth does the same with pull and alignment parts together; the outer pull parts move towards the ends.
func (r *room) evenBoth(l *layout) {
	for range sweeps {
		for i := range l.pulls {
			outer := r.pullFrom
			if i > 0 {
				outer = r.pullTo
			}
			nudge(l.pulls, i, outer, func() bool { return r.pullKeeps(l, i) })
		}
		for i := range l.aligns {
			nudge(l.aligns, i, r.idealAt(i, len(l.aligns)), func() bool { return r.alignKeeps(l, i) })
		}
	}
}

// nudge moves the i-th part to the middle of its neighbours (an outer one to the place named), or as much of the way,
// by halves, as keeps the rules.
func nudge(parts []measure.Length, i int, outer measure.Length, keeps func() bool) {
	was, goal := parts[i], outer
	if i > 0 && i < len(parts)-1 {
		goal = (parts[i-1] + parts[i+1]) / 2
	}
	for way := goal - was; way > 0.01 || way < -0.01; way /= 2 {
		if parts[i] = was + way; keeps() {
			return
		}
	}
	parts[i] = was
}

// alignKeeps reports whether the i-th alignment part keeps the rules.
func (r *room) alignKeeps(l *layout, i int) bool {
	at, last := l.aligns[i], len(l.aligns)-1
	switch {
	case i == 0 && at > r.alignEnd, i == last && at < r.length-r.alignEnd,
		i > 0 && !r.alignsFollow(l.aligns[i-1], at), i < last && !r.alignsFollow(at, l.aligns[i+1]):
		return false
	}
	return r.alignStands(at, l.pulls)
}

// pullKeeps reports whether the i-th pull part keeps the rules.
func (r *room) pullKeeps(l *layout, i int) bool {
	at, last := l.pulls[i], len(l.pulls)-1
	switch {
	case i == 0 && at > r.pullWindow, i == last && at < r.length-r.pullWindow,
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
