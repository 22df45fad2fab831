package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/support"
	"seamwright/service/wood"
)

// DeflectionOrder asks how far a strip of a top sags, and whether it may.
type DeflectionOrder struct {
	Units     measure.System
	Species   string
	Sawn      catalogue.Sawn // default flat
	Thickness measure.Length
	Direction support.Direction
	Support   support.Kind
	Length    measure.Length   // of the overhang or the span
	Spans     []measure.Length // of several spans, instead
	Back      measure.Length   // of an overhang: from the edge of its base to what holds it down behind; 0: held rigidly
	Width     measure.Length   // that shares the load
	Uniform   measure.Pressure
	Point     measure.Force
	PointStay bool // the point load stays for years, as the uniform load does
	OwnWeight bool // the slab's own weight comes on top
	Explain   bool
}

// DeflectionAnswer is a strip under its load.
type DeflectionAnswer struct {
	Units     measure.System
	Revision  int64
	Species   string
	Sawn      catalogue.Sawn
	Direction support.Direction
	Support   support.Kind
	Wood      support.Wood
	OwnWeight measure.Pressure // that was added
	support.Verdict
	Cautions []string
	Grounds
}

// engineer is what every answer about support says.
const engineer = "An indication from averages of clear, straight-grained wood: knots, slanting grain, cracks and " +
	"cut-outs weaken it. Local codes and a licensed engineer decide what may carry people."

// Deflect works out a strip under its load. Faults carry pointers into the request.
func Deflect(order DeflectionOrder, cat *catalogue.Snapshot) (*DeflectionAnswer, error) {
	w := alone(order.Units, order.Explain, cat)
	if order.Sawn == "" {
		order.Sawn = catalogue.FlatSawn
		w.assume("/sawn", string(catalogue.FlatSawn),
			"flat-sawn is the least stiff across the grain of those that a source gives for most woods")
	}
	wrong := w.checkDeflection(&order)
	species, err := w.speciesNamed(order.Species)
	if wrong.Add("", err); species == nil {
		return nil, wrong.Err()
	}
	beam := support.Beam{Section: support.Section{Width: order.Width, Thickness: order.Thickness},
		Kind: order.Support, Lengths: order.Spans, Back: order.Back,
		Load: support.Load{Lasting: order.Uniform, Point: order.Point, PointStay: order.PointStay}}
	if order.Support != support.Spans {
		beam.Lengths = []measure.Length{order.Length}
	}
	beam.Wood, err = support.WoodOf(species, order.Sawn, order.Direction)
	wrong.Add("", err)
	var own measure.Pressure
	if order.OwnWeight {
		own, err = ownWeight(species, order.Thickness, "Leave own_weight out and add the weight to the uniform load.")
		wrong.Add("", err)
		w.cite(source.WoodDensity, species.GravityGreen.Source)
		beam.Load.Lasting += own
	}
	if err := wrong.Err(); err != nil {
		return nil, err
	}
	answer := &DeflectionAnswer{Units: order.Units, Revision: cat.Revision, Species: order.Species, Sawn: order.Sawn,
		Direction: order.Direction, Support: order.Support,
		Wood: beam.Wood, OwnWeight: own, Verdict: support.Judge(beam, support.RulesOf(w.set))}
	w.assumeOfBeam(&order)
	w.warnOfBeam(&order, species, &answer.Verdict, beam.Lengths)
	w.cite(beam.Wood.Sources...)
	w.cite(source.BeamFormulas, source.CommonPractice)
	w.explainBeam(&beam, &answer.Verdict)
	answer.Cautions, answer.Grounds = []string{engineer}, w.grounds()
	return answer, nil
}

// checkDeflection finds what cannot be worked out, whatever the wood.
func (w *work) checkDeflection(o *DeflectionOrder) (wrong fault.List) {
	most := "at most " + w.phraseDown(LongestRun) + "."
	within := func(at string, l measure.Length) {
		if !(l > 0 && l <= LongestRun) {
			wrong.Add("", impossible(at, "It must be over 0 and "+most, ""))
		}
	}
	within("/width", o.Width)
	if !(o.Thickness > 0 && o.Thickness <= thickestSlab) {
		wrong.Add("", impossible("/thickness", "It must be over 0 and at most "+w.phraseDown(thickestSlab)+".", ""))
	}
	switch {
	case o.Support != support.Spans && len(o.Spans) > 0:
		wrong.Add("", impossible("/spans",
			"Several spans go with support spans alone; one overhang or span has a length.",
			"Leave spans out, or ask for support spans."))
	case o.Support == support.Spans && o.Length > 0:
		wrong.Add("", impossible("/length",
			"Support spans takes the lengths of all spans in spans, not one length.", "Leave length out."))
	case o.Support == support.Spans && len(o.Spans) < 2:
		wrong.Add("", impossible("/spans", "Several spans are at least two.", "For one, ask for support span."))
	case o.Support == support.Spans:
		for i, l := range o.Spans {
			within(numbered("/spans/", i), l)
		}
	default:
		within("/length", o.Length)
	}
	if o.Back > 0 && o.Support != support.Overhang {
		wrong.Add("", impossible("/back", "Only an overhang has wood behind its base.", "Leave back out."))
	}
	return wrong
}

