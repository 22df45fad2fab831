package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// imprint is a footprint of one part with what is known of it.
type imprint struct {
	Footprint
	half  measure.Length // the longest row's
	sides [3]segment
	// how far it extends where it is level with an edge's end on the seam's own line, for edges of one clearance
	atEnd struct {
		reach, half measure.Length
		known       bool
	}
}

// printed tells which prints are a part's.
type printed struct {
	part         *catalogue.Fastener
	long, either bool // either: of a screw in a miter, which has room for its pocket in either piece
	list         []imprint
}

// prints are the footprints of the parts looked at so far. They depend on the part, the thickness and the settings, and
// on the seam only by whether a run goes through.
type prints struct {
	all  []printed
	list []imprint
	made [4]Footprint // working memory
}

// of returns the footprints of a part.
func (p *prints) of(f *catalogue.Fastener, long bool, seam *Seam, s *catalogue.Settings) []imprint {
	either := !formOf(f).alike && !seam.Joint.RunsThrough()
	for i := range p.all {
		if q := &p.all[i]; q.part == f && q.long == long && q.either == either {
			return q.list
		}
	}
	made := formOf(f).prints(p.made[:0], f, long, seam, s)
	first := len(p.list)
	for i := range made {
		q := imprint{Footprint: made[i]}
		for k := range q.Count {
			q.half, q.sides[k] = max(q.half, q.Rows[k].Half), q.side(k)
		}
		p.list = append(p.list, q)
	}
	q := printed{f, long, either, p.list[first:len(p.list):len(p.list)]}
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
