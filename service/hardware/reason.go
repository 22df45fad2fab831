package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// try is something that was tried and failed, as numbers: its sentence is written only for a plan that is kept.
type try struct {
	what  failure
	thing string // of unfitting parts
	attempt
	at, slip measure.Length // of the outermost part out of reach, at its least distance from the end
	from, to measure.Length // where the wood lets pull parts stand
	bars     [2]bar         // what bars them further out, in front and behind; without a name: nothing
}

// failure is what a try failed by.
type failure uint8

const (
	heldElsewhere failure = iota
	slipsTooMuch
	unfitting
	notTravelling
	notBearing
	withoutRoom
)

// failed records a try. The reason of a plan that fails is that of the try that came furthest: past thickness, past
// movement, to room.
func (c *Chooser) failed(short Shortage, t try) {
	if rank(short) > rank(c.short) {
		c.short, c.best = short, len(c.tries)
	}
	c.tries = append(c.tries, t)
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
func (c *Chooser) infeasible(p *Plan) {
	tries := c.said()
	reason := tries[c.best]
	if len(tries) > 1 {
		reason = "No hardware of the catalogue holds this seam and lets it move. The nearest try: " + reason
	}
	p.Reason, p.Short, p.HoldAt, p.Tries = reason, c.short, c.wish.HoldAt, tries
}

// said writes down what was tried, a sentence or more for each try; nil when all went well.
func (c *Chooser) said() []string {
	if len(c.tries) == 0 {
		return nil
	}
	var memory [8]int
	ends, w := memory[:0], c.sentence()
	for i := range c.tries {
		c.say(&w, &c.tries[i])
		ends = append(ends, len(w.b))
	}
	all, from, tries := c.finished(&w), 0, make([]string, len(ends))
	for i, to := range ends {
		tries[i], from = all[from:to], to
	}
	return tries
}

func (c *Chooser) say(w *sentence, t *try) {
	switch t.what {
	case heldElsewhere:
		w.text("A mason's miter is held at the front, or its mitred corner would open.")
	case slipsTooMuch:
		w.text("The seam slips by more than any wood grows.")
	case unfitting:
		w.text("No ", t.thing, " of the catalogue fits a top ").length(c.seam.Thickness).text(" thick.")
	case notTravelling:
		c.travelText(w, t)
	case notBearing:
		c.bearingText(w, t)
	case withoutRoom:
		c.roomText(w, t)
	}
}

// alignmentName is what a sentence calls the alignment parts asked for.
func alignmentName(kind catalogue.FastenerKind) string {
	if kind == "" {
		return oneOf(catalogue.Aligns, kindName)
	}
	return kind.Traits().Name
}

// unfit records that no part of a kind fits the thickness.
func (c *Chooser) unfit(thing string) {
	c.failed(ShortThickness, try{what: unfitting, thing: thing})
}

// tooFar records that the attempt's heads do not bear, or its washers cannot travel, where its outermost parts must
// stand. The numbers are those of the outermost parts at their least distance from the ends.
func (c *Chooser) tooFar(o attempt, r *placing) {
	t := try{what: notBearing, attempt: o, at: max(r.length-r.pullEnd, r.length/2)}
	if o.hold == HoldBack {
		t.at = min(r.pullEnd, r.length/2)
	}
	t.slip = r.slip(t.at)
	if f := o.bolt; f != nil && !o.long && t.slip > 2*Travel(f.RecessDiameter, f.BearingDiameter) && c.longHelps(f) {
		t.what = notTravelling
	}
	c.failed(ShortMovement, t)
}

// travelText says how far a washer can go in its round recess, and how far it would have to.
func (c *Chooser) travelText(w *sentence, t *try) {
	f := t.bolt
	both := 2 * Travel(f.RecessDiameter, f.BearingDiameter)
	w.name(t.attempt).text(", ").length(t.at).text(" from the front: the pieces slide by ").against(t.slip, both).text(" there, and its ").length(f.BearingDiameter)
	w.text(" washers can go ").length(both / 2).text(" either way in their ").length(f.RecessDiameter)
	w.text(" recesses, ").against(both, t.slip).text(" in both together.")
}

// bearingText says how little wood is left under the outermost head or washer.
func (c *Chooser) bearingText(w *sentence, t *try) {
	f := t.bolt
	if f == nil {
		f = t.screw
	}
	by := formOf(f).pull
	head, width := by.head(f), Hole(by.shank(f), t.slip, c.set)
	w.name(t.attempt).text(", ").length(t.at).text(" from the front: the ", by.cut, " must be ").length(width).text(" wide to let it slide, and its ")
	w.length(head).text(" ", by.bears)
	if bearing := Bearing(head, width); bearing > 0 {
		w.text(" would bear on only ").against(bearing, c.set.BearingLeast).text(" of wood all round; it needs ").
			against(c.set.BearingLeast, bearing).text(".")
	} else {
		w.text(" would find no wood under it.")
	}
}

// noRoom records that no positions keep every rule, and what bars the outermost parts.
func (c *Chooser) noRoom(o attempt, wood *woodLimits) {
	t := try{what: withoutRoom, attempt: o, from: wood.from, to: wood.to}
	for i, b := range [2]*bar{wood.front, wood.back} {
		if b != nil {
			t.bars[i] = *b
		}
	}
	c.failed(ShortRoom, t)
}

// roomText says so, and which part finds no wood, where and by how much, when that is in the way.
func (c *Chooser) roomText(w *sentence, t *try) {
	w.name(t.attempt).text(": along ").length(c.seam.Length).text(" of seam there are no positions for these and for alignment parts that keep every rule on ends, spacing, clearance and the wood around them.")
	if b := &t.bars[0]; b.name != "" {
		c.woodText(w, t.attempt, b, max(c.set.PartClear, c.seam.FrontKeep, c.ends(t.attempt)), t.from, "front")
	}
	if b := &t.bars[1]; b.name != "" {
		c.woodText(w, t.attempt, b, c.seam.Length-c.ends(t.attempt), c.seam.Length-t.to, "back")
	}
}

// ends is the least distance of the attempt's parts from the seam's ends.
func (c *Chooser) ends(o attempt) measure.Length {
	var least measure.Length
	for _, f := range o.parts() {
		if f != nil {
			least = max(least, formOf(f).pull.end(c.set))
		}
	}
	return least
}

// woodText says how much wood a footprint would leave at a place near an end, and how far from that end it has enough.
func (c *Chooser) woodText(w *sentence, o attempt, b *bar, at, from measure.Length, end string) {
	prints := c.prints.made[:0]
	for _, f := range o.parts() {
		if f != nil {
			prints = formOf(f).prints(prints, f, o.long, &c.seam, c.set)
		}
	}
	for i := range prints {
		p := &prints[i]
		if p.Name != b.name || p.Side != b.side {
			continue
		}
		slip := Slip(c.seam.SlipRate, at, o.hold.Point(c.seam.Length))
		w.text(" ", "Its ", b.name, ", ").length(at).text(" from the front, would ")
		left := p.wood(b.edge, at, max(0, slip-p.Play))
		if left < 0 {
			w.text("break out of ", c.pieceName(b.side), " by ").length(-left)
		} else {
			w.text("leave only ").against(left, b.edge.Clear).text(" of wood in ", c.pieceName(b.side))
		}
		w.text("; ").against(b.edge.Clear, left).text(" must be left, which it has ").length(from).text(" from the ", end,
			" end at the nearest.")
		return
	}
}

// pieceName is what a sentence calls a side's piece.
func (c *Chooser) pieceName(side int) string {
	switch {
	case c.seam.Joint.RunsThrough() && side == 0:
		return "the piece that stops"
	case c.seam.Joint.RunsThrough():
		return "the piece that goes through"
	case side == 0:
		return "the first piece"
	}
	return "the second piece"
}

// name begins a sentence with the attempt.
func (w *sentence) name(o attempt) *sentence {
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
