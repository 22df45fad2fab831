package catalogue

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/publishedtest"
	"seamwright/service/source"
)

// The appendices from memory: no outside check, but the names are told apart.
func TestListedWoodsAreFoundByTheirBotanicalNames(t *testing.T) {
	t.Parallel()
	for name, appendix := range map[string]string{"Swietenia macrophylla": "II", "Khaya spp.": "II", "khaya ivorensis": "II",
		"Dalbergia nigra": "I", "Dalbergia latifolia": "II", "Pericopsis elata": "II", "Pericopsis mooniana": "",
		"Acer saccharum": "", "Khayana": "", "Entandrophragma cylindricum": "", "": ""} {
		l, ok := ListingOf(&Species{Botanical: name})
		require.Equal(t, appendix != "", ok, name)
		require.Equal(t, appendix, l.Appendix, name)
		if ok {
			require.Equal(t, source.CITES, l.Source)
		}
	}
}

// The appendices that were read.
func TestListedWoodsAreThoseOfAPublishedIndex(t *testing.T) {
	t.Parallel()
	read := 0
	for _, row := range publishedtest.Read(t, "cites.csv", 3) {
		require.True(t, row.Read(), row)
		l, ok := ListingOf(&Species{Botanical: row["botanical"]})
		require.True(t, ok, row)
		require.Equal(t, row["appendix"], l.Appendix, row)
		read++
	}
	publishedtest.Compared(t, "cites.csv", read)
}
