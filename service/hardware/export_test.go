package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Mixed is a mix of a screw and a bolt: what is known of it before it is laid out, and what laying it out comes to.
type Mixed struct {
	Least         int  // bolts
	Can           bool // stand, with both kinds
	Stands        bool
	Bolts, Screws int
}

// Mixes lays out every mix of a seam.
func Mixes(seam Seam, wish Wish, cat *catalogue.Snapshot) []Mixed {
	var all []Mixed
	c := NewChooser(cat)
	c.seam, c.wish, c.units = seam, wish, seam.Units
	c.gather(&c.seam, wish, cat)
	for _, screw := range c.screws {
		for _, bolt := range c.bolts {
			for _, long := range []bool{false, true} {
				for _, h := range c.holds(nil) {
					o := option{screw: screw, bolt: bolt, hold: h, long: long}
					var m Mixed
					m.Least, m.Can = c.leastBolts(o)
					if _, m.Stands = c.fit(o); m.Stands {
						m.Bolts = c.boltsOf(o)
						m.Screws = len(c.layout.pulls) - m.Bolts
					}
					all = append(all, m)
				}
			}
		}
	}
	return all
}

// Laid is where an option's parts stand.
type Laid struct {
	Align  string
	Places []measure.Length
	Again  bool // it was laid out for another option before
}

// Layouts lays out every option of one seam after another, with the chooser that remembers what it has just laid out and with a fresh one.
func Layouts(seam Seam, wish Wish, cat *catalogue.Snapshot) (remembered, fresh []Laid) {
	lay := func(c *Chooser, o option) Laid {
		was := c.layout.laid
		f, ok := c.fit(o)
		if !ok {
			return Laid{}
		}
		now := &c.layout.laid
		return Laid{f.Code, append(append([]measure.Length{}, c.layout.pulls...), c.layout.aligns...), was.align != nil && was.again(&now.room, &woodLimits{from: now.from, to: now.to}) != nil}
	}
	c := NewChooser(cat)
	c.seam, c.wish, c.units = seam, wish, seam.Units
	c.gather(&c.seam, wish, cat)
	for _, bolt := range c.bolts {
		for _, h := range c.holds(nil) {
			for _, screw := range append([]*catalogue.Fastener{nil}, c.screws...) {
				o := option{screw: screw, bolt: bolt, hold: h}
				one := NewChooser(cat)
				one.seam, one.wish, one.units = seam, wish, seam.Units
				one.gather(&one.seam, wish, cat)
				remembered, fresh = append(remembered, lay(c, o)), append(fresh, lay(one, o))
			}
		}
	}
	return remembered, fresh
}

// Bars are the stretches that bar a part, and those of a plain reckoning that leaves no edge of either piece out.
func Bars(seam Seam, f *catalogue.Fastener, long bool, cat *catalogue.Snapshot) (bars, plain []Interval) {
	c := NewChooser(cat)
	c.seam = seam
	for _, b := range c.barsOf(f, long) {
		bars = append(bars, Interval{b.from, b.to})
	}
	prints := []Footprint{slotFootprint(f, 0, c.set), slotFootprint(f, 1, c.set)}
	if f.Kind == catalogue.PocketScrew || f.Kind == catalogue.DrawBolt {
		prints = pullFootprints(nil, f, long, &seam, c.set)
	}
	var all []bar
	for i := range prints {
		p := &prints[i]
		for k := range seam.Sides[p.Side].Edges {
			e := &seam.Sides[p.Side].Edges[k]
			from, to, ok := p.stretch(e, p.Radius+e.Clear)
			if ok && to > 0 && from < seam.Length && !covered(all, from, to, p.Play) {
				all = append(all, bar{from: from, to: to, play: p.Play})
				plain = append(plain, Interval{from, to})
			}
		}
	}
	return bars, plain
}
