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
	at := f.pulls
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
	held := o.hold.Point(c.seam.Length)
	if len(screws) > 0 {
		p.Ultimate = c.groupOf(&p.Groups[0], o.screw, screws, held, nil, memory)
	}
	if len(bolts) > 0 {
		var long []measure.Length
		if o.long {
			long = memory.take(len(bolts))
		}
		p.Ultimate += c.groupOf(&p.Groups[groups-1], o.bolt, bolts, held, long, memory)
	}
	for i := range p.Groups {
		p.Capacity += p.Groups[i].Capacity
	}
	c.lifting(p, &c.seam)
}

// groupOf is the pull parts of one kind, with what is cut for them and what they hold. It returns what they hold in a
// short test.
func (c *Chooser) groupOf(g *PullGroup, f *catalogue.Fastener, at []measure.Length, held measure.Length,
	long []measure.Length, memory *lengths) (ultimate measure.Force) {
	by := formOf(f).pull
	g.Item, g.Kind, g.Count, g.Positions = f.Code, f.Kind, len(at), at
	size(&g.Part, f)
	var holes []measure.Length
	holes, g.Bearing = c.holes(at, held, by.shank(f), by.head(f), memory)
	return by.group(c, g, held, holes, long)
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
