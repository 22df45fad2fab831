package catalogue

import (
	"seamwright/service/measure"
)

// slabSettings are the measures of blanks and staves, and how they are glued up.
var slabSettings = []Setting{
	length("end_trim", "25.4", 200, "blank longer than the piece, at each end (1 in)",
		func(s *Settings) *measure.Length { return &s.EndTrim }),
	length("width_allowance", "12.7", 200, "blank wider than the piece (1/2 in)",
		func(s *Settings) *measure.Length { return &s.WidthAllowance }),
	length("thickness_allowance", "1.5875", 20, "surfaced stock over finished thickness, at least (1/16 in)",
		func(s *Settings) *measure.Length { return &s.ThicknessAllowance }),
	length("stave_width", "101.6", 400, "finished width of a stave, at most (4 in)",
		func(s *Settings) *measure.Length { return &s.StaveWidth }),
	length("stave_rip", "9.525", 50, "stave wider before ripping and jointing (3/8 in)",
		func(s *Settings) *measure.Length { return &s.StaveRip }),
	length("stave_trim", "50.8", 500, "stave longer than the blank (2 in)",
		func(s *Settings) *measure.Length { return &s.StaveTrim }),
	length("built_up_width", "76.2", 500, "width of the strips under a built-up edge, and of what is solid at its ends and supports, at least (3 in)",
		func(s *Settings) *measure.Length { return &s.BuiltUpWidth }),
	length("planer_width", "508", 2000, "widest slab that planer and sander take; wider ones are glued up in sections (20 in)",
		func(s *Settings) *measure.Length { return &s.PlanerWidth }),
	number("glue_open_minutes", "8", 1, 120, "open time of the glue: from the first spread to the closed joint",
		func(s *Settings) *float64 { return &s.GlueOpenMinutes }),
	number("glue_closed_minutes", "10", 1, 120, "closed time of the glue: from the closed joint to full pressure",
		func(s *Settings) *float64 { return &s.GlueClosedMinutes }),
	number("glue_spread_rate", "0.12", 0.01, 10, "glue spread on stave joints, m² a minute",
		func(s *Settings) *float64 { return &s.GlueSpreadRate }),
	number("clamp_force", "6.7", 0.5, 100, "force of a clamp, kN; 6.7 kN (1,500 lbf) is a heavy bar clamp",
		func(s *Settings) *float64 { return &s.ClampForce }),
	number("clamp_minutes", "0.3", 0.05, 10, "minutes to set and tighten a clamp",
		func(s *Settings) *float64 { return &s.ClampMinutes }),
	length("kerf", "3.175", 10, "saw kerf (1/8 in)", func(s *Settings) *measure.Length { return &s.Kerf }),
	length("finger_length", "10", 60, "fingers that join staves end to end where no board is long enough",
		func(s *Settings) *measure.Length { return &s.FingerLength }),
	length("offcut_keep", "609.6", 5000, "offcuts from this length on are kept (24 in)",
		func(s *Settings) *measure.Length { return &s.OffcutKeep }),

	length("moulding_thickness", "9.525", 50, "applied moulding: thickness, by which the slab is shallower (3/8 in)",
		func(s *Settings) *measure.Length { return &s.MouldingThickness }),
}
