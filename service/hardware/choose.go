package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Least numbers of draw bolts, and of pull parts at all: one alone would be a hinge. Common practice.
const (
	fewPulls  = 2
	manyBolts = 3 // from bolt_three_from of seam on
)

// Choose works out the hardware of one seam: where it is held, which alignment and pull parts stand where, and how wide
// their slots, holes and channels must be so that the wood can move. What it tries, in order:
//
//   - Butt and mason's miter: pocket screws, the thinnest first, each held at the front and then at the centre; then the
//     next heavier; then draw bolts, the strongest first. When screws fail because of the slip, one that the catalogue
//     lets stand with draw bolts is mixed with them (screws as far as their heads bear, bolts further out) if that saves
//     at least one bolt against bolts alone.
//   - Miter: draw bolts; pocket screws only when asked for.
//   - A place to hold, or a kind, that the wish names is kept to. A mason's miter is held at the front.
//   - With each of these every alignment part that fits: see parts.sort for their order.
//
// A seam for which nothing works is no error: the plan is not Feasible and says why. Errors are fault.Impossible, for
// wishes that no moving seam can have, at /pull, /alignment and /hold_at.
func Choose(seam Seam, wish Wish, cat *catalogue.Snapshot) (Plan, error) {
	return NewChooser(cat).Choose(seam, wish)
}

// Chooser chooses the hardware of one seam after another. It is for one goroutine.
type Chooser struct {
	cat *catalogue.Snapshot
	set *catalogue.Settings

	// Working store, used again and again.
	parts
	layout layout
	text   []byte

	// The choice at hand: what is asked for and what has been tried.
	seam   Seam
	wish   Wish
	units  measure.System
	tries  []string
	short  Shortage // of the try that came furthest
	reason string   // of that try
}

// NewChooser returns a chooser over a catalogue's fasteners.
func NewChooser(cat *catalogue.Snapshot) *Chooser {
	const usual, mostText = 16, 768 // what nearly every seam makes do with; the store grows when one does not
	c := &Chooser{cat: cat, set: &cat.Settings, text: make([]byte, 0, mostText)}
	items, places, spans := make([]*catalogue.Fastener, 3*usual), make([]measure.Length, 2*usual), make([]span, 3*usual)
	c.parts = parts{alignment: items[:0:usual], screws: items[usual : usual : 2*usual], bolts: items[2*usual : 2*usual]}
	c.layout = layout{pulls: places[:0:usual], aligns: places[usual:usual]}
	c.layout.work = coverage{walls: spans[:0:usual], allowed: spans[usual : usual : 2*usual], reached: spans[2*usual : 2*usual], starts: make([]int, 0, usual)}
	return c
}

// Choose works out the hardware of one seam; see the function Choose.
func (c *Chooser) Choose(seam Seam, wish Wish) (Plan, error) {
	if err := refuse(&seam, wish); err != nil {
		return Plan{}, err
	}
	c.seam, c.wish, c.units = seam, wish, seam.Units
	c.tries, c.short, c.reason = nil, ShortNothing, ""
	c.gather(&c.seam, wish, c.cat)
	return c.choose(), nil
}

// option is pull parts to try: screws, draw bolts, or both mixed, and where the seam is held.
type option struct {
	screw, bolt *catalogue.Fastener
	hold        Hold
}

func (c *Chooser) choose() Plan {
	masons := c.seam.Joint == plan.MasonsMiter
	screws := c.wish.Pull == catalogue.PocketScrew || c.wish.Pull == "" && c.seam.Joint != plan.Miter
	bolts := c.wish.Pull != catalogue.PocketScrew
	if masons && c.wish.HoldAt != HoldAuto && c.wish.HoldAt != HoldFront {
		c.failed(ShortMovement, "A mason's miter is held at the front, or its mitred corner would open.")
		return c.infeasible()
	}
	if len(c.alignment) == 0 {
		c.unfit(alignmentName(c.wish.Alignment))
		return c.infeasible()
	}
	if screws && len(c.screws) == 0 {
		c.unfit("pocket screw")
	}
	if screws {
		if p, ok := c.first(c.screws, func(f *catalogue.Fastener, h Hold) option { return option{screw: f, hold: h} }); ok {
			return p
		}
	}
	if bolts && len(c.bolts) == 0 {
		c.unfit("draw bolt")
	}
	if bolts {
		if p, ok := c.withBolts(screws); ok {
			return p
		}
	}
	return c.infeasible()
}

// first returns the plan of the first part, and the first place to hold, that works.
func (c *Chooser) first(items []*catalogue.Fastener, pull func(*catalogue.Fastener, Hold) option) (Plan, bool) {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, f := range items {
		for _, h := range holds {
			if p, ok := c.try(pull(f, h)); ok {
				return p, true
			}
		}
	}
	return Plan{}, false
}

// holds lists the places to hold the seam at, in the order in which they are tried.
func (c *Chooser) holds(to []Hold) []Hold {
	switch {
	case c.wish.HoldAt != HoldAuto:
		return append(to, c.wish.HoldAt)
	case c.seam.Joint == plan.Butt:
		return append(to, HoldFront, HoldCentre)
	default:
		return append(to, HoldFront)
	}
}

