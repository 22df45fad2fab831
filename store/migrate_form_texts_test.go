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

// What a shop that speaks another language wrote on its order form is kept as that language's; what nobody wrote, and what a shop that
// speaks English wrote, is not taken for another language.
func TestTextsOfTheFormOfBeforeAreThoseOfTheShopsLanguage(t *testing.T) {
	t.Parallel()
	for language, want := range map[string]string{"de": "form_next_de=Wir melden uns.", "en": ""} {
		url := empty(t)
		ctx := context.Background()
		conn := storetest.Dial(t, url)
		db := stdlib.OpenDB(*conn.Config())
		migrations, err := goose.NewProvider(goose.DialectPostgres, db, store.MigrationFiles())
		require.NoError(t, err)
		_, err = migrations.UpTo(ctx, 51)
		require.NoError(t, err)
		storetest.Exec(t, conn, `INSERT INTO setting (key, value, about, source) VALUES ('shop_language', '`+language+`', 'x', 'demo'),
			('form_intro', 'Tell us.', 'x', 'demo'), ('form_next', 'We call.', 'x', 'demo')`)
		storetest.Exec(t, conn, `UPDATE setting SET value = 'Wir melden uns.', version = version + 1 WHERE key = 'form_next'`)
		_, err = migrations.Up(ctx)
		require.NoError(t, err)
		require.NoError(t, db.Close())
		require.Equal(t, want, storetest.One[string](t, conn,
			`SELECT coalesce(string_agg(key || '=' || value, ' ' ORDER BY key), '') FROM setting WHERE key LIKE 'form\_%\_de'`), language)
	}
}
