package estimate

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/passage"
	"seamwright/service/plan"
)

// stopping is what was made of an order: an estimate, or a comparison of its corners.
type stopping interface {
	stopped() bool // a piece does not pass the way to its place
	undivided()    // it is not made of pieces as these could not be made
}

// stopped reports whether a piece of a top does not pass the way to its place.
func (e *Estimate) stopped() bool {
	if e == nil || e.Carrying == nil {
		return false
	}
	for i := range e.Carrying.Pieces {
		if !e.Carrying.Pieces[i].Passes {
			return true
		}
	}
	return false
}

func (c *Comparison) stopped() bool { return c != nil && c.stops }

// doesNotPass is the code of the warning of a piece that does not pass the way.
const doesNotPass = "piece_does_not_pass"

// orderInParts is what is said of a piece that does not pass; cannotBeDivided is said instead where the straight seams that were proposed
// for it cannot be made.
const (
	orderInParts    = " The estimate is that of the whole piece: order it in parts, or find another way in."
	cannotBeDivided = " The estimate is that of the whole piece: divided by straight seams it cannot be made as it is told, so find another way in, or change the run."
)

// splitAdvice is where a piece would be split.
var splitAdvice = regexp.MustCompile(` Split it at .*? from its start\.`)

func (e *Estimate) undivided() {
	for i := range e.Warnings {
		if w := &e.Warnings[i]; w.Code == doesNotPass {
			w.Text = strings.Replace(splitAdvice.ReplaceAllString(w.Text, ""), orderInParts, cannotBeDivided, 1)
		}
	}
	if c := e.Carrying; c.Advice == CarrySplit {
		c.Advice, c.Text = CarryCannot, splitAdvice.ReplaceAllString(c.Text, "")
		for i := range c.Pieces {
			c.Pieces[i].Splits = nil
		}
	}
}

func (c *Comparison) undivided() {} // it tells nothing of the way

// divided makes an order; where a piece does not pass the way, or is longer than the wood on sale, with runs made of pieces:
// first of those that are too long whichever joints are at their ends, then of all that are as the longest joints have them.
//
// Common practice: a seam that is not there is the best one.
func divided[T stopping](ctx context.Context, m *Maker, order *Order, try func(seams [][]inLine, see foreseen) (T, error)) (T, error) {
	seams := seamsNamed(&order.Top)
	pieces := order.Top.StraightJoints != StraightForbid
	made, err := try(seams, foreseen{wood: pieces, way: pieces})
	seen := errors.Is(err, errWay) || errors.Is(err, errWood) // before it was made
	var last proposed[T]
	propose := func(short, sure bool) bool {
		more, any := m.propose(order, seams, short, sure)
		if any && !last.is(more) {
			last.seams = more
			last.made, last.err = try(more, foreseen{proposed: true})
		}
		return any && last.err == nil
	}
	surely := func(short bool) (T, bool) {
		found := propose(short, true) && !last.made.stopped()
		return last.made, found
	}
	maybe := func(short bool) (T, bool) {
		found := propose(short, false)
		return last.made, found
	}
	if seen {
		if other, found := surely(errors.Is(err, errWood)); found {
			return other, nil
		}
		if errors.Is(err, errWood) { // whole it is refused for certain: that is told only where nothing else can be made
			if other, found := maybe(true); found {
				return other, nil
			}
			return try(seams, foreseen{})
		}
		if more, any := m.propose(order, seams, false, false); any && last.err == nil && last.is(more) {
			return last.made, nil // it stops where it may not be divided any more, and whole it stops as well
		}
		made, err = try(seams, foreseen{})
	}
	short := err != nil && m.bench.lacksWood
	if ctx.Err() != nil || order.Top.StraightJoints == StraightForbid || !short && !made.stopped() {
		return made, err
	}
	if m.mayMake() && !seen {
		if other, found := surely(short); found {
			return other, nil
		}
	}
	if other, found := maybe(short); found {
		return other, nil
	}
	if err == nil && last.err != nil {
		made.undivided()
	}
	return made, err
}

// proposed is what was made of the straight seams that were proposed last.
type proposed[T any] struct {
	seams [][]inLine
	made  T
	err   error
}

// is reports whether these seams were.
func (p *proposed[T]) is(seams [][]inLine) bool {
	return slices.EqualFunc(p.seams, seams, func(a, b []inLine) bool { return slices.Equal(a, b) })
}

// chooseToPass chooses corners so that all pieces pass the way, as a seam that is not there is the best one; nil where none
// can be.
//
// Common practice.
func (w *work) chooseToPass() *chosen {
	w.passable = w.longestToPass()
	if !w.short() {
		if len(w.corners) > 1 {
			if c := w.chooseSketched(); c != nil && !w.stopsAt(c.layout) {
				return c
			}
		} else if c := w.chooseAgain(); c != nil {
			return c
		}
	}
	w.passable = nil
	return nil
}

