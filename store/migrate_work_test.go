package store_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/storetest"
)

// A database that was seeded before steps could lift and give: the demo's own rows become what the seed has now, a row
// that the shop has changed stays, and the catalogue is good.
func TestADemoCatalogueOfBeforeGetsTheNewOrderOfWork(t *testing.T) {
	t.Parallel()
	conn, url, _ := ofBefore(t, 18)
	for _, sql := range []string{
		`INSERT INTO seeding (fingerprint, seeded_at) VALUES ('before', now())`,
		`INSERT INTO labour_role (code, name, rate, source) VALUES ('maker', 'Maker', 48, 'demo'), ('installer', 'Installer', 46, 'demo')`,
		`INSERT INTO labour_standard (code, name, place, role, crew, condition, driver, setup_low, setup_likely, setup_high, each_low, each_likely, each_high, source)
SELECT code, code, place, 'maker', 1, condition, 'top', 1, 2, 3, 0, 0, 0, 'demo' FROM (VALUES ('cut_length', 150, 'always'), ('scribe_corner', 160, 'scribe'),
  ('seam_cut_miter', 170, 'miter'), ('seam_cut_butt', 180, 'butt'), ('seam_cut_masons', 190, 'masons_miter'), ('trial_fit', 210, 'corner'),
  ('profile_edges_before', 280, 'profile_before'), ('trial_assembly', 290, 'corner'), ('cope_moulding', 330, 'coped_corner'), ('ease_edges', 340, 'always'),
  ('cut_base_slots', 380, 'always'), ('deliver', 410, 'always'), ('sand_faces', 350, 'always')) AS s (code, place, condition)`,
		`INSERT INTO labour_standard_after (step, follows) VALUES ('scribe_corner', 'cut_length'), ('seam_cut_miter', 'cut_length'), ('seam_cut_miter', 'scribe_corner'),
  ('seam_cut_butt', 'scribe_corner'), ('seam_cut_masons', 'scribe_corner'), ('trial_fit', 'seam_cut_miter'), ('trial_fit', 'seam_cut_butt'), ('trial_fit', 'seam_cut_masons'),
  ('profile_edges_before', 'trial_fit'), ('trial_assembly', 'profile_edges_before'), ('trial_assembly', 'trial_fit'), ('cope_moulding', 'trial_assembly'), ('ease_edges', 'cope_moulding'),
  ('ease_edges', 'trial_assembly')`,
		`UPDATE labour_standard SET setup_high = 9 WHERE code IN ('cut_base_slots', 'sand_faces')`, // the shop's own
		`INSERT INTO setting (key, value, about, source) VALUES ('form_included', 'Measuring on site, making and fitting are included.', 'x', 'demo')`,
		`INSERT INTO setting (key, value, about, source) VALUES ('form_next', 'Ours.', 'x', 'demo')`,
		`INSERT INTO setting (key, value, about, source) VALUES ('points_swing', '-6', 'x', 'common-practice'), ('points_look', '10', 'x', 'common-practice'), ('points_bolts', '6', 'x', 'common-practice')`,
		`UPDATE setting SET value = '11' WHERE key = 'points_look'`,                        // the shop's own
		`UPDATE setting SET value = '7', version = version + 1 WHERE key = 'points_bolts'`, // changed,
		`UPDATE setting SET value = '6', version = version + 1 WHERE key = 'points_bolts'`, // and put back on purpose
	} {
		storetest.Exec(t, conn, sql)
	}
	require.NoError(t, store.Prepare(context.Background(), url))

	follows := func(step string) string {
		return storetest.One[string](t, conn,
			`SELECT coalesce(string_agg(follows, ' ' ORDER BY follows), '') FROM labour_standard_after WHERE step = '`+step+`'`)
	}
	require.Equal(t, "cut_length", follows("profile_edges_before"))
	require.Equal(t, "cut_length profile_edges_before scribe_corner", follows("seam_cut_miter"))
	require.Equal(t, "scribe_walls trial_fit", follows("trial_assembly"))
	require.Equal(t, "trial_fit", follows("scribe_walls"))
	require.Equal(t, "scribe_trip", follows("scribe_corner"))
	require.Equal(t, "cut_length profile_edges_before", follows("scribe_trip"))
	require.Equal(t, "cope_moulding fit_moulding trial_assembly", follows("ease_edges"))
	require.Equal(t, "always", storetest.One[string](t, conn,
		`SELECT condition FROM labour_standard WHERE code = 'cut_base_slots'`), "changed by the shop: stays")
	require.False(t, storetest.One[bool](t, conn, `SELECT by_experience FROM labour_standard WHERE code = 'sand_faces'`),
		"changed by the shop: stays")
	require.True(t, storetest.One[bool](t, conn, `SELECT by_experience FROM labour_standard WHERE code = 'ease_edges'`))
	points := func(key string) string {
		return storetest.One[string](t, conn, `SELECT value FROM setting WHERE key = '`+key+`'`)
	}
	require.Equal(t, "-20", points("points_swing"))
	require.Equal(t, "11", points("points_look"), "changed by the shop: stays")
	require.Equal(t, "6", points("points_bolts"), "set by the shop: stays")
	require.Equal(t, "12", points("points_apart"), "was not there")
	require.Equal(t, "delivery", storetest.One[string](t, conn,
		`SELECT gives FROM labour_standard WHERE code = 'deliver'`))
	require.True(t, storetest.One[bool](t, conn, `SELECT lifts FROM labour_standard WHERE code = 'deliver'`))
	require.Equal(t, "Making to measure is included.", storetest.One[string](t, conn,
		`SELECT value FROM setting WHERE key = 'form_included'`))
	require.Equal(t, "Ours.", storetest.One[string](t, conn, `SELECT value FROM setting WHERE key = 'form_next'`))
}
