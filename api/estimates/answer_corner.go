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

// walkHold walks a place on a seam; auto when none is chosen.
func walkHold(f *wire.Fields, name string, at *hardware.Hold) {
	const auto = "auto"
	word := *at
	if word == hardware.HoldAuto {
		word = auto
	}
	if wire.Word(f, name, &word); word == auto {
		word = hardware.HoldAuto
	}
	*at = word
}

func walkCorner(f *wire.Fields, c *estimate.CornerResult) {
	f.Open()
	f.Angle("angle", &c.Angle)
	walkSensitivity(f, &c.Sensitivity)
	walkInLine(f, &c.InLine)
	wire.Word(f, "chosen", &c.Chosen.Kind)
	wire.WordOrNull(f, "through", &c.Chosen.Through)
	wire.Word(f, "why", &c.Why)
	if f.OpenOrNull("close", c.Close.Text != "") {
		wire.Int(f, "lead", &c.Close.Lead)
		wire.Word(f, "other", &c.Close.Other.Kind)
		wire.WordOrNull(f, "other_through", &c.Close.Other.Through)
		wire.Word(f, "text", &c.Close.Text)
		f.Close()
	}
	walkTolerances(f, &c.Tolerances)
	wire.List(f, "candidates", &c.Candidates, walkCandidate)
	f.Close()
}

// walkSensitivity walks by how many degrees a tape reading turns a corner for each unit of length; the estimate has radians a millimetre.
func walkSensitivity(f *wire.Fields, s *float64) {
	unit := 1.0
	if f.Units == measure.Inches {
		unit = measure.Inch.Millimetres()
	}
	degrees := (measure.Angle(*s) * measure.Angle(unit)).Degrees()
	wire.NumberOrNull(f, "tape_sensitivity", &degrees, 4)
	if f.Reads() {
		*s = float64(measure.Angle(degrees)*measure.Degree) / unit
	}
}

func walkCandidate(f *wire.Fields, c *estimate.Candidate) {
	f.Open()
	wire.Word(f, "joint", &c.Joint.Kind)
	wire.WordOrNull(f, "through", &c.Joint.Through)
	f.Bool("feasible", &c.Feasible)
	wire.Int(f, "score", &c.Score)
	wire.Word(f, "carry", &c.Carry)
	wire.List(f, "findings", &c.Findings, walkFinding)
	walkGeometry(f, &c.Geometry, c.Joint.Kind)
	walkSeamMovement(f, &c.Movement)
	walkHardware(f, &c.Hardware)
	if f.OpenOrNull("other_pull", c.OtherPull.Kind != "") {
		wire.Word(f, "kind", &c.OtherPull.Kind)
		wire.Int(f, "score", &c.OtherPull.Score)
		f.Amount("cost_difference", &c.OtherPull.CostDifference)
		f.Close()
	}
	wire.WordOrNull(f, "remedy", &c.Remedy)
	wire.List(f, "remedies", &c.Remedies, walkRemedy)
	f.Amount("cost", &c.Cost)
	f.Amount("cost_difference", &c.CostDifference)
	wire.Number(f, "labour_hours", &c.LabourHours, 2)
	if f.OpenOrNull("glue_strain", c.Strain != estimate.SplitWarning{}) {
		f.Pressure("stress", &c.Strain.Stress)
		f.Pressure("strength", &c.Strain.Strength)
		f.Close()
	}
	f.Close()
}

func walkFinding(f *wire.Fields, x *joint.Finding) {
	f.Open()
	wire.Word(f, "rule", &x.Rule)
	wire.Word(f, "effect", &x.Effect)
	wire.Int(f, "points", &x.Points)
	wire.Word(f, "text", &x.Text)
	f.Close()
}

