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
