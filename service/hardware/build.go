package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// lengths are the lists of one plan, one behind the other in one piece of memory.
type lengths []measure.Length

// take returns the next n.
func (s *lengths) take(n int) []measure.Length {
	list := (*s)[:n:n]
	*s = (*s)[n:]
	return list
}

// plan writes down what was found, as it is laid out, with its holes, slots and strength.
func (c *Chooser) plan(p *Plan, f *found) {
	l := f.shelved
	n := 2*len(l.aligns) + 2*len(l.pulls) // each with its place and the size of its slot or hole
	if f.long {
		n += len(l.pulls)
	}
	memory := make(lengths, n)
	p.Feasible, p.HoldAt, p.Tries = true, f.hold, c.said()
	c.alignmentOf(&p.Alignment, f, &memory)
	c.pullOf(&p.Pull, f, &memory)
}

// alignmentOf sizes the slots.
func (c *Chooser) alignmentOf(a *Alignment, o *found, memory *lengths) {
	f, at := o.align, o.aligns
	held := o.hold.Point(c.seam.Length)
	a.Item, a.Kind, a.Rows = f.Code, f.Kind, rows(c.seam.Thickness, c.set)
	size(&a.Part, f)
	a.Count, a.Positions, a.SlotWidths = a.Rows*len(at), memory.take(len(at)), memory.take(len(at))
	copy(a.Positions, at)
	for i, x := range at {
		a.SlotWidths[i] = AlignmentSlot(f, Slip(c.seam.SlipRate, x, held), c.set)
		a.SlotWidth = max(a.SlotWidth, a.SlotWidths[i])
	}
	a.Note = f.Kind.Traits().RowsNotes[a.Rows-1]
}

// size writes down a part without what it costs: what a drawing or a list must know of it.
func size(part, f *catalogue.Fastener) {
	*part = *f
	part.Packs = nil
}

// pullOf sizes the holes and channels and reckons the strength.
func (c *Chooser) pullOf(p *Pull, f *found, memory *lengths) {
	o := &f.attempt
	at, held := f.pulls, o.hold.Point(c.seam.Length)
	n := len(at) // of the bolts
	if o.bolt == nil {
		n = 0
	} else if o.screw != nil {
		n = c.boltsOf(f)
	}
	screws, bolts := memory.take(len(at) - n)[:0], memory.take(n)[:0]
	for _, x := range at {
		if o.bolt == nil || o.screw != nil && c.screwReaches(o, x) {
			screws = append(screws, x)
		} else {
			bolts = append(bolts, x)
		}
	}
	groups := min(1, len(screws)) + min(1, len(bolts))
	p.Groups = make([]PullGroup, groups)
	if len(screws) > 0 {
		c.screwGroup(&p.Groups[0], o.screw, screws, held, memory)
		if c.seam.Joint.RunsThrough() {
			p.Ultimate = measure.Force(len(screws)) * screwUltimate(c.seam.Gravity12, o.screw.ThreadDiameter,
				o.screw.Penetration)
		}
	}
	if len(bolts) > 0 {
		c.boltGroup(&p.Groups[groups-1], o, bolts, held, memory)
	}
	for i := range p.Groups {
		p.Capacity += p.Groups[i].Capacity
	}
	c.lifting(p, &c.seam)
}

// screwGroup is pocket screws with their exit holes. In a miter they bite end grain and do not count.
func (c *Chooser) screwGroup(g *PullGroup, f *catalogue.Fastener, at []measure.Length, held measure.Length,
	memory *lengths) {
	g.Item, g.Kind, g.Count, g.Positions, g.Counts = f.Code, f.Kind, len(at), at, c.seam.Joint.RunsThrough()
	size(&g.Part, f)
	g.HoleDiameters, g.Bearing = c.holes(at, held, f.ThreadDiameter, headOf(f), memory)
	if g.Counts {
		g.Capacity = measure.Force(g.Count) * screwAllowable(c.seam.GravityOvenDry, f.ThreadDiameter, f.Penetration)
	}
}

// boltGroup is draw bolts with their channels and, when their recesses are elongated, those.
func (c *Chooser) boltGroup(g *PullGroup, o *attempt, at []measure.Length, held measure.Length, memory *lengths) {
	f := o.bolt
	g.Item, g.Kind, g.Count, g.Positions, g.Counts = f.Code, f.Kind, len(at), at, true
	size(&g.Part, f)
	g.Travel = Travel(f.RecessDiameter, f.BearingDiameter)
	g.Channels, g.Bearing = c.holes(at, held, f.BoltDiameter, f.BearingDiameter, memory)
	if o.long {
		g.Recesses = memory.take(len(at))
		for i, x := range at {
			g.Recesses[i] = LongRecess(f.RecessDiameter, Slip(c.seam.SlipRate, x, held))
			g.RecessLength = max(g.RecessLength, g.Recesses[i])
		}
		g.Travel = Travel(g.RecessLength, f.BearingDiameter)
	}
	g.Capacity = measure.Force(g.Count) * f.WorkingLoad
}

// holes sizes the hole at each position and finds the least bearing.
func (c *Chooser) holes(at []measure.Length, held, shank, head measure.Length,
	memory *lengths) (holes []measure.Length, bearing measure.Length) {
	holes = memory.take(len(at))
	for i, x := range at {
		holes[i] = Hole(shank, Slip(c.seam.SlipRate, x, held), c.set)
		if b := Bearing(head, holes[i]); i == 0 || b < bearing {
			bearing = b
		}
	}
	return holes, bearing
}
