package store

// seedTables is every table that is seeded from a file, in an order that keeps foreign keys content. Settings
// are not among them: their defaults stand in service/catalogue.
var seedTables = []seedTable{
	{"species", []seedColumn{{"code", text}, {"name", text}, {"botanical", words}, {"wood_group", text}}},
	{"species_property", []seedColumn{
		{"species", text}, {"property", text}, {"value", maybe(decimal)}, {"source", words}, {"verified", truth}, {"note", words},
	}},
	{"item", []seedColumn{{"code", text}, {"kind", text}, {"name", text}, {"unit", text}, {"source", text}, {"note", words}}},
	{"fastener", []seedColumn{
		{"code", text}, {"kind", text},
		{"width_mm", decimal}, {"length_mm", decimal}, {"thickness_mm", decimal},
		{"thread_diameter_mm", decimal}, {"head_diameter_mm", decimal}, {"washer_diameter_mm", decimal},
		{"bore_diameter_mm", decimal}, {"penetration_mm", decimal},
		{"bolt_diameter_mm", decimal}, {"recess_diameter_mm", decimal}, {"recess_depth_mm", decimal},
		{"recess_distance_mm", decimal}, {"bearing_diameter_mm", decimal},
		{"least_thickness_mm", decimal}, {"greatest_thickness_mm", decimal},
		{"working_load_n", decimal}, {"may_mix_with_bolt", truth},
	}},
	{"lumber", []seedColumn{
		{"code", text}, {"species", text}, {"rough_thickness_mm", decimal}, {"surfaced_thickness_mm", decimal},
		{"grade", text}, {"clear_twelfths", count}, {"stock_lengths_mm", rising}, {"working_width_mm", decimal},
	}},
	{"panel", []seedColumn{{"code", text}, {"species", text}, {"thickness_mm", decimal}, {"width_mm", decimal}, {"length_mm", decimal}}},
	{"glue", []seedColumn{{"code", text}, {"spread_m2", decimal}, {"clamp_hours", decimal}}},
	{"finish", []seedColumn{
		{"code", text}, {"system", text}, {"coverage_m2", decimal}, {"dry_hours", decimal}, {"coats", count}, {"self_heat", truth}, {"cure_days", maybe(decimal)},
	}},
	{"sundry", []seedColumn{{"code", text}, {"driver", text}, {"used", decimal}, {"finish_system", maybe(text)}, {"by_use", truth}}},
	{"supplier", []seedColumn{{"code", text}, {"name", text}}},
	{"item_pack", []seedColumn{{"item", text}, {"size", decimal}}},
	{"price", []seedColumn{
		{"item", text}, {"size", decimal}, {"supplier", text}, {"valid_from", day}, {"currency", text}, {"amount", decimal},
	}},
	{"labour_role", []seedColumn{{"code", text}, {"name", text}, {"rate", decimal}, {"source", text}}},
	{"labour_standard", []seedColumn{
		{"code", text}, {"name", text}, {"place", count}, {"role", text}, {"crew", count}, {"condition", text}, {"driver", text},
		{"setup_low", decimal}, {"setup_likely", decimal}, {"setup_high", decimal},
		{"each_low", decimal}, {"each_likely", decimal}, {"each_high", decimal},
		{"wait_hours", decimal}, {"by_hardness", truth}, {"by_thickness", truth}, {"by_tool", truth}, {"by_experience", truth},
		{"lifts", truth}, {"gives", words}, {"note", words}, {"source", text},
	}},
	{"labour_standard_after", []seedColumn{{"step", text}, {"follows", text}}},
	{"climate_profile", []seedColumn{
		{"code", text}, {"name", text},
		{"dry_humidity", maybe(decimal)}, {"dry_temperature_c", maybe(decimal)}, {"dry_moisture", maybe(decimal)},
		{"humid_humidity", maybe(decimal)}, {"humid_temperature_c", maybe(decimal)}, {"humid_moisture", maybe(decimal)},
		{"source", text}, {"note", words},
	}},
}
