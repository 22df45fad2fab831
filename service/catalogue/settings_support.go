package catalogue

import "seamwright/service/measure"

// SupportSettings is what a shop allows of a top between and beyond its supports.
type SupportSettings struct {
	SagCreep      float64        // sag after years over the sag at once, of what lasts
	SupportSafety float64        // breaking stress over the greatest allowed
	SpanLimit     float64        // a span's length over its greatest sag
	OverhangLimit float64        // an overhang's
	SagMost       measure.Length // greatest sag, whatever the length

	BaseFront measure.Length // fronts of cabinets and legs behind the top's front edge
	BaseRail  measure.Length // width of a base's rails, in the middle of which fixings stand
	SeamHold  measure.Length // as near to a seam as what carries must be; else blocking carries it

	PropSpacing measure.Length // brackets and legs from each other, at most
	PropEnd     measure.Length // the first and the last from the ends of what they carry, at most
	PropShort   measure.Length // their tips behind the top's front edge, at least

	// Loads by use: what lies on the top for years, in kPa, and what stands at the worst place for a while, in N
	WorktopUniform, DeskUniform, BarUniform float64
	WorktopPoint, DeskPoint, BarPoint       float64
}

var supportSettings = []Setting{
	number("sag_creep", "2", 1, 10,
		"sag after years over the sag at once, of the part of the load that lasts",
		func(s *Settings) *float64 { return &s.SagCreep }),
	number("support_safety", "4", 1, 20,
		"breaking stress of clear wood over the greatest bending stress that is allowed, along and across the grain",
		func(s *Settings) *float64 { return &s.SupportSafety }),
	number("span_limit", "360", 50, 2000,
		"a span's length over the greatest sag that is allowed in its middle",
		func(s *Settings) *float64 { return &s.SpanLimit }),
	number("overhang_limit", "180", 50, 2000,
		"an overhang's length over the greatest sag that is allowed at its tip",
		func(s *Settings) *float64 { return &s.OverhangLimit }),
	length("sag_most", "3.175", 50, "sag of a span or an overhang, at most, whatever its length (1/8 in)",
		func(s *Settings) *measure.Length { return &s.SagMost }),
	length("base_front", "25.4", 500, "fronts of cabinets and legs behind the top's front edge, where the order does not say (1 in)",
		func(s *Settings) *measure.Length { return &s.BaseFront }),
	length("base_rail", "50.8", 500, "width of the rails at the front and back of a base, in whose middle fixings stand (2 in)",
		func(s *Settings) *measure.Length { return &s.BaseRail }),
	length("seam_hold", "101.6", 1000, "distance from a seam to what carries its pieces, at most: beyond it blocking carries them (4 in)",
		func(s *Settings) *measure.Length { return &s.SeamHold }),
	length("prop_spacing", "609.6", 2000, "brackets and legs from each other, at most (24 in)",
		func(s *Settings) *measure.Length { return &s.PropSpacing }),
	length("prop_end", "152.4", 1000, "the first and the last bracket or leg from the ends of what they carry, at most (6 in)",
		func(s *Settings) *measure.Length { return &s.PropEnd }),
	length("prop_short", "25.4", 500, "tips of brackets, and legs, behind the top's front edge, at least, so that nobody sees or hits them (1 in)",
		func(s *Settings) *measure.Length { return &s.PropShort }),
	number("worktop_uniform", "1", 0, 100, "load that lies on a worktop for years, in kPa (21 lbf/ft²)",
		func(s *Settings) *float64 { return &s.WorktopUniform }),
	number("worktop_point", "700", 0, 10000, "load that stands at the worst place of a worktop for a while, in N (157 lbf): somebody leans on it or kneels",
		func(s *Settings) *float64 { return &s.WorktopPoint }),
	number("desk_uniform", "0.75", 0, 100, "load that lies on a desk for years, in kPa (16 lbf/ft²)",
		func(s *Settings) *float64 { return &s.DeskUniform }),
	number("desk_point", "600", 0, 10000, "load that stands at the worst place of a desk for a while, in N (135 lbf): somebody leans on it",
		func(s *Settings) *float64 { return &s.DeskPoint }),
	number("bar_uniform", "0.5", 0, 100, "load that lies on a bar for years, in kPa (10 lbf/ft²)",
		func(s *Settings) *float64 { return &s.BarUniform }),
	number("bar_point", "1000", 0, 10000, "load that stands at the worst place of a bar for a while, in N (225 lbf): somebody leans or sits on it",
		func(s *Settings) *float64 { return &s.BarPoint }),
}
