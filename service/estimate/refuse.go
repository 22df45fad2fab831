package estimate

import (
	"fmt"
	"math"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/wood"
)

// refuse says why no candidate that the caller wished for is possible, one by one, and which is the best alternative.
// Options are one for each way.
func (w *work) refuse(k int, options []*option) error {
	c := &w.corners[k]
	at := numbered("/top/corners/", k) + "/joint"
	what := "No joint is possible at this corner."
	if c.Joint != AutoJoint {
		what = "The joint asked for is excluded at this corner."
	}
	first := impossible(at, what, "")
	list := fault.List{first}
	cutout := -1
	for i := range options {
		o := options[i]
		if !w.wished(k, o.Joint) {
			continue
		}
		list.Add("", impossible(at, upper(w.jointName(k, o.Joint))+": "+exclusion(o.Findings), ""))
		if cutout < 0 {
			cutout = o.cutout
		}
	}
	if len(list) == 2 {
		first.Detail += " " + list[1].Detail // the only one is told at once
		list = list[:1]
	}
	if cutout >= 0 {
		for i := range options {
			if options[i].cutout == cutout {
				list.Add("", impossible(numbered("/top/cutouts/", cutout), options[i].facts.CutoutTooNear,
					"Move the cut-out away from the corner."))
				break
			}
		}
	}
	told := map[int]bool{}
	for i := range options {
		o := options[i]
		if !w.wished(k, o.Joint) {
			continue
		}
		for p := range w.inTheWay(k, o) {
			if !told[p.Place] {
				told[p.Place] = true
				list.Add("", impossible(numbered("/base/", p.Place), w.outOfReachText(&p), p.wayRound()))
			}
		}
	}
	for i := range options {
		if o := options[i]; w.wished(k, o.Joint) && o.facts.NotCarried != "" {
			list.Add("", impossible("/base", o.facts.NotCarried, "Add the cabinets, legs or brackets that do."))
			break
		}
	}
	wish := *c
	c.Joint, c.Through = AutoJoint, ThroughAuto
	if best := w.best(k, options); best >= 0 {
		first.Fix = "The best alternative is " + w.jointName(k, options[best].Joint) +
			fmt.Sprintf(" (score %d); ask for it or for \"auto\".", options[best].Score)
	}
	*c = wish
	return list.Err()
}

// exclusion is everything that excludes a candidate.
func exclusion(findings []joint.Finding) string {
	var reasons []string
	for i := range findings {
		if findings[i].Effect == joint.Excludes {
			reasons = append(reasons, upper(findings[i].Text))
		}
	}
	if reasons == nil {
		return "Not what was asked for."
	}
	return strings.Join(reasons, " ")
}

// refuseGlue says what glue in the seam would do, with the numbers.
func (w *work) refuseGlue(k int, options []*option) error {
	text := "A seam between two solid slabs moves and must not be glued. "
	for i := range options {
		o := options[i]
		if o.layout == nil {
			continue
		}
		if !o.Joint.RunsThrough() {
			text += fmt.Sprintf("A miter here opens by up to %s at the wall or the front; any glue in it fails. ",
				w.phrase(o.Movement.Opening()))
			continue
		}
		slip := max(magnitude(o.Movement.Dry.MaxSlip), magnitude(o.Movement.Humid.MaxSlip))
		text += fmt.Sprintf("In a butt run %s slides by up to %s; glue would hold that back. ", w.runs[o.stopping(k)].Name,
			w.phrase(slip)) + w.heldBackText(o, k)
		break
	}
	return impossible(numbered("/top/corners/", k)+"/glue", strings.TrimSpace(text),
		"Leave glue out: alignment parts and pull hardware hold the seam and let it move.")
}

// stress writes an indication of one: whole tens of pounds per square inch, or a decimal of a megapascal.
func (w *work) stress(p measure.Pressure) string {
	if w.units == measure.Millimetres {
		return fmt.Sprintf("%.1f MPa", p.Kilopascals()/1000)
	}
	return fmt.Sprintf("%.0f lbf/in²", math.Round(p.PoundsPerSquareInch()/10)*10)
}

// heldBackText says what glue does to the stopping run: drying pulls its end-grain half apart, swelling crushes it.
func (w *work) heldBackText(o *option, k int) string {
	r := &w.runs[o.stopping(k)]
	text := ""
	if o.Strain.Strength > 0 {
		text = fmt.Sprintf("Drying would split the end-grain half: about %s of tension across the grain if it could not creep, against a strength of %s. ", w.stress(o.Strain.Stress), w.stress(o.Strain.Strength))
	}
	swells := max(r.move.DryStrain, r.move.HumidStrain)
	if press, ok := wood.HeldBackStress(r.species, r.Sawn, swells); ok && swells > 0 {
		text += fmt.Sprintf("Swelling would press instead, with about %s if it could not creep: what is crushed then tears when it dries again. ", w.stress(press))
	}
	if text == "" {
		return "What moves against glue splits the end-grain half. "
	}
	return text + "An indication only. "
}
