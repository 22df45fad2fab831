package catalogue

import (
	"strings"

	"seamwright/service/source"
)

// Listing is what the law of nations says of the trade in a wood.
type Listing struct {
	Botanical string // genus, or genus and species: every wood whose botanical name begins so
	Appendix  string // of the convention
	Where     string // populations that are meant; empty: all
	Source    source.ID
}

// listings are the woods of tops whose trade between countries the convention rules, the narrower name first. But for
// Swietenia, which is read (testdata/published/cites.csv), they are remembered, and change: Khaya and the African Afzelia came in 2023.
var listings = []Listing{
	{"Dalbergia nigra", "I", "", source.CITES},
	{"Dalbergia", "II", "", source.CITES},
	{"Swietenia", "II", "those of the Americas", source.CITES},
	{"Khaya", "II", "those of Africa", source.CITES},
	{"Afzelia", "II", "those of Africa", source.CITES},
	{"Cedrela", "II", "those of the Americas", source.CITES},
	{"Pericopsis elata", "II", "", source.CITES},
	{"Gonystylus", "II", "", source.CITES},
}

// ListingOf is the listing of a wood by its botanical name; ok is false where none is known.
func ListingOf(s *Species) (l Listing, ok bool) {
	for _, l := range listings {
		n := len(l.Botanical)
		if len(s.Botanical) < n || !strings.EqualFold(s.Botanical[:n], l.Botanical) {
			continue
		}
		if rest := s.Botanical[n:]; rest == "" || rest[0] == ' ' {
			return l, true
		}
	}
	return Listing{}, false
}
