package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// imprint is a footprint of one part with what is known of it.
type imprint struct {
	Footprint
	half  measure.Length // the longest row's
	sides [3]segment
	atEnd struct { // how far it extends where it is level with an edge's end on the seam's own line, for edges of one clearance
		reach, half measure.Length
		known       bool
	}
}

// printed tells which prints are a part's.
type printed struct {
	part        *catalogue.Fastener
	long, miter bool // miter: of a screw only, which has room in either piece there
	list        []imprint
}

// prints are the footprints of the parts looked at so far. They depend on the part, the thickness and the settings, and on the seam only by
// whether it is a miter.
type prints struct {
	all  []printed
	list []imprint
}

// of returns the footprints of a part.
func (p *prints) of(f *catalogue.Fastener, long bool, seam *Seam, s *catalogue.Settings) []imprint {
	miter := f.Kind == catalogue.PocketScrew && seam.Joint == plan.Miter
	for i := range p.all {
		if q := &p.all[i]; q.part == f && q.long == long && q.miter == miter {
			return q.list
		}
	}
	var store [4]Footprint
	made := store[:0]
	if f.Kind == catalogue.PocketScrew || f.Kind == catalogue.DrawBolt {
		made = pullFootprints(made, f, long, seam, s)
	} else {
		made = append(made, slotFootprint(f, 0, s), slotFootprint(f, 1, s))
	}
	first := len(p.list)
	for i := range made {
		q := imprint{Footprint: made[i]}
		for k := range q.Count {
			q.half, q.sides[k] = max(q.half, q.Rows[k].Half), q.side(k)
		}
		p.list = append(p.list, q)
	}
	q := printed{f, long, miter, p.list[first:len(p.list):len(p.list)]}
	p.all = append(p.all, q)
	return q.list
}

// forget drops all footprints.
func (p *prints) forget() { p.all, p.list = p.all[:0], p.list[:0] }

// halfAtSeam is halfAt on the seam's own line; it is worked out once for each clearance in a row.
func (q *imprint) halfAtSeam(reach measure.Length) measure.Length {
	if e := &q.atEnd; !e.known || e.reach != reach {
		e.reach, e.half, e.known = reach, q.halfAt(0, reach), true
	}
	return q.atEnd.half
}
