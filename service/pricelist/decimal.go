package pricelist

import (
	"fmt"
	"strings"
	"unicode"
)

// decimals reads numbers of a list. The decimal sign is stated, or settled by the first number that can be read in one
// way only.
type decimals struct {
	sign  byte // '.' or ','; 0: not settled
	plain bool // no signs of thousands, as in JSON
}

// read returns a number as text with a point: an optional minus, at most so many digits before the point and after it.
// The reason says why a text is no such number.
//
//	12.50  12,50  1,234.50  1.234,50     each can be read in one way only
//	1,234  1.234                         could be either, and needs a settled sign
func (d *decimals) read(text string, whole, places int) (plain, reason string) {
	body := strings.TrimPrefix(text, "-")
	points, commas := 0, 0
	for i := 0; i < len(body); i++ {
		switch c := body[i]; {
		case '0' <= c && c <= '9':
		case c == '.':
			points++
		case c == ',':
			commas++
		default:
			return "", strange(text)
		}
	}
	switch {
	case body == "":
		return "", strange(text)
	case d.plain && commas > 0:
		return "", "a number is written with a point and without signs of thousands, such as 1234.50"
	case points+commas == 0:
		return text, sized(body, "", whole, places)
	case strings.HasSuffix(body, ".") || strings.HasSuffix(body, ",") || body[0] == '.' || body[0] == ',':
		return "", strange(text)
	case d.sign == '.' && points == 1 && commas == 0: // the usual list
		i := strings.IndexByte(body, '.')
		return text, sized(body[:i], body[i+1:], whole, places)
	}
	sign, reason := d.signOf(body, points, commas)
	if reason != "" {
		return "", reason
	}
	plain, reason = d.ungroup(text, body, sign, whole, places)
	if reason == "" && d.sign == 0 {
		d.sign = sign
	}
	return plain, reason
}

// signOf is the decimal sign to read a number with: the settled one, or the only one that makes sense of it.
func (d *decimals) signOf(body string, points, commas int) (sign byte, reason string) {
	if d.sign != 0 {
		return d.sign, ""
	}
	if sign = evidence(body, points, commas); sign == 0 {
		digits := strings.NewReplacer(".", "", ",", "").Replace(body)
		return 0, fmt.Sprintf("%s could be %s or %s: state the decimal sign", body, digits,
			strings.Replace(body, ",", ".", 1))
	}
	return sign, ""
}

// evidence is the decimal sign that a number with points or commas shows, or 0 when it could be either.
func evidence(body string, points, commas int) byte {
	point, comma := strings.LastIndexByte(body, '.'), strings.LastIndexByte(body, ',')
	switch {
	case points > 0 && commas > 0:
		if point > comma {
			return '.'
		}
		return ','
	case points > 1:
		return ','
	case commas > 1:
		return '.'
	}
	at := max(point, comma)
	if len(body)-at-1 == 3 && 1 <= at && at <= 3 && body[0] != '0' {
		return 0
	}
	return body[at]
}

// ungroup takes a number with signs of thousands apart: groups of three digits behind a first one of one to three.
func (d *decimals) ungroup(text, body string, sign byte, whole, places int) (plain, reason string) {
	group := byte(',')
	if sign == ',' {
		group = '.'
	}
	front, behind, has := strings.Cut(body, string(sign))
	if has && (strings.IndexByte(behind, sign) >= 0 || strings.IndexByte(behind, group) >= 0) {
		return "", fmt.Sprintf("the number cannot be read with the decimal sign %q; write it like 12%c50", sign, sign)
	}
	if strings.IndexByte(front, group) >= 0 {
		groups := strings.Split(front, string(group))
		for i, g := range groups {
			if i == 0 && (g == "" || len(g) > 3) || i > 0 && len(g) != 3 {
				return "", fmt.Sprintf("the number cannot be read with the decimal sign %q; write it like 1234%c50", sign, sign)
			}
		}
		front = strings.Join(groups, "")
	}
	if reason := sized(front, behind, whole, places); reason != "" {
		return "", reason
	}
	minus := text[:len(text)-len(body)]
	if !has {
		return minus + front, ""
	}
	return minus + front + "." + behind, ""
}

// sized checks how many digits a number has.
func sized(front, behind string, whole, places int) (reason string) {
	switch {
	case len(front) > whole:
		return fmt.Sprintf("the number has more than %d digits before the decimal sign", whole)
	case len(behind) > places:
		return fmt.Sprintf("the number has more than %d decimals", places)
	}
	return ""
}

// leastWorked is the least price, in millionths, of which rounding to a millionth takes less than a thousandth (mostLost).
const leastWorked = mostLost / 2

// worked is the price of a workbook's number cell with the decimals that a price may have, rounded half away from zero. Nobody types
// more in: they are what a formula left, a third of something (4.33333333333333) or the noise of binary fractions
// (0.100000000000023 for 1000.1 − 1000). A price of which this would take too much stays as it is, and is refused.
func worked(text string) string {
	body := strings.TrimPrefix(text, "-")
	point := strings.IndexByte(body, '.')
	if point < 0 || len(body)-point-1 <= pricePlaces {
		return text
	}
	kept, next := body[:point+1+pricePlaces], body[point+1+pricePlaces]
	n, ok := millionths(kept)
	if !ok {
		return text
	}
	if next >= '5' {
		n++
	}
	if n < leastWorked {
		return text
	}
	digits := fmt.Sprintf("%0*d", pricePlaces+1, n)
	whole, behind := digits[:len(digits)-pricePlaces], strings.TrimRight(digits[len(digits)-pricePlaces:], "0")
	if behind != "" {
		whole += "." + behind
	}
	return text[:len(text)-len(body)] + whole
}

// strange says why a text is no number, as far as one can tell.
func strange(text string) string {
	letters := strings.ContainsFunc(text, func(r rune) bool { return unicode.IsLetter(r) || unicode.Is(unicode.Sc, r) })
	switch {
	case text == "":
		return "the number is missing"
	case isExponent(text):
		return "a number is written without an exponent, such as 1250 and not 1.25e3"
	case letters:
		return "a number has no currency sign and no letters: the currency has a column of its own"
	case strings.ContainsAny(text, " \u00a0\u2009\u202f'’"):
		return "a number is written without spaces or apostrophes, such as 1234.50"
	}
	return "this is no plain decimal number such as 12.50"
}

// isExponent reports whether a text is a number but for its exponent.
func isExponent(text string) bool {
	return strings.ContainsAny(text, "eE") && strings.Trim(text, "0123456789.,+-eE") == "" && text[0] != 'e' &&
		text[0] != 'E'
}

// millionths is a plain decimal as a whole number of millionths; ok is false for what read does not return.
func millionths(text string) (n int64, ok bool) {
	body := strings.TrimPrefix(text, "-")
	places := -1 // digits after the point so far
	for i := 0; i < len(body); i++ {
		c := body[i]
		switch {
		case c == '.' && places < 0 && i > 0 && i < len(body)-1:
			places = 0
			continue
		case c < '0' || c > '9' || places == pricePlaces || places < 0 && i >= priceWhole:
			return 0, false
		case places >= 0:
			places++
		}
		n = n*10 + int64(c-'0')
	}
	for places = max(places, 0); places < pricePlaces; places++ {
		n *= 10
	}
	if len(body) < len(text) {
		n = -n
	}
	return n, body != ""
}
