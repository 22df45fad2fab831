package estimate

import (
	"slices"

	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// How often the corners are gone through until nothing changes. Corners influence each other only through lengths of
// pieces and the packs that their parts are bought in, so two rounds nearly always do. After freeRounds each keeps its
// joint and its kind of pull parts, so that the rounds behind them settle what the others cost with it.
const (
	freeRounds = 3
	mostRounds = 6
)

// chosen are the corners with their joints decided.
type chosen struct {
	corners []CornerResult
	options []*option // the chosen one of each corner
	joints  []plan.Joint
	layout  *plan.Layout
	whole   money.Amount    // what the top costs
	shared  []hardware.Hold // fixed line of each run that belongs to two corners
	rivals  []rivals        // at each corner, when it was chosen last
}

// rivals are the candidates that a corner was chosen from: of each way the one with the better kind of pull parts.
type rivals struct {
	options []*option
	best    int          // the chosen one
	least   money.Amount // that the top costs with any of them
}

// chooseCorners works out every candidate at every corner and chooses. A run between two corners has one fixed line for
// both: the front, or the back when one of its corners is a reflex one, where a through run's seam is its wall edge. Of
// several corners the joints and lines are those of the best sketch, or of a chain near it that its boards make better
// (swap.go). Of two equal ones the cheaper, then the one found
// earlier; as the corners are gone through from the same physical end whichever way the chain was given, the answer
// does not depend on that.
func (w *work) chooseCorners() (*chosen, error) {
	w.chooseFrom()
	best, err := w.chooseChain()
	if err != nil {
		return nil, err
	}
	if w.stopsAt(best.layout) {
		if other := w.chooseToPass(); other != nil {
			if len(w.corners) > 1 { // those of one corner are chosen from again
				w.forget(best)
			}
			best = other
		}
	}
	if err := w.buyLast(best); err != nil {
		return nil, err
	}
	w.tell(best)
	return best, nil
}

// buyLast looks once more for the wood of the corners as they are chosen, where it may not be the cheapest. If it gets cheaper, what the
// other ways cost more is counted anew.
func (w *work) buyLast(c *chosen) error {
	if !w.shed.Unproved() {
		return nil
	}
	cheaper, err := w.shed.Last(func() error {
		_, err := w.take(c.layout, c.options, nil)
		return err
	})
	if err != nil || !cheaper {
		return err
	}
	w.whole.clear()
	var wrong fault.List
	for step := range w.corners {
		_, err := w.chooseCorner(c, w.corner(step), true, true)
		addOnce(&wrong, err)
	}
	if n := len(w.corners); n > 0 {
		last := c.options[w.corner(n-1)]
		c.layout, c.whole = last.layout, last.Cost
	}
	return wrong.Err()
}

// chooseFrom makes ready to choose corners.
func (w *work) chooseFrom() {
	if len(w.corners) > 0 && w.chooser == nil {
		w.chooser = hardware.NewChooser(w.cat)
		w.chooser.Begin()
	}
	w.fromEnd = w.endFirst()
}

// chooseChain chooses the corners from the best sketch, or from the plainest beginning, from which is also told what
// the top is refused for.
func (w *work) chooseChain() (*chosen, error) {
	if len(w.corners) > 1 {
		if c := w.chooseSketched(); c != nil {
			return c, nil
		}
		w.shed.Economize() // a top of which no sketch can be made is most likely refused
	}
	return w.chooseWith(w.frontLines(), nil, false)
}

// chooseSketched chooses the corners of a chain from the best sketch; nil when there is none, or none that can be made.
func (w *work) chooseSketched() *chosen {
	s := w.sketchChain(w.frontLines())
	if s == nil {
		return nil
	}
	c, err := w.chooseWith(s.lines, s.joints, true)
	if err != nil {
		return nil
	}
	return w.swapped(c)
}

// frontLines are the fixed lines that a chain begins with: the caller's, or every run's front.
func (w *work) frontLines() []hardware.Hold {
	lines := make([]hardware.Hold, len(w.corners)+1)
	for i := range lines {
		if lines[i] = w.order.Top.Fixing.FixedLine; lines[i] == hardware.HoldAuto {
			lines[i] = hardware.HoldFront
		}
	}
	return lines
}

// mayBeBack reports whether run i, which has a seam at both of its ends, may be held at its back: it is beside a reflex corner, and the
// caller leaves the line open.
func (w *work) mayBeBack(i int) bool {
	first, last := w.group(i) // the pieces of one run are held alike
	return w.order.Top.Fixing.FixedLine == hardware.HoldAuto && i > 0 && i < len(w.corners) &&
		(first > 0 && w.corners[first-1].angle > 180*measure.Degree || last < len(w.corners) && w.corners[last].angle > 180*measure.Degree)
}

// forget gives the candidates of a chain back.
func (w *work) forget(c *chosen) {
	for k := range c.options {
		w.tried.giveBack(c.at(k), nil)
	}
}

// at are the candidates that a chain holds at corner k.
func (c *chosen) at(k int) []*option {
	if len(c.rivals) > 0 && len(c.rivals[k].options) > 0 {
		return c.rivals[k].options
	}
	return c.options[k : k+1]
}

// chooseWith chooses with the fixed lines of the runs between two corners settled. Each corner is judged with the
// others as chosen so far, until nothing changes. It begins with the joints given, nil: with miters; with keep it stays
// with them.
func (w *work) chooseWith(shared []hardware.Hold, begin []plan.Joint, keep bool) (*chosen, error) {
	n := len(w.corners)
	c := &chosen{corners: make([]CornerResult, n), options: make([]*option, n), joints: make([]plan.Joint, n),
		shared: shared, rivals: make([]rivals, n)}
	if err := w.start(c, begin); err != nil {
		return nil, err
	}
	if keep { // its wood is bought first, when most can be spent on finding what
		if _, err := w.take(c.layout, c.options, nil); err != nil {
			w.forget(c)
			return nil, err
		}
	}
	settled := 0 // corners that were chosen, one after the other, with all others as they are now
	for round := 0; round < mostRounds && settled < n; round++ {
		var wrong fault.List
		for step := 0; step < n && settled < n; step++ {
			otherwise, err := w.chooseCorner(c, w.corner(step), keep || round >= freeRounds, round >= freeRounds)
			addOnce(&wrong, err)
			if err != nil && w.proposed && w.lacksWood {
				break // nobody is told of the others, and of other staves it is asked already
			}
			if settled++; otherwise {
				settled = 1
			}
		}
		if err := wrong.Err(); err != nil {
			w.forget(c)
			return nil, err // what is wrong at one corner does not hide what is wrong at another
		}
	}
	if n > 0 {
		last := c.options[w.corner(n-1)]
		c.layout, c.whole = last.layout, last.Cost // tried with the other corners as they were chosen
	}
	return c, nil
}

// madeAs reports whether two candidates of a corner are made in the same way, so that whichever of them stands there
// the other corners cost the same: joint, remedy and parts.
func (o *option) madeAs(other *option) bool {
	if other == nil || o.Joint != other.Joint || o.Remedy != other.Remedy || o.Feasible != other.Feasible {
		return false
	}
	a, b := &o.Hardware, &other.Hardware
	if a.Alignment.Item != b.Alignment.Item || a.Alignment.Count != b.Alignment.Count ||
		len(a.Pull.Groups) != len(b.Pull.Groups) {
		return false
	}
	for i := range a.Pull.Groups {
		if a.Pull.Groups[i].Item != b.Pull.Groups[i].Item || a.Pull.Groups[i].Count != b.Pull.Groups[i].Count {
			return false
		}
	}
	return true
}

// start takes the joints given, nil: a miter at every corner, to see whether the top can be laid out at all and to have
// something to reckon the other corners with.
func (w *work) start(c *chosen, begin []plan.Joint) error {
	for k := range c.joints {
		c.joints[k] = w.jointAt(k, plan.Joint{Kind: plan.Miter})
	}
	for k, j := range begin {
		c.joints[k] = w.jointAt(k, j)
	}
	if len(c.joints) == 1 {
		return nil // nothing else to reckon with; whether it can be laid out is seen when it is tried
	}
	w.joints = append(w.joints[:0], c.joints...)
	layout, err := w.layouts.lay(w)
	if err != nil {
		return fault.At("/top", err)
	}
	c.layout = layout
	for k := range c.joints {
		// a refusal comes again, with those of the other corners, when the corner is chosen
		c.options[k], _ = w.tryLines(k, c.joints[k], c, w.corners[k].Pull)
	}
	return w.ctx.Err()
}

// chooseCorner works out the candidates of corner k and chooses the best that the caller's wish allows; with keep, the
// joint chosen before stays, with keepPull the kind of its pull parts as well. It tells whether the corner is made
// otherwise than before.
func (w *work) chooseCorner(c *chosen, k int, keep, keepPull bool) (changed bool, err error) {
	var before *option
	if keepPull {
		before = c.options[k]
	}
	var store [2 * usualWays]*option
	options := store[:0]
	var refused error
	var most measure.Length
	for _, j := range w.waysAt(k) {
		var err error
		if options, err = w.tryPulls(k, j, c, options); err != nil {
			if slip := options[len(options)-1].facts.Slip(); refused == nil || slip > most {
				refused, most = err, slip // of several refusals the one where most moves says it best
			}
		}
	}
	if refused != nil {
		var wrong fault.List
		wrong.Add("", refused)
		if w.corners[k].Glue {
			wrong.Add("", w.refuseGlue(k, options))
		}
		return false, wrong.Err()
	}
	least, err := w.costOptions(c, k, options)
	if err != nil {
		return false, err
	}
	return w.chooseOf(c, k, options, least, before, keep)
}

// chooseOf chooses corner k from candidates that are reckoned, the cheapest of which the top costs least with.
func (w *work) chooseOf(c *chosen, k int, options []*option, least money.Amount, before *option, keep bool) (changed bool, err error) {
	w.rivals = append(w.rivals[:0], options...)
	options = bestPulls(options, before)
	if w.fromEnd { // answers list the ways in one order
		slices.SortStableFunc(options,
			func(a, b *option) int { return slices.Index(ways, a.Joint) - slices.Index(ways, b.Joint) })
	}
	best := w.best(k, options)
	if keep {
		for i := range options {
			if options[i].Joint == c.joints[k] && options[i].Feasible {
				best = i
			}
		}
	}
	switch {
	case w.corners[k].Glue:
		w.judge(options, least)
		return false, w.refuseGlue(k, options)
	case best < 0 && options[0].unlaid != nil:
		return false, fault.At("/top", options[0].unlaid) // not even a miter, which asks for the least room
	case best < 0:
		w.judge(options, least)
		return false, w.refuse(k, options)
	}
	changed = !options[best].madeAs(c.options[k])
	if w.walk == nil || len(w.corners) > 1 { // else it may be chosen from them again
		w.tried.giveBack(w.rivals, options)
	}
	w.tried.giveBack(c.at(k), nil)
	r := &c.rivals[k]
	r.options, r.best, r.least = append(r.options[:0], options...), best, least
	c.joints[k], c.options[k] = options[best].Joint, options[best]
	return changed, nil
}

// best is the index of the feasible candidate with the best score among those that the caller's wish allows, or −1.
func (w *work) best(k int, options []*option) int {
	best := -1
	for _, j := range w.waysAt(k) {
		for i, o := range options {
			if o.Joint == j && o.Feasible && w.wished(k, o.Joint) && (best < 0 || o.beats(options[best])) {
				best = i
			}
		}
	}
	return best
}

// beats reports whether a feasible candidate is better than another one: by its score, then by its cost. An equal one
// that came earlier stays.
func (o *option) beats(other *option) bool {
	return o.Score > other.Score || o.Score == other.Score && o.Cost.Cmp(other.Cost) < 0
}

// wished reports whether the caller's wish for corner k allows a joint.
func (w *work) wished(k int, j plan.Joint) bool {
	c := &w.corners[k]
	if c.inLine != nil {
		return j.Kind.InLine()
	}
	if c.Joint != AutoJoint && string(c.Joint) != string(j.Kind) {
		return false
	}
	return j.Through == plan.NoSide || c.Through == ThroughAuto || string(c.Through) == string(j.Through)
}
