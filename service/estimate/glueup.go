package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/takeoff"
	"seamwright/service/wood"
)

// RingsAny says that it does not matter how staves are turned: their rings stand upright.
const RingsAny Rings = "any"

// planGlueUp plans how the slab of run i is glued up; ok is false for a ready-made panel.
func (w *work) planGlueUp(i int, b *takeoff.Blank) (g takeoff.GlueUp, ok bool) {
	if w.glue == nil {
		return g, false
	}
	r := &w.runs[i]
	gravity := r.density / wood.Density(1, r.wet.Making)
	return takeoff.PlanGlueUp(b, gravity, w.glue.Glue, w.set)
}

// glueUpOf is the plan with what it says of the staves' rings.
func (w *work) glueUpOf(i int, b *takeoff.Blank) *GlueUp {
	g, ok := w.planGlueUp(i, b)
	if !ok {
		return nil
	}
	out := &GlueUp{GlueUp: g, Rings: RingsAlternate, Sections: make([]takeoff.Section, g.Parts)}
	for k := range out.Sections {
		out.Sections[k] = b.Section(k, g.Parts)
	}
	switch s := w.order.Moisture.Seasonal; {
	case w.runs[i].Sawn != catalogue.FlatSawn:
		out.Rings = RingsAny
	case s != nil && s.Rings != "":
		out.Rings = s.Rings
	}
	return out
}

// tellGlueUps says what the plans rest on, and where the glue does not leave enough time.
func (w *work) tellGlueUps(runs []RunResult) {
	for i := range runs {
		g := runs[i].GlueUp
		if g == nil {
			continue
		}
		w.cite(source.WoodBonding)
		w.explainClamps(runs[i].Name, g)
		if g.SlowSpread {
			w.warn("glue_too_quick", Caution, numbered("/top/runs/", i), fmt.Sprintf("One stave joint of run %s takes %.0f minutes to spread, longer than the glue stays open (%g minutes): spread with more hands, or take a slower glue.",
				runs[i].Name, g.Spreading, w.set.GlueOpenMinutes))
		}
		if g.SlowClose {
			w.warn("clamps_too_slow", Caution, numbered("/top/runs/", i), fmt.Sprintf("The %d clamps on run %s take %.0f minutes to set, and the glue allows %g: set them with more hands, take stronger clamps with stiff cauls, or a slower glue.",
				g.Clamps, runs[i].Name, g.Closing, w.set.GlueClosedMinutes))
		}
	}
}

func (w *work) explainClamps(run string, g *GlueUp) {
	if !w.order.Explain {
		return
	}
	w.explain("clamps, run "+run, "⌈P·A/F⌉", float64(g.Clamps), "", source.WoodBonding,
		Input{"pressure P", measure.Round(g.Pressure.Kilopascals(), 1), "kPa"},
		Input{"area of a joint A", measure.Round(g.JointArea.SquareMetres(), 4), "m²"},
		Input{"force of a clamp F", w.set.ClampForce, "kN"})
}
