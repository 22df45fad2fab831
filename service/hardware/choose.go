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
	kept   layout // one that is set aside; its working store is not used
	text   []byte
	bars   []bar
	barred []barred // what bars the parts that were looked at, on the seam at hand
	mixed  []bar    // of a screw and a bolt together
	within []bar    // those that bind between the limits that others set
	walls  []Interval

	// The choice at hand: what is asked for and what has been tried.
	seam  Seam
	wish  Wish
	units measure.System
	tries []try
	short Shortage // of the try that came furthest
	best  int      // that try
}

// NewChooser returns a chooser over a catalogue's fasteners.
func NewChooser(cat *catalogue.Snapshot) *Chooser {
	const usual, mostText, mostBars = 16, 1536, 32 // what nearly every seam makes do with; the store grows when one does not
	c := &Chooser{cat: cat, set: &cat.Settings, text: make([]byte, 0, mostText), bars: make([]bar, 0, mostBars), barred: make([]barred, 0, usual/2)}
	items, places, spans := make([]*catalogue.Fastener, 3*usual), make([]measure.Length, 4*usual), make([]span, 3*usual)
	c.parts = parts{alignment: items[:0:usual], screws: items[usual : usual : 2*usual], bolts: items[2*usual : 2*usual]}
	c.layout = layout{pulls: places[:0:usual], aligns: places[usual : usual : 2*usual]}
	c.kept = layout{pulls: places[2*usual : 2*usual : 3*usual], aligns: places[3*usual : 3*usual]}
	c.layout.work = coverage{walls: spans[:0:usual], allowed: spans[usual : usual : 2*usual], reached: spans[2*usual : 2*usual], starts: make([]int, 0, usual)}
	return c
}

// Choose works out the hardware of one seam; see the function Choose.
func (c *Chooser) Choose(seam Seam, wish Wish) (Plan, error) {
	if err := refuse(&seam, wish); err != nil {
		return Plan{}, err
	}
	c.look(&seam)
	if c.wish.Alignment != wish.Alignment {
		c.layout.laid.align, c.kept.laid.align = nil, nil
	}
	c.wish = wish
	c.tries, c.short, c.best = c.tries[:0], ShortNothing, 0
	c.gather(&c.seam, wish, c.cat)
	return c.choose(), nil
}

// look takes a seam at hand. What was worked out of the edges of the one before serves it when they are the same.
func (c *Chooser) look(seam *Seam) {
	if !c.seam.sameWood(seam) {
		c.bars, c.barred = c.bars[:0], c.barred[:0]
		c.layout.laid.align, c.kept.laid.align = nil, nil
	}
	c.seam, c.units = *seam, seam.Units
}

// option is pull parts to try: screws, draw bolts, or both mixed, and where the seam is held.
type option struct {
	screw, bolt *catalogue.Fastener
	hold        Hold
	long        bool // the bolt's recesses are elongated
}

// found is an option that fits, with its first alignment part that does; where the parts stand is in the chooser's layout.
type found struct {
	option
	align *catalogue.Fastener
}

func (c *Chooser) choose() Plan {
	masons := c.seam.Joint == plan.MasonsMiter
	screws := c.wish.Pull == catalogue.PocketScrew || c.wish.Pull == "" && c.seam.Joint != plan.Miter
	bolts := c.wish.Pull != catalogue.PocketScrew
	if masons && c.wish.HoldAt != HoldAuto && c.wish.HoldAt != HoldFront {
		c.failed(ShortMovement, try{what: heldElsewhere})
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
		if f, ok := c.first(c.screws, false); ok {
			return c.plan(&f)
		}
	}
	if bolts && len(c.bolts) == 0 {
		c.unfit("draw bolt")
	}
	if bolts {
		if f, ok := c.withBolts(screws); ok {
			return c.plan(&f)
		}
	}
	return c.infeasible()
}

