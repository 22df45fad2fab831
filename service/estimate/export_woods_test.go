package estimate

import (
	"fmt"
	"reflect"

	"seamwright/service/base"
	"seamwright/service/measure"
	"seamwright/service/support"
)

// HoldWoods asks of every wood of the catalogue, in several thicknesses, whether it carries an order's top on its base, and holds the
// answers, which remember woods and the strip that failed last, against those that look at every strip anew.
func HoldWoods(m *Maker, order Order) (held, failed int, wrong string) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, 0, err.Error()
	}
	_, l := w.frontEdges()
	holds := w.holdsOn(l)
	for k := range w.cat.Species {
		s := &w.cat.Species[k]
		for i := range w.runs {
			w.runs[i].species = s
		}
		along, across, err := bentWood(s, w.runs[0].Sawn)
		known := w.woods.of(s, w.runs[0].Sawn)
		if known.found != (err == nil) || known.found && !reflect.DeepEqual([]support.Wood{known.along, known.across}, []support.Wood{along, across}) {
			return held, failed, s.Code + " bends otherwise"
		}
		for _, thickness := range []measure.Length{12, 25, 38, 60, 100} {
			w.order.Top.Thickness = thickness
			got, want := holds(), w.plainlyHolds()
			if got != want {
				return held, failed, fmt.Sprintf("%s of %v: %v, strip by strip %v", s.Code, thickness, got, want)
			}
			if got {
				held++
			} else {
				failed++
			}
		}
	}
	return held, failed, ""
}

// plainlyHolds reports whether every strip holds, on lines and strips made anew.
func (w *work) plainlyHolds() bool {
	edges, l := w.frontEdges()
	all := true
	for i := range w.runs {
		if !w.toldBase(i) {
			continue
		}
		if w.resolveBent(i) != nil {
			return false
		}
		from, to := measure.Length(0), w.runs[i].Length
		if l != nil {
			from, to = l.Span(i, w.runs[i].Depth/2)
		}
		line, slab := w.lay(i, from, to, edges[i]), w.stripsOn(i)
		all = w.bears(i, line.StripsIn(new(base.Memory), &slab)) && all
	}
	return all
}

// Spare is by how much the piece of an order of one run could be longer for the longest wood on sale.
func Spare(m *Maker, order Order) (measure.Length, error) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, err
	}
	return w.spareWood(0, w.someLayout()), nil
}

// LeastLayers is as few layers as there is stock for.
func LeastLayers(m *Maker, order Order) (int, error) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, err
	}
	return w.leastLayers(), nil
}
