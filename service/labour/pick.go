package labour

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// The ways of carrying the corner to the wood, and the remedies of a butt with a profile, as a Job names them.
const (
	byTemplate   = "site_template"
	byScribe     = "scribe"
	remedyRadius = "radius"
	remedyCarved = "carved"
)

// picked is the part of a job that a condition is about: the corners that it fits, what stands in their seams,
// and their share of the profiled edge.
type picked struct {
	needed     bool
	corners    int
	seam       measure.Length
	alignments int
	screws     int
	bolts      int
	edge       float64 // share of Job.EdgeRun, 0–1
	unknown    bool    // the condition is unknown
}

// pick returns what a condition is about. A condition about the top picks every corner and the whole edge. A
// condition about corners picks the corners that it fits and, the edge being shared out equally over the
// corners, as much of it.
//
// The profiled edge is cut before the seam is joined on a straight top and at every miter, mason's miter and
// butt without a remedy, and after it is joined at a butt with an inside radius or a carved corner. A top with several kinds of
// corner is so done in parts, each in proportion to its corners. With an applied moulding all edges stay square, and the moulding
// turns every corner.
//
// Common practice. An unknown condition picks nothing and is noted.
func (j *Job) pick(when catalogue.Condition) picked {
	switch when {
	case catalogue.Always:
		return j.whole(true)
	case catalogue.IfEdgeGlued:
		return j.whole(j.EdgeGlued)
	case catalogue.IfPanel:
		return j.whole(!j.EdgeGlued)
	case catalogue.IfProfile:
		return j.whole(j.routed())
	case catalogue.IfCutout:
		return j.whole(j.Cutouts > 0)
	case catalogue.IfFinish:
		return j.whole(j.Coats > 0)
	case catalogue.IfProfileBefore:
		if len(j.Corners) == 0 {
			return j.whole(j.routed())
		}
		return j.some(func(c *Corner) bool { return j.routed() && !c.profiledAfter() })
	case catalogue.IfProfileAfter:
		return j.some(func(c *Corner) bool { return j.routed() && c.profiledAfter() })
	case catalogue.IfCorner:
		return j.some(func(*Corner) bool { return true })
	case catalogue.IfMiter:
		return j.some(func(c *Corner) bool { return c.Joint == plan.Miter })
	case catalogue.IfButt:
		return j.some(func(c *Corner) bool { return c.Joint == plan.Butt })
	case catalogue.IfMasonsMiter:
		return j.some(func(c *Corner) bool { return c.Joint == plan.MasonsMiter })
	case catalogue.IfTemplate:
		return j.some(func(c *Corner) bool { return c.Carry == byTemplate })
	case catalogue.IfScribe:
		return j.some(func(c *Corner) bool { return c.Carry == byScribe })
	case catalogue.IfCarvedCorner:
		return j.some(func(c *Corner) bool { return c.Remedy == remedyCarved })
	case catalogue.IfCopedCorner:
		return j.some(func(*Corner) bool { return j.Moulding > 0 })
	case catalogue.IfSlottedHoles:
		return j.whole(j.Fixings > j.Clips)
	case catalogue.IfBiscuit:
		return j.some(func(c *Corner) bool { return c.Alignment == catalogue.Biscuit })
	case catalogue.IfLooseTenon:
		return j.some(func(c *Corner) bool { return c.Alignment == catalogue.LooseTenon })
	case catalogue.IfPocketScrew:
		p := j.some(func(c *Corner) bool { return c.Screws > 0 })
		p.bolts = 0 // the screws alone, where both kinds stand in one seam
		return p
	case catalogue.IfDrawBolt:
		p := j.some(func(c *Corner) bool { return c.Bolts > 0 })
		p.screws = 0
		return p
	}
	return picked{unknown: true}
}

// routed reports whether a profile is cut into the wood's edges.
func (j *Job) routed() bool { return j.Profiled && j.Moulding == 0 }

// profiledAfter reports whether the edge at this corner is profiled once the seam is joined.
func (c *Corner) profiledAfter() bool { return c.Remedy == remedyRadius || c.Remedy == remedyCarved }

func (j *Job) whole(needed bool) picked {
	p := picked{needed: needed, edge: 1}
	for i := range j.Corners {
		p.add(&j.Corners[i])
	}
	return p
}

func (j *Job) some(fits func(*Corner) bool) picked {
	var p picked
	for i := range j.Corners {
		if fits(&j.Corners[i]) {
			p.add(&j.Corners[i])
		}
	}
	if p.corners > 0 {
		p.needed, p.edge = true, float64(p.corners)/float64(len(j.Corners))
	}
	return p
}

func (p *picked) add(c *Corner) {
	p.corners++
	p.seam += c.Seam
	p.alignments += c.AlignmentCount
	p.screws += c.Screws
	p.bolts += c.Bolts
}
