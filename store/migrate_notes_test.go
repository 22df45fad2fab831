package store_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// Notes of the demo's steps that spoke of an answer speak of a sheet; what a shop has written stays.
func TestNotesOfBeforeSpeakOfSheets(t *testing.T) {
	t.Parallel()
	conn, _, upgrade := ofBefore(t, 27)
	for _, sql := range []string{
		`INSERT INTO labour_role (code, name, rate, source) VALUES ('maker', 'Maker', 48, 'demo')`,
		`INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high, note, source)
SELECT code, code, place, 'maker', 1, 'always', 'top', 1, 2, 3, 0, 0, 0, note, 'demo' FROM (VALUES
  ('trial_fit', 210, 'Held flush at the point named in the answer.'), ('set_wall_gap', 480, 'A hand wide.')) AS s (code, place, note)`,
	} {
		storetest.Exec(t, conn, sql)
	}
	upgrade()
	note := func(step string) string {
		return storetest.One[string](t, conn, `SELECT note FROM labour_standard WHERE code = '`+step+`'`)
	}
	require.Equal(t, "Held flush at the point that the seam's sheet names.", note("trial_fit"))
	require.Equal(t, "A hand wide.", note("set_wall_gap"), "changed by the shop: stays")
}

// Notes and a name that spoke of corners and seams go with tops of every shape, and brushes with glued joints; what a shop has written stays.
func TestNotesOfBeforeSpeakOfEveryTop(t *testing.T) {
	t.Parallel()
	conn, _, upgrade := ofBefore(t, 64)
	for _, sql := range []string{
		`INSERT INTO labour_role (code, name, rate, source) VALUES ('maker', 'Maker', 48, 'demo')`,
		`INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high, note, source)
SELECT code, name, place, 'maker', 1, 'always', 'top', 1, 2, 3, 0, 0, 0, note, 'demo' FROM (VALUES
  ('glue_up', 'Glue up', 110, 'Stave joints only. The seam at the corner is never glued.'), ('check_base', 'Check the base', 420, 'With the long level.'),
  ('profile_edges_before', 'Profile the edges before joining', 155, 'Before the seam is cut, so that the seam cut cleans the tips.')) AS s (code, name, place, note)`,
		`INSERT INTO item (code, kind, name, unit, source) VALUES ('sundry_glue_brush', 'sundry', 'Glue brush', 'each', 'demo')`,
		`INSERT INTO sundry (code, driver, used) VALUES ('sundry_glue_brush', 'piece', 1)`,
	} {
		storetest.Exec(t, conn, sql)
	}
	upgrade()
	labour := func(column, step string) string {
		return storetest.One[string](t, conn, `SELECT `+column+` FROM labour_standard WHERE code = '`+step+`'`)
	}
	require.Equal(t, "Stave joints only: what meets on the site stays without glue.", labour("note", "glue_up"))
	require.Equal(t, "With the long level.", labour("note", "check_base"), "changed by the shop: stays")
	require.Equal(t, "Profile the edges of each piece", labour("name", "profile_edges_before"))
	require.Equal(t, "Before every cut that is still to come, which then cleans the tips.", labour("note", "profile_edges_before"))
	require.Equal(t, "glue_line_metre 0.1", storetest.One[string](t, conn, `SELECT driver || ' ' || used FROM sundry WHERE code = 'sundry_glue_brush'`))
}
