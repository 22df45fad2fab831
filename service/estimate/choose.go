package estimate

import (
	"slices"

	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// How often the corners are gone through until nothing changes. Corners influence each other only through lengths of pieces and the packs
// that their parts are bought in, so two rounds nearly always do. After freeRounds each keeps its joint and its kind of pull parts, so that
// the rounds behind them settle what the others cost with it.
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

// chooseCorners works out every candidate at every corner and chooses. A run between two corners has one fixed line for both: the
// front, or the back when one of its corners is a reflex one, where a through run's seam is its wall edge; the chain with the best total
// is taken. Of two equal ones the cheaper, then the one found earlier; as the corners are gone through from the same physical end
// whichever way the chain was given, the answer does not depend on that.
func (w *work) chooseCorners() (*chosen, error) {
	n := len(w.corners)
	if n > 0 && w.chooser == nil {
		w.chooser = hardware.NewChooser(w.cat)
	}
	w.fromEnd = w.endFirst()
	shared := make([]hardware.Hold, n+1)
	for i := range shared {
		if shared[i] = w.order.Top.Fixing.FixedLine; shared[i] == hardware.HoldAuto {
			shared[i] = hardware.HoldFront
		}
	}
	best, err := w.chooseChain(shared)
	free := w.freeLines()
	for set := 1; set < 1<<len(free); set++ { // bit i: the i-th of those runs is held at its back
		lines := slices.Clone(shared)
		for i, run := range free {
			if set>>i&1 == 1 {
				lines[run] = hardware.HoldBack
			}
		}
		if c, e := w.chooseChain(lines); e == nil {
			best, err = w.betterOf(c, best), nil
		}
	}
	if err != nil {
		return nil, err
	}
	w.tell(best)
	return best, nil
}

// freeLines are the runs between two corners that may be held at their back, in the order of the chain: those beside a reflex corner, if the
// caller leaves the line open.
func (w *work) freeLines() (runs []int) {
	if w.order.Top.Fixing.FixedLine != hardware.HoldAuto {
		return nil
	}
	for step := 1; step < len(w.corners); step++ {
		i := w.corner(step-1) + 1 // the run behind the corner in the order of the chain
		if w.fromEnd {
			i--
		}
		if w.corners[i-1].angle > 180*measure.Degree || w.corners[i].angle > 180*measure.Degree {
			runs = append(runs, i)
		}
	}
	return runs
}

// chooseChain chooses with the fixed lines of the runs between two corners settled. Of two corners every pair of joints is reckoned, so
// that the best total is found. Of more each is chosen with the others as they are, until nothing changes, from as many beginnings as
// there are ways to make a corner: the same way at all of them.
func (w *work) chooseChain(shared []hardware.Hold) (best *chosen, err error) {
	n := len(w.corners)
	if n < 2 {
		return w.chooseWith(shared, nil, false)
	}
	joints := make([]plan.Joint, n)
	for a := range ways {
		for b := range ways {
			for k := range joints {
				joints[k] = w.way(a)
			}
			joints[w.corner(n-1)] = w.way(b)
			if n > 2 && a != b || !w.mayBegin(joints) {
				continue
			}
			reckon := w.reckonChain
			if n > 2 {
				reckon = w.chooseFrom
			}
			if c, e := reckon(shared, joints); e == nil && c != nil {
				best = w.betterOf(c, best)
			}
		}
	}
	if best == nil {
		return w.chooseWith(shared, nil, false) // what it takes exception to is told from the plainest beginning
	}
	if n == 2 {
		w.forget(best)
		return w.chooseWith(shared, best.joints, true)
	}
	return best, nil
}

// chooseFrom is chooseWith from given joints, which need not stay.
func (w *work) chooseFrom(shared []hardware.Hold, begin []plan.Joint) (*chosen, error) {
	return w.chooseWith(shared, begin, false)
}

// betterOf keeps the better one of two chains, the other of which may be nil, and gives the candidates of the other back.
func (w *work) betterOf(c, other *chosen) *chosen {
	if other != nil && !w.better(c, other) {
		c, other = other, c
	}
	if other != nil {
		w.forget(other)
	}
	return c
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

// reckonChain reckons a chain with its joints given, at each corner with the better kind of pull parts; nil when one of them is excluded.
func (w *work) reckonChain(shared []hardware.Hold, joints []plan.Joint) (*chosen, error) {
	n := len(joints)
	c := &chosen{options: make([]*option, n), joints: slices.Clone(joints), shared: shared}
	if err := w.start(c, joints); err != nil {
		return nil, err
	}
	for step := range n {
		k := w.corner(step)
		var store [2]*option
		options, err := w.tryPulls(k, joints[k], c, store[:0])
		if err != nil {
			return nil, err
		}
		if _, err = w.costOptions(c, k, options); err != nil {
			return nil, err
		}
		w.rivals = append(w.rivals[:0], options...)
		before := c.options[k]
		c.options[k] = bestPulls(options, nil)[0]
		w.tried.giveBack(append(w.rivals, before), c.options[k:k+1])
		if !c.options[k].Feasible {
			w.forget(c)
			return nil, nil
		}
		c.whole = c.options[k].Cost
	}
	return c, nil
}

// mayBegin reports whether a chain of joints can be laid out and is none that the caller has ruled out.
func (w *work) mayBegin(joints []plan.Joint) bool {
	for k := range joints {
		if !w.wished(k, joints[k]) {
			return false
		}
	}
	w.joints = append(w.joints[:0], joints...)
	_, err := w.layouts.lay(w)
	return err == nil
}

// better reports whether a chosen chain beats another: by its total, then by its cost.
func (w *work) better(c, other *chosen) bool {
	a, b := c.cost(), other.cost()
	least := a
	if b.Cmp(a) < 0 {
		least = b
	}
	total, rival := c.points()+joint.CostPoints(w.set, a.Float(), least.Float()), other.points()+joint.CostPoints(w.set, b.Float(), least.Float())
	return total > rival || total == rival && a.Cmp(b) < 0
}

// points are the chosen joints' findings together, but for those about cost: what the whole costs is one sum for the chain.
func (c *chosen) points() (sum int) {
	for _, o := range c.options {
		sum += o.points
	}
	return sum
}

// cost is what the whole top costs, as last reckoned.
func (c *chosen) cost() money.Amount { return c.whole }

// chooseWith chooses with the fixed lines of the runs between two corners settled. Each corner is judged with the others as chosen so
// far, until nothing changes. It begins with the joints given, nil: with miters; with keep it stays with them.
func (w *work) chooseWith(shared []hardware.Hold, begin []plan.Joint, keep bool) (*chosen, error) {
	n := len(w.corners)
	c := &chosen{corners: make([]CornerResult, n), options: make([]*option, n), joints: make([]plan.Joint, n), shared: shared, rivals: make([]rivals, n)}
	if err := w.start(c, begin); err != nil {
		return nil, err
	}
	for round := range mostRounds {
		changed := false
		var wrong fault.List
		for step := range n {
			k := w.corner(step)
			otherwise, err := w.chooseCorner(c, k, keep || round >= freeRounds, round >= freeRounds)
			addOnce(&wrong, err)
			changed = changed || otherwise
		}
		if err := wrong.Err(); err != nil {
			w.forget(c)
			return nil, err // what is wrong at one corner does not hide what is wrong at another
		}
		if !changed || n == 1 {
			break
		}
	}
	if n > 0 {
		last := c.options[w.corner(n-1)]
		c.layout, c.whole = last.layout, last.Cost // tried with the other corners as they were chosen
	}
	return c, nil
}

// madeAs reports whether two candidates of a corner are made in the same way, so that whichever of them stands there the other corners cost
// the same: joint, remedy and parts.
func (o *option) madeAs(other *option) bool {
	if other == nil || o.Joint != other.Joint || o.Remedy != other.Remedy || o.Feasible != other.Feasible {
		return false
	}
	a, b := &o.Hardware, &other.Hardware
	if a.Alignment.Item != b.Alignment.Item || a.Alignment.Count != b.Alignment.Count || len(a.Pull.Groups) != len(b.Pull.Groups) {
		return false
	}
	for i := range a.Pull.Groups {
		if a.Pull.Groups[i].Item != b.Pull.Groups[i].Item || a.Pull.Groups[i].Count != b.Pull.Groups[i].Count {
			return false
		}
	}
	return true
}

// start takes the joints given, nil: a miter at every corner, to see whether the top can be laid out at all and to have something to
// reckon the other corners with.
func (w *work) start(c *chosen, begin []plan.Joint) error {
	for k := range c.joints {
		c.joints[k] = plan.Joint{Kind: plan.Miter}
	}
	copy(c.joints, begin)
	if len(c.joints) == 1 {
		return nil // nothing else to reckon with; whether it can be laid out is seen when it is tried
	}
	layout, err := w.drafter.Lay(&w.top, c.joints, w.profile, w.set.MasonsMargin)
	if err != nil {
		return fault.At("/top", err)
	}
	c.layout = layout
	for k := range c.joints {
		c.options[k], _ = w.tryLines(k, c.joints[k], c, w.corners[k].Pull) // a refusal comes again, with those of the other corners, when the corner is chosen
	}
	return nil
}

// chooseCorner works out the candidates of corner k and chooses the best that the caller's wish allows; with keep, the joint
// chosen before stays, with keepPull the kind of its pull parts as well. It tells whether the corner is made otherwise than before.
func (w *work) chooseCorner(c *chosen, k int, keep, keepPull bool) (changed bool, err error) {
	var before *option
	if keepPull {
		before = c.options[k]
	}
	var store [2 * usualWays]*option
	options := store[:0]
	var refused error
	var most measure.Length
	for a := range ways {
		j := w.way(a)
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
	w.rivals = append(w.rivals[:0], options...)
	options = bestPulls(options, before)
	if w.fromEnd { // answers list the ways in one order
		slices.SortStableFunc(options, func(a, b *option) int { return slices.Index(ways, a.Joint) - slices.Index(ways, b.Joint) })
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
	w.tried.giveBack(w.rivals, options)
	w.tried.giveBack(c.at(k), nil)
	r := &c.rivals[k]
	r.options, r.best, r.least = append(r.options[:0], options...), best, least
	c.joints[k], c.options[k] = options[best].Joint, options[best]
	return changed, nil
}

// best is the index of the feasible candidate with the best score among those that the caller's wish allows, or −1.
func (w *work) best(k int, options []*option) int {
	best := -1
	for a := range ways {
		for i, o := range options {
			if o.Joint == w.way(a) && o.Feasible && w.wished(k, o.Joint) && (best < 0 || o.beats(options[best])) {
				best = i
			}
		}
	}
	return best
}

// beats reports whether a feasible candidate is better than another one: by its score, then by its cost. An equal one that came
// earlier stays.
func (o *option) beats(other *option) bool {
	return o.Score > other.Score || o.Score == other.Score && o.Cost.Cmp(other.Cost) < 0
}

// wished reports whether the caller's wish for corner k allows a joint.
func (w *work) wished(k int, j plan.Joint) bool {
	c := &w.corners[k]
	if c.Joint != AutoJoint && string(c.Joint) != string(j.Kind) {
		return false
	}
	return j.Through == plan.NoSide || c.Through == ThroughAuto || string(c.Through) == string(j.Through)
}
