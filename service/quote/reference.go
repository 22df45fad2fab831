package quote

import (
	"fmt"
	"strconv"
	"strings"

	"seamwright/service/fault"
)

// Reference is an offer's short reference, which stands on its papers and can be said over the telephone: its number,
// which no other offer of the shop has, and after a hyphen a check digit. It has digits alone, as letters that sound
// alike differ from language to language. The check digit is Damm's: it finds every single wrong digit and every two
// neighbours that changed places.
func Reference(number int64) string {
	digits := strconv.FormatInt(number, 10)
	return digits + "-" + string('0'+rune(damm(digits)))
}

// Number is the number of the offer that a short reference names, however it is grouped. It returns an Invalid fault
// when the reference was misread or misheard.
func Number(reference string) (int64, error) {
	digits := strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '.' || r == '/' || r == '–' || r == '\u00a0' {
			return -1
		}
		return r
	}, reference)
	number, err := strconv.ParseInt(digits[:max(len(digits)-1, 0)], 10, 64)
	if err != nil || number < 1 || strings.Trim(digits, "0123456789") != "" {
		return 0, wrongReference(reference, "It is an offer's number, a hyphen and a check digit, such as 1427-2.")
	}
	if damm(digits) != 0 {
		return 0, wrongReference(reference, "Its check digit does not fit: a digit is wrong, or two changed places.")
	}
	return number, nil
}

func wrongReference(reference, fix string) error {
	return &fault.Fault{Kind: fault.Invalid, Parameter: "short_reference",
		Detail: fmt.Sprintf("%q is no short reference of an offer.", reference), Fix: fix}
}

// dammTable is a totally anti-symmetric quasigroup of order 10 with zeros on its diagonal (H. Michael Damm, Total
// anti-symmetrische Quasigruppen, dissertation, Marburg 2004; from memory). That it is one is tested.
var dammTable = [10][10]byte{
	{0, 3, 1, 7, 5, 9, 8, 6, 4, 2},
	{7, 0, 9, 2, 1, 5, 4, 8, 6, 3},
	{4, 2, 0, 6, 8, 7, 1, 3, 5, 9},
	{1, 7, 5, 0, 9, 8, 3, 4, 2, 6},
	{6, 1, 2, 3, 0, 4, 5, 9, 7, 8},
	{3, 6, 7, 4, 2, 0, 9, 5, 8, 1},
	{5, 8, 6, 9, 7, 2, 0, 1, 3, 4},
	{8, 9, 4, 5, 3, 6, 2, 0, 1, 7},
	{9, 4, 3, 8, 6, 1, 7, 2, 0, 5},
	{2, 5, 8, 1, 4, 3, 6, 7, 9, 0},
}

// damm is the check digit of digits; 0 for digits that end in theirs.
func damm(digits string) (check byte) {
	for i := range len(digits) {
		check = dammTable[check][digits[i]-'0']
	}
	return check
}
