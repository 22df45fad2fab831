package estimate

import (
	"fmt"
	"strconv"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// usualBelow is the air below a top at an appliance, as the mean of a day: warm and damp, 60 % at 25 °C. Common practice; nobody
// measured it here.
var usualBelow = catalogue.Air{Humidity: 60, Temperature: 25}

// ApplianceAir is what the air at an appliance does to the slab above it.
type ApplianceAir struct {
	Place int              // of the order's list
	Air   catalogue.Air    // below the slab
	Face  measure.Moisture // to which that air brings the lower face
	Room  measure.Moisture // of the upper face: the middle of the service year
	Cup   measure.Length   // edges over the middle; negative: the middle stands up
}

// leastCup is under what a cup is not told of.
const leastCup = 0.05 * measure.Millimetre

// airOf is the air below an entry of the base, as it was told, else the usual.
func (w *work) airOf(k int) catalogue.Air {
	if told := w.order.Base[k].Air; told != nil {
		return *told
	}
	return usualBelow
}

// airBelow settles to which moisture an appliance brings the lower face, and refuses air at anything else, and air that is
// beyond the equation.
func (w *work) airBelow(p *base.Part, o *BaseOrder, run string) error {
	if p.Kind != base.Appliance {
		if o.Air == nil {
			return nil
		}
		return impossible("/air", fmt.Sprintf("The air below is told of appliances alone, and this is %s.", baseNames[p.Kind]),
			"Leave air out; for the air of the whole underside ask for the seasons of the slab.")
	}
	if o.Air == nil && !o.goesOn && !w.quiet {
		w.assume(numbered("/base/", p.Place)+"/air", fmt.Sprintf("%.0f %% at %s", float64(usualBelow.Humidity), w.degrees(usualBelow.Temperature)),
			"relative humidity and temperature below the top at an appliance, as the mean of a day (common practice, not measured)")
	}
	name := ""
	if w.order.Explain {
		name = fmt.Sprintf("EMC of the air at the appliance under run %s, from %s", run, w.phrase(o.From))
	}
	face, err := w.settle(catalogue.Climate{IsAir: true, Air: w.airOf(p.Place)}, name)
	if err == nil {
		err = tooWetToDiffuse(face)
	}
	if err != nil {
		return fault.At("/air", err)
	}
	if w.base.faces == nil {
		w.base.faces = make([]measure.Moisture, len(w.order.Base))
	}
	w.base.faces[p.Place] = face
	return nil
}

// baseNames are the kinds in a sentence.
var baseNames = map[base.Kind]string{base.Cabinet: "a cabinet", base.Open: "an open bay", base.Legs: "legs", base.Bracket: "a bracket",
	base.Batten: "a batten"}

// appliances works out what the air at each appliance below run i does to the slab, and warns of it. In the end, and if nothing
// held it, moisture goes straight from the one face to the other, each as damp as its air makes it,
//
//	M(x) = M_room + (M_below − M_room)·x/t
//
// so that the slab bends to an arc over its depth d and thickness t, whose rise is
//
//	c = (ε(M_below) − ε(M_room))·d²/8t
//
// It is a bound: held down by its fixings, finished below and for hours only, a slab cups less.
//
// Source: the line is the steady state of a plane sheet, J. Crank, The Mathematics of Diffusion (1975), chapter 4 (remembered);
// the moisture Wood Handbook, FPL-GTR-190 (2010), eq. 4-5; the arc is geometry.
func (w *work) appliances(i int, parts []base.Part) []ApplianceAir {
	var all []ApplianceAir
	r := &w.runs[i]
	for k := range parts {
		p := &parts[k]
		if p.Kind != base.Appliance {
			continue
		}
		a := ApplianceAir{Place: p.Place, Air: w.airOf(p.Place), Face: w.base.faces[p.Place], Room: (r.wet.Dry + r.wet.Humid) / 2}
		bends := r.laws.Strain(r.wet.Making, a.Face) - r.laws.Strain(r.wet.Making, a.Room)
		a.Cup = measure.Length(bends) * r.Depth / (8 * w.slabThickness()) * r.Depth
		w.warnAppliance(r, p, &a)
		if w.order.Explain {
			w.explain(fmt.Sprintf("cup of run %s over the appliance, from %s", r.Name, w.phrase(p.From)), "(ε(M_below) − ε(M_room))·d²/8t", a.Cup.In(w.units), w.units.String(),
				source.Diffusion, Input{"moisture below M_below", measure.Round(float64(a.Face), 4), "%"},
				Input{"moisture of the room M_room", measure.Round(float64(a.Room), 4), "%"},
				Input{"depth d", measure.Round(r.Depth.In(w.units), 4), w.units.String()},
				Input{"thickness t", measure.Round(w.slabThickness().In(w.units), 4), w.units.String()})
		}
		all = append(all, a)
	}
	return all
}

func (w *work) warnAppliance(r *run, p *base.Part, a *ApplianceAir) {
	text := "Steam and heat from the appliance swell the lower face of run %s from %s to %s. In air of %.0f %% at %s below it the slab would cup by up to %s in the end, if nothing held it: finish the underside as the top, put a vapour barrier under it, and lead the steam away."
	switch {
	case magnitude(a.Cup) < leastCup:
		return
	case a.Cup < 0:
		text = "Dry heat from the appliance shrinks the lower face of run %s from %s to %s. In air of %.0f %% at %s below it the middle of the slab would stand up by up to %s in the end, if nothing held it: finish the underside as the top, leave an air gap, and lead the warm air away."
	}
	w.warn("appliance_below", Caution, numbered("/base/", p.Place), fmt.Sprintf(text, r.Name, w.phrase(p.From), w.phrase(p.To),
		float64(a.Air.Humidity), w.degrees(a.Air.Temperature), w.phraseUp(magnitude(a.Cup))))
}

func (w *work) degrees(t measure.Temperature) string {
	if w.units == measure.Inches {
		return strconv.FormatFloat(t.Fahrenheit(), 'f', 0, 64) + " °F"
	}
	return strconv.FormatFloat(t.Celsius(), 'f', 0, 64) + " °C"
}
