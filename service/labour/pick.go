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
	corners    int
	seam       measure.Length
	alignments int
	pulls      int
	edge       float64 // share of Job.EdgeRun, 0–1
}

// about is what conditions are about, a bit for each: of the top, or of a corner. A job's are worked out once for all
// conditions.
type about uint64

const (
	anyTop about = 1 << iota
	edgeGlued
	panels
	profiled
	cutOut
	endJointed
	layered
	builtUp
	shaped
	shown
	crooked
	bracketed
	legged
	timbered
	finished
	slotted
	letIn
	insertSet

	anyCorner
	templated
	scribed
	profiledFirst
	profiledLast
	carved
	coped

	firstKind // of joint; the others follow, then those of hardware
)

// ofTop are those about the top.
const ofTop = anyCorner - 1

// conditions are what each condition is about. A condition about the top picks every corner and the whole edge. A
// condition about corners picks the corners that it fits and, the edge being shared out equally over the corners, as
// much of it. byJoint and byPart are what the conditions about kinds are about: those of joints, and those of what
// stands in seams; anyPull is any part that pulls.
var conditions, byJoint, byPart, anyPull = conditionsAndKinds()

// kindBits are the bits of some kinds.
type kindBits[K ~string] []kindBit[K]

type kindBit[K ~string] struct {
	kind K
	bit  about
}

// of is a kind's bit; 0 for one that no condition is about.
func (list kindBits[K]) of(kind K) about {
	for i := range list {
		if list[i].kind == kind {
			return list[i].bit
		}
	}
	return 0
}

func conditionsAndKinds() (all map[catalogue.Condition]about, joints kindBits[plan.JointKind], parts kindBits[catalogue.FastenerKind], pulls about) {
	all = map[catalogue.Condition]about{
		catalogue.Always: anyTop, catalogue.IfEdgeGlued: edgeGlued, catalogue.IfPanel: panels, catalogue.IfProfile: profiled,
		catalogue.IfEndJointed: endJointed, catalogue.IfLaminated: layered, catalogue.IfBuiltUp: builtUp, catalogue.IfCutout: cutOut, catalogue.IfShapedCutout: shaped, catalogue.IfShownEdge: shown, catalogue.IfScribedWall: crooked,
		catalogue.IfBracket: bracketed, catalogue.IfLeg: legged, catalogue.IfTimber: timbered,
		catalogue.IfFinish: finished, catalogue.IfSlottedHoles: slotted, catalogue.IfLetIn: letIn, catalogue.IfInserts: insertSet,
		catalogue.IfCorner: anyCorner, catalogue.IfTemplate: templated, catalogue.IfScribe: scribed,
		catalogue.IfProfileBefore: profiledFirst,
		catalogue.IfProfileAfter:  profiledLast, catalogue.IfCarvedCorner: carved, catalogue.IfCopedCorner: coped,
	}
	bit := firstKind
	for _, k := range plan.JointKinds() {
		joints, all[catalogue.Condition(k.Kind)] = append(joints, kindBit[plan.JointKind]{k.Kind, bit}), bit
		bit <<= 1
	}
	for _, k := range catalogue.FastenerKinds() {
		when := k.Kind.Condition()
		if when == "" {
			continue
		}
		parts, all[when] = append(parts, kindBit[catalogue.FastenerKind]{k.Kind, bit}), bit
		if k.Role == catalogue.Pulls {
			pulls |= bit
		}
		bit <<= 1
	}
	return all, joints, parts, pulls
}

// top is what a condition can be about in the top.
func (j *Job) top() about {
	a := anyTop
	set := func(bit about, on bool) {
		if on {
			a |= bit
		}
	}
	set(edgeGlued, j.EdgeGlued)
	set(panels, !j.EdgeGlued)
	set(profiled, j.routed())
	set(cutOut, j.Cutouts > 0)
	set(endJointed, j.EndJoints > 0)
	set(layered, j.Laminated > 0)
	set(builtUp, j.BuildUps > 0)
	set(shaped, j.Shaped > 0)
	set(shown, j.ShownEdge > 0)
	set(crooked, j.Scribed > 0)
	set(bracketed, j.Brackets > 0)
	set(legged, j.Legs > 0)
	set(timbered, j.Timber > 0)
	set(finished, j.Coats > 0)
	set(slotted, j.Fixings > j.Clips)
	set(letIn, j.LetIn > 0)
	set(insertSet, j.Inserts > 0)
	return a
}

// corner is what a condition can be about in a corner of the job.
//
// The profiled edge is cut before the seam is joined on a straight top and at every miter, mason's miter and butt
// without a remedy, and after it is joined at a butt with an inside radius or a carved corner. A top with several kinds
// of corner is so done in parts, each in proportion to its corners. With an applied moulding all edges stay square, and
// the moulding turns every corner.
//
// Common practice.
func (j *Job) corner(c *Corner) about {
	a := anyCorner
	set := func(bit about, on bool) {
		if on {
			a |= bit
		}
	}
	a |= byJoint.of(c.Joint) | byPart.of(c.Alignment) | byPart.of(c.Pulls[0].Kind) | byPart.of(c.Pulls[1].Kind)
	set(templated, c.Carry == byTemplate)
	set(scribed, c.Carry == byScribe)
	set(profiledFirst, j.routed() && !c.profiledAfter())
	set(profiledLast, j.routed() && c.profiledAfter())
	set(carved, c.Remedy == remedyCarved)
	set(coped, j.Moulding > 0)
	return a
}

// anyOf is what a condition can be about in any of the corners. Without corners the whole edge is profiled first.
func anyOf(corners []about) (a about) {
	if len(corners) == 0 {
		return profiledFirst
	}
	for _, c := range corners {
		a |= c
	}
	return a
}

// pick works out what a condition about corners is about in a job of which the top and the corners were looked at, and
// reports whether there is any of it. An unknown condition picks nothing.
func (j *Job) pick(condition, top about, corners []about, p *picked) bool {
	*p = picked{}
	if condition == profiledFirst && len(corners) == 0 {
		p.edge = 1
		return top&profiled != 0
	}
	for i, a := range corners {
		if a&condition != 0 {
			p.add(&j.Corners[i], condition)
		}
	}
	if p.corners == 0 {
		return false
	}
	p.edge = float64(p.corners) / float64(len(j.Corners))
	return true
}

// routed reports whether a profile is cut into the wood's edges.
func (j *Job) routed() bool { return j.Profiled && j.Moulding == 0 }

// profiledAfter reports whether the edge at this corner is profiled once the seam is joined.
func (c *Corner) profiledAfter() bool { return c.Remedy == remedyRadius || c.Remedy == remedyCarved }

// whole is what conditions about the top pick: every corner and the whole edge.
func (j *Job) whole() picked {
	p := picked{edge: 1}
	for i := range j.Corners {
		p.add(&j.Corners[i], anyCorner)
	}
	return p
}

// inLine is how many of the job's corners are straight seams: they take no template, nor anything else of a corner's.
func (j *Job) inLine() (n int) {
	for i := range j.Corners {
		if j.Corners[i].Joint.InLine() {
			n++
		}
	}
	return n
}

// add adds a corner that a condition picks. A condition about a kind of pull part takes that kind alone, where two
// stand in one seam.
func (p *picked) add(c *Corner, condition about) {
	p.corners++
	p.seam += c.Seam
	p.alignments += c.AlignmentCount
	for _, pull := range c.Pulls {
		if only := condition & anyPull; only == 0 || only == byPart.of(pull.Kind) {
			p.pulls += pull.Count
		}
	}
}
