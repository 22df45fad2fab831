package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// writeHold writes a place on a seam; auto when none is chosen.
func writeHold(w *wire.Writer, name string, at hardware.Hold) {
	if at == hardware.HoldAuto {
		at = "auto"
	}
	w.Text(name, string(at))
}

func writeCorner(w *wire.Writer, c *estimate.CornerResult) {
	w.Open()
	w.Angle("angle", c.Angle)
	perUnit := measure.Angle(c.Sensitivity) // radians a millimetre
	if w.Units == measure.Inches {
		perUnit *= measure.Angle(measure.Inch.Millimetres())
	}
	w.NumberOrNull("tape_sensitivity", perUnit.Degrees(), 4)
	w.Text("chosen", string(c.Chosen.Kind))
	w.TextOrNull("through", string(c.Chosen.Through))
	w.Text("why", c.Why)
	writeCloseCall(w, &c.Close)
	wire.All(w, "candidates", c.Candidates, writeCandidate)
	w.Close()
}

func writeCandidate(w *wire.Writer, c *estimate.Candidate) {
	w.Open()
	w.Text("joint", string(c.Joint.Kind))
	w.TextOrNull("through", string(c.Joint.Through))
	w.Bool("feasible", c.Feasible)
	w.Int("score", int64(c.Score))
	w.Text("carry", string(c.Carry))
	wire.All(w, "findings", c.Findings, writeFinding)
	writeGeometry(w, &c.Geometry, c.Joint.Kind)
	w.OpenAt("movement")
	writeHold(w, "hold_at", c.Movement.HoldAt)
	writeHold(w, "first_line", c.Movement.FirstLine)
	writeHold(w, "second_line", c.Movement.SecondLine)
	writeSwinging(w, c)
	w.Length("far", c.Movement.Far)
	writeSeason(w, "dry", &c.Movement.Dry)
	writeSeason(w, "humid", &c.Movement.Humid)
	w.Close()
	writeHardware(w, &c.Hardware)
	writeOtherPull(w, &c.OtherPull)
	w.TextOrNull("remedy", string(c.Remedy))
	wire.All(w, "remedies", c.Remedies, writeRemedy)
	w.Amount("cost", c.Cost)
	w.Amount("cost_difference", c.CostDifference)
	w.Number("labour_hours", c.LabourHours, 2)
	writeGlueStrain(w, c.Strain)
	w.Close()
}

func writeCloseCall(w *wire.Writer, c *estimate.Close) {
	if c.Text == "" {
		w.Null("close")
		return
	}
	w.OpenAt("close")
	w.Int("lead", int64(c.Lead))
	w.Text("other", string(c.Other.Kind))
	w.TextOrNull("other_through", string(c.Other.Through))
	w.Text("text", c.Text)
	w.Close()
}

func writeOtherPull(w *wire.Writer, p *estimate.PullKind) {
	if p.Kind == "" {
		w.Null("other_pull")
		return
	}
	w.OpenAt("other_pull")
	w.Text("kind", string(p.Kind))
	w.Int("score", int64(p.Score))
	w.Amount("cost_difference", p.CostDifference)
	w.Close()
}

// writeSwinging writes whether a corner's legs can swing, and what room they need for it.
func writeSwinging(w *wire.Writer, c *estimate.Candidate) {
	if c.Movement.RestrainedWhy == "" {
		return
	}
	w.Bool("restrained", c.Movement.Restrained)
	w.Text("restrained_why", c.Movement.RestrainedWhy)
	w.Lengths("needed_gap", []measure.Length{c.Movement.NeededGapFirst, c.Movement.NeededGapSecond})
}

func writeFinding(w *wire.Writer, f *joint.Finding) {
	w.Open()
	w.Text("rule", string(f.Rule))
	w.Text("effect", string(f.Effect))
	w.Int("points", int64(f.Points))
	w.Text("text", f.Text)
	w.Close()
}

func writeGeometry(w *wire.Writer, g *estimate.Geometry, kind plan.JointKind) {
	w.OpenAt("geometry")
	w.Made("seam_length", g.SeamLength)
	WriteOutline(w, "seam_path", g.SeamPath)
	w.Length("front_keep", g.FrontKeep)
	writeCut(w, "first", &g.First)
	writeCut(w, "second", &g.Second)
	w.Angle("nominal_angle", g.NominalAngle)
	w.Length("nominal_error_gap", g.NominalErrorGap)
	if kind == plan.Miter {
		w.Length("profile_mismatch", g.ProfileMismatch)
	} else {
		w.Null("profile_mismatch")
	}
	w.Close()
}

func writeCut(w *wire.Writer, name string, c *estimate.Cut) {
	w.OpenAt(name)
	w.Angle("cut_angle", c.CutAngle)
	w.Angle("saw_setting", c.SawSetting)
	w.Made("wall_edge", c.WallEdge)
	w.Made("front_edge", c.FrontEdge)
	w.Close()
}

func writeSeason(w *wire.Writer, name string, s *joint.Season) {
	w.OpenAt(name)
	w.Length("max_slip", s.MaxSlip)
	w.Length("max_opening", s.MaxOpening)
	w.TextOrNull("opens_at", string(s.OpensAt))
	w.Length("pushes", s.Push)
	w.Angle("angle_change", s.AngleChange)
	w.Length("first_shift", s.FirstShift)
	w.Length("second_shift", s.SecondShift)
	w.Close()
}

