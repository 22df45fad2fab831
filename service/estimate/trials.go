package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// trials remember the candidates that were tried for a chain. A candidate depends on its own two pieces and on how long the runs are that
// they are parts of, so that the same one is met again when joints further away are tried in another way.
type trials struct {
	list []*trial
	used int
	off  bool // nothing is remembered: the plain twin that answers are held against
}

// trial is a candidate as it was tried, before anything was reckoned of the whole top with it.
type trial struct {
	tried
	inSketch bool
	sketched bool // in a sketch, without hardware, as it is excluded anyway
	made     option
}

// tried is all that a candidate depends on.
type tried struct {
	corner int
	joint  plan.Joint
	lines  lines
	pull   catalogue.FastenerKind
	pieces [2]int            // their numbers
	legs   [2]measure.Length // how long the two runs are
	toPass bool              // it is asked whether its pieces pass the way, which a sketch leaves out
}

// mostTrials is how many are kept for the next top; a long chain has more.
const mostTrials = 256

func (t *trials) clear() { t.list, t.used = t.list[:min(len(t.list), mostTrials)], 0 }

// triedAs is what a candidate of corner k that can be laid out depends on.
func (w *work) triedAs(o *option, k int, pull catalogue.FastenerKind) tried {
	l := o.layout
	return tried{k, o.Joint, lines{o.Movement.FirstLine, o.Movement.SecondLine}, pull, [2]int{l.Drawn(k), l.Drawn(k + 1)},
		[2]measure.Length{w.legLength(k, l), w.legLength(k+1, l)}, w.passable != nil && !w.sketching}
}

// recall makes a candidate what it was when it was tried before; false when it was not. A sketch does with less of one that is excluded,
// and what it does without counts in what its neighbours cost there: that is not taken for the whole, nor the whole for that.
func (t *trials) recall(o *option, as *tried, sketching bool) bool {
	for n, known := range t.list[:t.used] {
		if known.pieces == as.pieces && known.tried == *as && known.serves(sketching) {
			layout := o.layout
			*o = known.made
			if o.facts.Hardware != nil {
				o.facts.Hardware = &o.Hardware
			}
			o.layout, o.trial = layout, n+1
			return true
		}
	}
	return false
}

// serves reports whether a trial is what it would be now, in a sketch or out of one.
func (t *trial) serves(sketching bool) bool {
	return t.inSketch == sketching || !t.sketched && (!sketching || t.made.Feasible)
}

// note remembers a candidate.
func (t *trials) note(o *option, as *tried, sketching, sketched bool) {
	if t.used == len(t.list) {
		t.list = append(t.list, new(trial))
	}
	*t.list[t.used] = trial{*as, sketching, sketched, *o}
	t.used++
	o.trial = t.used
}

// whole remembers what whole chains cost. That depends on all candidates of the chain, on nothing else, and comes again when one corner
// after the other is held against its rivals.
type whole struct{ known []wholeCost }

func (c *whole) clear() { c.known = c.known[:0] }

type wholeCost struct {
	made  madeOf
	cost  money.Amount
	hours float64

	remedy   Remedy
	remedies []RemedyCost
}

// madeOf is what a chain is made of.
type madeOf struct {
	layout    *plan.Layout
	corner    int8 // at which remedies are compared; −1: at none, so that it does not matter which is the candidate
	sketching bool
	at        [MostPieces - 1]as
}

// as is a candidate of a chain: which trial, with which lines by now, and a butt with which remedy.
type as struct {
	trial  int16
	lines  [2]int8
	remedy int8
}

// madeOf is what a chain is made of; ok is false when it is not of trials alone.
func (w *work) madeOf(o *option, parts []*option, k int) (m madeOf, ok bool) {
	m.layout, m.corner, m.sketching = o.layout, -1, w.sketching
	if o.needsRemedy() {
		m.corner = int8(k)
	}
	for i, p := range parts {
		if p.trial == 0 {
			return m, false
		}
		m.at[i] = as{int16(p.trial), [2]int8{lineNumber(p.Movement.FirstLine), lineNumber(p.Movement.SecondLine)}, remedyNumber(p.Remedy)}
	}
	return m, true
}

// recall is what a chain costs that was reckoned before; false when it was not.
func (c *whole) recall(o *option, m *madeOf) bool {
	for i := range c.known {
		if known := &c.known[i]; known.made == *m {
			o.Cost, o.LabourHours = known.cost, known.hours
			if known.remedies != nil {
				o.Remedies, o.Remedy, o.facts.Remedy = known.remedies, known.remedy, remedyWords[known.remedy]
			}
			return true
		}
	}
	return false
}

func (c *whole) note(o *option, m *madeOf) {
	c.known = append(c.known, wholeCost{*m, o.Cost, o.LabourHours, o.Remedy, o.Remedies})
}

// lineNumber and remedyNumber are the places of a line and of a remedy among all.
func lineNumber(line hardware.Hold) int8 {
	switch line {
	case hardware.HoldFront:
		return 1
	case hardware.HoldCentre:
		return 2
	case hardware.HoldBack:
		return 3
	}
	return 0
}

func remedyNumber(remedy Remedy) int8 {
	for i := range remedies {
		if remedies[i] == remedy {
			return int8(i + 1)
		}
	}
	return 0
}
