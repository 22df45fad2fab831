package pen

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence is a sentence that answers say, or a name or clause in one, with %s where values stand, and the same in another
// language, whose values may change places: %[2]s is the second.
type Sentence struct {
	begin string // before its first value
	match *regexp.Regexp
	own   string
	runs  []bool // of its values: it is a run's name, which stays as the caller gave it
}

// Learn takes a sentence and its words in another language. One that does not end as a sentence does is a name or a clause, and
// stands for a whole text or value only.
func Learn(english, own string) Sentence {
	parts := strings.Split(english, "%s")
	s := Sentence{begin: parts[0], own: own}
	for i := range parts {
		if i > 0 {
			s.runs = append(s.runs, strings.HasSuffix(parts[i-1], "run ") || strings.HasSuffix(parts[i-1], "Run "))
		}
	}
	for i := range parts {
		parts[i] = regexp.QuoteMeta(parts[i])
	}
	end := `$`
	if strings.ContainsAny(english[len(english)-1:], ".:?!") {
		end = `(?:\s+|$)`
	}
	s.match = regexp.MustCompile(`^` + strings.Join(parts, `(.+?)`) + end)
	return s
}

// sentenceEnd is where one sentence ends and the next begins: no value reaches across it.
var sentenceEnd = regexp.MustCompile(`\. \p{Lu}`)

// reachesAcross reports whether a value swallows the end of a sentence. What somebody wrote stands in quotation marks and may have
// sentences of its own.
func reachesAcross(value string) bool {
	if n := len(value); n > 1 && value[0] == '"' && value[n-1] == '"' {
		return false
	}
	return sentenceEnd.MatchString(value)
}

// Told says what an answer says, which comes whole and may be several sentences, in the language. A sentence that it does not
// know stays English, with all that follows.
func (s Speech) Told(text string) string {
	own, rest := s.tell(text)
	if rest == "" {
		return own
	}
	return strings.TrimSpace(own + " " + s.typeset(rest))
}

// Knows reports whether the language has words for all of a text.
func (s Speech) Knows(text string) bool {
	_, rest := s.tell(text)
	return rest == ""
}

func (s Speech) tell(text string) (own, rest string) {
	if s.Sentences == nil {
		return "", text
	}
	var told []string
next:
	for text != "" {
		for i := range s.Sentences {
			one := &s.Sentences[i]
			if !strings.HasPrefix(text, one.begin) {
				continue
			}
			found := one.match.FindStringSubmatch(text)
			if found == nil {
				continue
			}
			if slices.ContainsFunc(found[1:], reachesAcross) {
				continue
			}
			values := make([]any, len(found)-1)
			for k, value := range found[1:] {
				if values[k] = value; !one.runs[k] {
					values[k] = s.value(value)
				}
			}
			if told = append(told, one.own); len(values) > 0 {
				told[len(told)-1] = fmt.Sprintf(one.own, values...)
				if one.begin == "" {
					told[len(told)-1] = beginLike(text, told[len(told)-1])
				}
			}
			text = text[len(found[0]):]
			continue next
		}
		break
	}
	return strings.Join(told, " "), text
}

// value says what stands in a sentence: a name, a word, a length, a number, or a clause that is itself known.
func (s Speech) value(text string) string {
	if own := s.Name(text); own != text {
		return own
	}
	if own, known := s.Words[text]; known {
		return own
	}
	if n, unit, found := strings.Cut(text, " "); found { // "2 people", "31 days"
		if own, known := s.Words["%s "+unit]; known {
			return fmt.Sprintf(own, s.figure(n, unit))
		}
	}
	if before, last, found := strings.Cut(text, " and "); found && figure(before) && figure(last) { // "31 in and 64 in"
		parts := strings.Split(before, ", ")
		for i := range parts {
			parts[i] = s.value(parts[i])
		}
		return strings.Join(parts, ", ") + " " + s.Say("and") + " " + s.value(last)
	}
	if figure(strings.TrimPrefix(text, "less than ")) {
		return s.Phrase(text)
	}
	if strings.Contains(text, " ") { // a clause
		if own, rest := s.tell(text); rest == "" {
			return own
		}
	}
	return text
}

func figure(text string) bool { return text != "" && text[0] >= '0' && text[0] <= '9' }

// beginLike gives a sentence that begins with a value a capital where the English one has it: names of woods are small within one.
func beginLike(english, own string) string {
	first, _ := utf8.DecodeRuneInString(english)
	if letter, size := utf8.DecodeRuneInString(own); unicode.IsUpper(first) && unicode.IsLower(letter) {
		return string(unicode.ToUpper(letter)) + own[size:]
	}
	return own
}
