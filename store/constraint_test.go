package store_test

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5/pgconn"
	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// The database refuses nonsense whoever sends it. SQLSTATE: 23514 a check, 23503 a foreign key, 23505 there
// already.
func TestTheDatabaseRefusesNonsense(t *testing.T) {
	t.Parallel()
	_, conn := storetest.Setup(t)
	for _, c := range []struct{ name, sql, state, constraint string }{
		{"a code with capitals", `INSERT INTO species (code, name, wood_group) VALUES ('Teak', 'Teak', 'imported')`, "23514", "entity_code_is_snake_case"},
		{"a code of blanks", `INSERT INTO supplier (code, name) VALUES (' ', 'x')`, "23514", "entity_code_is_snake_case"},
		{"a code that is too long", `INSERT INTO supplier (code, name) VALUES (repeat('a', 81), 'x')`, "23514", "entity_code_is_snake_case"},
		{"a name of two lines", `UPDATE species SET name = E'a\nb' WHERE code = 'teak'`, "23514", "label_is_one_line"},
		{"no name", `UPDATE item SET name = '' WHERE code = 'biscuit_0'`, "23514", "label_is_one_line"},
		{"a wood of no group", `UPDATE species SET wood_group = 'plastic' WHERE code = 'teak'`, "23514", "species_group_is_known"},
		{"a species twice", `INSERT INTO species (code, name, wood_group) VALUES ('teak', 'Teak', 'imported')`, "23505", "species_pkey"},
		{"a species deleted under its lumber", `DELETE FROM species WHERE code = 'teak'`, "23503", "lumber_species_fkey"},

		{"a coefficient in percent", `UPDATE species_property SET value = 0.353 WHERE species = 'maple_sugar' AND property = 'tangential'`, "23514", "species_property_value_in_range"},
		{"a negative strength", `UPDATE species_property SET value = -1 WHERE species = 'teak' AND property = 'elasticity'`, "23514", "species_property_value_in_range"},
		{"not a number", `UPDATE species_property SET value = 'NaN' WHERE species = 'teak' AND property = 'elasticity'`, "23514", "species_property_value_in_range"},
		{"an unknown property", `INSERT INTO species_property (species, property, value, source) VALUES ('teak', 'colour', 1, 'demo')`, "23514", "species_property_value_in_range"},
		{"an unknown property without a value", `INSERT INTO species_property (species, property) VALUES ('teak', 'colour')`, "23514", "species_property_value_in_range"},
		{"a number without a source", `UPDATE species_property SET source = '' WHERE species = 'teak' AND property = 'radial'`, "23514", "species_property_names_its_source"},
		{"a source without a number", `UPDATE species_property SET value = NULL WHERE species = 'teak' AND property = 'radial'`, "23514", "species_property_names_its_source"},
		{"nothing, verified", `UPDATE species_property SET verified = true WHERE species = 'sapele' AND property = 'radial'`,
			"23514", "species_property_verified_is_known"},

		{"an item of no kind", `INSERT INTO item (code, kind, name, unit, source) VALUES ('x', 'nail', 'x', 'each', 'demo')`, "23514", "item_kind_is_known"},
		{"lumber by the piece", `UPDATE item SET unit = 'each' WHERE code = 'lumber_teak_4_4'`, "23514", "item_unit_fits_kind"},
		{"a kind that its details do not follow", `UPDATE item SET kind = 'dowel' WHERE code = 'biscuit_0'`, "23503", "fastener_is_item"},
		{"details of another kind", `INSERT INTO glue (code, spread_m2, clamp_hours) VALUES ('finish_tung_oil', 5, 1)`, "23503", "glue_is_item"},

		{"a negative length", `UPDATE fastener SET length_mm = -1 WHERE code = 'biscuit_0'`, "23514", "millimetres_in_range"},
		{"an infinite length", `UPDATE fastener SET length_mm = 'Infinity' WHERE code = 'biscuit_0'`, "23514", "millimetres_in_range"},
		{"a biscuit without a width", `UPDATE fastener SET width_mm = 0 WHERE code = 'biscuit_0'`, "23514", "fastener_alignment_has_measures"},
		{"a tenon as thick as its top", `UPDATE fastener SET least_thickness_mm = 8 WHERE code = 'loose_tenon_8x40'`, "23514", "fastener_alignment_has_measures"},
		{"a screw thicker than its head", `UPDATE fastener SET thread_diameter_mm = 12 WHERE code = 'pocket_screw_8_64'`, "23514", "fastener_screw_has_measures"},
		{"a screw that bites deeper than it is long", `UPDATE fastener SET penetration_mm = 64 WHERE code = 'pocket_screw_8_64'`, "23514", "fastener_screw_has_measures"},
		{"a washer that does not fit its pocket",
			`UPDATE fastener SET head_diameter_mm = 14, washer_diameter_mm = 14 WHERE code = 'pocket_screw_10_75'`, "23514",
			"fastener_pocket_takes_head"},
		{"a washer under the head's measure", `UPDATE fastener SET head_diameter_mm = 10 WHERE code = 'pocket_screw_10_75'`, "23514", "fastener_washer_bears"},
		{"a recess through the top", `UPDATE fastener SET recess_depth_mm = 30 WHERE code = 'draw_bolt_150'`, "23514", "fastener_bolt_has_measures"},
		{"a bearing wider than its recess", `UPDATE fastener SET bearing_diameter_mm = 36 WHERE code = 'draw_bolt_150'`, "23514", "fastener_bolt_has_measures"},
		{"a recess that opens into the seam", `UPDATE fastener SET recess_distance_mm = 17 WHERE code = 'draw_bolt_150'`, "23514", "fastener_bolt_has_measures"},
		{"a bolt too short for its recesses", `UPDATE fastener SET recess_distance_mm = 80 WHERE code = 'draw_bolt_150'`, "23514", "fastener_bolt_has_measures"},
		{"a bolt that holds nothing", `UPDATE fastener SET working_load_n = 0 WHERE code = 'draw_bolt_150'`, "23514", "fastener_bolt_has_measures"},
		{"thickness limits crossed", `UPDATE fastener SET greatest_thickness_mm = 20 WHERE code = 'pocket_screw_10_75'`, "23514", "fastener_thickness_in_order"},
		{"a bolt that mixes with bolts", `UPDATE fastener SET may_mix_with_bolt = true WHERE code = 'draw_bolt_150'`, "23514", "fastener_only_screws_mix"},

		{"lumber of no species", `UPDATE lumber SET species = 'granite' WHERE code = 'lumber_teak_4_4'`, "23503", "lumber_species_fkey"},
		{"surfacing that adds wood", `UPDATE lumber SET surfaced_thickness_mm = 30 WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_surfacing_takes_wood"},
		{"more than all clear", `UPDATE lumber SET clear_twelfths = 13 WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_clear_in_range"},
		{"no stock lengths", `UPDATE lumber SET stock_lengths_mm = '{}' WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_has_stock_lengths"},
		{"a stock length of nothing", `UPDATE lumber SET stock_lengths_mm = '{0, 2000}' WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_has_stock_lengths"},
		{"an empty stock length", `UPDATE lumber SET stock_lengths_mm = '{NULL}' WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_has_stock_lengths"},
		{"an endless stock length", `UPDATE lumber SET stock_lengths_mm = '{NaN}' WHERE code = 'lumber_teak_4_4'`, "23514", "lumber_has_stock_lengths"},
		{"a panel of no width", `UPDATE panel SET width_mm = 0 WHERE code = 'panel_ash_white_25x648x1829'`, "23514", "panel_width_is_positive"},
		{"glue that covers nothing", `UPDATE glue SET spread_m2 = 0`, "23514", "glue_spread_in_range"},
		{"a finish of no coats", `UPDATE finish SET coats = 0 WHERE system = 'tung_oil'`, "23514", "finish_coats_in_range"},
		{"a sundry by an unknown driver", `UPDATE sundry SET driver = 'per_mood' WHERE code = 'sundry_silicone'`, "23514", "sundry_driver_is_known"},

		{"an empty pack", `INSERT INTO item_pack (item, size) VALUES ('biscuit_0', 0)`, "23514", "item_pack_size_in_range"},
		{"a pack of no number", `INSERT INTO item_pack (item, size) VALUES ('biscuit_0', 'NaN')`, "23514", "item_pack_size_in_range"},
		{"a price of nothing", `UPDATE price SET amount = 0 WHERE item = 'biscuit_0'`, "23514", "price_amount_in_range"},
		{"a price of no number", `UPDATE price SET amount = 'NaN' WHERE item = 'biscuit_0'`, "23514", "price_amount_in_range"},
		{"a price in no currency", `UPDATE price SET currency = 'usd' WHERE item = 'biscuit_0'`, "23514", "price_currency_is_code"},
		{"a price of a pack that is not sold",
			`INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES ('biscuit_0', 7, 'demo', '2026-11-01', 'USD', 1)`, "23503", "price_is_of_pack"},
		{"a price of nobody", `INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES ('biscuit_0', 100, 'nobody', '2026-11-01', 'USD', 1)`, "23503", "price_latest_supplier_fkey"},
		{"a price that goes to nobody", `UPDATE price SET supplier = 'nobody' WHERE item = 'biscuit_0'`, "23503", "price_latest_supplier_fkey"},
		{"prices whose supplier goes", `DELETE FROM supplier WHERE code = 'demo'`, "23503", "price_latest_supplier_fkey"},
		{"two prices of one day", `INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES ('biscuit_0', 100.0, 'demo', '2026-10-01', 'USD', 1)`, "23505", "price_pkey"},
		{"a price for ever", `UPDATE price SET valid_from = 'infinity' WHERE item = 'biscuit_0' AND valid_from = '2026-10-01' AND size = 100`, "23514", "price_valid_from_in_range"},

		{"a negative rate", `UPDATE labour_role SET rate = -1 WHERE code = 'maker'`, "23514", "labour_role_rate_in_range"},
		{"work by no role", `UPDATE labour_standard SET role = 'robot' WHERE code = 'glue_up'`, "23503", "labour_standard_role_fkey"},
		{"work without hands", `UPDATE labour_standard SET crew = 0 WHERE code = 'glue_up'`, "23514", "labour_standard_crew_in_range"},
		{"an unknown condition", `UPDATE labour_standard SET condition = 'full_moon' WHERE code = 'glue_up'`, "23514", "labour_standard_condition_is_known"},
		{"an unknown driver", `UPDATE labour_standard SET driver = 'per_mood' WHERE code = 'glue_up'`, "23514", "labour_standard_driver_is_known"},
		{"likely over high", `UPDATE labour_standard SET each_likely = 99 WHERE code = 'glue_up'`, "23514", "labour_standard_each_in_order"},
		{"low over likely", `UPDATE labour_standard SET setup_low = 31 WHERE code = 'glue_up'`, "23514", "labour_standard_setup_in_order"},
		{"work in no time", `UPDATE labour_standard SET setup_low = 0, setup_likely = 0, setup_high = 0, each_low = 0, each_likely = 0, each_high = 0 WHERE code = 'glue_up'`, "23514", "labour_standard_takes_time"},
		{"minutes of no number", `UPDATE labour_standard SET setup_high = 'NaN' WHERE code = 'glue_up'`, "23514", "minutes_in_range"},
		{"a step after itself", `INSERT INTO labour_standard_after (step, follows) VALUES ('glue_up', 'glue_up')`, "23514", "labour_standard_not_after_itself"},
		{"a step after none", `INSERT INTO labour_standard_after (step, follows) VALUES ('glue_up', 'lunch')`, "23503", "labour_standard_after_follows_fkey"},

		{"air and moisture at once", `UPDATE climate_profile SET dry_moisture = 7 WHERE code = 'heated_house'`, "23514", "climate_dry_is_air_or_moisture"},
		{"half of the air", `UPDATE climate_profile SET humid_temperature_c = NULL WHERE code = 'heated_house'`, "23514", "climate_humid_is_air_or_moisture"},
		{"a humidity of a hundred", `UPDATE climate_profile SET humid_humidity = 100 WHERE code = 'heated_house'`, "23514", "climate_humid_humidity_in_range"},
		{"wetter than fibre saturation", `UPDATE climate_profile SET humid_moisture = 31 WHERE code = 'interior_most_areas'`, "23514", "moisture_percent_in_range"},
		{"a dry season that is the wetter", `UPDATE climate_profile SET dry_moisture = 11 WHERE code = 'interior_most_areas'`, "23514", "climate_moisture_in_order"},
		{"a second revision", `INSERT INTO catalogue_revision (only_row, revision) VALUES (true, 9)`, "23505", "catalogue_revision_pkey"},
		{"a second revision beside the first", `INSERT INTO catalogue_revision (only_row, revision) VALUES (false, 9)`, "23514", "catalogue_revision_has_one_row"},
	} {
		t.Run(c.name, func(t *testing.T) {
			tag, err := conn.Exec(context.Background(), c.sql)
			var refused *pgconn.PgError
			require.ErrorAs(t, err, &refused, "accepted: %s", tag)
			require.Equal(t, c.constraint, refused.ConstraintName, refused.Message)
			require.Equal(t, c.state, refused.Code, refused.Message)
		})
	}
}
