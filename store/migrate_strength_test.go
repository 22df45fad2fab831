package store_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// A database of before gets the shipped woods' strength, and says so in their versions; a wood whose stiffness is the
// shop's own does not.
func TestWoodsOfBeforeGetTheirStrength(t *testing.T) {
	t.Parallel()
	conn, _, upgrade := ofBefore(t, 28)
	for _, sql := range []string{
		`INSERT INTO seeding (fingerprint, seeded_at) VALUES ('before', now())`,
		`INSERT INTO species (code, name, wood_group) VALUES ('walnut_black', 'Black walnut', 'hardwood'), ('teak', 'Teak', 'imported')`,
		`INSERT INTO species_property (species, property, value, source) VALUES ('walnut_black', 'elasticity', 11.6, 'WH-5-3'),
  ('teak', 'elasticity', 11, 'demo')`,
	} {
		storetest.Exec(t, conn, sql)
	}
	upgrade()
	value := func(species, property string) *float64 {
		return storetest.One[*float64](t, conn, `SELECT (SELECT value::float8 FROM species_property WHERE species = '`+species+`' AND property = '`+property+`')`)
	}
	require.Equal(t, 101000.0, *value("walnut_black", "bending_strength"))
	require.Equal(t, 0.021, *value("walnut_black", "ratio_rolling"))
	require.Nil(t, value("teak", "bending_strength"))
	require.Equal(t, int64(2), storetest.One[int64](t, conn, `SELECT version FROM species WHERE code = 'walnut_black'`))
	require.Equal(t, int64(1), storetest.One[int64](t, conn, `SELECT version FROM species WHERE code = 'teak'`))
}
