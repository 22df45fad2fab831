package hardware

import (
	"math"

	"seamwright/service/measure"
)

// mixMaySave reports whether a mix of a screw and a bolt could do with fewer bolts than so many. A mix that cannot is not laid out.
func (c *Chooser) mixMaySave(bolts int, long bool) bool {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, screw := range c.screws {
		if !screw.MayMixWithBolt {
			continue
		}
		for _, bolt := range c.bolts {
			if long && !c.longHelps(bolt) {
				continue
			}
			for _, h := range holds {
				if n, can := c.leastBolts(option{screw: screw, bolt: bolt, hold: h, long: long}); can && n < bolts {
					return true
				}
			}
		}
	}
	return false
}

// leastBolts returns how many bolts a mix takes at the least, however its parts stand; it cannot stand at all, or not with both kinds, when
// can is false. Where a screw stands, parts follow at most a spacing apart as far as to the outermost one; those out of the screw's reach
// are bolts.
func (c *Chooser) leastBolts(o option) (n int, can bool) {
	r, wood := c.rules(o)
	near := c.screwReach(o.screw)
	if near < 0 || r.outOfReach(c.reach(o)) || !(r.pullSpacing > 0) {
		return 0, false
	}
	first, last := r.held-near, r.held+near // of the screws
	if last < wood.from-2*noise || first > wood.to+2*noise {
		return 0, false
	}
	return followers(r.pullLast-last, r.pullSpacing) + followers(first-r.pullFirst, r.pullSpacing), true
}

// followers is how many parts, at most a spacing apart, stand beyond a place when the last of them is at least so far off. A millionth
// of a millimetre makes up for what the rules overlook.
func followers(off, spacing measure.Length) int {
	const overlooked = measure.Length(1e-6)
	return int(min(mostParts, math.Ceil(max(0, float64((off-overlooked)/spacing)))))
}
