package measure

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// reader takes a length in plain form apart from the left; rest is what has not been read yet.
type reader struct{ rest string }

// length reads a quantity with or without a unit, or feet with inches, in millimetres.
func (r *reader) length(unit System) (*big.Rat, error) {
	first, whole, err := r.quantity()
	if err != nil {
		return nil, err
	}
	name, err := r.unit()
	if err != nil {
		return nil, err
	}
	if name == "" {
		name = unit.String()
	}
	r.spaces()
	if name != "ft" || r.rest == "" {
		return first.Mul(first, inMillimetres(name)), nil
	}
	if !whole {
		return nil, errors.New(`feet before inches must be a whole number; write 7' 3-1/2"`)
	}
	inches, err := r.inchesAfterFeet()
	if err != nil {
		return nil, err
	}
	first.Mul(first, big.NewRat(12, 1)).Add(first, inches)
	return first.Mul(first, inMillimetres("in")), nil
}

// inchesAfterFeet reads the 3-1/2 of 7' 3-1/2", with or without the mark and a dash before it.
func (r *reader) inchesAfterFeet() (*big.Rat, error) {
	r.skip('-')
	r.spaces()
	inches, _, err := r.quantity()
	if err != nil {
		return nil, err
	}
	name, err := r.unit()
	if err != nil {
		return nil, err
	}
	if name != "" && name != "in" {
		return nil, fmt.Errorf(`after feet come inches, not %s; write 7' 3-1/2"`, name)
	}
	if inches.Cmp(big.NewRat(12, 1)) >= 0 {
		return nil, errors.New(`inches after feet must be under 12; write 8' 2", not 7' 14"`)
	}
	return inches, nil
}

// quantity reads a whole number, a decimal, a fraction or a mixed number, and says whether it is whole.
func (r *reader) quantity() (q *big.Rat, whole bool, err error) {
	digits := r.digits()
	switch {
	case r.skip('.'):
		q, err = r.decimal(digits)
		return q, false, err
	case digits == "":
		return nil, false, fmt.Errorf("a number is missing; %s", examples)
	case r.skip('/'):
		q, err = r.fraction(digits)
		return q, false, err
	}
	q = new(big.Rat).SetInt(integer(digits))
	part, err := r.mixed()
	if err != nil || part == nil {
		return q, true, err
	}
	return q.Add(q, part), false, nil
}

// decimal reads what follows the point after the given whole digits, of which there may be none.
func (r *reader) decimal(whole string) (*big.Rat, error) {
	places := r.digits()
	if places == "" {
		return nil, errors.New("digits are missing after the point; write 25.5 or 25")
	}
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(places))), nil)
	return new(big.Rat).SetFrac(integer(whole+places), scale), nil
}

// fraction reads the denominator that belongs to the given numerator.
func (r *reader) fraction(numerator string) (*big.Rat, error) {
	digits := r.digits()
	if digits == "" {
		return nil, errors.New("the fraction has nothing under the line; write 3/4")
	}
	denominator := integer(digits)
	if denominator.Sign() == 0 {
		return nil, errors.New("the fraction has zero under the line; write 3/4")
	}
	return new(big.Rat).SetFrac(integer(numerator), denominator), nil
}

// mixed reads the fraction of a mixed number, after a dash that touches the whole number or after a
// space. It returns nil and reads nothing when no fraction stands there: 7 - 1/2 might mean six and a
// half, so it is left to be refused.
func (r *reader) mixed() (*big.Rat, error) {
	start := r.rest
	r.skip('-')
	r.spaces()
	numerator := r.digits()
	if numerator == "" || !r.skip('/') {
		r.rest = start
		return nil, nil
	}
	part, err := r.fraction(numerator)
	if err == nil && part.Cmp(big.NewRat(1, 1)) >= 0 {
		err = errors.New("the fraction after a whole number must be under one; write 25-1/2 or 51/2")
	}
	return part, err
}

// unit reads a unit and gives its short name, or "" when none stands there.
func (r *reader) unit() (string, error) {
	r.spaces()
	switch {
	case r.skip('\''):
		return "ft", nil
	case r.skip('"'):
		return "in", nil
	}
	n := 0
	for n < len(r.rest) && 'a' <= r.rest[n] && r.rest[n] <= 'z' {
		n++
	}
	word := r.rest[:n]
	r.rest = r.rest[n:]
	if word == "" {
		return "", nil
	}
	r.skip('.') // 25 in.
	switch word {
	case "in", "inch", "inches":
		return "in", nil
	case "ft", "foot", "feet":
		return "ft", nil
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return "mm", nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return "cm", nil
	case "m", "metre", "metres", "meter", "meters":
		return "m", nil
	}
	return "", fmt.Errorf("“%s” is not a unit known here; use in, ft, mm, cm or m", word)
}

// inMillimetres is the exact length of a unit given by its short name.
func inMillimetres(name string) *big.Rat {
	switch name {
	case "in":
		return big.NewRat(127, 5)
	case "ft":
		return big.NewRat(1524, 5)
	case "cm":
		return big.NewRat(10, 1)
	case "m":
		return big.NewRat(1000, 1)
	}
	return big.NewRat(1, 1)
}

func (r *reader) spaces() { r.rest = strings.TrimLeft(r.rest, " \t") }

// skip reads one mark if it comes next.
func (r *reader) skip(mark byte) bool {
	if r.rest == "" || r.rest[0] != mark {
		return false
	}
	r.rest = r.rest[1:]
	return true
}

func (r *reader) digits() string {
	n := 0
	for n < len(r.rest) && '0' <= r.rest[n] && r.rest[n] <= '9' {
		n++
	}
	digits := r.rest[:n]
	r.rest = r.rest[n:]
	return digits
}

// integer is the value of decimal digits; no digits are zero.
func integer(digits string) *big.Int {
	n, ten, next := new(big.Int), big.NewInt(10), new(big.Int)
	for i := range len(digits) {
		n.Mul(n, ten).Add(n, next.SetInt64(int64(digits[i]-'0')))
	}
	return n
}
