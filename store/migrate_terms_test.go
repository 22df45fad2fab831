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

// A shop that speaks another language on its papers keeps the terms that it wrote, as those of that language; who never wrote any gets
// the program's, and a shop that speaks English keeps its own as they are.
func TestTermsOfBeforeAreThoseOfTheShopsLanguage(t *testing.T) {
	t.Parallel()
	for language, tries := range map[string]map[bool]string{"de": {true: "Barzahlung.", false: ""},
		"en": {true: "", false: ""}} {
		for written, want := range tries {
			url := empty(t)
			ctx := context.Background()
			conn := storetest.Dial(t, url)
			db := stdlib.OpenDB(*conn.Config())
			migrations, err := goose.NewProvider(goose.DialectPostgres, db, store.MigrationFiles())
			require.NoError(t, err)
			_, err = migrations.UpTo(ctx, 26)
			require.NoError(t, err)
			storetest.Exec(t, conn, `INSERT INTO setting (key, value, about, source) VALUES ('shop_language', '`+language+
				`', 'x', 'demo'), ('quote_terms', 'As usual.', 'x', 'demo')`)
			if written {
				storetest.Exec(t, conn, `UPDATE setting SET value = 'Barzahlung.', version = version + 1 WHERE key = 'quote_terms'`)
			}
			_, err = migrations.Up(ctx)
			require.NoError(t, err)
			require.NoError(t, db.Close())
			require.Equal(t, want, storetest.One[string](t, conn,
				`SELECT coalesce(max(value), '') FROM setting WHERE key = 'quote_terms_de'`), language)
		}
	}
}