func walkGeometry(f *wire.Fields, g *estimate.Geometry, kind plan.JointKind) {
	if !f.OpenAt("geometry") {
		return
	}
	f.Made("seam_length", &g.SeamLength)
	walkPoints(f, "seam_path", &g.SeamPath)
	f.Length("front_keep", &g.FrontKeep)
	walkCut(f, "first", &g.First)
	walkCut(f, "second", &g.Second)
	f.Angle("nominal_angle", &g.NominalAngle)
	f.Length("nominal_error_gap", &g.NominalErrorGap)
	if w := f.Writer(); w != nil && kind.RunsThrough() {
		w.Null("profile_mismatch")
	} else {
		f.Length("profile_mismatch", &g.ProfileMismatch)
	}
	f.Close()
}

func walkCut(f *wire.Fields, name string, c *estimate.Cut) {
	if !f.OpenAt(name) {
		return
	}
	f.Angle("cut_angle", &c.CutAngle)
	f.Angle("saw_setting", &c.SawSetting)
	f.Made("wall_edge", &c.WallEdge)
	f.Made("front_edge", &c.FrontEdge)
	f.Close()
}

func walkSeamMovement(f *wire.Fields, m *estimate.SeamMovement) {
	if !f.OpenAt("movement") {
		return
	}
	walkHold(f, "hold_at", &m.HoldAt)
	walkHold(f, "first_line", &m.FirstLine)
	walkHold(f, "second_line", &m.SecondLine)
	// whether the legs can swing, and what room they need for it; untold in older answers
	if f.Reads() || m.RestrainedWhy != "" {
		f.Bool("restrained", &m.Restrained)
		wire.Word(f, "restrained_why", &m.RestrainedWhy)
		f.Pair("needed_gap", &m.NeededGapFirst, &m.NeededGapSecond)
	}
	f.Length("far", &m.Far)
	walkSeason(f, "dry", &m.Dry)
	walkSeason(f, "humid", &m.Humid)
	f.Close()
}

func walkSeason(f *wire.Fields, name string, s *joint.Season) {
	if !f.OpenAt(name) {
		return
	}
	f.Length("max_slip", &s.MaxSlip)
	f.Length("max_opening", &s.MaxOpening)
	wire.WordOrNull(f, "opens_at", &s.OpensAt)
	f.Length("pushes", &s.Push)
	f.Angle("angle_change", &s.AngleChange)
	f.Length("first_shift", &s.FirstShift)
	f.Length("second_shift", &s.SecondShift)
	f.Close()
}

func walkHardware(f *wire.Fields, h *hardware.Plan) {
	if !f.OpenAt("hardware") {
		return
	}
	f.Bool("feasible", &h.Feasible)
	wire.WordOrNull(f, "reason", &h.Reason)
	walkHold(f, "hold_at", &h.HoldAt)
	walkAlignment(f, &h.Alignment)
	walkPull(f, &h.Pull)
	f.Texts("tries", &h.Tries)
	f.Close()
}

func walkAlignment(f *wire.Fields, a *hardware.Alignment) {
	if !f.OpenOrNull("alignment", a.Item != "") {
		return
	}
	wire.Word(f, "item", &a.Item)
	walkPart(f, &a.Part)
	wire.Word(f, "kind", &a.Kind)
	wire.Int(f, "count", &a.Count)
	wire.Int(f, "rows", &a.Rows)
	f.MadeAll("positions", &a.Positions)
	f.Sized("slot_width", &a.SlotWidth, measure.Least)
	f.SizedAll("slot_widths", &a.SlotWidths, measure.Least)
	wire.Word(f, "note", &a.Note)
	f.Close()
	if f.Reads() {
		a.Part.Code, a.Part.Kind = a.Item, a.Kind
	}
}

