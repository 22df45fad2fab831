package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// failed records a try. The reason of a plan that fails is that of the try that came furthest: past thickness, past
// movement, to room.
func (c *Chooser) failed(short Shortage, text string) {
	c.tries = append(c.tries, text)
	if rank(short) > rank(c.short) {
		c.short, c.reason = short, text
	}
}

func rank(s Shortage) int {
	switch s {
	case ShortThickness:
		return 1
	case ShortMovement:
		return 2
	case ShortRoom:
		return 3
	default:
		return 0
	}
}

// infeasible is the plan when nothing works.
func (c *Chooser) infeasible() Plan {
	reason := c.reason
	if len(c.tries) > 1 {
		reason = "No hardware of the catalogue holds this seam and lets it move. The nearest try: " + reason
	}
	return Plan{Reason: reason, Short: c.short, HoldAt: c.wish.HoldAt, Tries: c.tries}
}

// alignmentName is what a sentence calls the alignment parts asked for.
func alignmentName(kind catalogue.FastenerKind) string {
	switch kind {
	case catalogue.Biscuit:
		return "biscuit"
	case catalogue.LooseTenon:
		return "loose tenon"
	default:
		return "biscuit or loose tenon"
	}
}

// unfit records that no part of a kind fits the thickness.
func (c *Chooser) unfit(thing string) {
	w := c.sentence()
	w.text("No ", thing, " of the catalogue fits a top ").length(c.seam.Thickness).text(" thick.")
	c.failed(ShortThickness, c.said(&w))
}

// outOfReach reports whether the option's heads do not bear, or its washers cannot travel, where its outermost parts must stand, and
// records it. The numbers are those of the outermost parts at their least distance from the ends.
func (c *Chooser) outOfReach(o option, r *room, reach measure.Length) bool {
	if reach >= 0 && r.held-reach <= r.pullFirst+noise && r.held+reach >= r.pullLast-noise {
		return false
	}
	at := max(r.length-r.pullEnd, r.length/2)
	if o.hold == HoldBack {
		at = min(r.pullEnd, r.length/2)
	}
	slip := r.slip(at)
	if f := o.bolt; f != nil && !o.long && slip > 2*Travel(f.RecessDiameter, f.BearingDiameter) && c.longHelps(f) {
		c.failed(ShortMovement, c.travelText(o, at, slip))
	} else {
		c.failed(ShortMovement, c.bearingText(o, at, slip))
	}
	return true
}

// travelText says how far a washer can go in its round recess, and how far it would have to.
func (c *Chooser) travelText(o option, at, slip measure.Length) string {
	f := o.bolt
	w := c.sentence()
	c.name(&w, o).text(", ").length(at).text(" from the front: the pieces slide by ").length(slip).text(" there, and its ").length(f.BearingDiameter)
	w.text(" washers can go ").length(Travel(f.RecessDiameter, f.BearingDiameter)).text(" either way in their ").length(f.RecessDiameter)
	w.text(" recesses, ").length(2 * Travel(f.RecessDiameter, f.BearingDiameter)).text(" in both together.")
	return c.said(&w)
}

// bearingText says how little wood is left under the outermost head or washer.
func (c *Chooser) bearingText(o option, at, slip measure.Length) string {
	var shank, head measure.Length
	hole, bears := ": the exit hole must be ", " head"
	if o.bolt == nil {
		shank, head = o.screw.ThreadDiameter, headOf(o.screw)
	} else {
		shank, head = o.bolt.BoltDiameter, o.bolt.BearingDiameter
		hole, bears = ": the channel must be ", " washer"
	}
	width := Hole(shank, slip, c.set)
	w := c.sentence()
	c.name(&w, o).text(", ").length(at).text(" from the front").text(hole).length(width).text(" wide to let it slide, and its ")
	w.length(head).text(bears)
	if bearing := Bearing(head, width); bearing > 0 {
		w.text(" would bear on only ").length(bearing).text(" of wood all round; it needs ").length(c.set.BearingLeast).text(".")
	} else {
		w.text(" would find no wood under it.")
	}
	return c.said(&w)
}

// noRoom records that no positions keep every rule, and which part finds no wood, where and by how much, when that is in the way.
func (c *Chooser) noRoom(o option, wood *woodLimits) {
	w := c.sentence()
	c.name(&w, o).text(": along ").length(c.seam.Length).text(" of seam there are no positions for these and for alignment parts that keep every rule on ends, spacing, clearance and the wood around them.")
	if b := wood.front; b != nil {
		c.woodText(&w, o, b, max(c.set.PartClear, c.seam.FrontKeep, c.ends(o)), wood.from, "front")
	}
	if b := wood.back; b != nil {
		c.woodText(&w, o, b, c.seam.Length-c.ends(o), c.seam.Length-wood.to, "back")
	}
	c.failed(ShortRoom, c.said(&w))
}

// ends is the least distance of the option's parts from the seam's ends.
func (c *Chooser) ends(o option) measure.Length {
	var least measure.Length
	if o.screw != nil {
		least = c.set.PocketEnd
	}
	if o.bolt != nil {
		least = max(least, c.set.BoltEnd)
	}
	return least
}

// woodText says how much wood a footprint would leave at a place near an end, and how far from that end it has enough.
func (c *Chooser) woodText(w *sentence, o option, b *bar, at, from measure.Length, end string) {
	var store [4]Footprint
	prints := store[:0]
	if o.screw != nil {
		prints = pullFootprints(prints, o.screw, false, c.seam.Thickness, c.set)
	}
	if o.bolt != nil && (o.screw == nil || b.name != "pocket" && b.name != "screw") {
		prints = pullFootprints(prints[:0], o.bolt, o.long, c.seam.Thickness, c.set)
	}
	for i := range prints {
		p := &prints[i]
		if p.Name != b.name || p.Side != b.side {
			continue
		}
		slip := Slip(c.seam.SlipRate, at, o.hold.Point(c.seam.Length))
		w.text(" ", "Its ", b.name, ", ").length(at).text(" from the front, would ")
		if left := p.wood(b.edge, at, max(0, slip-p.Play)); left < 0 {
			w.text("break out of ", c.pieceName(b.side), " by ").length(-left)
		} else {
			w.text("leave only ").length(left).text(" of wood in ", c.pieceName(b.side))
		}
		w.text("; ").length(b.edge.Clear).text(" must be left, which it has ").length(from).text(" from the ", end, " end at the nearest.")
		return
	}
}

// pieceName is what a sentence calls a side's piece.
func (c *Chooser) pieceName(side int) string {
	switch {
	case c.seam.Joint != plan.Miter && side == 0:
		return "the piece that stops"
	case c.seam.Joint != plan.Miter:
		return "the piece that goes through"
	case side == 0:
		return "the first piece"
	}
	return "the second piece"
}

// name begins a sentence with the option.
func (c *Chooser) name(w *sentence, o option) *sentence {
	switch {
	case o.bolt == nil:
		w.text(o.screw.Name)
	case o.screw == nil:
		w.text(o.bolt.Name)
	default:
		w.text(o.screw.Name, " near the held point with ", o.bolt.Name, " further out")
	}
	if o.long {
		w.text(" in elongated recesses")
	}
	return w.text(", ", o.hold.phrase())
}
