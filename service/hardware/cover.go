package hardware

import (
	"slices"

	"seamwright/service/measure"
)

// span is a stretch of places for a part's centre, both ends among them.
type span struct{ from, to measure.Length }

// coverage is the working memory of placing parts, used again and again. It holds nothing between two layouts.
type coverage struct {
	walls   []span // pull parts and blocked stretches, by where they begin
	allowed []span
	reached []span // places that a k-th part can have, for k = 1, 2, …, one after the other
	starts  []int  // where each k begins in reached

	slotHalf      []measure.Length // half the slot of each alignment part, where they are given
	pullHalf      []measure.Length // half the room of each pull part, where they are given
	pulls, aligns []measure.Length // the best layout so far
	stuck         []bool           // see evenAligns
	grid          grid
}

// slots states half the slot of each alignment part.
func (c *coverage) slots(r *placing, aligns []measure.Length) {
	c.slotHalf = c.slotHalf[:0]
	for _, a := range aligns {
		c.slotHalf = append(c.slotHalf, r.alignHalf(a))
	}
}

// rooms states half the room of each pull part.
func (c *coverage) rooms(r *placing, pulls []measure.Length) {
	c.pullHalf = c.pullHalf[:0]
	for _, p := range pulls {
		c.pullHalf = append(c.pullHalf, r.pullHalf(p))
	}
}

// cover places the fewest alignment parts among given pull parts, each as near to its ideal place as the next one
// allows, and reports whether there is any such placement. It is exact: it follows, part by part, the whole set of
// places that the k-th part can have, as stretches of seam.
func (r *placing) cover(l *layout, pulls []measure.Length) bool {
	c := l.work
	c.allowed, c.reached, c.starts = c.allowed[:0], c.reached[:0], append(c.starts[:0], 0)
	r.openings(c, pulls)
	for _, o := range c.allowed {
		if o.from <= r.alignFirst+noise {
			c.reached = append(c.reached, span{o.from, min(o.to, r.alignFirst)})
		}
	}
	for len(c.starts) <= mostParts {
		from := c.starts[len(c.starts)-1]
		if from == len(c.reached) {
			return false
		}
		if c.reached[len(c.reached)-1].to >= r.alignLast-noise {
			r.pick(l, c)
			return true
		}
		c.starts = append(c.starts, len(c.reached))
		r.advance(c, from)
	}
	return false
}

// advance appends the places of the next part: what is allowed, not too near and not too far from some place of the
// part before, whose places begin at from.
func (r *placing) advance(c *coverage, from int) {
	to, at := len(c.reached), 0
	first, last := r.followed()
	for i := from; i < to; i++ {
		before := span{max(c.reached[i].from, first), min(c.reached[i].to, last)}
		if before.from > before.to {
			continue
		}
		near, far := r.nearest(before.from), before.to+r.alignSpacing
		for at < len(c.allowed) && c.allowed[at].to < near-noise {
			at++
		}
		for k := at; k < len(c.allowed) && c.allowed[k].from <= far; k++ {
			s := span{max(c.allowed[k].from, near), min(c.allowed[k].to, far)}
			if last := len(c.reached) - 1; last >= to && s.from <= c.reached[last].to {
				c.reached[last].to = max(c.reached[last].to, s.to)
			} else if s.from <= s.to+noise {
				s.to = max(s.to, s.from)
				c.reached = append(c.reached, s)
			}
		}
	}
}

// followed returns the first and last place at which a part can be followed at all: where slots grow too wide, two do
// not fit in one spacing. That is where alignHalf(x) + alignHalf(x + spacing) + clear ≤ spacing, solved for x: either
// slot may be as long as the cutter leaves it, or as the slip asks.
func (r *placing) followed() (first, last measure.Length) {
	room := r.alignSpacing - r.clear
	if room < 2*max(r.halfCut, r.halfSlot) {
		return r.length, 0
	}
	if r.rate == 0 {
		return 0, r.length
	}
	both := ((room-2*r.halfSlot)/measure.Length(r.rate) - r.alignSpacing) / 2 // beyond the held point, when both slip
	if both < 0 {
		return r.length, 0
	}
	first, last = r.held-r.alignSpacing-both, r.held+both
	if r.halfCut > 0 { // when one does not slip as far as the cutter leaves room for
		one := (room - r.halfCut - r.halfSlot) / measure.Length(r.rate)
		first, last = max(first, r.held-one), min(last, r.held-r.alignSpacing+one)
		first, last = max(first, r.held-r.alignSpacing-one), min(last, r.held+one)
	}
	return first, last
}

