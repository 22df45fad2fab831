package measure_test

import (
	"math/big"
	"regexp"
	"strings"

	"seamwright/service/measure"
)

// The slow twin of ParseLength: the same grammar written as two patterns, to find what the reader that
// goes byte by byte gets wrong.
const (
	quantityPattern = `(?:(\d*)\.(\d+)|(\d+)/(\d+)|(\d+)(?:-?[ \t]*(\d+)/(\d+))?)`
	inchPattern     = `(?:"|in(?:ch(?:es)?)?\.?)`
	footPattern     = `(?:'|(?:ft|foot|feet)\.?)`
	metricPattern   = `(?:(mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?|m|met(?:re|er)s?)\.?)`
)

var (
	onePattern = regexp.MustCompile(`^` + quantityPattern + `[ \t]*(?:(` + inchPattern + `)|(` + footPattern + `)|` +
		metricPattern + `)?[ \t]*$`)
	twoPattern = regexp.MustCompile(`^(\d+)[ \t]*` + footPattern + `[ \t]*-?[ \t]*` + quantityPattern + `[ \t]*` +
		inchPattern + `?[ \t]*$`)
)

// twinLength gives the millimetres of a text, and whether it is a length at all.
func twinLength(text string, unit measure.System) (float64, bool) {
	if len(text) > 40 {
		return 0, false
	}
	plain := strings.TrimSpace(strings.ToLower(twinPlain(text)))
	mm := new(big.Rat)
	if m := twoPattern.FindStringSubmatch(plain); m != nil {
		inches, ok := twinQuantity(m[2:])
		if !ok || inches.Cmp(big.NewRat(12, 1)) >= 0 {
			return 0, false
		}
		mm.Mul(twinRat(m[1], "1"), big.NewRat(12, 1))
		mm.Add(mm, inches).Mul(mm, big.NewRat(254, 10))
	} else if m := onePattern.FindStringSubmatch(plain); m != nil {
		quantity, ok := twinQuantity(m[1:])
		if !ok {
			return 0, false
		}
		mm.Mul(quantity, twinUnit(m[8], m[9], m[10], unit))
	} else {
		return 0, false
	}
	value, _ := mm.Float64()
	return value, value < 1e6
}

// twinQuantity makes a value of the seven groups of quantityPattern.
func twinQuantity(m []string) (*big.Rat, bool) {
	zero := func(digits string) bool { return strings.Trim(digits, "0") == "" }
	switch {
	case m[1] != "":
		return twinRat(m[0]+m[1], "1"+strings.Repeat("0", len(m[1]))), true
	case m[2] != "":
		return twinRat(m[2], m[3]), !zero(m[3])
	case m[5] != "":
		if zero(m[6]) || twinRat(m[5], m[6]).Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, false
		}
		return new(big.Rat).Add(twinRat(m[4], "1"), twinRat(m[5], m[6])), true
	}
	return twinRat(m[4], "1"), true
}

func twinRat(over, under string) *big.Rat {
	a, okOver := new(big.Int).SetString(over, 10)
	b, okUnder := new(big.Int).SetString(under, 10)
	if !okOver || !okUnder || b.Sign() == 0 {
		return new(big.Rat)
	}
	return new(big.Rat).SetFrac(a, b)
}

func twinUnit(inch, foot, metric string, unit measure.System) *big.Rat {
	switch {
	case foot != "":
		return big.NewRat(3048, 10)
	case inch != "" || metric == "" && unit == measure.Inches:
		return big.NewRat(254, 10)
	case strings.HasPrefix(metric, "c"):
		return big.NewRat(10, 1)
	case metric == "" || strings.HasPrefix(metric, "mm") || strings.HasPrefix(metric, "mil"):
		return big.NewRat(1, 1)
	}
	return big.NewRat(1000, 1)
}

// twinPlain replaces one rune after the other, then pairs of primes.
func twinPlain(text string) string {
	forms := map[rune]string{'½': "1/2", '⅓': "1/3", '⅔': "2/3", '¼': "1/4", '¾': "3/4", '⅕': "1/5", '⅖': "2/5",
		'⅗': "3/5", '⅘': "4/5", '⅙': "1/6", '⅚': "5/6", '⅐': "1/7", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8",
		'⅑': "1/9", '⅒': "1/10"}
	var b strings.Builder
	for _, r := range text {
		switch {
		case forms[r] != "":
			b.WriteString(" " + forms[r] + " ")
		case strings.ContainsRune("’‘′", r):
			b.WriteByte('\'')
		case strings.ContainsRune("”“″", r):
			b.WriteByte('"')
		case strings.ContainsRune("‐‑–−", r):
			b.WriteByte('-')
		case strings.ContainsRune("⁄∕", r):
			b.WriteByte('/')
		case strings.ContainsRune("\u00a0\u2009\u202f", r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	return strings.ReplaceAll(b.String(), "''", `"`)
}