// first lays out the first part, and the first place to hold, that works. All parts are of one kind.
func (c *Chooser) first(items []*catalogue.Fastener, long bool) (found, bool) {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, f := range items {
		if long && !c.longHelps(f) {
			continue
		}
		for _, h := range holds {
			o := option{hold: h, long: long}
			if f.Kind == catalogue.PocketScrew {
				o.screw = f
			} else {
				o.bolt = f
			}
			if align, ok := c.fit(o); ok {
				return found{o, align}, true
			}
		}
	}
	return found{}, false
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

// withBolts lays out draw bolts, mixed with screws when that saves at least one bolt; with round recesses, or else with elongated ones.
func (c *Chooser) withBolts(screws bool) (found, bool) {
	for _, long := range [2]bool{false, true} {
		best, ok := c.first(c.bolts, long)
		if screws {
			best, ok = c.mixWithScrews(best, ok, long)
		}
		if ok {
			return best, true
		}
	}
	return found{}, false
}

// mixWithScrews lays out draw bolts mixed with screws when that saves at least one bolt against the best with bolts alone, which is laid
// out; else it leaves that.
func (c *Chooser) mixWithScrews(best found, ok, long bool) (found, bool) {
	alone := len(c.layout.pulls)
	if ok && !c.mixMaySave(alone, long) {
		return best, true
	}
	tries := len(c.tries)
	c.setAside()
	for _, f := range c.screws {
		if !f.MayMixWithBolt {
			continue
		}
		mix, fits := c.mix(f, long)
		if !fits {
			continue
		}
		if n := c.boltsOf(mix.option); n > 0 && n < len(c.layout.pulls) && (!ok || n < alone) {
			return mix, true
		}
	}
	if ok {
		c.tries = c.tries[:tries] // a mix that saves nothing is no news
		c.setAside()
	}
	return best, ok
}

// setAside puts the layout aside and takes up the one that lay there.
func (c *Chooser) setAside() {
	l, k := &c.layout, &c.kept
	l.pulls, k.pulls, l.aligns, k.aligns, l.laid, k.laid = k.pulls, l.pulls, k.aligns, l.aligns, k.laid, l.laid
}

// longHelps reports whether elongated recesses let a bolt stand further from the held point than round ones.
func (c *Chooser) longHelps(bolt *catalogue.Fastener) bool {
	return c.boltReach(option{bolt: bolt, long: true}) > c.boltReach(option{bolt: bolt})
}

// mix finds room for a screw mixed with the first bolt, held at the first place, that works; the layout is left in place.
func (c *Chooser) mix(screw *catalogue.Fastener, long bool) (found, bool) {
	var store [2]Hold
	holds := c.holds(store[:0])
	for _, bolt := range c.bolts {
		if long && !c.longHelps(bolt) {
			continue
		}
		for _, h := range holds {
			o := option{screw: screw, bolt: bolt, hold: h, long: long}
			if align, ok := c.fit(o); ok {
				return found{o, align}, true
			}
		}
	}
	return found{}, false
}

// boltsOf counts the bolts of a mix as it is laid out: what stands beyond the screws' reach.
func (c *Chooser) boltsOf(o option) int {
	n := 0
	for _, x := range c.layout.pulls {
		if !c.screwReaches(&o, x) {
			n++
		}
	}
	return n
}

// screwReaches reports whether the screw of a mix may stand at a place.
func (c *Chooser) screwReaches(o *option, at measure.Length) bool {
	held := o.hold.Point(c.seam.Length)
	return max(at-held, held-at) <= c.screwReach(o.screw)+noise
}

// fit places the option's pull parts with the first alignment part for which there is room, in the chooser's layout, and
// returns that part. On a short seam it looks first for positions that hold each end third.
func (c *Chooser) fit(o option) (*catalogue.Fastener, bool) {
	if !(c.seam.SlipRate >= 0 && c.seam.SlipRate < 0.5) {
		c.failed(ShortMovement, try{what: slipsTooMuch})
		return nil, false
	}
	r, wood := c.rules(o)
	reach := c.reach(o)
	if r.outOfReach(reach) {
		c.tooFar(o, &r)
		return nil, false
	}
	r.pullFrom, r.pullTo = max(wood.from, r.held-reach), min(wood.to, r.held+reach)
	c.within = r.barsWithin(c.within[:0], wood.from, wood.to)
	r.pullBars = c.within
	if align := c.layout.laid.again(&r, &wood); align != nil {
		return align, true
	}
	c.layout.laid.state(&r, &wood)
	window := r.pullWindow
	for _, most := range [2]measure.Length{max(r.pullEnd, r.length/3), window} {
		if most > window {
			continue
		}
		r.outermost(most, &wood)
		for _, f := range c.alignment {
			if c.slots(&r, f); r.place(&c.layout) {
				c.layout.laid.align = f
				return f, true
			}
		}
	}
	c.noRoom(o, &wood)
	return nil, false
}

// rules states the rules for the option's pull parts, with what the wood leaves them.
func (c *Chooser) rules(o option) (room, woodLimits) {
	r := c.room(o)
	var wood woodLimits
	wood.from, wood.to, wood.front, wood.back = r.pullLimits(r.pullFrom, r.pullTo)
	r.outermost(r.pullWindow, &wood)
	return r, wood
}

// outOfReach reports whether parts that reach so far from the held point do not reach to where the outermost must stand.
func (r *room) outOfReach(reach measure.Length) bool {
	return !(reach >= 0 && r.held-reach <= r.pullFirst+noise && r.held+reach >= r.pullLast-noise)
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
	s, seam := c.set, &c.seam
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