// withBolts returns the plan with draw bolts, mixed with screws when that saves at least one bolt.
func (c *Chooser) withBolts(screws bool) (Plan, bool) {
	best, ok := c.first(c.bolts, func(f *catalogue.Fastener, h Hold) option { return option{bolt: f, hold: h} })
	if !screws {
		return best, ok
	}
	tries := len(c.tries)
	for _, f := range c.screws {
		if !f.MayMixWithBolt {
			continue
		}
		if o, align, found := c.mix(f); found && (!ok || c.boltsOf(o) < best.bolts()) {
			return c.plan(o, align, &c.layout), true
		}
	}
	if ok {
		c.tries = c.tries[:tries] // a mix that saves nothing is no news
		best.Tries = c.tries
	}
	return best, ok
}

// mix finds room for a screw mixed with the first bolt, held at the first place, that works; the layout is left in place.
func (c *Chooser) mix(screw *catalogue.Fastener) (option, *catalogue.Fastener, bool) {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, bolt := range c.bolts {
		for _, h := range holds {
			o := option{screw: screw, bolt: bolt, hold: h}
			if align, ok := c.fit(o); ok {
				return o, align, true
			}
		}
	}
	return option{}, nil, false
}

// boltsOf counts the bolts of a mix as it is laid out: what stands beyond the screws' reach.
func (c *Chooser) boltsOf(o option) int {
	near, held, n := c.screwReach(o.screw), o.hold.Point(c.seam.Length), 0
	for _, x := range c.layout.pulls {
		if max(x-held, held-x) > near+noise {
			n++
		}
	}
	return n
}

// bolts counts the draw bolts of a plan.
func (p *Plan) bolts() int {
	n := 0
	for _, g := range p.Pull.Groups {
		if g.Kind == catalogue.DrawBolt {
			n += g.Count
		}
	}
	return n
}

// try returns the option's plan, if there is room for it.
func (c *Chooser) try(o option) (Plan, bool) {
	align, ok := c.fit(o)
	if !ok {
		return Plan{}, false
	}
	return c.plan(o, align, &c.layout), true
}

// fit places the option's pull parts with the first alignment part for which there is room, in the chooser's layout, and
// returns that part.
func (c *Chooser) fit(o option) (*catalogue.Fastener, bool) {
	if !(c.seam.SlipRate >= 0 && c.seam.SlipRate < 0.5) {
		c.failed(ShortMovement, "The seam slips by more than any wood grows.")
		return nil, false
	}
	r := c.room(o)
	if c.outOfReach(o, &r) {
		return nil, false
	}
	for _, f := range c.alignment {
		r.halfSlot = (f.Width + c.set.SlotAllowance) / 2
		if r.place(&c.layout) {
			return f, true
		}
	}
	c.noRoom(o)
	return nil, false
}

// room states the rules for the option's pull parts. Where screws and bolts are mixed the stricter of the two holds
// for both, so that each may stand at any of the positions.
func (c *Chooser) room(o option) room {
	s, seam := c.set, c.seam
	r := room{
		length: seam.Length, front: max(seam.FrontKeep, s.PartClear), back: seam.Length - s.PartClear, clear: s.PartClear,
		held: o.hold.Point(seam.Length), rate: seam.SlipRate, blocked: seam.Blocked,
		alignEnd: s.AlignmentEnd, alignSpacing: s.AlignmentSpacing, leastPulls: fewPulls,
	}
	if f := o.screw; f != nil {
		r.pullEnd, r.pullSpacing, r.halfPull = s.PocketEnd, s.PocketSpacing, f.BoreDiameter/2
	}
	if f := o.bolt; f != nil {
		r.pullEnd = max(r.pullEnd, s.BoltEnd)
		r.halfPull = max(r.halfPull, f.RecessDiameter/2, f.BearingDiameter/2, Hole(f.BoltDiameter, 0, s)/2)
		r.halfChannel = (f.BoltDiameter + s.HoleAllowance) / 2
		if o.screw == nil || s.BoltSpacing < r.pullSpacing {
			r.pullSpacing = s.BoltSpacing
		}
		if seam.Length >= s.BoltThreeFrom {
			r.leastPulls = manyBolts
		}
	}
	reach := c.reach(o)
	r.pullWindow = max(r.pullEnd, r.pullSpacing/2)
	r.pullFrom = max(r.pullEnd, r.front+r.halfPull, r.held-reach)
	r.pullTo = min(r.length-r.pullEnd, r.back-r.halfPull, r.held+reach)
	return r
}

// reach is how far from the held point the option's parts may stand; of a mix, the further-reaching.
func (c *Chooser) reach(o option) measure.Length {
	out := measure.Length(-1)
	if o.screw != nil {
		out = max(out, c.screwReach(o.screw))
	}
	if o.bolt != nil {
		out = max(out, reach(o.bolt.BoltDiameter, o.bolt.BearingDiameter, c.seam.SlipRate, c.set))
	}
	return out
}

func (c *Chooser) screwReach(f *catalogue.Fastener) measure.Length {
	return reach(f.ThreadDiameter, headOf(f), c.seam.SlipRate, c.set)
}
