package workbook

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What spreadsheet programs store for what was typed in: 8.8 in “How does Excel know…” (a question often asked, read at
// manongdao.com/q-934004), 68.4 and 100.1 in “Excel XML worksheet export has unprecise numbers” (Microsoft, learn.microsoft.com/answers
// 4966476), both read; the others by the same rule, 17 digits of the binary fraction.
func TestANumberIsWhatWasTypedIn(t *testing.T) {
	t.Parallel()
	for stored, want := range map[string]string{"8.8000000000000007": "8.8", "68.400000000000006": "68.4", "100.1": "100.1",
		"12.1": "12.1", "4.3499999999999996": "4.35", "0.30000000000000004": "0.3", "13.199999999999999": "13.2", "1.2E3": "1200", "+5.": "5", "-.5": "-0.5",
		"1E-6": "0.000001", "0": "0", "-0": "0", "1e-999": "0", "999999999999999": "999999999999999", "3.3333333333333335": "3.33333333333333",
		"0012": "12", "123456789012.345678": "123456789012.346"} {
		got, ok := exact(stored)
		require.True(t, ok, stored)
		require.Equal(t, want, got, stored)
	}
	for _, stored := range []string{"", " 1", "1 ", "1,5", "0x10", "1_000", "NaN", "INF", "1e", "e5", ".", "+", "1e999", "1000000000000000", "-1e15", "1.5.1"} {
		_, ok := exact(stored)
		require.False(t, ok, stored)
	}
}

// Law: every decimal of at most fifteen digits comes back as itself from the binary fraction next to it, however many digits that is
// written with; and what comes is a plain decimal within half of the fifteenth digit of what was stored.
func TestFifteenDigitsSurvive(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.Int64Range(1, 999_999_999_999_999).Draw(t, "digits")
		places := rapid.IntRange(0, 15).Draw(t, "places")
		text := strconv.FormatInt(digits, 10)
		text = strings.Repeat("0", max(0, places+1-len(text))) + text
		if places > 0 {
			text = strings.TrimSuffix(strings.TrimRight(text[:len(text)-places]+"."+text[len(text)-places:], "0"), ".")
		}
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		for _, stored := range []string{text, strconv.FormatFloat(x, 'g', 17, 64), strconv.FormatFloat(x, 'E', -1, 64)} {
			if got, ok := exact(stored); !ok || got != text {
				t.Fatalf("%s came back from %s as %s", text, stored, got)
			}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e15, 1e15).Draw(t, "x")
		got, ok := exact(strconv.FormatFloat(x, 'g', 17, 64))
		if !ok && math.Abs(x) < 1e15 {
			t.Fatalf("%v is refused", x)
		}
		if !ok {
			return
		}
		exactly, _ := new(big.Rat).SetString(got)
		off := exactly.Sub(exactly, new(big.Rat).SetFloat64(x))
		// Half of the fifteenth digit, and what text and fraction are apart by themselves.
		bound := new(big.Rat).SetFloat64(math.Abs(x)*5.1e-15 + math.SmallestNonzeroFloat64)
		if off.Abs(off).Cmp(bound) > 0 {
			t.Fatalf("%v became %s", x, got)
		}
	})
}

// Ecma International, ECMA-376, Office Open XML File Formats, 1st edition (2006), part 4, "Combined Date and Time Representation": its
// six examples, to the seven decimals that are printed; and from [MS-XLSB] 2.5.30 that 60 is no day that was. Read.
func TestDaysAreThoseOfTheStandard(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		from1904 epoch
		stored   string
		want     string
	}{
		{false, "3687.4207639", "1910-02-03T10:05:54"}, {false, "1.5000000", "1900-01-01T12:00:00"}, {false, "2958465.9999884", "9999-12-31T23:59:59"},
		{true, "2225.4207639", "1910-02-03T10:05:54"}, {true, "0.5000000", "1904-01-01T12:00:00"}, {true, "2957003.9999884", "9999-12-31T23:59:59"},
		{false, "38749", "2006-02-01"}, {true, "37287", "2006-02-01"}, // DATEVALUE, the same part
		{false, "59", "1900-02-28"}, {false, "60", "1900-02-29"}, {false, "61", "1900-03-01"},
	} {
		got, ok := c.from1904.day(c.stored)
		require.True(t, ok, c.stored)
		require.Equal(t, c.want, got, "%s from 1904: %v", c.stored, c.from1904)
	}
	for _, c := range []struct {
		from1904 epoch
		stored   string
	}{{false, "-1"}, {false, "2958466"}, {true, "2957004"}, {false, "x"}, {false, "1e300"}} {
		_, ok := c.from1904.day(c.stored)
		require.False(t, ok, c.stored)
	}
}

// Codes as ISO/IEC 29500-1, section 18.8.31 has them; what they are for is plain from them.
func TestFormatsAreTold(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]format{"General": plain, "general;[Red]-0": plain, "0": plain, "0.00": plain, "#,##0.00": plain, "00000": padded + 5,
		"00000;-00000": padded + 5, "0000000000000000": plain, "000-000": plain, `"day "0`: plain, `0\d`: plain, "0.00_);(0.00)": plain, "[Red]0.00": plain,
		"[$€-407] #,##0.00": plain, "[>100]0;0": plain, "0.0%": percent, `0"%"`: plain, "0.00E+00": plain, "# ?/?": plain, "@": plain,
		"dd.mm.yyyy": date, "[$-407]d. MMMM yyyy": date, "h:mm": date, "[h]:mm": date, "[SS]": date, "mmss.0": date, "": plain, "[": plain, `"`: plain, `\`: plain} {
		require.Equal(t, want, formatOf(code), code)
	}
	for id, want := range map[string]format{"0": plain, "2": plain, "9": percent, "10": percent, "11": plain, "13": plain, "14": date, "22": date, "23": plain,
		"37": plain, "44": plain, "45": date, "47": date, "48": plain, "49": plain, "164": plain, "x": plain, "": plain} {
		require.Equal(t, want, builtIn(id), id)
	}
}
