package pen

import (
	"strings"
	"unicode"

	"seamwright/service/measure"
)

// Width of a line of text. Letters are reckoned by the usual sans-serif, a little generously.
func Width(s string, l Letters) float64 {
	w := 0.0
	for _, r := range s {
		w += advance(r)
	}
	if l.Bold {
		w *= 1.07
	}
	return w * l.Size
}

// ascii are the widths of the plain letters.
var ascii = func() (list [128]float64) {
	for r := range list {
		list[r] = reckon(rune(r))
	}
	return list
}()

// advance is a letter's width as a share of its size.
func advance(r rune) float64 {
	if r >= 0 && r < 128 {
		return ascii[r]
	}
	return reckon(r)
}

func reckon(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl.,:;'|!·’", r):
		return 0.29
	case strings.ContainsRune("frtI()[]/- ", r):
		return 0.36
	case r >= '0' && r <= '9':
		return 0.58
	case strings.ContainsRune("mwMW—%@", r):
		return 0.9
	case strings.ContainsRune("→←", r):
		return 1
	case r >= 'A' && r <= 'Z':
		return 0.7
	case unicode.In(r, unicode.Mn, unicode.Cf):
		return 0
	case r < 0x1100:
		return 0.57
	default:
		return 1.2
	}
}

// Fit shortens a text to a width, with an ellipsis.
func Fit(s string, most float64, l Letters) string {
	if Width(s, l) <= most {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 {
		runes = runes[:len(runes)-1]
		if short := strings.TrimRightFunc(string(runes), unicode.IsSpace) + "…"; Width(short, l) <= most {
			return short
		}
	}
	return ""
}

// Wrap breaks a text into lines of at most a width.
func Wrap(s string, most float64, l Letters) []string {
	if oneLine(s) && Width(s, l) <= most {
		return []string{s}
	}
	var lines []string
	at := ""
	for _, word := range parts(s, func(part string) bool { return Width(part, l) <= most }) {
		for word != "" && Width(word, l) > most { // longer than a line: broken
			n, w := 0, 0.0
			for i, r := range word {
				if w += advance(r) * l.Size * 1.07; w > most {
					break
				}
				n = i + len(string(r))
			}
			if n == 0 {
				n = len(word)
			}
			if at != "" {
				lines, at = append(lines, at), ""
			}
			lines, word = append(lines, word[:n]), word[n:]
		}
		if word == "" {
			continue
		}
		switch longer := at + " " + word; {
		case at == "":
			at = word
		case Width(longer, l) > most:
			lines, at = append(lines, at), word
		default:
			at = longer
		}
	}
	if at != "" {
		lines = append(lines, at)
	}
	return lines
}

// parts are what a line may end behind: words, and measures with their units where they have room on one.
func parts(s string, fits func(part string) bool) (list []string) {
	for _, part := range measure.Unbroken(s) {
		for words := strings.Fields(part); len(words) > 0; {
			n := len(words)
			for ; n > 1 && !fits(strings.Join(words[:n], " ")); n-- {
			}
			list, words = append(list, strings.Join(words[:n], " ")), words[n:]
		}
	}
	return list
}

// oneLine says whether a text is words with one blank between them.
func oneLine(s string) bool {
	blank := true
	for _, r := range s {
		now := unicode.IsSpace(r)
		if now && (blank || r != ' ') {
			return false
		}
		blank = now
	}
	return !blank
}

// Escape makes a text safe inside an element: what XML forbids and what would turn the direction of what follows is left
// out.
func Escape(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r < 0x20, r >= 0x7f && r < 0xa0, r == 0xfffe, r == 0xffff, r == unicode.ReplacementChar:
			b.WriteByte(' ')
		case r >= 0x202a && r <= 0x202e: // overrides; isolates end with their line
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plain says whether a text needs no escaping: most do not.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < 0x20 || c >= 0x7f || c == '&' || c == '<' || c == '>' || c == '"' {
			return false
		}
	}
	return true
}
