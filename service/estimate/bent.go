package estimate

import (
	"seamwright/service/measure"
	"seamwright/service/support"
)

// bends remembers what loads do to the strips of one order. The same strips are asked for again and again: while supports are
// looked for, when the top is made once more of other staves or of more pieces, when it is told.
type bends struct {
	known map[bend]support.Verdict
	set   support.Rules

	sought []sought
	years  []knownYear

	asked  int // strips
	solved int // the squares of the spans of those that were worked out: a load in each span acts on all of them
}

// mostSpans is the most spans of a strip that is remembered.
const mostSpans = 8

// mostBent is how many strips a maker keeps the memory of for the next order.
const mostBent = 1000

// bend is a strip by all that its verdict depends on.
type bend struct {
	section             support.Section
	stiffness, strength measure.Pressure
	kind                support.Kind
	lengths             [mostSpans]measure.Length
	count               int
	back                measure.Length
	load                support.Load
}

// clear forgets all strips.
func (b *bends) clear() {
	if len(b.known) > mostBent {
		b.known = nil
	}
	clear(b.known)
	clear(b.sought)
	clear(b.years)
	b.sought, b.years = b.sought[:0], b.years[:0]
	b.asked, b.solved = 0, 0
}

// glance counts a single span that is looked at without being told.
func (b *bends) glance() {
	b.asked++
	b.solved++
}

// holds is Holds of a strip.
func (b *bends) holds(beam *support.Beam, rules *support.Rules) bool {
	holds, looked := beam.Holds(rules)
	b.asked++
	b.solved += looked
	return holds
}

// assess is support.Assess.
func (b *bends) assess(beam support.Beam, rules support.Rules) support.Verdict {
	spans := len(beam.Lengths)
	b.asked++
	if spans < 2 || spans > mostSpans {
		b.solved += spans * spans
		return support.Assess(beam, rules) // a single span is told by a formula
	}
	if b.known == nil || b.set != rules {
		b.known, b.set = map[bend]support.Verdict{}, rules
	}
	k := bend{section: beam.Section, stiffness: beam.Wood.Stiffness, strength: beam.Wood.Strength, kind: beam.Kind,
		back: beam.Back, load: beam.Load}
	k.count = copy(k.lengths[:], beam.Lengths)
	v, ok := b.known[k]
	if !ok {
		v = support.Assess(beam, rules)
		b.solved += spans * spans
		b.known[k] = v
	}
	return v
}
