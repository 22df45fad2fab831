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
//     next heavier; then draw bolts, the strongest first, with round recesses as far as their washers can travel, and only
//     when no bolt does with those, with elongated ones. When screws fail because of the slip, one that the catalogue
//     lets stand with draw bolts is mixed with them (screws as far as their heads bear, bolts further out) if that saves
//     at least one bolt against bolts alone.
//   - Miter: draw bolts; pocket screws only when asked for.
//   - On a short seam positions that hold each end third of it are looked for first.
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
	bars   []bar
	barred []barred // what bars the parts that were looked at, on the seam at hand
	mixed  []bar    // of a screw and a bolt together
	within []bar    // those that bind between the limits that others set
	walls  []Interval

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
	if !c.seam.sameWood(&seam) {
		c.bars, c.barred = c.bars[:0], c.barred[:0]
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
	long        bool // the bolt's recesses are elongated
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
			o := pull(f, h)
			if o.long && !c.longHelps(f) {
				continue
			}
			if p, ok := c.try(o); ok {
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

// withBolts returns the plan with draw bolts, mixed with screws when that saves at least one bolt; with round recesses, or else with
// elongated ones.
func (c *Chooser) withBolts(screws bool) (Plan, bool) {
	for _, long := range [2]bool{false, true} {
		best, ok := c.first(c.bolts, func(f *catalogue.Fastener, h Hold) option { return option{bolt: f, hold: h, long: long} })
		if screws {
			best, ok = c.mixWithScrews(best, ok, long)
		}
		if ok {
			return best, true
		}
	}
	return Plan{}, false
}

// mixWithScrews returns a plan with draw bolts mixed with screws when that saves at least one bolt against the best with bolts alone, else that.
func (c *Chooser) mixWithScrews(best Plan, ok, long bool) (Plan, bool) {
	tries := len(c.tries)
	for _, f := range c.screws {
		if !f.MayMixWithBolt {
			continue
		}
		o, align, found := c.mix(f, long)
		if !found {
			continue
		}
		if n := c.boltsOf(o); n > 0 && n < len(c.layout.pulls) && (!ok || n < best.bolts()) {
			return c.plan(o, align, &c.layout), true
		}
	}
	if ok {
		c.tries = c.tries[:tries] // a mix that saves nothing is no news
		best.Tries = c.tries
	}
	return best, ok
}

// longHelps reports whether elongated recesses let a bolt stand further from the held point than round ones.
func (c *Chooser) longHelps(bolt *catalogue.Fastener) bool {
	return c.boltReach(option{bolt: bolt, long: true}) > c.boltReach(option{bolt: bolt})
}

// mix finds room for a screw mixed with the first bolt, held at the first place, that works; the layout is left in place.
func (c *Chooser) mix(screw *catalogue.Fastener, long bool) (option, *catalogue.Fastener, bool) {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, bolt := range c.bolts {
		if long && !c.longHelps(bolt) {
			continue
		}
		for _, h := range holds {
			o := option{screw: screw, bolt: bolt, hold: h, long: long}
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
// returns that part. On a short seam it looks first for positions that hold each end third.
func (c *Chooser) fit(o option) (*catalogue.Fastener, bool) {
	if !(c.seam.SlipRate >= 0 && c.seam.SlipRate < 0.5) {
		c.failed(ShortMovement, "The seam slips by more than any wood grows.")
		return nil, false
	}
	r := c.room(o)
	var wood woodLimits
	wood.from, wood.to, wood.front, wood.back = r.pullLimits(r.pullFrom, r.pullTo)
	r.outermost(r.pullWindow, &wood)
	reach := c.reach(o)
	if c.outOfReach(o, &r, reach) {
		return nil, false
	}
	r.pullFrom, r.pullTo = max(wood.from, r.held-reach), min(wood.to, r.held+reach)
	c.within = r.barsWithin(c.within[:0], wood.from, wood.to)
	r.pullBars = c.within
	window := r.pullWindow
	for _, most := range [2]measure.Length{max(r.pullEnd, r.length/3), window} {
		if most > window {
			continue
		}
		r.outermost(most, &wood)
		for _, f := range c.alignment {
			if c.slots(&r, f); r.place(&c.layout) {
				return f, true
			}
		}
	}
	c.noRoom(o, &wood)
	return nil, false
}

// outermost states between which places the outermost pull parts must stand: at most so far from the ends, or where there is
// wood for them at first, at most a spacing from the ends.
func (r *room) outermost(most measure.Length, wood *woodLimits) {
	r.pullWindow = most
	r.pullFirst = max(most, min(wood.from, r.pullSpacing))
	r.pullLast = min(r.length-most, max(wood.to, r.length-r.pullSpacing))
}

// woodLimits are between which places pull parts may stand, and what bars them further out; nil when no edge does.
type woodLimits struct {
	from, to    measure.Length
	front, back *bar
}

// slots states the rules for an alignment part.
func (c *Chooser) slots(r *room, f *catalogue.Fastener) {
	r.halfSlot, r.halfCut = (f.Width+c.set.SlotAllowance)/2, CutterSlot(f, c.set.BiscuitCutter)/2
	half := max(r.halfSlot, r.halfCut)
	c.walls = c.walls[:0]
	for _, b := range c.barsOf(f, false) {
		c.walls = append(c.walls, Interval{b.from + half, b.to - half})
	}
	r.slotWalls = c.walls
	r.slotFrom, r.slotTo = r.slotLimits()
	r.slotWalls = r.wallsWithin(c.walls[:0])
	r.alignFirst = max(c.set.AlignmentEnd, min(r.slotFrom, r.alignSpacing))
	r.alignLast = min(r.length-c.set.AlignmentEnd, max(r.slotTo, r.length-r.alignSpacing))
}

// room states the rules for the option's pull parts. Where screws and bolts are mixed the stricter of the two holds
// for both, so that each may stand at any of the positions.
func (c *Chooser) room(o option) room {
	s, seam := c.set, c.seam
	r := room{
		length: seam.Length, front: max(seam.FrontKeep, s.PartClear), back: seam.Length - s.PartClear, clear: s.PartClear,
		held: o.hold.Point(seam.Length), rate: seam.SlipRate, blocked: seam.Blocked,
		alignSpacing: s.AlignmentSpacing, leastPulls: fewPulls, long: o.long,
	}
	if f := o.screw; f != nil {
		r.pullEnd, r.pullSpacing, r.halfPull = s.PocketEnd, s.PocketSpacing, f.BoreDiameter/2
		r.pullBars = c.barsOf(f, false)
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
		if o.screw == nil {
			r.pullBars = c.barsOf(f, o.long)
		} else {
			c.mixed = append(append(c.mixed[:0], r.pullBars...), c.barsOf(f, o.long)...)
			r.pullBars = c.mixed
		}
	}
	r.pullWindow = max(r.pullEnd, r.pullSpacing/2)
	r.pullFrom = max(r.pullEnd, r.front+r.halfPull)
	r.pullTo = min(r.length-r.pullEnd, r.back-r.halfPull)
	return r
}

// reach is how far from the held point the option's parts may stand; of a mix, the further-reaching.
func (c *Chooser) reach(o option) measure.Length {
	out := measure.Length(-1)
	if o.screw != nil {
		out = max(out, c.screwReach(o.screw))
	}
	if o.bolt != nil {
		out = max(out, c.boltReach(o))
	}
	return out
}

// boltReach is how far from the held point a bolt may stand so that its washer still bears and, in round recesses, can travel.
func (c *Chooser) boltReach(o option) measure.Length {
	out := reach(o.bolt.BoltDiameter, o.bolt.BearingDiameter, c.seam.SlipRate, c.set)
	if !o.long && c.seam.SlipRate > 0 {
		out = min(out, 2*Travel(o.bolt.RecessDiameter, o.bolt.BearingDiameter)/measure.Length(c.seam.SlipRate))
	}
	return out
}

func (c *Chooser) screwReach(f *catalogue.Fastener) measure.Length {
	return reach(f.ThreadDiameter, headOf(f), c.seam.SlipRate, c.set)
}
