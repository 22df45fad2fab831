package hardware

import (
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// bar is a stretch of seam in which a part's axis may not stand, because one of its footprints would come too near to an edge. A
// footprint that grows with its slip must stand that much further off.
type bar struct {
	from, to measure.Length
	play     measure.Length // see Footprint
	name     string         // of the footprint
	side     int
	edge     *Edge
}

// barred are the bars of one part.
type barred struct {
	part *catalogue.Fastener
	long bool
	bars []bar
}

// barsOf returns the bars of a part on the seam at hand; they are worked out once for each seam.
func (c *Chooser) barsOf(f *catalogue.Fastener, long bool) []bar {
	for i := range c.barred {
		if b := &c.barred[i]; b.part == f && b.long == long {
			return b.bars
		}
	}
	var store [4]Footprint
	prints := store[:0]
	if f.Kind == catalogue.PocketScrew || f.Kind == catalogue.DrawBolt {
		prints = pullFootprints(prints, f, long, &c.seam, c.set)
	} else {
		prints = append(prints, slotFootprint(f, 0, c.set), slotFootprint(f, 1, c.set))
	}
	first := len(c.bars)
	for i := range prints {
		p := &prints[i]
		edges := c.seam.Sides[p.Side].Edges
		for k := range edges {
			e := &edges[k]
			if p.Side == 1 && f.Kind != catalogue.PocketScrew && slices.Contains(c.seam.Sides[0].Edges, *e) {
				continue // cut alike in both pieces: the other piece's edge bars the same
			}
			from, to, ok := p.blocks(e)
			if ok && to > 0 && from < c.seam.Length && !covered(c.bars[first:], from, to, p.Play) {
				c.bars = append(c.bars, bar{from, to, p.Play, p.Name, p.Side, e})
			}
		}
	}
	c.barred = append(c.barred, barred{f, long, c.bars[first:len(c.bars):len(c.bars)]})
	return c.barred[len(c.barred)-1].bars
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
func (r *room) bars(b *bar, at measure.Length) bool {
	grown := max(0, r.slip(at)-b.play)
	return at+grown > b.from+noise && at-grown < b.to-noise
}

// afterBar is the first place behind a bar.
func (r *room) afterBar(b *bar) measure.Length {
	if b.play == never {
		return b.to
	}
	return max(b.to, r.after(b.to-b.play))
}

// beforeBar is the last place in front of a bar.
func (r *room) beforeBar(b *bar) measure.Length {
	if b.play == never {
		return b.from
	}
	return min(b.from, r.before(b.from+b.play))
}

// pullLimits finds the first and the last place, from at the earliest and to at the latest, that no bar forbids, and the bars that
// moved them; nil when none did.
func (r *room) pullLimits(from, to measure.Length) (first, last measure.Length, front, back *bar) {
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

// barsWithin appends the bars that still bind between two places that no bar forbids. A part that grows the less the nearer it is to the
// held point leaves free everywhere behind a place what it leaves free there.
func (r *room) barsWithin(to []bar, first, last measure.Length) []bar {
	for i := range r.pullBars {
		if b := &r.pullBars[i]; r.afterBar(b) > first+noise && r.beforeBar(b) < last-noise {
			to = append(to, *b)
		}
	}
	return to
}

// wallsWithin does the same with the stretches that slots must leave free.
func (r *room) wallsWithin(to []Interval) []Interval {
	for _, w := range r.slotWalls {
		if r.afterWall(w.To) > r.slotFrom+noise && r.beforeWall(w.From) < r.slotTo-noise {
			to = append(to, w)
		}
	}
	return to
}

// slotLimits does the same for an alignment part between the ends of the seam.
func (r *room) slotLimits() (first, last measure.Length) {
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
