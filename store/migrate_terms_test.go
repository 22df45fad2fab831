package store_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// A shop that speaks another language on its papers keeps the terms that it wrote, as those of that language; who never wrote any gets
// the program's, and a shop that speaks English keeps its own as they are.
func TestTermsOfBeforeAreThoseOfTheShopsLanguage(t *testing.T) {
	t.Parallel()
	for language, tries := range map[string]map[bool]string{"de": {true: "Barzahlung.", false: ""},
		"en": {true: "", false: ""}} {
		for written, want := range tries {
			conn, _, upgrade := ofBefore(t, 26)
			storetest.Exec(t, conn, `INSERT INTO setting (key, value, about, source) VALUES ('shop_language', '`+language+
				`', 'x', 'demo'), ('quote_terms', 'As usual.', 'x', 'demo')`)
			if written {
				storetest.Exec(t, conn, `UPDATE setting SET value = 'Barzahlung.', version = version + 1 WHERE key = 'quote_terms'`)
			}
			upgrade()
			require.Equal(t, want, storetest.One[string](t, conn,
				`SELECT coalesce(max(value), '') FROM setting WHERE key = 'quote_terms_de'`), language)
		}
	}
}
