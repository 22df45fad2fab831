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

// picker works out what a condition is about in a job.
type picker func(j *Job) picked

// pickers are the conditions. A condition about the top picks every corner and the whole edge. A
// condition about corners picks the corners that it fits and, the edge being shared out equally over the
// corners, as much of it.
//
// The profiled edge is cut before the seam is joined on a straight top and at every miter, mason's miter and
// butt without a remedy, and after it is joined at a butt with an inside radius or a carved corner. A top with several kinds of
// corner is so done in parts, each in proportion to its corners. With an applied moulding all edges stay square, and the moulding
// turns every corner.
//
// Common practice.
var pickers = map[catalogue.Condition]picker{
	catalogue.Always:         func(j *Job) picked { return j.whole(true) },
	catalogue.IfEdgeGlued:    func(j *Job) picked { return j.whole(j.EdgeGlued) },
	catalogue.IfPanel:        func(j *Job) picked { return j.whole(!j.EdgeGlued) },
	catalogue.IfProfile:      func(j *Job) picked { return j.whole(j.routed()) },
	catalogue.IfCutout:       func(j *Job) picked { return j.whole(j.Cutouts > 0) },
	catalogue.IfFinish:       func(j *Job) picked { return j.whole(j.Coats > 0) },
	catalogue.IfSlottedHoles: func(j *Job) picked { return j.whole(j.Fixings > j.Clips) },

	catalogue.IfProfileBefore: func(j *Job) picked {
		switch {
		case !j.routed():
			return picked{}
		case len(j.Corners) == 0:
			return j.whole(true)
		}
		return j.some(func(c *Corner) bool { return !c.profiledAfter() })
	},
	catalogue.IfProfileAfter: func(j *Job) picked {
		if !j.routed() {
			return picked{}
		}
		return j.some((*Corner).profiledAfter)
	},

	catalogue.IfCorner:      func(j *Job) picked { return j.some(func(*Corner) bool { return true }) },
	catalogue.IfMiter:       func(j *Job) picked { return j.some(func(c *Corner) bool { return c.Joint == plan.Miter }) },
	catalogue.IfButt:        func(j *Job) picked { return j.some(func(c *Corner) bool { return c.Joint == plan.Butt }) },
	catalogue.IfMasonsMiter: func(j *Job) picked { return j.some(func(c *Corner) bool { return c.Joint == plan.MasonsMiter }) },
	catalogue.IfTemplate:    func(j *Job) picked { return j.some(func(c *Corner) bool { return c.Carry == byTemplate }) },
	catalogue.IfScribe:      func(j *Job) picked { return j.some(func(c *Corner) bool { return c.Carry == byScribe }) },
	catalogue.IfCarvedCorner: func(j *Job) picked {
		return j.some(func(c *Corner) bool { return c.Remedy == remedyCarved })
	},
	catalogue.IfCopedCorner: func(j *Job) picked {
		if j.Moulding <= 0 {
			return picked{}
		}
		return j.some(func(*Corner) bool { return true })
	},
	catalogue.IfBiscuit: func(j *Job) picked {
		return j.some(func(c *Corner) bool { return c.Alignment == catalogue.Biscuit })
	},
	catalogue.IfLooseTenon: func(j *Job) picked {
		return j.some(func(c *Corner) bool { return c.Alignment == catalogue.LooseTenon })
	},
	catalogue.IfPocketScrew: func(j *Job) picked {
		p := j.some(func(c *Corner) bool { return c.Screws > 0 })
		p.bolts = 0 // the screws alone, where both kinds stand in one seam
		return p
	},
	catalogue.IfDrawBolt: func(j *Job) picked {
		p := j.some(func(c *Corner) bool { return c.Bolts > 0 })
		p.screws = 0
		return p
	},
}

// pickerOf is the condition's picker. An unknown condition picks nothing and is noted.
func pickerOf(when catalogue.Condition) picker {
	if p, ok := pickers[when]; ok {
		return p
	}
	return func(*Job) picked { return picked{unknown: true} }
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