// chooseAgain chooses the one corner of a top from the candidates that it was chosen from last, but for those whose pieces do not pass
// the way: these are tried anew, and are excluded. Nil where none can be made that the caller's wish allows. It chooses as chooseWith does.
func (w *work) chooseAgain() *chosen {
	lines := w.frontLines()
	c := &chosen{corners: make([]CornerResult, 1), options: make([]*option, 1), joints: []plan.Joint{w.jointAt(0, plan.Joint{Kind: plan.Miter})},
		shared: lines, rivals: make([]rivals, 1)}
	var store [2 * usualWays]*option
	options, again := store[:0], false
	for _, o := range w.rivals {
		if o.facts.NoWood != "" || w.trials.off {
			c, err := w.chooseWith(lines, nil, false)
			if err != nil {
				return nil
			}
			return c
		}
		again = again || o.Feasible && w.wished(0, o.Joint) && w.stoppedWith(0, o.layout) == ""
	}
	if !again {
		return nil
	}
	for n, o := range w.rivals {
		var err error
		switch stopped := o.layout != nil && w.stoppedWith(0, o.layout) != ""; {
		case !stopped:
			options = append(options, o)
		case n == 0 || w.rivals[n-1].Joint != o.Joint:
			if options, err = w.tryPulls(0, o.Joint, c, options); err != nil {
				return nil
			}
		}
	}
	least := leastOf(options)
	for _, o := range options {
		if o.OtherPull = (PullKind{}); o.Feasible {
			o.Score = w.set.PointsBase + o.points + joint.CostPoints(w.set, o.Cost.Float(), least.Float())
		}
	}
	if _, err := w.chooseOf(c, 0, options, least, nil, false); err != nil {
		return nil
	}
	c.layout, c.whole = c.options[0].layout, c.options[0].Cost
	return c
}

// leastOf is what the cheapest of the candidates that can be made costs.
func leastOf(options []*option) (least money.Amount) {
	any := false
	for _, o := range options {
		if o.Feasible && (!any || o.Cost.Cmp(least) < 0) {
			least, any = o.Cost, true
		}
	}
	return least
}

// longestToPass is the longest piece of each run's depth that passes the way.
func (w *work) longestToPass() []measure.Length {
	longest := make([]measure.Length, len(w.runs))
	for i := range w.runs {
		longest[i] = w.walk.Longest(w.blankDepth(i), w.order.Top.Thickness)
	}
	return longest
}

// spareWay is by how much run i's piece could be longer for the way; negative: it does not pass.
func (w *work) spareWay(i int, l *plan.Layout) measure.Length {
	spare := w.passable[i] - w.shapeOf(i, l).long
	if spare < 0 && spare > -passage.Touching {
		return 0
	}
	return spare
}

// stoppedWith says which piece at corner k does not pass the way as a layout has it; empty where both do, or where joints
// are not chosen by it. While a chain is sketched, its pieces are looked at when all of its joints are known.
func (w *work) stoppedWith(k int, l *plan.Layout) string {
	if w.passable == nil || w.sketching {
		return ""
	}
	return w.tooLongForTheWay(k, l)
}

// tooLongForTheWay says which piece at corner k is longer than what passes the way; empty where neither is.
func (w *work) tooLongForTheWay(k int, l *plan.Layout) string {
	for i := k; i <= k+1; i++ {
		if w.spareWay(i, l) >= 0 {
			continue
		}
		return fmt.Sprintf("Run %s's piece would be %s long, and at most %s passes the way.",
			w.runs[i].Name, w.phraseUp(w.shapeOf(i, l).long), w.phraseDown(w.passable[i]))
	}
	return ""
}

// tellDivided says of candidates that can be made where their pieces do not pass the way, though those of the chosen one do: such a joint
// is not the one chosen from, but what it costs counts its pieces whole, and asked for it would be made with a piece divided.
func (w *work) tellDivided(k int, r *rivals) {
	if w.walk == nil || w.passable != nil {
		return
	}
	w.passable = w.longestToPass()
	for _, o := range r.options {
		if o.Feasible && o != r.options[r.best] {
			if o.facts.Divided = w.tooLongForTheWay(k, o.layout); o.facts.Divided != "" && w.order.Top.StraightJoints != StraightForbid {
				o.facts.Divided += " Asked for, the joint is made with it divided."
			}
		}
	}
	w.passable = nil
}

// stopsAt reports whether a piece of a layout does not pass the way.
func (w *work) stopsAt(l *plan.Layout) bool {
	if w.walk == nil {
		return false
	}
	for i := range w.runs {
		if !w.walk.Passes(w.carriedBox(i, l)) {
			return true
		}
	}
	return false
}
