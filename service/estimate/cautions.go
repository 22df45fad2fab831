package estimate

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/labour"
)

// cautions are the usual ones for this top's work. curedDay is the day of the plan by whose end the finish is fully
// cured; 0: not told.
func (w *work) cautions(curedDay int) []string {
	out := make([]string, 0, 20)
	out = append(out,
		"These are estimates. Measure the site and the wood's moisture before anything is cut.",
		"Wood dust harms the lungs, makes some people allergic and can explode: use extraction and a mask.")
	out = w.dustCautions(out)
	out = append(out,
		"Blades and router bits cut before they are felt: guard and riving knife on, push sticks near the blade, the router fed against the turn of its bit, the plug pulled before a blade or bit is changed. No gloves or loose sleeves at a turning tool.",
		"Protect eyes and ears at every machine.",
		"A large slab can bind and throw back a saw: support both sides of the cut, keep it from closing, stand aside.")
	if len(w.corners) == 0 {
		out = append(out, "Slabs are heavy: lift with enough people, and carry them on edge.")
	} else {
		out = append(out, "Slabs are heavy: lift with enough people, and carry each by itself, on edge. A joined top is moved flat and no further than it must, with hands or a board under every seam.",
			"Keep fingers out of a seam that is being closed: a slab does not stop for them.")
	}
	if w.walk != nil {
		out = append(out, carryingCaution)
	}
	if w.order.Site.Lift != nil {
		out = append(out, liftCautions...)
	}
	out = w.finishCautions(out, curedDay)
	out = append(out,
		"Steam from dishwashers, ovens and kettles swells wood from below: finish the underside there too, and lead the steam away from it.",
		"In its first heating season the wood becomes drier than it was before: keep the air from getting too dry, and look at joints and fixings then.")
	if len(w.cutouts) > 0 {
		out = append(out,
			"A cut-out weakens a slab: carry it with a stiffener across the opening, and seal the raw edges against water.",
			"Next to hobs, ovens and sinks keep the maker's clearances; electrical, gas and plumbing work is for licensed people under local codes.")
	}
	if w.order.Top.Construction == EdgeGlued && len(w.corners) > 0 { // a straight top has no seam to glue by mistake
		out = append(out, "Glue only the staves of a slab. Never glue the seam between two slabs.")
	}
	return append(out, "Strength figures are indications only. Where a top must carry people or loads, local codes and a licensed engineer decide.")
}

// dustCautions adds what the catalogue says of the dust of the top's woods.
func (w *work) dustCautions(out []string) []string {
	for i := range w.runs {
		s := w.runs[i].species
		if s.Dust == "" || slices.Contains(out, s.Dust) {
			continue
		}
		w.cite(s.DustSource)
		out = append(out, s.Dust)
	}
	return out
}

// finishCautions adds those about the finish, or about its lack.
func (w *work) finishCautions(out []string, curedDay int) []string {
	if w.finish == nil {
		return append(out, "Bare wood takes up water, grease and stains, and gives them back: nothing wet and no food on it until it has a finish.")
	}
	if w.finish.Finish.SelfHeat {
		out = append(out, "Rags with this finish can heat up and catch fire by themselves: spread them out flat to dry, or keep them under water in a closed metal can.")
	}
	out = append(out, "Finishes and solvents give off fumes that harm and can catch fire: fresh air, no flame or spark, gloves that keep the finish off the skin, and the mask that its data sheet asks for.")
	when := "how long that takes after the last coat, its maker says"
	if days := w.finish.Finish.CureDays; days > 0 {
		when = fmt.Sprintf("%g days after the last coat", days)
		if days == 1 {
			when = "1 day after the last coat"
		}
		if curedDay > 0 {
			when += fmt.Sprintf(", on day %d of the plan at the earliest", curedDay)
		}
	}
	return append(out, "Water, heat and food only once the finish is fully cured: "+when+
		". That a finish is safe for food, only its maker can say, for the place where the top goes.")
}

// curedDay is the day of the plan by whose end the finish is fully cured, at the earliest; 0 for bare wood and where
// its maker must be asked. Its coats begin on the step's day and wait on each other.
func (w *work) curedDay(p *labour.Plan) int {
	if w.finish == nil || w.finish.Finish.CureDays == 0 {
		return 0
	}
	for i := range p.Steps {
		if s := &p.Steps[i]; s.When == catalogue.IfFinish {
			between := w.finish.Finish.DryHours * float64(w.coats-1)
			return s.Day + int(math.Ceil(between/24+w.finish.Finish.CureDays))
		}
	}
	return 0
}

// warnBare warns of bare wood where water stands.
func (w *work) warnBare() {
	if w.finish != nil {
		return
	}
	for i := range w.cutouts {
		if k := w.cutouts[i].Kind; k == "sink" || k == "hob" || k == "tap" {
			w.warn("bare_wood_in_kitchen", Serious, "/finish/system",
				fmt.Sprintf("The top has a %s and no finish: bare wood at water and food swells, stains and cannot be kept clean. Choose a finish, or have it finished before it is used.", k))
			return
		}
	}
}
