package api

import (
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// hold writes a place on a seam; auto when none is chosen.
func (w *writer) hold(name string, at hardware.Hold) {
	if at == hardware.HoldAuto {
		at = "auto"
	}
	w.text(name, string(at))
}

func (w *writer) corner(c *estimate.CornerResult) {
	w.open()
	w.angle("angle", c.Angle)
	perUnit := measure.Angle(c.Sensitivity) // radians a millimetre
	if w.units == measure.Inches {
		perUnit *= measure.Angle(measure.Inch.Millimetres())
	}
	w.numberOrNull("tape_sensitivity", perUnit.Degrees(), 4)
	w.text("chosen", string(c.Chosen.Kind))
	w.textOrNull("through", string(c.Chosen.Through))
	w.text("why", c.Why)
	w.closeCall(&c.Close)
	writeAll(w, "candidates", c.Candidates, (*writer).candidate)
	w.close()
}

func (w *writer) candidate(c *estimate.Candidate) {
	w.open()
	w.text("joint", string(c.Joint.Kind))
	w.textOrNull("through", string(c.Joint.Through))
	w.bool("feasible", c.Feasible)
	w.int("score", int64(c.Score))
	w.text("carry", string(c.Carry))
	writeAll(w, "findings", c.Findings, (*writer).finding)
	w.geometry(&c.Geometry, c.Joint.Kind)
	w.openAt("movement")
	w.hold("hold_at", c.Movement.HoldAt)
	w.hold("first_line", c.Movement.FirstLine)
	w.hold("second_line", c.Movement.SecondLine)
	w.swinging(c)
	w.length("far", c.Movement.Far)
	w.season("dry", &c.Movement.Dry)
	w.season("humid", &c.Movement.Humid)
	w.close()
	w.hardware(&c.Hardware)
	w.otherPull(&c.OtherPull)
	w.textOrNull("remedy", string(c.Remedy))
	writeAll(w, "remedies", c.Remedies, (*writer).remedy)
	w.amount("cost", c.Cost)
	w.amount("cost_difference", c.CostDifference)
	w.number("labour_hours", c.LabourHours, 2)
	w.glueStrain(c.Strain)
	w.close()
}

func (w *writer) closeCall(c *estimate.Close) {
	if c.Text == "" {
		w.null("close")
		return
	}
	w.openAt("close")
	w.int("lead", int64(c.Lead))
	w.text("other", string(c.Other.Kind))
	w.textOrNull("other_through", string(c.Other.Through))
	w.text("text", c.Text)
	w.close()
}

func (w *writer) otherPull(p *estimate.PullKind) {
	if p.Kind == "" {
		w.null("other_pull")
		return
	}
	w.openAt("other_pull")
	w.text("kind", string(p.Kind))
	w.int("score", int64(p.Score))
	w.amount("cost_difference", p.CostDifference)
	w.close()
}

// swinging writes whether a corner's legs can swing, and what room they need for it.
func (w *writer) swinging(c *estimate.Candidate) {
	if c.Movement.RestrainedWhy == "" {
		return
	}
	w.bool("restrained", c.Movement.Restrained)
	w.text("restrained_why", c.Movement.RestrainedWhy)
	w.lengths("needed_gap", []measure.Length{c.Movement.NeededGapFirst, c.Movement.NeededGapSecond})
}

func (w *writer) finding(f *joint.Finding) {
	w.open()
	w.text("rule", string(f.Rule))
	w.text("effect", string(f.Effect))
	w.int("points", int64(f.Points))
	w.text("text", f.Text)
	w.close()
}

func (w *writer) geometry(g *estimate.Geometry, kind plan.JointKind) {
	w.openAt("geometry")
	w.made("seam_length", g.SeamLength)
	w.outline("seam_path", g.SeamPath)
	w.length("front_keep", g.FrontKeep)
	w.cut("first", &g.First)
	w.cut("second", &g.Second)
	w.angle("nominal_angle", g.NominalAngle)
	w.length("nominal_error_gap", g.NominalErrorGap)
	if kind == plan.Miter {
		w.length("profile_mismatch", g.ProfileMismatch)
	} else {
		w.null("profile_mismatch")
	}
	w.close()
}

func (w *writer) cut(name string, c *estimate.Cut) {
	w.openAt(name)
	w.angle("cut_angle", c.CutAngle)
	w.angle("saw_setting", c.SawSetting)
	w.made("wall_edge", c.WallEdge)
	w.made("front_edge", c.FrontEdge)
	w.close()
}

func (w *writer) season(name string, s *joint.Season) {
	w.openAt(name)
	w.length("max_slip", s.MaxSlip)
	w.length("max_opening", s.MaxOpening)
	w.textOrNull("opens_at", string(s.OpensAt))
	w.length("pushes", s.Push)
	w.angle("angle_change", s.AngleChange)
	w.length("first_shift", s.FirstShift)
	w.length("second_shift", s.SecondShift)
	w.close()
}

func (w *writer) hardware(h *hardware.Plan) {
	w.openAt("hardware")
	w.bool("feasible", h.Feasible)
	w.textOrNull("reason", h.Reason)
	w.hold("hold_at", h.HoldAt)
	w.alignment(&h.Alignment)
	w.pull(&h.Pull)
	w.texts("tries", h.Tries)
	w.close()
}

func (w *writer) alignment(a *hardware.Alignment) {
	if a.Item == "" {
		w.null("alignment")
		return
	}
	w.openAt("alignment")
	w.text("item", a.Item)
	w.part(&a.Part)
	w.text("kind", string(a.Kind))
	w.int("count", int64(a.Count))
	w.int("rows", int64(a.Rows))
	w.madeAll("positions", a.Positions)
	w.sized("slot_width", a.SlotWidth, measure.Least)
	w.sizedAll("slot_widths", a.SlotWidths, measure.Least)
	w.text("note", a.Note)
	w.close()
}

// pull writes the first kind of parts in the object itself and the second, if there is one, in further.
func (w *writer) pull(p *hardware.Pull) {
	if len(p.Groups) == 0 {
		w.null("pull")
		return
	}
	w.openAt("pull")
	w.pullGroup(&p.Groups[0])
	if len(p.Groups) > 1 {
		w.openAt("further")
		w.pullGroup(&p.Groups[1])
		w.force("capacity", p.Groups[1].Capacity)
		w.close()
	} else {
		w.null("further")
	}
	w.force("capacity", p.Capacity)
	w.numberOrNull("ultimate", p.Ultimate.Number(w.units), 1)
	w.force("moment_force", p.MomentForce)
	w.int("people", int64(p.People))
	w.legs(&p.Legs)
	w.text("note", p.Note)
	w.close()
}

// legs writes the two pieces at a seam; answers that were kept before they were told apart have none.
func (w *writer) legs(legs *[2]hardware.Carried) {
	w.list("legs")
	for i := range legs {
		if legs[i].Run == "" {
			continue
		}
		w.open()
		w.text("run", legs[i].Run)
		w.mass("weight", legs[i].Mass)
		w.length("arm", legs[i].Arm)
		w.force("moment_force", legs[i].MomentForce)
		w.int("people", int64(legs[i].People))
		w.close()
	}
	w.end()
}

func (w *writer) pullGroup(g *hardware.PullGroup) {
	w.text("item", g.Item)
	w.part(&g.Part)
	w.text("kind", string(g.Kind))
	w.int("count", int64(g.Count))
	w.madeAll("positions", g.Positions)
	w.sizedOrNull("hole_diameter", widest(g.HoleDiameters), measure.Bore)
	w.sizedAll("hole_diameters", g.HoleDiameters, measure.Bore)
	w.sizedOrNull("channel_width", widest(g.Channels), measure.Bore)
	w.sizedAll("channel_widths", g.Channels, measure.Bore)
	w.lengthOrNull("travel", g.Travel)
	w.sizedOrNull("recess_length", g.RecessLength, measure.Least)
	w.sizedAll("recess_lengths", g.Recesses, measure.Least)
	w.lengthOrNull("bearing", g.Bearing)
	w.bool("counts", g.Counts)
}

// part writes the sizes that a part has.
func (w *writer) part(f *catalogue.Fastener) {
	w.openAt("part")
	w.text("name", f.Name)
	for _, size := range []struct {
		name   string
		length measure.Length
	}{{"width", f.Width}, {"length", f.Length}, {"thickness", f.Thickness}, {"thread_diameter", f.ThreadDiameter}, {"head_diameter", f.HeadDiameter},
		{"washer_diameter", f.WasherDiameter}, {"bore_diameter", f.BoreDiameter}, {"penetration", f.Penetration}, {"bolt_diameter", f.BoltDiameter},
		{"recess_diameter", f.RecessDiameter}, {"recess_depth", f.RecessDepth}, {"recess_distance", f.RecessDistance}, {"bearing_diameter", f.BearingDiameter}} {
		if size.length != 0 {
			w.length(size.name, size.length)
		}
	}
	w.close()
}

// widest picks the largest of some lengths, 0 of none.
func widest(all []measure.Length) measure.Length {
	var most measure.Length
	for _, l := range all {
		most = max(most, l)
	}
	return most
}

func (w *writer) remedy(r *estimate.RemedyCost) {
	w.open()
	w.text("remedy", string(r.Remedy))
	w.amount("cost", r.Cost)
	w.text("text", r.Text)
	w.close()
}

func (w *writer) glueStrain(s estimate.SplitWarning) {
	if s == (estimate.SplitWarning{}) {
		w.null("glue_strain")
		return
	}
	w.openAt("glue_strain")
	w.pressure("stress", s.Stress)
	w.pressure("strength", s.Strength)
	w.close()
}