// pick chooses the places from the last part to the first, each as near to its ideal place as its follower allows.
func (r *placing) pick(l *layout, c *coverage) {
	m := len(c.starts)
	l.aligns = slices.Grow(l.aligns[:0], m)[:m]
	low, high := r.alignLast, r.length
	end := len(c.reached)
	for i := m - 1; i >= 0; i-- {
		l.aligns[i] = closest(c.reached[c.starts[i]:end], low, high, r.idealAt(i, m))
		low, high = l.aligns[i]-r.alignSpacing, r.farthest(l.aligns[i])
		end = c.starts[i]
	}
}

// closest returns the place in the spans, between low and high, that is nearest to ideal. One must exist up to noise.
func closest(spans []span, low, high, ideal measure.Length) measure.Length {
	best, off := low, measure.Length(-1)
	for _, s := range spans {
		from, to := max(s.from, low), min(s.to, high)
		if from > to+noise {
			continue
		}
		at := min(max(ideal, from), to)
		if d := max(at-ideal, ideal-at); off < 0 || d < off {
			best, off = at, d
		}
	}
	return best
}

// openings lists where the centre of an alignment part may stand: between the seam's ends, blocked stretches and pull
// parts, less half of its slot at either side.
func (r *placing) openings(c *coverage, pulls []measure.Length) {
	walls := c.walls[:0]
	for _, p := range pulls {
		half := r.pullHalf(p) + r.clear
		walls = insert(walls, span{p - half, p + half})
	}
	for _, list := range [2][]Interval{r.blocked, r.slotWalls} {
		for _, b := range list {
			walls = insert(walls, span{b.From, b.To})
		}
	}
	walls = insert(walls, span{r.back, r.back})
	c.walls = walls
	at := r.front
	for _, w := range walls {
		open := span{max(r.afterWall(at), r.slotFrom), min(r.beforeWall(min(w.from, r.back)), r.slotTo)}
		if open.from <= open.to+noise {
			open.to = max(open.to, open.from)
			c.allowed = append(c.allowed, open)
		}
		at = max(at, w.to)
	}
}

// insert puts a span into a list sorted by where spans begin.
func insert(list []span, s span) []span {
	list = append(list, s)
	for i := len(list) - 1; i > 0 && list[i-1].from > list[i].from; i-- {
		list[i-1], list[i] = list[i], list[i-1]
	}
	return list
}

// nearest is the first place that may follow a part at a place.
func (r *placing) nearest(at measure.Length) measure.Length {
	return r.afterWall(at + r.alignHalf(at) + r.clear)
}

// farthest is the last place that a part at a place may follow.
func (r *placing) farthest(at measure.Length) measure.Length {
	return r.beforeWall(at - r.alignHalf(at) - r.clear)
}

// afterWall is the first place for a slot behind a wall: x − alignHalf(x) = wall, solved for x.
func (r *placing) afterWall(wall measure.Length) measure.Length {
	return max(wall+r.halfCut, r.after(wall+r.halfSlot))
}

// after is the first place at which a part that grows by its slip leaves free what lies in front: x − slip(x) = from,
// solved for x.
func (r *placing) after(from measure.Length) measure.Length {
	k := measure.Length(r.rate)
	if from < r.held {
		return (from + k*r.held) / (1 + k)
	}
	return (from - k*r.held) / (1 - k)
}

// before is the last place at which a part that grows by its slip leaves free what lies behind: x + slip(x) = to,
// solved for x.
func (r *placing) before(to measure.Length) measure.Length {
	k := measure.Length(r.rate)
	if to < r.held {
		return (to - k*r.held) / (1 - k)
	}
	return (to + k*r.held) / (1 + k)
}

// beforeWall is the last place for a slot in front of a wall: x + alignHalf(x) = wall, solved for x.
func (r *placing) beforeWall(wall measure.Length) measure.Length {
	return min(wall-r.halfCut, r.before(wall-r.halfSlot))
}
