package document

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
	"golang.org/x/text/unicode/runenames"
)

// missing stands for a letter that the embedded letters do not have.
const missing = '□'

// printable makes a text fit for the PDF: letters are put into the shapes that join, those that steer are left out, and what the
// embedded letters do not have is said otherwise.
func printable(text string) string {
	if plain(text) {
		return text
	}
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r) && r != nonJoiner, r >= 0xFE00 && r <= 0xFE0F,
			r >= 0x1F3FB && r <= 0x1F3FF:
			return -1 // steers, or says how to show what stands before it
		}
		return r
	}, text)
	text = strings.ReplaceAll(joined(norm.NFC.String(text)), string(nonJoiner), "")
	var b strings.Builder
	for _, r := range norm.NFC.String(text) {
		if faceOf(r) != noFace {
			b.WriteRune(r)
		} else {
			b.WriteString(otherwise(r))
		}
	}
	return b.String()
}

// nonJoiner keeps letters apart that would join; it is not printed.
const nonJoiner = '\u200C'

func plain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// otherwise says what stands for a letter that the embedded letters do not have: the same letter plain, the name of a
// pictogram, or a box.
func otherwise(r rune) string {
	if r >= 0x1F1E6 && r <= 0x1F1FF { // two of them are a flag
		return string('A' + r - 0x1F1E6)
	}
	same := joined(norm.NFKC.String(string(r)))
	if same != string(r) && strings.IndexFunc(same, func(r rune) bool { return faceOf(r) == noFace }) < 0 {
		return same
	}
	if name := runenames.Name(r); unicode.IsSymbol(r) && name != "" {
		return "(" + strings.ToLower(name) + ")"
	}
	return string(missing)
}

func isRightToLeft(r rune) bool {
	p, _ := bidi.LookupRune(r)
	return p.Class() == bidi.R || p.Class() == bidi.AL
}

// seen puts one line of text into the order in which it is seen from left to right (UAX #9, without its explicit marks, which
// are not printed).
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
	runs := make([]bidi.Run, order.NumRuns())
	for i := range runs {
		runs[i] = order.Run(i)
	}
	visually(runs, beginsRightToLeft(text))
	var b strings.Builder
	for i := range runs {
		if runs[i].Direction() == bidi.RightToLeft {
			b.WriteString(bidi.ReverseString(runs[i].String()))
		} else {
			b.WriteString(runs[i].String())
		}
	}
	return b.String()
}

// beginsRightToLeft says in which direction a line goes: that of its first letter (rules P2 and P3).
func beginsRightToLeft(text string) bool {
	for _, r := range text {
		if p, _ := bidi.LookupRune(r); p.Class() == bidi.L {
			return false
		}
		if isRightToLeft(r) {
			return true
		}
	}
	return false
}

// visually puts runs, which come in the order in which they are read, into that in which they are seen (rule L2). In a line
// from right to left all change places. In one from left to right those from right to left do, with the numbers between them.
func visually(runs []bidi.Run, rightToLeft bool) {
	if rightToLeft {
		slices.Reverse(runs)
		return
	}
	for i := 0; i < len(runs); i++ {
		end := i
		for end < len(runs) && (runs[end].Direction() == bidi.RightToLeft || end > i && !hasLetters(runs[end].String())) {
			end++
		}
		for end > i && runs[end-1].Direction() != bidi.RightToLeft {
			end--
		}
		if end > i {
			slices.Reverse(runs[i:end])
			i = end - 1
		}
	}
}

func hasLetters(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { p, _ := bidi.LookupRune(r); return p.Class() == bidi.L }) >= 0
}
