package estimate

import (
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/support"
)

// sought is what was found to lack under a run, by all that it depends on: an order's runs are looked at again when the top is made
// once more of other staves or of more pieces, or is carried otherwise.
type sought struct {
	cat           *catalogue.Snapshot
	add           AddSupport
	parts         []base.Part // that stand there
	holes         []base.Hole
	from, to      measure.Length
	edge          [2]measure.Length
	depth         measure.Length
	seams         [2]bool
	thickness     measure.Length
	loads         Loads
	own           measure.Pressure
	spread        float64
	along, across strength

	props []Props // that were added, without their run and text
	added []base.Part
}

// strength is what a wood's strips depend on.
type strength struct{ stiffness, strength measure.Pressure }

func strengthOf(w *support.Wood) strength { return strength{w.Stiffness, w.Strength} }

// same reports whether the same is looked for.
func (s *sought) same(o *sought) bool {
	return s.cat == o.cat && s.add == o.add && s.from == o.from && s.to == o.to && s.edge == o.edge && s.depth == o.depth && s.seams == o.seams &&
		s.thickness == o.thickness && s.loads == o.loads && s.own == o.own && s.spread == o.spread && s.along == o.along && s.across == o.across &&
		slices.Equal(s.parts, o.parts) && slices.Equal(s.holes, o.holes)
}

// recall adds what was found to lack under run i; false where it was not looked for yet.
func (w *work) recall(i int, of *sought) bool {
	for k := range w.bends.sought {
		known := &w.bends.sought[k]
		if !known.same(of) {
			continue
		}
		w.base.parts[i] = append(w.base.parts[i], known.added...)
		for _, p := range known.props {
			p.Run = w.runs[i].Name
			p.Text = w.propsText(&p)
			w.supplied(p)
		}
		return true
	}
	return false
}

// note remembers what was found to lack.
func (b *bends) note(of *sought, props []Props, added []base.Part) {
	of.parts, of.holes = slices.Clone(of.parts), slices.Clone(of.holes)
	of.props, of.added = slices.Clone(props), slices.Clone(added)
	b.sought = append(b.sought, *of)
}
