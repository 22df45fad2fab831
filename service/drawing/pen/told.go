package pen

import (
	"fmt"
	"regexp"
	"strings"
)

// Sentence is a sentence that answers say, with %s where values stand, and the same in another language, whose values may change
// places: %[2]s is the second.
type Sentence struct {
	begin string // before its first value
	match *regexp.Regexp
	own   string
}

// Learn takes a sentence and its words in another language.
func Learn(english, own string) Sentence {
	parts := strings.Split(english, "%s")
	for i := range parts {
		parts[i] = regexp.QuoteMeta(parts[i])
	}
	begin, _, _ := strings.Cut(english, "%s")
	return Sentence{begin, regexp.MustCompile(`^` + strings.Join(parts, `(.+?)`) + `(?:\s+|$)`), own}
}

// Told says what an answer says, which comes whole and may be several sentences, in the language. A sentence that it does not
// know stays English, with all that follows.
func (s Speech) Told(text string) string {
	own, rest := s.tell(text)
	if rest == "" {
		return own
	}
	return strings.TrimSpace(own + " " + rest)
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
			values := make([]any, len(found)-1)
			for k, value := range found[1:] {
				values[k] = s.value(value)
			}
			if told = append(told, one.own); len(values) > 0 {
				told[len(told)-1] = fmt.Sprintf(one.own, values...)
			}
			text = text[len(found[0]):]
			continue next
		}
		break
	}
	return strings.Join(told, " "), text
}

// value says what stands in a sentence: a name, a word, a length or a number.
func (s Speech) value(text string) string {
	if own := s.Name(text); own != text {
		return own
	}
	if own, known := s.Words[text]; known {
		return own
	}
	if n, unit, found := strings.Cut(text, " "); found { // "2 people", "31 days"
		if own, known := s.Words["%s "+unit]; known {
			return fmt.Sprintf(own, s.Number(n))
		}
	}
	if figure := strings.TrimPrefix(text, "less than "); figure != "" && figure[0] >= '0' && figure[0] <= '9' {
		return s.Phrase(text)
	}
	return text
}
