package estimate

import (
	"fmt"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/takeoff"
	"seamwright/service/wood"
)

// mostLayers is how many layers a slab may be glued up from in its thickness. Common practice: two.
const mostLayers = 4

// checkBuild refuses layers whose grain crosses, with the stress that they would bring.
func (w *work) checkBuild() error {
	if w.order.Top.Build != CrossLaminated {
		return nil
	}
	text := "Layers whose grain crosses hold each other back: across the grain a layer wants to move, along it the next one does not, so that the slab cups or splits. "
	for i := range w.runs {
		r := &w.runs[i]
		strain := max(magnitude(measure.Length(r.move.DryStrain)), magnitude(measure.Length(r.move.HumidStrain)))
		stress, known := wood.CrossedStress(r.species, r.Sawn, float64(strain))
		if !known || strain == 0 {
			continue
		}
		text += fmt.Sprintf("In run %s that is about %s across the grain if it could not creep", r.Name, w.stress(stress))
		if strength := r.species.TensionAcross; strength.Known {
			text += fmt.Sprintf(", against a strength of %s", w.stress(measure.Pressure(strength.Value)))
		}
		text += ". An indication only. "
		break
	}
	w.cite(source.WoodElastic, source.WoodStrength)
	return impossible("/top/build", text[:len(text)-1], `Ask for "laminated": all layers with their grain the same way move together.`)
}

// onlyThickness reports whether no thickness of stock is all that is wrong with the wood.
func onlyThickness(err error) bool {
	for _, f := range fault.All(err) {
		if f.Pointer != "/top/thickness" {
			return false
		}
	}
	return err != nil
}

// leastLayers is as few layers as there is stock for; the most where there is none.
func (w *work) leastLayers() int {
	for n := 2; n < mostLayers; n++ {
		ok := true
		for i := range w.runs {
			_, err := takeoff.PickLumber(w.cat, w.runs[i].Run.Species, w.runs[i].Sawn, w.order.Top.Thickness/measure.Length(n), w.order.Pricing.AsOf, w.units)
			ok = ok && err == nil
		}
		if ok {
			return n
		}
	}
	return mostLayers
}

// laminate picks the wood for slabs of layers that are glued on each other: as few as there is stock for. thin is why no
// stock is thick enough; nil where layers were asked for.
//
// Common practice.
func (w *work) laminate(thin error) error {
	t := &w.order.Top
	var err error
	for n := 2; n <= mostLayers; n++ {
		w.layers = n
		if err = w.pickWood(t.Thickness / measure.Length(n)); err == nil || !onlyThickness(err) {
			break
		}
	}
	if err != nil {
		w.layers = 1
		if thin != nil && onlyThickness(err) {
			return thin
		}
		return err
	}
	layer := t.Thickness / measure.Length(w.layers)
	if w.builtUp() {
		w.tellBuiltUp(layer)
		return nil
	}
	if thin != nil {
		w.assume("/top/build", string(Laminated), fmt.Sprintf("no stock is thick enough: %s of %s, glued on each other with their grain the same way", plural(w.layers, "layer"), w.phrase(layer)))
	}
	joints := "No stave joint may lie over another: shift every other layer by half a stave. "
	if t.Construction == Panel {
		joints = ""
	}
	w.warn("laminated", Info, "/top/thickness", fmt.Sprintf("The slabs are %s of %s on each other. %sAll layers have their grain the same way, are of one wood, sawn alike and equally dry, so that the slab moves as one; faces are planed flat and glued the same day, with pressure all over.",
		plural(w.layers, "layer"), w.phrase(layer), joints))
	return nil
}
