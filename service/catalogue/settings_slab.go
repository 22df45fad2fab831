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
	{Key: "glue_open_minutes", Kind: SettingNumber, Default: "8", Low: 1, High: 120,
		About: "open time of the glue: from the first spread to the closed joint", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueOpenMinutes = p.number }},
	{Key: "glue_closed_minutes", Kind: SettingNumber, Default: "10", Low: 1, High: 120,
		About: "closed time of the glue: from the closed joint to full pressure", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueClosedMinutes = p.number }},
	{Key: "glue_spread_rate", Kind: SettingNumber, Default: "0.12", Low: 0.01, High: 10,
		About: "glue spread on stave joints, m² a minute", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.GlueSpreadRate = p.number }},
	{Key: "clamp_force", Kind: SettingNumber, Default: "6.7", Low: 0.5, High: 100,
		About: "force of a clamp, kN; 6.7 kN (1,500 lbf) is a heavy bar clamp", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ClampForce = p.number }},
	{Key: "clamp_minutes", Kind: SettingNumber, Default: "0.3", Low: 0.05, High: 10,
		About: "minutes to set and tighten a clamp", Source: "common-practice",
		put: func(s *Settings, p parsed) { s.ClampMinutes = p.number }},
	length("kerf", "3.175", 10, "saw kerf (1/8 in)", func(s *Settings) *measure.Length { return &s.Kerf }),
	length("finger_length", "10", 60, "fingers that join staves end to end where no board is long enough",
		func(s *Settings) *measure.Length { return &s.FingerLength }),
	length("offcut_keep", "609.6", 5000, "offcuts from this length on are kept (24 in)",
		func(s *Settings) *measure.Length { return &s.OffcutKeep }),

	length("moulding_thickness", "9.525", 50, "applied moulding: thickness, by which the slab is shallower (3/8 in)",
		func(s *Settings) *measure.Length { return &s.MouldingThickness }),
}
