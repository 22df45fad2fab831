package hardware

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// laid is what a layout was laid out for. Two mixes often ask for the same: the bolt is the larger and reaches further, whichever screw
// stands beside it.
type laid struct {
	align    *catalogue.Fastener // that was laid out; nil: nothing, or what asked for it holds no more
	room     room                // its rules for the pull parts
	from, to measure.Length      // what the wood leaves them
	bars     []bar
}

// state notes what is going to be laid out. Of the rules only those for the pull parts must be stated yet; those for alignment parts
// follow from the seam and the wish.
func (l *laid) state(r *room, wood *woodLimits) {
	l.align, l.room, l.from, l.to, l.bars = nil, *r, wood.from, wood.to, append(l.bars[:0], r.pullBars...)
}

// again returns the alignment part of the layout when it was laid out for the same rules; else nil.
func (l *laid) again(r *room, wood *woodLimits) *catalogue.Fastener {
	if l.align == nil || l.from != wood.from || l.to != wood.to || !l.room.samePulls(r) || !slices.EqualFunc(l.bars, r.pullBars, sameStretch) {
		return nil
	}
	return l.align
}

// samePulls reports whether two rooms state the same for pull parts, but for the wood around them.
func (r *room) samePulls(o *room) bool {
	return r.length == o.length && r.front == o.front && r.back == o.back && r.clear == o.clear && r.held == o.held && r.rate == o.rate &&
		r.alignSpacing == o.alignSpacing && r.halfPull == o.halfPull && r.halfChannel == o.halfChannel && r.long == o.long &&
		r.pullFrom == o.pullFrom && r.pullTo == o.pullTo && r.pullEnd == o.pullEnd && r.pullWindow == o.pullWindow &&
		r.pullSpacing == o.pullSpacing && r.leastPulls == o.leastPulls && slices.Equal(r.blocked, o.blocked)
}

// sameStretch reports whether two bars bar the same, whatever is cut there.
func sameStretch(a, b bar) bool { return a.from == b.from && a.to == b.to && a.play == b.play }