func writeHardware(w *wire.Writer, h *hardware.Plan) {
	w.OpenAt("hardware")
	w.Bool("feasible", h.Feasible)
	w.TextOrNull("reason", h.Reason)
	writeHold(w, "hold_at", h.HoldAt)
	writeAlignment(w, &h.Alignment)
	writePull(w, &h.Pull)
	w.Texts("tries", h.Tries)
	w.Close()
}

func writeAlignment(w *wire.Writer, a *hardware.Alignment) {
	if a.Item == "" {
		w.Null("alignment")
		return
	}
	w.OpenAt("alignment")
	w.Text("item", a.Item)
	writePart(w, &a.Part)
	w.Text("kind", string(a.Kind))
	w.Int("count", int64(a.Count))
	w.Int("rows", int64(a.Rows))
	w.MadeAll("positions", a.Positions)
	w.Sized("slot_width", a.SlotWidth, measure.Least)
	w.SizedAll("slot_widths", a.SlotWidths, measure.Least)
	w.Text("note", a.Note)
	w.Close()
}

// writePull writes the first kind of parts in the object itself and the second, if there is one, in further.
func writePull(w *wire.Writer, p *hardware.Pull) {
	if len(p.Groups) == 0 {
		w.Null("pull")
		return
	}
	w.OpenAt("pull")
	writePullGroup(w, &p.Groups[0])
	if len(p.Groups) > 1 {
		w.OpenAt("further")
		writePullGroup(w, &p.Groups[1])
		w.Force("capacity", p.Groups[1].Capacity)
		w.Close()
	} else {
		w.Null("further")
	}
	w.Force("capacity", p.Capacity)
	w.NumberOrNull("ultimate", p.Ultimate.Number(w.Units), 1)
	w.Force("moment_force", p.MomentForce)
	w.Int("people", int64(p.People))
	writeLegs(w, &p.Legs)
	w.Text("note", p.Note)
	w.Close()
}

// writeLegs writes the two pieces at a seam; answers that were kept before they were told apart have none.
func writeLegs(w *wire.Writer, legs *[2]hardware.Carried) {
	w.List("legs")
	for i := range legs {
		if legs[i].Run == "" {
			continue
		}
		w.Open()
		w.Text("run", legs[i].Run)
		w.Mass("weight", legs[i].Mass)
		w.Length("arm", legs[i].Arm)
		w.Force("moment_force", legs[i].MomentForce)
		w.Int("people", int64(legs[i].People))
		w.Close()
	}
	w.End()
}

func writePullGroup(w *wire.Writer, g *hardware.PullGroup) {
	w.Text("item", g.Item)
	writePart(w, &g.Part)
	w.Text("kind", string(g.Kind))
	w.Int("count", int64(g.Count))
	w.MadeAll("positions", g.Positions)
	w.SizedOrNull("hole_diameter", widest(g.HoleDiameters), measure.Bore)
	w.SizedAll("hole_diameters", g.HoleDiameters, measure.Bore)
	w.SizedOrNull("channel_width", widest(g.Channels), measure.Bore)
	w.SizedAll("channel_widths", g.Channels, measure.Bore)
	w.LengthOrNull("travel", g.Travel)
	w.SizedOrNull("recess_length", g.RecessLength, measure.Least)
	w.SizedAll("recess_lengths", g.Recesses, measure.Least)
	w.LengthOrNull("bearing", g.Bearing)
	w.Bool("counts", g.Counts)
}

// writePart writes the sizes that a part has.
func writePart(w *wire.Writer, f *catalogue.Fastener) {
	w.OpenAt("part")
	w.Text("name", f.Name)
	for _, size := range []struct {
		name   string
		length measure.Length
	}{{"width", f.Width}, {"length", f.Length}, {"thickness", f.Thickness}, {"thread_diameter", f.ThreadDiameter}, {"head_diameter", f.HeadDiameter},
		{"washer_diameter", f.WasherDiameter}, {"bore_diameter", f.BoreDiameter}, {"penetration", f.Penetration}, {"bolt_diameter", f.BoltDiameter},
		{"recess_diameter", f.RecessDiameter}, {"recess_depth", f.RecessDepth}, {"recess_distance", f.RecessDistance}, {"bearing_diameter", f.BearingDiameter}} {
		if size.length != 0 {
			w.Length(size.name, size.length)
		}
	}
	w.Close()
}

// widest picks the largest of some lengths, 0 of none.
func widest(all []measure.Length) measure.Length {
	var most measure.Length
	for _, l := range all {
		most = max(most, l)
	}
	return most
}

func writeRemedy(w *wire.Writer, r *estimate.RemedyCost) {
	w.Open()
	w.Text("remedy", string(r.Remedy))
	w.Amount("cost", r.Cost)
	w.Text("text", r.Text)
	w.Close()
}

func writeGlueStrain(w *wire.Writer, s estimate.SplitWarning) {
	if s == (estimate.SplitWarning{}) {
		w.Null("glue_strain")
		return
	}
	w.OpenAt("glue_strain")
	w.Pressure("stress", s.Stress)
	w.Pressure("strength", s.Strength)
	w.Close()
}
