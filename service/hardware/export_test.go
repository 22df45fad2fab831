package hardware

import "seamwright/service/catalogue"

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
