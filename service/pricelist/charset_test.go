package pricelist

import (
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/require"
)

// Bytes of the code pages as the Encoding Standard (WHATWG) has them: 0x80 is the euro sign in windows-1252, 0x8A is Š there
// and 0xC4 is Ф in KOI8-R; ISO-8859-1 is read as windows-1252.
func TestAListIsReadInTheEncodingThatIsSaid(t *testing.T) {
	t.Parallel()
	for declared, c := range map[string]struct{ bytes, article, said string }{
		"windows-1252": {"B\xf6hm \x8a-\x80", "Böhm Š-€", "windows 1252"},
		"ISO-8859-1":   {"B\xf6hm", "Böhm", "windows 1252"},
		"iso-8859-15":  {"\xa4", "€", "iso 8859-15"},
		"koi8-r":       {"\xe6", "Ф", "koi8-r"},
	} {
		list := "article;price\n" + c.bytes + ";1,50\n"
		r, err := Open(iotest.OneByteReader(strings.NewReader(list)), Options{MediaType: "text/csv; charset=" + declared})
		require.NoError(t, err, declared)
		var row Row
		rejection, err := r.Next(&row)
		require.NoError(t, err, declared)
		require.Nil(t, rejection, declared)
		require.Equal(t, c.article, row.Article, declared)
		require.Equal(t, "1.50", row.Price)
		require.Equal(t, c.said, r.Understood().Encoding)
		require.Contains(t, r.Understood().Stated, "encoding")
	}
}
