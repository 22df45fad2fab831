package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/takeoff"
)

// walkGlueUp walks how a slab is glued up; left out for ready-made panels, and in answers kept from before it was told.
func walkGlueUp(f *wire.Fields, at **estimate.GlueUp) {
	if !f.OpenIf("glue_up", *at != nil) {
		return
	}
	if f.Reads() {
		*at = new(estimate.GlueUp)
	}
	g := *at
	wire.List(f, "sections", &g.Sections, func(f *wire.Fields, s *takeoff.Section) {
		f.Open()
		wire.Int(f, "staves", &s.Staves)
		f.Made("width", &s.Width)
		f.Close()
	})
	wire.Int(f, "joints", &g.Joints)
	f.Area("joint_area", &g.JointArea)
	wire.Int(f, "joints_at_once", &g.AtOnce)
	wire.Int(f, "count", &g.Count)
	wire.Number(f, "spread_minutes", &g.Spreading, 1)
	wire.Number(f, "clamp_minutes", &g.Closing, 1)
	f.Pressure("pressure", &g.Pressure)
	wire.Int(f, "clamps", &g.Clamps)
	f.MadeOrNull("clamp_spacing", &g.Spacing)
	f.ForceOrNull("face_force", &g.FaceForce)
	wire.Number(f, "litres", &g.Litres, 3)
	wire.Number(f, "clamp_hours", &g.Hours, 2)
	wire.Word(f, "rings", &g.Rings)
	f.Close()
	if f.Reads() {
		g.Parts = len(g.Sections)
	}
}
