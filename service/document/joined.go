package document

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/unicode/runenames"
)

// forms are the shapes of an Arabic letter by what it joins to; 0: it has no such shape.
type forms struct{ isolated, final, initial, medial rune }

// arabicForms are the shapes that Unicode numbers (Arabic Presentation Forms-A and -B), by letter, and those of lam with alef,
// which are written as one. Which is which shape stands in the characters' names.
var arabicForms = sync.OnceValue(func() map[string]forms {
	table := map[string]forms{}
	add := func(from, to rune, letters int) {
		for r := from; r <= to; r++ {
			base := norm.NFKC.String(string(r))
			if base == string(r) || len([]rune(base)) != letters || !unicode.IsLetter([]rune(base)[0]) {
				continue
			}
			f, name := table[base], runenames.Name(r)
			switch {
			case strings.HasSuffix(name, "ISOLATED FORM"):
				f.isolated = r
			case strings.HasSuffix(name, "FINAL FORM"):
				f.final = r
			case strings.HasSuffix(name, "INITIAL FORM"):
				f.initial = r
			case strings.HasSuffix(name, "MEDIAL FORM"):
				f.medial = r
			}
			table[base] = f
		}
	}
	add(0xFB50, 0xFBFF, 1)
	add(0xFE80, 0xFEF4, 1)
	add(0xFEF5, 0xFEFC, 2) // lam with alef
	return table
})

const (
	tatweel = 0x0640
	lam     = 0x0644
)

func isArabic(r rune) bool { return r >= 0x0600 && r <= 0x06FF }

// joined puts Arabic letters into the shapes in which they join (The Unicode Standard, section 9.2, Arabic cursive joining). The
// text is in the order in which it is read. The points over and under letters, which may be left out in writing, are.
func joined(text string) string {
	if strings.IndexFunc(text, isArabic) < 0 {
		return text
	}
	var units []string // letters, and lam with alef
	table := arabicForms()
	for _, r := range norm.NFC.String(text) {
		if unicode.Is(unicode.Mn, r) && unicode.Is(unicode.Arabic, r) || r >= 0x064B && r <= 0x065F {
			continue
		}
		if n := len(units); n > 0 && units[n-1] == string(rune(lam)) && table[units[n-1]+string(r)].isolated != 0 {
			units[n-1] += string(r)
			continue
		}
		units = append(units, string(r))
	}
	toNext := func(i int) bool {
		return i >= 0 && i < len(units) && (table[units[i]].initial != 0 || units[i] == string(rune(tatweel)))
	}
	toLast := func(i int) bool {
		return i >= 0 && i < len(units) && (table[units[i]].final != 0 || units[i] == string(rune(tatweel)))
	}
	var b strings.Builder
	for i, unit := range units {
		f := table[unit]
		last, next := toNext(i-1) && toLast(i), toNext(i) && toLast(i+1)
		shape := f.isolated
		switch {
		case last && next:
			shape = f.medial
		case last:
			shape = f.final
		case next:
			shape = f.initial
		}
		if shape == 0 {
			b.WriteString(unit)
			continue
		}
		b.WriteRune(shape)
	}
	return b.String()
}
