package store_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// What a shop that speaks another language wrote on its order form is kept as that language's; what nobody wrote, and what a shop that
// speaks English wrote, is not taken for another language.
func TestTextsOfTheFormOfBeforeAreThoseOfTheShopsLanguage(t *testing.T) {
	t.Parallel()
	for language, want := range map[string]string{"de": "form_next_de=Wir melden uns.", "en": ""} {
		conn, _, upgrade := ofBefore(t, 51)
		storetest.Exec(t, conn, `INSERT INTO setting (key, value, about, source) VALUES ('shop_language', '`+language+`', 'x', 'demo'),
			('form_intro', 'Tell us.', 'x', 'demo'), ('form_next', 'We call.', 'x', 'demo')`)
		storetest.Exec(t, conn, `UPDATE setting SET value = 'Wir melden uns.', version = version + 1 WHERE key = 'form_next'`)
		upgrade()
		require.Equal(t, want, storetest.One[string](t, conn,
			`SELECT coalesce(string_agg(key || '=' || value, ' ' ORDER BY key), '') FROM setting WHERE key LIKE 'form\_%\_de'`), language)
	}
}
