package sheet

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"seamwright/service/fault"
)

// Kind says what a cell holds.
type Kind int

// The kinds of cell.
const (
	Code    Kind = iota // lower-case words joined by underscores
	Text                // one line
	Choice              // one of a list of words
	Number              // a number that may have been measured
	Decimal             // an exact number: money and sizes of packs
	Whole               // a whole number
	Truth               // true or false
	Day                 // YYYY-MM-DD
	Numbers             // rising numbers with blanks between
	Sizes               // exact numbers with blanks between, in any order
	Codes               // codes with blanks between, in any order
)

// Column is one column of a part.
type Column struct {
	Name      string
	Kind      Kind
	Empty     bool     // the cell may be empty
	Zero      bool     // the table has zero, or no text, where the cell is empty; otherwise null
	Low, High float64  // bounds of numbers
	Open      bool     // the lower bound itself is out
	Under     bool     // the upper bound itself is out
	Money     bool     // an exact number that is an amount of money: text in JSON, with its cents
	Places    int      // decimals: of exact numbers at most, of others as answers show them
	Choices   []string // of a Choice
	Longest   int      // characters of a text
	Most      int      // items of a list
	For       string   // only rows of this kind have the cell
	Held      []Held   // where else it lies
}

var (
	codeForm    = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	decimalForm = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)
)

const longestCode = 64

// Read gives a cell its canonical form. The error says what was expected, as a sentence for the person who wrote it.
func (c *Column) Read(text string) (string, error) {
	if c.Kind != Text {
		text = strings.TrimSpace(text)
	}
	if text == "" {
		if c.Empty || c.For != "" {
			return "", nil
		}
		return "", errors.New("must not be empty")
	}
	switch c.Kind {
	case Code:
		return text, code(text)
	case Text:
		return text, c.text(text)
	case Choice:
		if !slices.Contains(c.Choices, text) {
			return "", fmt.Errorf("%q is not one of %s%s", short(text), strings.Join(c.Choices, ", "), near(text, c.Choices))
		}
		return text, nil
	case Truth:
		if lower := strings.ToLower(text); lower == "true" || lower == "false" { // spreadsheets write capitals
			return lower, nil
		}
		return "", fmt.Errorf("%q is neither true nor false", short(text))
	case Day:
		if _, err := time.Parse(time.DateOnly, text); err != nil {
			return "", fmt.Errorf("%q is not a day as YYYY-MM-DD, such as 2026-11-01", short(text))
		}
		return text, nil
	case Number, Decimal, Whole:
		return c.number(text)
	case Numbers, Sizes, Codes:
	}
	return c.list(text)
}

// Canonical gives a cell from the database its canonical form; one that Read would refuse stays as it is.
func (c *Column) Canonical(text string) string {
	if c.Kind == Number && strings.ContainsAny(text, "eE") { // the database writes small numbers so
		text = plain(parse(text))
	}
	if read, err := c.Read(text); err == nil {
		return read
	}
	return text
}

func code(text string) error {
	if !codeForm.MatchString(text) || len(text) > longestCode {
		return fmt.Errorf("%q is not a code: lower-case letters and digits in words joined by underscores, at most %d characters", short(text), longestCode)
	}
	return nil
}

func (c *Column) text(text string) error {
	switch {
	case !utf8.ValidString(text):
		return errors.New("is not valid UTF-8")
	case strings.ContainsFunc(text, unicode.IsControl):
		return errors.New("must be one line without control characters")
	case strings.TrimSpace(text) == "":
		return errors.New("must not be blank")
	case utf8.RuneCountInString(text) > c.Longest:
		return fmt.Errorf("must be at most %d characters long", c.Longest)
	}
	return nil
}

// number reads a plain number and holds it against the bounds.
func (c *Column) number(text string) (string, error) {
	if len(text) > 40 || !decimalForm.MatchString(text) {
		return "", fmt.Errorf("%q is not a plain number such as 12.5 (a point before the decimals, no thousands separators)",
			short(text))
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return "", fmt.Errorf("%q is too large to reckon with", short(text))
	}
	if x < c.Low || x > c.High || c.Open && x == c.Low || c.Under && x == c.High {
		return "", fmt.Errorf("is %s; it must be %s", short(text), c.bounds())
	}
	exact := trimmed(text)
	switch {
	case c.Kind == Whole && strings.Contains(exact, "."):
		return "", fmt.Errorf("%q is not a whole number", short(text))
	case c.Kind == Decimal && decimals(exact) > c.Places:
		return "", fmt.Errorf("%q has more than %d decimals", short(text), c.Places)
	case c.Kind == Number:
		return plain(x), nil
	}
	return exact, nil
}

func (c *Column) bounds() string {
	low, high := "at least "+plain(c.Low), "at most "+plain(c.High)
	if c.Open {
		low = "more than " + plain(c.Low)
	}
	if c.Under {
		high = "less than " + plain(c.High)
	}
	return low + " and " + high
}

// plain prints a number without an exponent, as short as it can be and still be the same number.
func plain(x float64) string {
	if x == 0 {
		return "0" // never -0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// trimmed takes zeros away that say nothing.
func trimmed(text string) string {
	text, negative := strings.CutPrefix(text, "-")
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text = strings.TrimLeft(text, "0"); text == "" || text[0] == '.' {
		text = "0" + text
	}
	if negative && text != "0" {
		return "-" + text
	}
	return text
}

func decimals(text string) int {
	_, places, _ := strings.Cut(text, ".")
	return len(places)
}

// list reads several things with blanks between.
func (c *Column) list(text string) (string, error) {
	words := strings.Fields(text)
	if len(words) > c.Most {
		return "", fmt.Errorf("has %d entries; at most %d are allowed", len(words), c.Most)
	}
	one := Column{Kind: map[Kind]Kind{Numbers: Number, Sizes: Decimal, Codes: Code}[c.Kind], Low: c.Low, High: c.High,
		Open: c.Open, Places: c.Places}
	for i, word := range words {
		read, err := one.Read(word)
		if err != nil {
			return "", fmt.Errorf("entry %d %w", i+1, err)
		}
		words[i] = read
	}
	if c.Kind == Numbers {
		for i := 1; i < len(words); i++ {
			if parse(words[i]) <= parse(words[i-1]) {
				return "", fmt.Errorf("must ascend: %s comes after %s", words[i], words[i-1])
			}
		}
		return strings.Join(words, " "), nil
	}
	slices.SortFunc(words, func(a, b string) int {
		if c.Kind == Sizes && parse(a) != parse(b) {
			return map[bool]int{true: -1, false: 1}[parse(a) < parse(b)]
		}
		return strings.Compare(a, b)
	})
	for i := 1; i < len(words); i++ {
		if words[i] == words[i-1] {
			return "", fmt.Errorf("has %s twice", words[i])
		}
	}
	return strings.Join(words, " "), nil
}

// parse reads a number that was read before; nothing is 0.
func parse(text string) float64 {
	if text == "" {
		return 0
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN() // compares with nothing
	}
	return x
}

// short cuts what a sender made overlong.
func short(text string) string { return fault.Cut(text, 60) }
