package hardware

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// plan writes down a layout with its holes, slots and strength.
func (c *Chooser) plan(o option, align *catalogue.Fastener, l *layout) Plan {
	p := Plan{Feasible: true, HoldAt: o.hold, Tries: c.tries}
	p.Alignment = c.alignmentOf(o, align, l.aligns)
	p.Pull = c.pullOf(o, l.pulls)
	return p
}

// alignmentOf sizes the slots.
func (c *Chooser) alignmentOf(o option, f *catalogue.Fastener, at []measure.Length) Alignment {
	held := o.hold.Point(c.seam.Length)
	a := Alignment{Item: f.Code, Part: sizes(f), Kind: f.Kind, Rows: rows(c.seam.Thickness, c.set), Positions: slices.Clone(at)}
	a.Count = a.Rows * len(at)
	a.SlotWidths = make([]measure.Length, len(at))
	for i, x := range at {
		a.SlotWidths[i] = AlignmentSlot(f, Slip(c.seam.SlipRate, x, held), c.set)
		a.SlotWidth = max(a.SlotWidth, a.SlotWidths[i])
	}
	a.Note = noteOf(f.Kind, a.Rows)
	return a
}

// sizes is a part without what it costs: what a drawing or a list must know of it.
func sizes(f *catalogue.Fastener) catalogue.Fastener {
	part := *f
	part.Packs = nil
	return part
}

// noteOf says why the part and how it must fit. Common practice.
func noteOf(kind catalogue.FastenerKind, rows int) string {
	switch {
	case kind == catalogue.Biscuit && rows == 1:
		return "Biscuits, because they are quick to cut and slide in their slots. No glue; tight in thickness: a loose fit in thickness defeats their purpose, and only the slot's width may have play."
	case kind == catalogue.Biscuit:
		return "Biscuits in two rows, one over the other, because the top is thick. No glue; tight in thickness: a loose fit in thickness defeats their purpose, and only the slot's width may have play."
	case rows == 1:
		return "Loose tenons of about a third of the top's thickness. No glue; tight in thickness: a loose fit in thickness defeats their purpose, and only the slot's width may have play."
	default:
		return "Loose tenons in two rows, one over the other, because the top is thick; each is about a third of its half. No glue; tight in thickness: a loose fit in thickness defeats their purpose, and only the slot's width may have play."
	}
}

// pullOf sizes the holes and channels and reckons the strength.
func (c *Chooser) pullOf(o option, at []measure.Length) Pull {
	held := o.hold.Point(c.seam.Length)
	var screws, bolts []measure.Length
	switch {
	case o.bolt == nil:
		screws = slices.Clone(at)
	case o.screw == nil:
		bolts = slices.Clone(at)
	default:
		near := c.screwReach(o.screw)
		for _, x := range at {
			if max(x-held, held-x) <= near+noise {
				screws = append(screws, x)
			} else {
				bolts = append(bolts, x)
			}
		}
	}
	p := Pull{Groups: make([]PullGroup, 0, 2)}
	if len(screws) > 0 {
		p.Groups = append(p.Groups, c.screwGroup(o.screw, screws, held))
		if c.seam.Joint != plan.Miter {
			p.Ultimate = measure.Force(len(screws)) * screwUltimate(c.seam.Gravity12, o.screw.ThreadDiameter, o.screw.Penetration)
		}
	}
	if len(bolts) > 0 {
		p.Groups = append(p.Groups, c.boltGroup(o, bolts, held))
	}
	for _, g := range p.Groups {
		p.Capacity += g.Capacity
	}
	c.lifting(&p)
	return p
}

// screwGroup is pocket screws with their exit holes. In a miter they bite end grain and do not count.
func (c *Chooser) screwGroup(f *catalogue.Fastener, at []measure.Length, held measure.Length) PullGroup {
	g := PullGroup{Item: f.Code, Part: sizes(f), Kind: f.Kind, Count: len(at), Positions: at, Counts: c.seam.Joint != plan.Miter}
	g.HoleDiameters, g.Bearing = c.holes(at, held, f.ThreadDiameter, headOf(f))
	if g.Counts {
		g.Capacity = measure.Force(g.Count) * screwAllowable(c.seam.GravityOvenDry, f.ThreadDiameter, f.Penetration)
	}
	return g
}

// boltGroup is draw bolts with their channels and, when their recesses are elongated, those.
func (c *Chooser) boltGroup(o option, at []measure.Length, held measure.Length) PullGroup {
	f := o.bolt
	g := PullGroup{Item: f.Code, Part: sizes(f), Kind: f.Kind, Count: len(at), Positions: at, Counts: true, Travel: Travel(f.RecessDiameter, f.BearingDiameter)}
	g.Channels, g.Bearing = c.holes(at, held, f.BoltDiameter, f.BearingDiameter)
	if o.long {
		g.Recesses = make([]measure.Length, len(at))
		for i, x := range at {
			g.Recesses[i] = LongRecess(f.RecessDiameter, Slip(c.seam.SlipRate, x, held))
			g.RecessLength = max(g.RecessLength, g.Recesses[i])
		}
		g.Travel = Travel(g.RecessLength, f.BearingDiameter)
	}
	g.Capacity = measure.Force(g.Count) * f.WorkingLoad
	return g
}

// holes sizes the hole at each position and finds the least bearing.
func (c *Chooser) holes(at []measure.Length, held, shank, head measure.Length) (holes []measure.Length, bearing measure.Length) {
	holes = make([]measure.Length, len(at))
	for i, x := range at {
		holes[i] = Hole(shank, Slip(c.seam.SlipRate, x, held), c.set)
		if b := Bearing(head, holes[i]); i == 0 || b < bearing {
			bearing = b
		}
	}
	return holes, bearing
}
