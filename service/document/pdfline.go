package document

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// lines prints a text over as many lines and pages as it takes.
func (p *printer) lines(text string, width, size float64, align string) {
	lines := p.split(text, width)
	for i, line := range lines {
		p.room(float64(kept(i, len(lines))) * size * p.pitch())
		p.pdf.SetX(p.left)
		p.line(width, size*p.pitch(), line, align, true)
	}
}

// kept is how many lines stand on one page from a line on, of as many as a text has: no line of a text stands alone at the
// end of a page or at the beginning of the next.
func kept(line, of int) int {
	switch {
	case line == 0 && of <= 3:
		return of
	case line == 0, line == of-2:
		return 2
	default:
		return 1
	}
}

// split breaks a text into lines of that width, in the letters that are set. Words longer than a line are broken.
func (p *printer) split(text string, width float64) (lines []string) {
	for part := range strings.SplitSeq(text, "\n") {
		if part = printable(part); part == "" {
			lines = append(lines, "")
			continue
		}
		for _, line := range p.wrap(part, width) {
			lines = append(lines, seen(line))
		}
	}
	return lines
}

func (p *printer) wrap(text string, width float64) (lines []string) {
	line := ""
	words := strings.Fields(text)
	for i := 0; i < len(words); i++ {
		word := words[i]
		for i+1 < len(words) && binds(word, words[i+1]) && p.measure(word+" "+words[i+1]) <= width {
			i++
			word += " " + words[i]
		}
		for {
			joined := strings.TrimPrefix(line+" "+word, " ")
			if p.measure(joined) <= width {
				line = joined
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
				continue
			}
			head := p.head(word, width)
			lines, word = append(lines, head), word[len(head):]
		}
	}
	return append(lines, line)
}

// units are those that stand behind a number.
var units = map[string]bool{"mm": true, "m": true, "in": true, "ft": true, "Zoll": true, "Fuß": true, "kg": true, "lb": true,
	"N": true, "lbf": true, "kPa": true, "°C": true, "°F": true, "%": true, "h": true, "l": true, "USD": true, "EUR": true, "×": true}

// binds reports whether a line does not end between two words: a number stays with its unit, with the one it makes a pair with,
// with the word that says what it counts, and with the number of its place in a list.
func binds(word, next string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	first, _ := utf8.DecodeRuneInString(next)
	switch {
	case unicode.IsDigit(last):
		return next == "|" || units[strings.TrimRight(next, ".,;:)")]
	case unicode.IsDigit(first):
		return unicode.IsLetter(last) || strings.HasSuffix(word, " |") || strings.HasSuffix(word, " ×") || numbered.MatchString(word)
	default:
		return false
	}
}

// numbered is the number of a place in a list: "4: 1950 | 0".
var numbered = regexp.MustCompile(`\d:$`)

// head is the longest beginning of a word that fits, up to a hyphen where there is one, and at least one letter.
func (p *printer) head(word string, width float64) string {
	end := 0
	for i, r := range word {
		next := i + len(string(r))
		if i > 0 && p.measure(word[:next]) > width {
			break
		}
		end = next
	}
	at := 0
	for next := hyphenated(word); next <= end && next < len(word); next += hyphenated(word[next:]) {
		at = next
	}
	if at > 0 && end < len(word) {
		return word[:at]
	}
	return word[:end]
}

// hyphenated is how many bytes of a word stand before the first place where it may go on on the next line: behind a hyphen between two
// letters, as that of a number with a fraction binds.
func hyphenated(word string) int {
	before := rune(0)
	for i, r := range word {
		if after, _ := utf8.DecodeRuneInString(word[i+1:]); r == '-' && unicode.IsLetter(before) && unicode.IsLetter(after) {
			return i + 1
		}
		before = r
	}
	return len(word)
}

// one is a text shortened to one line.
func (p *printer) one(text string, width float64) string {
	text = printable(strings.Join(strings.Fields(text), " "))
	if p.measure(text) <= width {
		return seen(text)
	}
	runes := []rune(text)
	for len(runes) > 0 && p.measure(string(runes)+"…") > width {
		runes = runes[:len(runes)-1]
	}
	return seen(string(runes)) + "…"
}