// thickestSlab is as thick as a slab is looked at.
const thickestSlab = 24 * measure.Inch

// ownWeight is what a slab weighs on each surface below it, at 12 % moisture. Where no source says how heavy its wood is, it is
// refused with a way out.
func ownWeight(s *catalogue.Species, thickness measure.Length, wayOut string) (measure.Pressure, error) {
	basic, ok := wood.Basic(s)
	if !ok {
		return 0, impossible("/species", fmt.Sprintf("No source here says how heavy %s is.", s.Name), wayOut)
	}
	mass := measure.Mass(wood.Density(wood.Gravity(basic, 12), 12) * thickness.Metres()) // on a square metre
	return measure.Pressure(mass.Weight().Newtons()/1000) * measure.Kilopascal, nil
}

func (w *work) assumeOfBeam(o *DeflectionOrder) {
	if o.Support == support.Overhang && o.Back <= 0 {
		w.assume("/back", 0,
			"the base holds the slab rigidly; held down by fixings further behind, it also turns over the edge of the base and sags more")
	}
	if !o.OwnWeight {
		w.assume("/own_weight", false, "the loads named are all there are: the slab's own weight is not added")
	}
	if !o.PointStay && o.Point > 0 {
		w.assume("/load/point_stays", false, "the point load comes and goes, the uniform load stays: it alone creeps")
	}
}

func (w *work) warnOfBeam(o *DeflectionOrder, s *catalogue.Species, v *support.Verdict, lengths []measure.Length) {
	if shear := support.ShearShare(o.Thickness, lengths[v.Worst]); o.Direction == support.Along && shear > 0.05 {
		w.warn("short_beam", Info, "/length",
			fmt.Sprintf("It is short for its thickness: shear makes it sag about %.0f %% more than told.", 100*shear))
	}
	across := o.Direction == support.Across
	if !s.Elasticity.Verified || across && !(s.RatioTangential.Verified && s.RatioRadial.Verified) {
		w.warn("not_verified", Caution, "/species",
			"The stiffness of "+s.Name+" is remembered, not checked against the printed table.")
	}
	if v.StressLimit <= 0 {
		w.warn("strength_unknown", Serious, "/species",
			"No source here says how strong "+s.Name+" is "+string(o.Direction)+
				" the grain: only its sag is judged. Keep well below the greatest length.")
	}
	if v.Holds {
		return
	}
	way := "it sags by " + w.phraseUp(v.LongTerm) + " in time, where " + w.phraseDown(v.Limit) + " is the most"
	if v.ByStrength {
		way = fmt.Sprintf("its bending stress is %.0f %% of what is allowed", 100*float64(v.Stress/v.StressLimit))
	}
	at := "/length"
	if o.Support == support.Spans {
		at = numbered("/spans/", v.Worst)
	}
	w.warn("does_not_hold", Serious, at,
		"Under this load it does not hold: "+way+". The greatest length is "+w.phraseDown(v.Greatest)+".")
}

// explainBeam notes how sag, stress and their bounds come about.
func (w *work) explainBeam(b *support.Beam, v *support.Verdict) {
	if !w.order.Explain {
		return
	}
	stiff := Input{"stiffness", measure.Round(b.Wood.Stiffness.Megapascals(), 2), "MPa"}
	strong := Input{"strength", measure.Round(b.Wood.Strength.Megapascals(), 3), "MPa"}
	long := Input{"length", b.Lengths[v.Worst].Number(w.units), w.units.String()}
	thick := Input{"thickness", b.Thickness.Number(w.units), w.units.String()}
	formula := map[support.Kind]string{
		support.Overhang: "w·L³·(3L + 4b)/24EI + P·L²·(L + b)/3EI",
		support.Span:     "5·w·L⁴/384EI + P·L³/48EI",
		support.Spans:    "three-moment equations, then the elastic line of each span",
	}[b.Kind]
	from := source.BeamFormulas
	w.explain("deflection", formula, v.Sag.Number(w.units), w.units.String(), from, stiff, long, thick)
	w.explain("long_term", "the same with the lasting load × creep", v.LongTerm.Number(w.units), w.units.String(),
		source.CommonPractice, Input{"creep", w.set.SagCreep, ""})
	w.explain("stress", "6·M/(b·h²)", v.Stress.Megapascals(), "MPa", from, long, thick)
	if v.StressLimit <= 0 {
		return
	}
	w.explain("stress_limit", "strength ÷ safety", v.StressLimit.Megapascals(), "MPa", source.CommonPractice,
		strong, Input{"safety", w.set.SupportSafety, ""})
}
