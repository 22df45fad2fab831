package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// fit places the attempt's pull parts with the first alignment part for which there is room; nil when there is none. On
// a short seam it looks first for positions that hold each end third. A mix that fits, but is sure to save no bolt
// against those that stand alone, is not laid out.
func (c *Chooser) fit(o attempt, alone *shelved) (l *shelved, fits bool) {
	if !(c.seam.SlipRate >= 0 && c.seam.SlipRate < 0.5) {
		c.failed(ShortMovement, try{what: slipsTooMuch})
		return nil, false
	}
	var r placing
	c.placing(&r, o)
	reach := c.reach(o)
	if r.outOfReachAnyway(reach) {
		c.tooFar(o, &r)
		return nil, false
	}
	wood := c.wood(&r, o)
	if r.outOfReach(reach) {
		c.tooFar(o, &r)
		return nil, false
	}
	r.pullFrom, r.pullTo = max(wood.from, r.held-reach), min(wood.to, r.held+reach)
	c.within = r.barsWithin(c.within[:0], wood.from, wood.to)
	r.pullBars = c.within
	rules := r.ofPulls(&wood)
	if l = c.shelf.find(&rules); l == nil {
		l = c.shelf.next(&rules, alone, &c.work)
		if c.place(l, &r, &wood, o, alone) {
			return nil, true
		}
	}
	if l.align == nil {
		c.noRoom(o, &wood)
		return nil, false
	}
	return l, true
}

// place lays out pull parts by these rules, and leaves the layout without an alignment part when there is no room. It
// reports whether that is left undone, because a mix saves nothing against bolts that stand alone.
func (c *Chooser) place(l *shelved, r *placing, wood *woodLimits, o attempt, alone *shelved) (savesNothing bool) {
	window := r.pullWindow
	for _, most := range [2]measure.Length{max(r.pullEnd, r.length/3), window} {
		if most > window {
			continue
		}
		r.outermost(most, wood)
		for _, f := range c.alignment {
			r.slotRules = c.slots(r, f)
			if !r.roomy() {
				continue
			}
			if alone != nil && r.evenlySavesNothing(&l.layout, c.partReach(o.screw, false), len(alone.pulls)) {
				l.undone()
				return true
			}
			if r.place(&l.layout) {
				l.align = f
				return false
			}
		}
	}
	return false
}

// ruled are the rules for the pull parts of a mix that was looked at, which is often laid out next.
type ruled struct {
	attempt
	wood woodLimits // the bars are in the chooser's mixed
}

// rules states the rules for the attempt's pull parts, with what the wood leaves them.
func (c *Chooser) rules(r *placing, o attempt) woodLimits {
	c.placing(r, o)
	return c.wood(r, o)
}

// wood adds to the rules for the attempt's pull parts what the wood leaves them. Bars near the ends are left out unless
// the others leave no place at all: then what bars the parts further out is told, and may be one of these.
func (c *Chooser) wood(r *placing, o attempt) (wood woodLimits) {
	if o.screw != nil && o.bolt != nil && c.ruled.attempt == o {
		wood, r.pullBars = c.ruled.wood, c.mixed
		r.outermost(r.pullWindow, &wood)
		return wood
	}
	for _, all := range [2]bool{false, true} {
		c.bar(r, o, all)
		if wood.from, wood.to, wood.front, wood.back = r.pullLimits(r.pullFrom, r.pullTo); wood.from <= wood.to {
			break
		}
	}
	r.outermost(r.pullWindow, &wood)
	if o.screw != nil && o.bolt != nil {
		c.ruled = ruled{o, wood}
	}
	return wood
}

// outOfReach reports whether parts that reach so far from the held point do not reach to where the outermost must
// stand.
func (r *placing) outOfReach(reach measure.Length) bool {
	return !(reach >= 0 && r.held-reach <= r.pullFirst+noise && r.held+reach >= r.pullLast-noise)
}

// outOfReachAnyway reports the same where it is so however little wood there is.
func (r *placing) outOfReachAnyway(reach measure.Length) bool {
	in := max(r.pullWindow, r.pullSpacing)
	return !(reach >= 0 && r.held-reach <= in+noise && r.held+reach >= r.length-in-noise)
}

// outermost states between which places the outermost pull parts must stand: at most so far from the ends, or where
// there is wood for them at first, at most a spacing from the ends.
func (r *placing) outermost(most measure.Length, wood *woodLimits) {
	r.pullWindow = most
	r.pullFirst = max(most, min(wood.from, r.pullSpacing))
	r.pullLast = min(r.length-most, max(wood.to, r.length-r.pullSpacing))
}

// woodLimits are between which places pull parts may stand, and what bars them further out; nil when no edge does.
type woodLimits struct {
	from, to    measure.Length
	front, back *bar
}

// slotted are the rules for an alignment part when the seam is held at a point.
type slotted struct {
	part *catalogue.Fastener
	held measure.Length
	slotRules
}

// slots returns the rules for an alignment part; they are stated once for each seam and place to hold.
func (c *Chooser) slots(r *placing, f *catalogue.Fastener) slotRules {
	for i := range c.slotted {
		if s := &c.slotted[i]; s.part == f && s.held == r.held {
			return s.slotRules
		}
	}
	r.slotRules = slotRules{halfSlot: (f.Width + c.set.SlotAllowance) / 2, halfCut: CutterSlot(f, c.set.BiscuitCutter) / 2}
	half := max(r.halfSlot, r.halfCut)
	bars := c.barsOf(f, false, true)
	first := len(c.walls)
	for _, b := range bars {
		c.walls = append(c.walls, Interval{b.from + half, b.to - half})
	}
	r.slotWalls = c.walls[first:]
	r.slotFrom, r.slotTo = r.slotLimits()
	r.slotWalls = r.wallsWithin(c.walls[first:first])
	c.walls = c.walls[:first+len(r.slotWalls)]
	r.alignFirst = max(c.set.AlignmentEnd, min(r.slotFrom, r.alignSpacing))
	r.alignLast = min(r.length-c.set.AlignmentEnd, max(r.slotTo, r.length-r.alignSpacing))
	c.slotted = append(c.slotted, slotted{f, r.held, r.slotRules})
	return r.slotRules
}
