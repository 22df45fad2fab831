package measure

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
)

// What a sender may write: the longest text in bytes and the bound that every length stays under.
const (
	longestText        = 40
	lengthBound Length = 1e6 * Millimetre
)

const examples = `write it like 25-1/2, 25.5, 7' 3-1/2", 648 mm or 1.2 m`

// LengthError says why a text or a number is no length. Both parts are written for a maker.
type LengthError struct {
	Text   string // what was sent, made printable and cut when it is long
	Reason string // what is wrong and what was expected, with an example
}

// Error returns the text in quotation marks and the reason.
func (e *LengthError) Error() string {
	return fmt.Sprintf("“%s” is not a length: %s", e.Text, e.Reason)
}

func refuse(text, format string, args ...any) *LengthError {
	shown := text
	if len(shown) > longestText {
		shown = shown[:longestText] + "…"
	}
	return &LengthError{Text: printable(shown), Reason: printable(fmt.Sprintf(format, args...))}
}

// printable puts a mark in place of what a screen cannot show.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return unicode.ReplacementChar
	}, text)
}

// ParseLength reads a length as a maker writes it:
//
//	25-1/2   25 1/2   25½   3/4   0.75   .75      a bare number is in unit
//	25.5in   25-1/2"  7 ft   7' 3-1/2"   7'3   7 ft 3 in
//	648 mm   64.8cm   1.2 m                       a unit in the text wins
//
// Whole numbers, decimals, fractions and mixed numbers go with every unit; typographic primes,
// quotation marks, dashes and spaces are read as their plain forms, and units in either case.
// Inches after feet must be under 12, and then the feet are a whole number.
//
// The value is rational throughout and rounded once, to the nearest float64 of millimetres, so 25.5 in
// and 647.7 mm give the same bits. Refused with a *LengthError: text over 40 bytes, negative lengths,
// decimal commas, lengths of 1 000 000 mm and more, and whatever else cannot be read.
func ParseLength(text string, unit System) (Length, error) {
	if len(text) > longestText {
		return 0, refuse(text, "it is longer than %d characters; %s", longestText, examples)
	}
	plain := strings.TrimSpace(strings.ToLower(plainForms.Replace(text)))
	if reason := refusedAtSight(plain); reason != "" {
		return 0, refuse(text, "%s", reason)
	}
	r := reader{rest: plain}
	exact, err := r.length(unit)
	if err == nil && r.rest != "" {
		err = fmt.Errorf("the end, “%s”, cannot be read; %s", r.rest, examples)
	}
	if err != nil {
		return 0, refuse(text, "%s", err)
	}
	return bounded(text, exact)
}

// plainForms writes the forms that keyboards, drawings and word processors use in the plain ones. A
// vulgar fraction gets spaces around it, so that 25½ is read like 25 1/2.
var plainForms = strings.NewReplacer(
	"''", `"`, "’’", `"`, "′′", `"`, "’", "'", "‘", "'", "′", "'", "”", `"`, "“", `"`, "″", `"`,
	"‐", "-", "‑", "-", "–", "-", "−", "-", "⁄", "/", "∕", "/",
	"\u00a0", " ", "\u2009", " ", "\u202f", " ",
	"½", " 1/2 ", "⅓", " 1/3 ", "⅔", " 2/3 ", "¼", " 1/4 ", "¾", " 3/4 ",
	"⅕", " 1/5 ", "⅖", " 2/5 ", "⅗", " 3/5 ", "⅘", " 4/5 ", "⅙", " 1/6 ", "⅚", " 5/6 ",
	"⅐", " 1/7 ", "⅛", " 1/8 ", "⅜", " 3/8 ", "⅝", " 5/8 ", "⅞", " 7/8 ", "⅑", " 1/9 ", "⅒", " 1/10 ",
)

// refusedAtSight gives the reason for what is often sent and never a length.
func refusedAtSight(plain string) string {
	switch {
	case plain == "":
		return "it is empty; " + examples
	case strings.HasPrefix(plain, "-"):
		return "it is negative; a length is zero or more"
	case strings.Contains(plain, ","):
		return "it has a comma; write 25.5, not 25,5, and 1250, not 1,250"
	}
	return ""
}

// bounded rounds an exact number of millimetres, once, and holds it under the bound.
func bounded(text string, exact *big.Rat) (Length, error) {
	mm, _ := exact.Float64() // the nearest float64; whether it is exact does not matter
	if Length(mm) >= lengthBound {
		return 0, refuse(text, "it is too long; a length must be under 1000 m (39370 in)")
	}
	return Length(mm), nil
}
