package workbook

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// digits is how many significant digits of a number a spreadsheet program keeps and shows (Microsoft, "Excel specifications and
// limits": number precision). What it stores has up to seventeen, the last of which are the noise of binary fractions: it stores
// 4.35 as 4.3499999999999996.
const digits = 15

// exact returns a stored number as plain decimal text with a point: the number of at most fifteen significant digits that is nearest
// to it. ok is false for what is no number, and for one that has more digits before the point than are kept.
func exact(stored string) (text string, ok bool) {
	if !isNumber(stored) {
		return "", false
	}
	x, err := strconv.ParseFloat(stored, 64)
	if err != nil || math.Abs(x) >= 1e15 {
		return "", false
	}
	if x == 0 {
		return "0", true // also when it is less than nothing
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if err != nil {
		return "", false
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64), true
}

// isNumber reports whether a text is a number as workbooks store it (xsd:double without its infinities).
func isNumber(text string) bool {
	i := 0
	sign := func() {
		if i < len(text) && (text[i] == '-' || text[i] == '+') {
			i++
		}
	}
	run := func() (n int) {
		for ; i < len(text) && '0' <= text[i] && text[i] <= '9'; i++ {
			n++
		}
		return n
	}
	sign()
	n := run()
	if i < len(text) && text[i] == '.' {
		i++
		n += run()
	}
	if n == 0 {
		return false
	}
	if i < len(text) && (text[i] == 'e' || text[i] == 'E') {
		i++
		sign()
		if run() == 0 {
			return false
		}
	}
	return i == len(text)
}

// withZeros puts zeros in front of a whole number that its format shows with them.
func withZeros(text string, n int) string {
	if strings.ContainsAny(text, ".-") {
		return text
	}
	return strings.Repeat("0", max(0, n-len(text))) + text
}

// epoch is where a workbook begins to count days: false, with 1 for the first of January 1900; true, with 0 for that of 1904
// (ISO/IEC 29500-1, section 18.17.4.1).
type epoch bool

// day returns a stored day, with its time when it has one, as ISO 8601 writes it. ok is false for what is no day. Counting from
// 1900, spreadsheet programs have a 29th of February 1900 that never was (60): days before it are one further on.
func (e epoch) day(stored string) (text string, ok bool) {
	if !isNumber(stored) {
		return "", false
	}
	x, err := strconv.ParseFloat(stored, 64)
	last := 2958465 // the last day of 9999
	if e {
		last = 2957003
	}
	if err != nil || x < 0 || x >= float64(last+1) {
		return "", false
	}
	whole := int(x)
	seconds := int(math.Round((x - float64(whole)) * 86400))
	first := time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
	switch {
	case bool(e):
		first = time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)
	case whole < 60:
		first = first.AddDate(0, 0, 1)
	}
	at := first.AddDate(0, 0, whole).Add(time.Duration(seconds) * time.Second)
	switch {
	case !bool(e) && whole == 60:
		return "1900-02-29", true
	case seconds == 0:
		return at.Format(time.DateOnly), true
	}
	return at.Format("2006-01-02T15:04:05"), true
}
