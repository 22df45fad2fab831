package hardware

import (
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// bar is a stretch of seam in which a part's axis may not stand, because one of its footprints would come too near to
// an edge. A footprint that grows with its slip must stand that much further off.
type bar struct {
	from, to measure.Length
	play     measure.Length // see Footprint
	name     string         // of the footprint
	side     int
	edge     *Edge
}

// barred are the bars of one part.
type barred struct {
	part      *catalogue.Fastener
	long, all bool
	bars      []bar
}

// edged is what is known of one edge on the seam at hand.
type edged struct {
	segment
	alike  bool // side 1: side 0 has the same
	known  bool // what follows
	near   bool // the edge is nearer to the seam's own line than its clearance, from lo to hi
	lo, hi measure.Length
}

// atSeam is the edge's capsule by its clearance, on the seam's own line.
func (m *edged) atSeam(clear measure.Length) (lo, hi measure.Length, near bool) {
	if !m.known {
		m.lo, m.hi, m.near = m.capsule(clear, 0)
		m.known = true
	}
	return m.lo, m.hi, m.near
}

// edge takes up the edges of the seam at hand.
func (c *Chooser) edge() {
	c.bars, c.barred = c.bars[:0], c.barred[:0]
	for i := range c.edged {
		c.edged[i] = c.edged[i][:0]
		for _, e := range c.seam.Sides[i].Edges {
			c.edged[i] = append(c.edged[i], edged{segment: segmentOf(e.From, e.To),
				alike: i == 1 && slices.Contains(c.seam.Sides[0].Edges, e)})
		}
	}
}

// barsOf returns the bars of a part on the seam at hand: all of them, or of a pull part those that may reach beyond its
// least distance from the seam's ends, and then some that others cover. They are worked out once for each seam.
func (c *Chooser) barsOf(f *catalogue.Fastener, long, all bool) []bar {
	for i := range c.barred {
		if b := &c.barred[i]; b.part == f && b.long == long && b.all == all {
			return b.bars
		}
	}
	var end measure.Length
	if !all {
		end = formOf(f).pull.end(c.set)
	}
	first := len(c.bars)
	prints, alike := c.prints.of(f, long, &c.seam, c.set), formOf(f).alike
	for i := range prints {
		p := &prints[i]
		edges := c.seam.Sides[p.Side].Edges
		for k := range edges {
			e, m := &edges[k], &c.edged[p.Side][k]
			if alike && m.alike {
				continue // cut alike in both pieces: the other piece's edge bars the same
			}
			if !all && c.idle(end, p, e) {
				continue
			}
			from, to, ok := p.blocks(e, m)
			if ok && to > 0 && from < c.seam.Length && !covered(c.bars[first:], from, to, p.Play) {
				c.bars = append(c.bars, bar{from, to, p.Play, p.Name, p.Side, e})
			}
		}
	}
	c.barred = append(c.barred, barred{f, long, all, c.bars[first:len(c.bars):len(c.bars)]})
	return c.bars[first:len(c.bars):len(c.bars)]
}

// idle reports whether an edge cannot bar any place of a pull part that is as far from both ends of the seam as it must
// be: the whole edge with all around it lies nearer to one of them. The part grows by no more than the whole seam
// slips.
func (c *Chooser) idle(end measure.Length, p *imprint, e *Edge) bool {
	const overlooked = measure.Length(1e-6)
	around := p.half + p.Radius + max(e.Clear, 0) + overlooked
	if p.Play != never {
		around += measure.Length(c.seam.SlipRate) * c.seam.Length
	}
	return max(e.From.Along, e.To.Along)+around <= end || min(e.From.Along, e.To.Along)-around >= c.seam.Length-end
}

// covered reports whether a bar says nothing new.
func covered(bars []bar, from, to, play measure.Length) bool {
	for i := range bars {
		if b := &bars[i]; b.from <= from && b.to >= to && b.play <= play {
			return true
		}
	}
	return false
}

// bars reports whether a bar forbids a place.
func (r *placing) bars(b *bar, at measure.Length) bool {
	grown := max(0, r.slip(at)-b.play)
	return at+grown > b.from+noise && at-grown < b.to-noise
}

// afterBar is the first place behind a bar.
func (r *placing) afterBar(b *bar) measure.Length {
	if b.play == never {
		return b.to
	}
	return max(b.to, r.after(b.to-b.play))
}

// beforeBar is the last place in front of a bar.
func (r *placing) beforeBar(b *bar) measure.Length {
	if b.play == never {
		return b.from
	}
	return min(b.from, r.before(b.from+b.play))
}

// pullLimits finds the first and the last place, from at the earliest and to at the latest, that no bar forbids, and
// the bars that moved them; nil when none did.
func (r *placing) pullLimits(from, to measure.Length) (first, last measure.Length, front, back *bar) {
	for moved := true; moved; {
		moved = false
		for i := range r.pullBars {
			if b := &r.pullBars[i]; r.bars(b, from) {
				from, front, moved = r.afterBar(b), b, true
			}
			if b := &r.pullBars[i]; r.bars(b, to) {
				to, back, moved = r.beforeBar(b), b, true
			}
		}
		if from > to || math.IsNaN(float64(from)) {
			break
		}
	}
	return from, to, front, back
}

// barsWithin appends the bars that still bind between two places that no bar forbids. A part that grows the less the
// nearer it is to the held point leaves free everywhere behind a place what it leaves free there.
func (r *placing) barsWithin(to []bar, first, last measure.Length) []bar {
	for i := range r.pullBars {
		if b := &r.pullBars[i]; r.afterBar(b) > first+noise && r.beforeBar(b) < last-noise {
			to = append(to, *b)
		}
	}
	return to
}

// wallsWithin does the same with the stretches that slots must leave free.
func (r *placing) wallsWithin(to []Interval) []Interval {
	for _, w := range r.slotWalls {
		if r.afterWall(w.To) > r.slotFrom+noise && r.beforeWall(w.From) < r.slotTo-noise {
			to = append(to, w)
		}
	}
	return to
}

// slotLimits does the same for an alignment part between the ends of the seam.
func (r *placing) slotLimits() (first, last measure.Length) {
	first, last = r.afterWall(r.front), r.beforeWall(r.back)
	for moved := true; moved && first <= last; {
		moved = false
		for _, w := range r.slotWalls {
			if half := r.alignHalf(first); first-half < w.To-noise && first+half > w.From+noise {
				first, moved = max(r.afterWall(w.To), first), true
			}
			if half := r.alignHalf(last); last-half < w.To-noise && last+half > w.From+noise {
				last, moved = min(r.beforeWall(w.From), last), true
			}
		}
	}
	return first, last
}
