package estimate

import (
	"slices"

	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// onSale is the least thickness, of those that are not less than one, for which the woods of all runs can be bought: in one
// layer, or in as many as the order leaves open. Boards are planed to any thickness that they leave; ready-made panels have theirs.
func (w *work) onSale(least measure.Length) (measure.Length, bool) {
	from := 1
	if w.order.Top.Build != "" {
		from = 2
	}
	sizes := []measure.Length{least}
	if w.order.Top.Construction == Panel {
		sizes = w.panelSizes(least, from)
	}
	for _, thickness := range sizes {
		for layers := from; layers <= mostLayers && thickness <= GreatestThickness; layers++ {
			if w.haveStock(thickness / measure.Length(layers)) {
				return thickness, true
			}
		}
	}
	return 0, false
}

// panelSizes are the thicknesses that panels of the first run's wood make in layers, from one on, the least first.
func (w *work) panelSizes(least measure.Length, from int) (list []measure.Length) {
	for _, m := range w.cat.PanelsOf(w.runs[0].Run.Species) {
		for layers := from; layers <= mostLayers; layers++ {
			if t := m.Panel.Thickness * measure.Length(layers); t > least || t.Near(least) {
				list = append(list, t)
			}
		}
	}
	slices.Sort(list)
	return list
}

// haveStock reports whether the woods of all runs are on sale for layers of a thickness.
func (w *work) haveStock(layer measure.Length) bool {
	t, day := &w.order.Top, w.order.Pricing.AsOf
	for i := range w.runs {
		r := &w.runs[i]
		var err error
		if t.Construction == Panel {
			_, err = takeoff.PickPanels(w.cat, r.Run.Species, r.Sawn, layer, w.blankDepth(i), t.Staves == FingerJointed, day, w.units)
		} else {
			_, err = takeoff.PickLumber(w.cat, r.Run.Species, r.Sawn, layer, day, w.units)
		}
		if err != nil {
			return false
		}
	}
	return true
}
