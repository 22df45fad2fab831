package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// mixWithScrews lays out draw bolts mixed with screws when that saves at least one bolt against the best with bolts
// alone, when there is one; else it returns that. Screws that cannot save one are left out, unless another one does:
// then it is told why they failed.
func (c *Chooser) mixWithScrews(best found, ok, long bool) (found, bool) {
	tries, leftOut := len(c.tries), false
	for i, f := range c.screws {
		if !f.MayMixWithBolt {
			continue
		}
		if ok && !c.mixMaySave(f, len(best.pulls), long) {
			leftOut = true
			continue
		}
		mix, saves := c.savingMix(f, long, best.shelved)
		if !saves {
			continue
		}
		if leftOut {
			c.tries = c.tries[:tries]
			for _, g := range c.screws[:i+1] {
				if g.MayMixWithBolt {
					mix, _ = c.mix(g, long, best.shelved)
				}
			}
		}
		return mix, true
	}
	if ok {
		c.tries = c.tries[:tries] // a mix that saves nothing is no news
	}
	return best, ok
}

// savingMix lays out a mix with a screw when it needs both kinds and saves a bolt against bolts that stand alone, when
// these do.
func (c *Chooser) savingMix(f *catalogue.Fastener, long bool, alone *shelved) (found, bool) {
	mix, fits := c.mix(f, long, alone)
	if !fits {
		return found{}, false
	}
	n := c.boltsOf(&mix)
	return mix, n > 0 && n < len(mix.pulls) && (alone == nil || n < len(alone.pulls))
}

// mix finds room for a screw mixed with the first bolt, held at the first place, that works; false when there is none,
// or when it would save nothing against bolts that stand alone.
func (c *Chooser) mix(screw *catalogue.Fastener, long bool, alone *shelved) (found, bool) {
	var memory [2]Hold
	holds := c.holds(memory[:0])
	for _, bolt := range c.bolts {
		if long && !c.longHelps(bolt) {
			continue
		}
		for _, h := range holds {
			o := attempt{screw: screw, bolt: bolt, hold: h, long: long}
			if l, fits := c.fit(o, alone); fits {
				return found{o, l}, l != nil
			}
		}
	}
	return found{}, false
}

// boltsOf counts the bolts of a mix as it is laid out: what stands beyond the screws' reach.
func (c *Chooser) boltsOf(f *found) int {
	return beyond(f.pulls, f.hold.Point(c.seam.Length), c.partReach(f.screw, false))
}

// beyond counts the places out of a reach from the held point.
func beyond(places []measure.Length, held, reach measure.Length) int {
	n := 0
	for _, at := range places {
		if max(at-held, held-at) > reach+noise {
			n++
		}
	}
	return n
}

// screwReaches reports whether the screw of a mix may stand at a place.
func (c *Chooser) screwReaches(o *attempt, at measure.Length) bool {
	held := o.hold.Point(c.seam.Length)
	return max(at-held, held-at) <= c.partReach(o.screw, false)+noise
}

// mixMaySave reports whether a mix of a screw and a bolt could do with fewer bolts than so many. A mix that cannot is
// not laid out.
func (c *Chooser) mixMaySave(screw *catalogue.Fastener, bolts int, long bool) bool {
	var memory [2]Hold
	holds := c.holds(memory[:0])
	for _, bolt := range c.bolts {
		if long && !c.longHelps(bolt) {
			continue
		}
		for _, h := range holds {
			if n, can := c.leastBolts(attempt{screw: screw, bolt: bolt, hold: h, long: long}); can && n < bolts {
				return true
			}
		}
	}
	return false
}

// leastBolts returns how many bolts a mix takes at the least, however its parts stand; it cannot stand at all, or not
// with both kinds, when can is false. Where a screw stands, parts follow at most a spacing apart as far as to the
// outermost one; those out of the screw's reach are bolts.
func (c *Chooser) leastBolts(o attempt) (n int, can bool) {
	var r placing
	wood := c.rules(&r, o)
	near := c.partReach(o.screw, false)
	if near < 0 || r.outOfReach(c.reach(o)) || !(r.pullSpacing > 0) {
		return 0, false
	}
	first, last := r.held-near, r.held+near // of the screws
	if last < wood.from-2*noise || first > wood.to+2*noise {
		return 0, false
	}
	return followers(r.pullLast-last, r.pullSpacing) + followers(first-r.pullFirst, r.pullSpacing), true
}

// followers is how many parts, at most a spacing apart, stand beyond a place when the last of them is at least so far
// off. A millionth of a millimetre makes up for what the rules overlook.
func followers(off, spacing measure.Length) int {
	const overlooked = measure.Length(1e-6)
	return int(min(mostParts, math.Ceil(max(0, float64((off-overlooked)/spacing)))))
}

// evenlySavesNothing reports whether pull parts are sure to be placed evenly, and so that at least so many of them
// stand beyond a reach from the held point. It looks at the distances from the ends that evenly looks at, but does not
// find out which of them is the best.
func (r *placing) evenlySavesNothing(l *layout, reach measure.Length, bolts int) bool {
	n := r.evenPulls()
	if n > mostParts {
		return false
	}
	if r.idealInset(l, n) {
		return beyond(l.pulls, r.held, reach) >= bolts
	}
	for _, stride := range strides {
		covered := false
		for k := insets; k >= 0; k -= stride {
			if !r.flanked(r.insetEnds(k)) || !r.inset(l, n, k, nil) {
				continue
			}
			if beyond(l.pulls, r.held, reach) < bolts {
				return false
			}
			covered = covered || r.cover(l, l.pulls)
		}
		if covered {
			return true
		}
	}
	return false
}
