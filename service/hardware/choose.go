package hardware

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Least numbers of draw bolts, and of pull parts at all: one alone would be a hinge. Common practice.
const (
	fewPulls  = 2
	manyBolts = 3 // from bolt_three_from of seam on
)

// Choose works out the hardware of one seam: where it is held, which alignment and pull parts stand where, and how wide
// their slots, holes and channels must be so that the wood can move. What it tries, in order:
//
//   - Butt and mason's miter: pocket screws, the thinnest first, each held at the front and then at the centre; then
//     the next heavier; then draw bolts, the strongest first, with round recesses as far as their washers can travel,
//     and only when no bolt does with those, with elongated ones. When screws fail because of the slip, one that the
//     catalogue lets stand with draw bolts is mixed with them (screws as far as their heads bear, bolts further out) if
//     that saves at least one bolt against bolts alone.
//   - Miter: draw bolts; pocket screws only when asked for.
//   - On a short seam positions that hold each end third of it are looked for first.
//   - A place to hold, or a kind, that the wish names is kept to. A mason's miter is held at the front.
//   - With each of these every alignment part that fits: see parts.sort for their order.
//
// A seam for which nothing works is no error: the plan is not Feasible and says why. Errors are fault.Impossible, for
// wishes that no moving seam can have, at /pull, /alignment and /hold_at.
func Choose(seam Seam, wish Wish, cat *catalogue.Snapshot) (Plan, error) {
	c := NewChooser(cat)
	p, err := c.Choose(seam, wish)
	if p.Feasible {
		p.Pull.Note = c.Note(&p.Pull, &seam)
	}
	return p, err
}

// Chooser chooses the hardware of one seam after another. It is for one goroutine. What it has worked out for one seam
// serves the next as far as the two are alike; no plan depends on what was chosen before.
type Chooser struct {
	cat *catalogue.Snapshot
	set *catalogue.Settings

	parts    // that fit the thickness and the wish at hand
	gathered bool
	prints   prints // for the thickness at hand
	shelf    shelf  // for the choice at hand
	chosen   remembered
	slotted  []slotted
	walls    []Interval // of slotted
	ruled    ruled
	bars     []bar
	barred   []barred // what bars the parts that were looked at, on the seam at hand
	edged    [2][]edged

	// Working memory, used again and again.
	work   coverage
	text   []byte
	mixed  []bar // of a screw and a bolt together
	within []bar // those that bind between the limits that others set

	// The choice at hand: what is asked for and what has been tried.
	seam  Seam // its lists are the chooser's own
	wish  Wish
	units measure.System
	tries []try
	short Shortage // of the try that came furthest
	best  int      // that try
}

// NewChooser returns a chooser over a catalogue's fasteners.
func NewChooser(cat *catalogue.Snapshot) *Chooser {
	c := begun()
	c.cat, c.set = cat, &cat.Settings
	return c
}

// Reset makes a chooser as if it were new, over this catalogue. It keeps its working memory, but nothing of what it has
// looked up or chosen. Between two seams of one catalogue there is no need for it.
func (c *Chooser) Reset(cat *catalogue.Snapshot) {
	c.cat, c.set = cat, &cat.Settings
	c.parts.drop()
	c.gathered, c.wish, c.ruled = false, Wish{}, ruled{}
	c.prints.forget()
	drop(&c.prints.all)
	drop(&c.barred)
	drop(&c.slotted)
	drop(&c.tries)
	c.look(&Seam{})
	c.shelf.drop()
	c.chosen.forget()
}

// For begins with another top, of a catalogue that may be another.
func (c *Chooser) For(cat *catalogue.Snapshot) {
	if c.cat != cat {
		c.Reset(cat)
	}
	c.Begin()
}

// Begin begins with another top of the same catalogue: what its seams may cost to search is bounded together, so that
// what is chosen depends on the top alone.
func (c *Chooser) Begin() {
	if c.work.grid.coarse {
		c.Reset(c.cat) // what was laid out coarsely is not for the next one
	}
	c.work.grid.begin()
	c.chosen.begin()
}

// Spent is what the searches for the top at hand looked at so far, in cells.
func (c *Chooser) Spent() int { return mostEffort - c.work.grid.effort }

// drop empties a list and lets go what it points to.
func drop[T any](list *[]T) {
	clear((*list)[:cap(*list)])
	*list = (*list)[:0]
}

// Choose works out the hardware of one seam; see the function Choose. It leaves out the pull parts' note.
// A plan's lists are not written to any more: another seam may get them as well.
func (c *Chooser) Choose(seam Seam, wish Wish) (p Plan, err error) {
	of, g := alikeOf(&seam, wish), &c.work.grid
	if before, takes := c.chosen.recall(&of, &seam, g.effort); before != nil {
		g.effort -= takes
		return c.ForLegs(before.plan, seam), nil
	}
	if err = refuse(&seam, wish); err != nil {
		return p, err
	}
	had := g.effort
	c.look(&seam)
	c.ask(wish)
	c.shelf.clear() // so that a choice takes the same whatever was chosen before
	c.tries, c.short, c.best = c.tries[:0], ShortNothing, 0
	c.choose(&p)
	c.chosen.note(&of, &seam, &p, had-g.effort, g.effort >= 0 && !g.coarse)
	return p, nil
}

