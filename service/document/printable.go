package document

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
)

// missing stands for a letter that the embedded letters do not have: those beyond the first 65536, such as most
// pictograms, which the PDF's fonts cannot number. A web page shows them.
const missing = '□'

// printable makes a text fit for the PDF: letters that it cannot print are replaced, and those that steer are left out.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Mn, r) && r >= 0xFE00 && r <= 0xFE0F:
			return -1
		case r > 0xFFFF || r == unicode.ReplacementChar:
			return missing
		}
		return r
	}, text)
}

func isRightToLeft(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

// seen puts one line of text into the order in which it is seen from left to right (UAX #9). Letters that join, as
// the Arabic ones do, stand side by side unjoined: the PDF's fonts are drawn letter by letter.
func seen(text string) string {
	if strings.IndexFunc(text, isRightToLeft) < 0 {
		return text
	}
	var paragraph bidi.Paragraph
	if _, err := paragraph.SetString(text); err != nil {
		return text
	}
	order, err := paragraph.Order()
	if err != nil {
		return text
	}
	var b strings.Builder
	for i := range order.NumRuns() {
		run := order.Run(i)
		if run.Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(run.String()))
		} else {
			b.WriteString(run.String())
		}
	}
	return b.String()
}
