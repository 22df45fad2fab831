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
	c.look(&seam)
	c.ask(wish)
	for _, screw := range c.screws {
		for _, bolt := range c.bolts {
			for _, long := range []bool{false, true} {
				for _, h := range c.holds(nil) {
					o := attempt{screw: screw, bolt: bolt, hold: h, long: long}
					var m Mixed
					m.Least, m.Can = c.leastBolts(o)
					l, fits := c.fit(o, nil)
					if m.Stands = fits; fits {
						m.Bolts = c.boltsOf(&found{o, l})
						m.Screws = len(l.pulls) - m.Bolts
					}
					all = append(all, m)
				}
			}
		}
	}
	return all
}

// Laid is where an attempt's parts stand.
type Laid struct {
	Align  string
	Places []measure.Length
	Again  bool // it was laid out for another attempt before
}

// Layouts lays out every attempt of one seam after another, with the chooser that remembers what it has laid out and
// with a fresh one.
func Layouts(seam Seam, wish Wish, cat *catalogue.Snapshot) (remembered, fresh []Laid) {
	lay := func(c *Chooser, o attempt) Laid {
		was := c.shelf.used
		l, ok := c.fit(o, nil)
		if !ok {
			return Laid{}
		}
		return Laid{l.align.Code, append(append([]measure.Length{}, l.pulls...), l.aligns...),
			c.shelf.used == was && was < mostShelved}
	}
	begun := func() *Chooser {
		c := NewChooser(cat)
		c.look(&seam)
		c.ask(wish)
		return c
	}
	c := begun()
	for _, bolt := range c.bolts {
		for _, h := range c.holds(nil) {
			for _, screw := range append([]*catalogue.Fastener{nil}, c.screws...) {
				o := attempt{screw: screw, bolt: bolt, hold: h}
				remembered, fresh = append(remembered, lay(c, o)), append(fresh, lay(begun(), o))
			}
		}
	}
	return remembered, fresh
}

// Bars are the stretches that bar a part, and those of a plain reckoning that leaves no edge of either piece out.
func Bars(seam Seam, f *catalogue.Fastener, long bool, cat *catalogue.Snapshot) (bars, plain []Interval) {
	c := NewChooser(cat)
	c.look(&seam)
	for _, b := range c.barsOf(f, long, true) {
		bars = append(bars, Interval{b.from, b.to})
	}
	for _, b := range plainBars(&seam, f, long, c.set) {
		plain = append(plain, Interval{b.from, b.to})
	}
	return bars, plain
}

// MostEffort is what the searches of one top may take.
const MostEffort = mostEffort

// Remembers is how many choices a chooser has noted.
func Remembers(c *Chooser) int { return len(c.chosen.all) }

// MostRemembered is how many choices a chooser remembers.
const MostRemembered = mostRemembered
