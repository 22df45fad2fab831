package web

import (
	"encoding/base64"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/api/wire"
)

// parameter is a parameter of a query, as the spec has it.
type parameter struct {
	name      string
	required  bool
	kind      string // a type of the spec
	day       bool
	low, high float64
	usual     int // when it is not there
	words     []string
	shortest  int // characters
	longest   int
}

func newParameter(said *openapi3.Parameter) parameter {
	s := said.Schema.Value
	p := parameter{name: said.Name, required: said.Required, kind: s.Type.Slice()[0], day: s.Format == "date",
		low: math.Inf(-1), high: math.Inf(1), shortest: int(s.MinLength), longest: math.MaxInt}
	if s.Min != nil {
		p.low = *s.Min
	}
	if s.Max != nil {
		p.high = *s.Max
	}
	if s.MaxLength != nil {
		p.longest = int(*s.MaxLength)
	}
	if usual, isNumber := s.Default.(float64); isNumber {
		p.usual = int(usual)
	}
	words := s.Enum
	if p.kind == openapi3.TypeArray {
		words = s.Items.Value.Enum
	}
	for _, word := range words {
		p.words = append(p.words, fmt.Sprint(word))
	}
	return p
}

// longWords is how many words a sentence still lists with "or"; of more, it names the nearest.
const longWords = 4

// wrong says what is wrong with a value; empty: nothing.
func (p *parameter) wrong(text string) string {
	switch {
	case p.required && text == "":
		return missing[p.name]
	case p.kind == openapi3.TypeBoolean:
		if text != "true" && text != "false" {
			return "Must be true or false."
		}
	case p.kind == openapi3.TypeInteger:
		if n, err := strconv.ParseInt(text, 10, 64); err != nil || float64(n) < p.low || float64(n) > p.high {
			return p.numbers("a whole number")
		}
	case p.kind == openapi3.TypeNumber:
		if x, err := strconv.ParseFloat(text, 64); err != nil || !(x >= p.low && x <= p.high) {
			return p.numbers("a number")
		}
	case p.kind == openapi3.TypeArray && p.words != nil:
		for word := range strings.SplitSeq(text, ",") {
			if !slices.Contains(p.words, word) {
				last := len(p.words) - 1
				return "Must be one of " + strings.Join(p.words[:last], ", ") + " and " + p.words[last] + ", or several joined by commas."
			}
		}
	case p.words != nil && !slices.Contains(p.words, text):
		if len(p.words) > longWords {
			return wire.NotOneOf(p.words, text)
		}
		return "Must be " + wire.InWords(p.words) + "."
	case p.day:
		if _, err := time.Parse(time.DateOnly, text); err != nil && (text != "" || p.shortest > 0) {
			return notADay
		}
	case p.name == cursorParameter: // is looked at by itself
	case p.words == nil && !fitsText(text, p.shortest, p.longest):
		if p.shortest == 0 {
			return fmt.Sprintf("Must be at most %d visible characters.", p.longest)
		}
		return fmt.Sprintf("Must be %d to %d visible characters.", p.shortest, p.longest)
	}
	return ""
}

const notADay = "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01."

// missing are the sentences about parameters that must be there.
var missing = map[string]string{"article": "Is missing; name the article number to forget."}

// numbered are the sentences about numbers of which more can be said than their bounds.
var numbered = map[string]string{
	"number":          "Must be the number of a quote.",
	"from":            "Must be the number of a revision.",
	"expiring_within": "Must be a whole number of days from 0 to 3650.",
	"moved":           "Must be a number of percent from 0 to 1000.",
}

func (p *parameter) numbers(what string) string {
	if sentence := numbered[p.name]; sentence != "" {
		return sentence
	}
	return fmt.Sprintf("Must be %s from %.0f to %.0f.", what, p.low, p.high)
}

// fitsText says whether a text has so many characters, none of which controls anything.
func fitsText(text string, shortest, longest int) bool {
	n := utf8.RuneCountInString(text)
	return n >= shortest && n <= longest && utf8.ValidString(text) && !strings.ContainsFunc(text, unicode.IsControl)
}

const cursorParameter = "cursor"

// noCursor is what a cursor gets that is none, or none of the list.
const noCursor = "Is no cursor of this list. Take it from next_cursor of the page before, or leave it out for the first page."

// cursorAfter makes the opaque text that a page starts with: the list and the last key of the page before.
func cursorAfter(list, key string) string {
	return base64.RawURLEncoding.EncodeToString([]byte(list + "\n" + key))
}

// keyIn reads the key out of a cursor of a list; empty when it is none of that list.
func keyIn(cursor, list string) string {
	raw, err := base64.RawURLEncoding.DecodeString(cursor)
	key, ours := strings.CutPrefix(string(raw), list+"\n")
	if err != nil || !ours {
		return ""
	}
	return key
}
