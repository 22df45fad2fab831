package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
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

// outOfReach reports whether the option's heads do not bear where its outermost parts must stand, and records it. The
// numbers are those of the outermost parts at their least distance from the ends.
func (c *Chooser) outOfReach(o option, r *room) bool {
	reach := c.reach(o)
	if reach >= 0 && r.held-reach <= r.pullWindow+noise && r.held+reach >= r.length-r.pullWindow-noise {
		return false
	}
	c.failed(ShortMovement, c.bearingText(o, r))
	return true
}

// bearingText says how little wood is left under the outermost head or washer.
func (c *Chooser) bearingText(o option, r *room) string {
	var shank, head measure.Length
	hole, bears := ": the exit hole must be ", " head"
	if o.bolt == nil {
		shank, head = o.screw.ThreadDiameter, headOf(o.screw)
	} else {
		shank, head = o.bolt.BoltDiameter, o.bolt.BearingDiameter
		hole, bears = ": the channel must be ", " washer"
	}
	at := max(r.length-r.pullEnd, r.length/2)
	if o.hold == HoldBack {
		at = min(r.pullEnd, r.length/2)
	}
	width := Hole(shank, r.slip(at), c.set)
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

// noRoom records that no positions keep every rule.
func (c *Chooser) noRoom(o option) {
	w := c.sentence()
	c.name(&w, o).text(": along ").length(c.seam.Length).text(" of seam there are no positions for these and for alignment parts that keep every rule on ends, spacing and clearance.")
	c.failed(ShortRoom, c.said(&w))
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
	return w.text(", ", o.hold.phrase())
}
