package store_test

import (
	"context"
	"testing"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/stretchr/testify/require"

	"seamwright/store"
	"seamwright/store/storetest"
)

// A database of before gets the shipped woods' strength, and says so in their versions; a wood whose stiffness is the
// shop's own does not.
func TestWoodsOfBeforeGetTheirStrength(t *testing.T) {
	t.Parallel()
	url := empty(t)
	ctx := context.Background()
	conn := storetest.Dial(t, url)
	db := stdlib.OpenDB(*conn.Config())
	defer func() { require.NoError(t, db.Close()) }()
	migrations, err := goose.NewProvider(goose.DialectPostgres, db, store.MigrationFiles())
	require.NoError(t, err)
	_, err = migrations.UpTo(ctx, 28)
	require.NoError(t, err)
	for _, sql := range []string{
		`INSERT INTO seeding (fingerprint, seeded_at) VALUES ('before', now())`,
		`INSERT INTO species (code, name, wood_group) VALUES ('walnut_black', 'Black walnut', 'hardwood'), ('teak', 'Teak', 'imported')`,
		`INSERT INTO species_property (species, property, value, source) VALUES ('walnut_black', 'elasticity', 11.6, 'WH-5-3'),
  ('teak', 'elasticity', 11, 'demo')`,
	} {
		storetest.Exec(t, conn, sql)
	}
	_, err = migrations.Up(ctx)
	require.NoError(t, err)
	value := func(species, property string) *float64 {
		return storetest.One[*float64](t, conn, `SELECT (SELECT value::float8 FROM species_property WHERE species = '`+species+`' AND property = '`+property+`')`)
	}
	require.Equal(t, 101000.0, *value("walnut_black", "bending_strength"))
	require.Equal(t, 0.021, *value("walnut_black", "ratio_rolling"))
	require.Nil(t, value("teak", "bending_strength"))
	require.Equal(t, int64(2), storetest.One[int64](t, conn, `SELECT version FROM species WHERE code = 'walnut_black'`))
	require.Equal(t, int64(1), storetest.One[int64](t, conn, `SELECT version FROM species WHERE code = 'teak'`))
}