// look takes a seam at hand. What was worked out of the one before serves it as far as both are the same.
func (c *Chooser) look(seam *Seam) {
	was := &c.seam
	thick, wood := was.Thickness == seam.Thickness, was.SlipRate == seam.SlipRate && was.sameWood(seam)
	rules := was.FrontKeep == seam.FrontKeep && slices.Equal(was.Blocked, seam.Blocked)
	lists := *was
	c.seam, c.units = *seam, seam.Units
	c.seam.keep(seam, &lists)
	switch {
	case !thick:
		c.gathered = false
		c.prints.forget()
		fallthrough // the edges' bars come of the prints
	case !wood:
		c.edge()
		fallthrough // and the layouts of the bars
	case !rules:
		c.forget()
	}
}

// forget drops what was laid out.
func (c *Chooser) forget() {
	c.slotted, c.walls = c.slotted[:0], c.walls[:0]
	c.shelf.clear()
	c.ruled = ruled{}
}

// ask takes a wish, and gathers the parts that fit it.
func (c *Chooser) ask(wish Wish) {
	if !c.gathered || c.wish.Alignment != wish.Alignment {
		c.gather(&c.seam, wish, c.cat)
		c.gathered = true
		c.forget()
	}
	c.wish = wish
}

// attempt is pull parts to try, and where the seam is held: screws, or what stands near the held point as they do; draw
// bolts, or what stands further out as they do; or one of each, mixed.
type attempt struct {
	screw, bolt *catalogue.Fastener
	hold        Hold
	long        bool // the bolt's recesses are elongated
}

// found is an attempt that fits, and how it is laid out.
type found struct {
	attempt
	*shelved
}

func (c *Chooser) choose(p *Plan) {
	screws, bolts := c.seam.Joint.RunsThrough(), true
	if c.wish.Pull != "" {
		bolts = forms[c.wish.Pull.Form()].pull.further
		screws = !bolts
	}
	if c.seam.Joint.Turns() && c.wish.HoldAt != HoldAuto && c.wish.HoldAt != HoldFront {
		c.failed(ShortMovement, try{what: heldElsewhere})
		c.infeasible(p)
		return
	}
	if len(c.alignment) == 0 {
		c.unfit(alignmentName(c.wish.Alignment))
		c.infeasible(p)
		return
	}
	if screws && c.none(c.screws) {
		c.unfit(c.pullName(catalogue.PocketScrew))
	}
	if screws {
		if f, ok := c.first(c.screws, false); ok {
			c.plan(p, &f)
			return
		}
	}
	if bolts && c.none(c.bolts) {
		c.unfit(c.pullName(catalogue.DrawBolt))
	}
	if bolts {
		if f, ok := c.withBolts(screws); ok {
			c.plan(p, &f)
			return
		}
	}
	c.infeasible(p)
}

// wanted reports whether a pull part is of the kind asked for, if any is.
func (c *Chooser) wanted(f *catalogue.Fastener) bool {
	return c.wish.Pull == "" || c.wish.Pull == f.Kind
}

// none reports whether none of the pull parts is wanted.
func (c *Chooser) none(items []*catalogue.Fastener) bool {
	return !slices.ContainsFunc(items, c.wanted)
}

// pullName is what a sentence calls the pull parts asked for, or else the usual ones of their form.
func (c *Chooser) pullName(usual catalogue.FastenerKind) string {
	if c.wish.Pull != "" {
		usual = c.wish.Pull
	}
	return usual.Traits().Name
}

// first lays out the first part, and the first place to hold, that works. All of them stand near the held point, or all further out.
func (c *Chooser) first(items []*catalogue.Fastener, long bool) (found, bool) {
	var memory [2]Hold
	holds := c.holds(memory[:0])
	for _, f := range items {
		if long && !c.longHelps(f) || !c.wanted(f) {
			continue
		}
		for _, h := range holds {
			o := attempt{hold: h, long: long}
			if formOf(f).pull.further {
				o.bolt = f
			} else {
				o.screw = f
			}
			if l, _ := c.fit(o, nil); l != nil {
				return found{o, l}, true
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
	case c.seam.Joint.RunsThrough() && !c.seam.Joint.Turns():
		return append(to, HoldFront, HoldCentre)
	default:
		return append(to, HoldFront)
	}
}

// withBolts lays out draw bolts, mixed with screws when that saves at least one bolt; with round recesses, or else with
// elongated ones.
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
