package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// mostShelved is how many layouts of one seam are remembered. With more the oldest make room.
const mostShelved = 16

// shelf keeps what was laid out on the seam at hand, and what could not be. Different attempts often ask for the same:
// of two mixes with one bolt that bolt is the larger part and reaches further, whichever screw stands beside it; and
// bolts are tried where screws are not wanted and where they have failed.
type shelf struct {
	all    []*shelved
	used   int
	oldest int
}

// shelved is what one set of rules for pull parts came to.
type shelved struct {
	rules pullRules
	layout
	align *catalogue.Fastener // nil: there is no room
}

// pullRules is all that decides where pull parts and the alignment parts among them stand on one seam. What depends on
// the seam, the settings and the wish for alignment parts alone is not in it.
type pullRules struct {
	held, halfPull, halfChannel, from, to, end, window, spacing, woodFrom, woodTo measure.Length
	least                                                                         int
	long                                                                          bool
	bars                                                                          []bar
}

// ofPulls are the rules for pull parts in a room, with what the wood leaves them.
func (r *placing) ofPulls(wood *woodLimits) pullRules {
	return pullRules{r.held, r.halfPull, r.halfChannel, r.pullFrom, r.pullTo, r.pullEnd, r.pullWindow, r.pullSpacing,
		wood.from, wood.to, r.leastPulls, r.long, r.pullBars}
}

// same reports whether two sets of rules come to the same layout.
func (p *pullRules) same(o *pullRules) bool {
	if p.held != o.held || p.halfPull != o.halfPull || p.halfChannel != o.halfChannel || p.from != o.from ||
		p.to != o.to || p.end != o.end || p.window != o.window ||
		p.spacing != o.spacing || p.woodFrom != o.woodFrom || p.woodTo != o.woodTo || p.least != o.least ||
		p.long != o.long || len(p.bars) != len(o.bars) {
		return false
	}
	for i := range p.bars {
		if a, b := &p.bars[i], &o.bars[i]; a.from != b.from || a.to != b.to || a.play != b.play {
			return false
		}
	}
	return true
}

// clear forgets everything.
func (s *shelf) clear() { s.used, s.oldest = 0, 0 }

// find returns what was laid out by these rules; nil when nothing was.
func (s *shelf) find(rules *pullRules) *shelved {
	for _, l := range s.all[:s.used] {
		if l.rules.same(rules) {
			return l
		}
	}
	return nil
}

// next returns room for one more layout by these rules, but never that of the one to keep.
func (s *shelf) next(rules *pullRules, keep *shelved, work *coverage) *shelved {
	var l *shelved
	switch {
	case s.used < len(s.all):
		l = s.all[s.used]
		s.used++
	case s.used < mostShelved:
		l = &shelved{layout: layout{work: work}}
		s.all, s.used = append(s.all, l), s.used+1
	default:
		if s.all[s.oldest] == keep {
			s.oldest = (s.oldest + 1) % mostShelved
		}
		l = s.all[s.oldest]
		s.oldest = (s.oldest + 1) % mostShelved
	}
	bars := append(l.rules.bars[:0], rules.bars...)
	l.rules, l.align = *rules, nil
	l.rules.bars = bars
	return l
}

// undone notes that a layout was begun and left.
func (l *shelved) undone() { l.rules.least = 0 } // rules that nobody asks by

// drop forgets everything and lets go what it points to.
func (s *shelf) drop() {
	s.clear()
	for _, l := range s.all {
		l.align = nil
		drop(&l.rules.bars)
	}
}