// walkPull walks the first kind of parts in the object itself and the second, if there is one, in further.
func walkPull(f *wire.Fields, p *hardware.Pull) {
	if !f.OpenOrNull("pull", len(p.Groups) > 0) {
		return
	}
	if f.Reads() {
		p.Groups = make([]hardware.PullGroup, 1, 2)
	}
	walkPullGroup(f, &p.Groups[0])
	if f.OpenOrNull("further", len(p.Groups) > 1) {
		if f.Reads() {
			p.Groups = p.Groups[:2]
		}
		walkPullGroup(f, &p.Groups[1])
		f.Force("capacity", &p.Groups[1].Capacity)
		f.Close()
	}
	f.Force("capacity", &p.Capacity)
	f.ForceOrNull("ultimate", &p.Ultimate)
	f.Force("moment_force", &p.MomentForce)
	wire.Int(f, "people", &p.People)
	walkLegs(f, p)
	wire.Word(f, "note", &p.Note)
	f.Close()
}

// walkLegs walks the two pieces at a seam; answers that were kept before they were told apart have none.
func walkLegs(f *wire.Fields, p *hardware.Pull) {
	legs := p.Legs[:]
	if p.Legs[0].Run == "" {
		legs = legs[:0]
	}
	wire.List(f, "legs", &legs, walkLeg)
}

func walkLeg(f *wire.Fields, leg *hardware.Carried) {
	f.Open()
	wire.Word(f, "run", &leg.Run)
	f.Mass("weight", &leg.Mass)
	f.Length("arm", &leg.Arm)
	f.Force("moment_force", &leg.MomentForce)
	wire.Int(f, "people", &leg.People)
	f.Close()
}

func walkPullGroup(f *wire.Fields, g *hardware.PullGroup) {
	wire.Word(f, "item", &g.Item)
	walkPart(f, &g.Part)
	wire.Word(f, "kind", &g.Kind)
	wire.Int(f, "count", &g.Count)
	f.MadeAll("positions", &g.Positions)
	walkBores(f, "hole_diameter", "hole_diameters", &g.HoleDiameters)
	walkBores(f, "channel_width", "channel_widths", &g.Channels)
	f.LengthOrNull("travel", &g.Travel)
	f.SizedOrNull("recess_length", &g.RecessLength, measure.Least)
	f.SizedAll("recess_lengths", &g.Recesses, measure.Least)
	f.LengthOrNull("bearing", &g.Bearing)
	f.Bool("counts", &g.Counts)
	if f.Reads() { // what is written is not to be written to: other answers may share it
		g.Part.Code, g.Part.Kind = g.Item, g.Kind
	}
}

// walkBores walks the widths of bores, and in front of them the widest, which follows from them.
func walkBores(f *wire.Fields, widest, each string, all *[]measure.Length) {
	if w := f.Writer(); w != nil {
		var most measure.Length
		for _, l := range *all {
			most = max(most, l)
		}
		w.SizedOrNull(widest, most, measure.Bore)
	}
	f.SizedAll(each, all, measure.Bore)
}

// walkPart walks the sizes that a part has.
func walkPart(f *wire.Fields, p *catalogue.Fastener) {
	if !f.OpenAt("part") {
		return
	}
	wire.Word(f, "name", &p.Name)
	for _, size := range [...]struct {
		name   string
		length *measure.Length
	}{{"width", &p.Width}, {"length", &p.Length}, {"thickness", &p.Thickness}, {"thread_diameter", &p.ThreadDiameter},
		{"head_diameter", &p.HeadDiameter},
		{"washer_diameter", &p.WasherDiameter}, {"bore_diameter", &p.BoreDiameter}, {"penetration", &p.Penetration}, {"bolt_diameter", &p.BoltDiameter},
		{"recess_diameter", &p.RecessDiameter}, {"recess_depth", &p.RecessDepth}, {"recess_distance", &p.RecessDistance},
		{"bearing_diameter", &p.BearingDiameter}} {
		if f.Reads() || *size.length != 0 {
			f.Length(size.name, size.length)
		}
	}
	f.Close()
}

func walkRemedy(f *wire.Fields, r *estimate.RemedyCost) {
	f.Open()
	wire.Word(f, "remedy", &r.Remedy)
	f.Amount("cost", &r.Cost)
	wire.Word(f, "text", &r.Text)
	f.Close()
}
