package measure_test

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

// What makers write, with the millimetres worked out by hand from 25.4 mm to the inch.
var written = []struct {
	text string
	unit measure.System
	mm   float64
}{
	{"25.5", measure.Inches, 647.7},
	{"25-1/2", measure.Inches, 647.7},
	{"25 1/2", measure.Inches, 647.7},
	{"25  1/2", measure.Inches, 647.7},
	{"25–1/2", measure.Inches, 647.7},
	{"25½", measure.Inches, 647.7},
	{"25 ½", measure.Inches, 647.7},
	{"25-½", measure.Inches, 647.7},
	{"25½”", measure.Inches, 647.7},
	{"25 1⁄2", measure.Inches, 647.7},
	{"51/2", measure.Inches, 647.7},
	{"25.5in", measure.Millimetres, 647.7},
	{"25.5 inches", measure.Millimetres, 647.7},
	{"25.5 IN.", measure.Millimetres, 647.7},
	{`25-1/2"`, measure.Millimetres, 647.7},
	{`25-1/2''`, measure.Millimetres, 647.7},
	{"25-1/2′′", measure.Millimetres, 647.7},
	{"25-1/2’’", measure.Millimetres, 647.7},
	{"25 1/2 in", measure.Millimetres, 647.7},
	{"  25.5\u00a0in ", measure.Millimetres, 647.7},
	{"25", measure.Inches, 635},
	{"0025", measure.Inches, 635},
	{"0", measure.Inches, 0},
	{"0 mm", measure.Inches, 0},
	{"3/4", measure.Inches, 19.05},
	{"¾", measure.Inches, 19.05},
	{"0.75", measure.Inches, 19.05},
	{".75", measure.Inches, 19.05},
	{"⅝", measure.Inches, 15.875},
	{"1⅞ in", measure.Millimetres, 47.625},
	{"1/64", measure.Inches, 0.396875},
	{"7' 3-1/2\"", measure.Inches, 2222.5},
	{"7' 3-1/2\"", measure.Millimetres, 2222.5},
	{"7'3-1/2", measure.Inches, 2222.5},
	{"7’ 3½”", measure.Inches, 2222.5},
	{"7′ 3½″", measure.Inches, 2222.5},
	{"7'-3 1/2\"", measure.Inches, 2222.5},
	{"7' - 3 1/2\"", measure.Inches, 2222.5},
	{"7' 3.5\"", measure.Inches, 2222.5},
	{"7 ft 3 in", measure.Inches, 2209.8},
	{"7ft3in", measure.Millimetres, 2209.8},
	{"7 ft. 3 in.", measure.Inches, 2209.8},
	{"7 feet 3 inches", measure.Inches, 2209.8},
	{"7' 1/2\"", measure.Inches, 2146.3},
	{"7' 0\"", measure.Inches, 2133.6},
	{"7ft", measure.Inches, 2133.6},
	{"7'", measure.Millimetres, 2133.6},
	{"1 foot", measure.Millimetres, 304.8},
	{"7-1/2 ft", measure.Inches, 2286},
	{"7.5'", measure.Inches, 2286},
	{"648", measure.Millimetres, 648},
	{"648 mm", measure.Inches, 648},
	{"648mm", measure.Inches, 648},
	{"12 1/2", measure.Millimetres, 12.5},
	{"64.8cm", measure.Inches, 648},
	{"1.2 m", measure.Inches, 1200},
	{"1.2 metres", measure.Inches, 1200},
	{"1.2 meters", measure.Inches, 1200},
	{"999999.9 mm", measure.Inches, 999999.9},
}

func TestParseLengthReadsWhatMakersWrite(t *testing.T) {
	t.Parallel()
	for _, tt := range written {
		t.Run(tt.text, func(t *testing.T) {
			t.Parallel()
			got, err := measure.ParseLength(tt.text, tt.unit)
			require.NoError(t, err)
			require.Equal(t, measure.Length(tt.mm), got) // to the bit
		})
	}
}

func TestParseLengthKnowsEveryVulgarFraction(t *testing.T) {
	t.Parallel()
	fractions := map[string]float64{
		"½": 1. / 2, "⅓": 1. / 3, "⅔": 2. / 3, "¼": 1. / 4, "¾": 3. / 4, "⅕": 1. / 5, "⅖": 2. / 5, "⅗": 3. / 5, "⅘": 4. / 5,
		"⅙": 1. / 6, "⅚": 5. / 6, "⅐": 1. / 7, "⅛": 1. / 8, "⅜": 3. / 8, "⅝": 5. / 8, "⅞": 7. / 8, "⅑": 1. / 9, "⅒": 1. / 10,
	}
	for text, want := range fractions {
		got, err := measure.ParseLength(text, measure.Millimetres)
		require.NoError(t, err, text)
		require.Equal(t, measure.Length(want), got, text)
	}
}

// refused is what is no length, with a part of the reason a maker is given.
var refused = []struct{ text, reason string }{
	{"", "empty"},
	{"  ", "empty"},
	{"-3", "negative"},
	{"−3", "negative"},
	{"-0", "negative"},
	{"25,5", "write 25.5, not 25,5"},
	{"1,250 mm", "not 1,250"},
	{"five", "a number is missing"},
	{"in", "a number is missing"},
	{"+5", "a number is missing"},
	{"1/2/3", "“/3”, cannot be read"},
	{"1 2", "“2”, cannot be read"},
	{"7 - 1/2", "“- 1/2”, cannot be read"},
	{"½½", "“1/2”, cannot be read"},
	{"2½3", "“3”, cannot be read"},
	{"25 in 3", "“3”, cannot be read"},
	{"25.5 1/2", "“1/2”, cannot be read"},
	{"25\" 1/2", "“1/2”, cannot be read"},
	{"25.", "digits are missing"},
	{"1/", "nothing under the line"},
	{"1/0", "zero under the line"},
	{"25-3/2", "under one"},
	{"25 1/0", "zero under the line"},
	{"3 yd", "“yd” is not a unit"},
	{"1e3", "“e” is not a unit"},
	{"NaN", "a number is missing"},
	{"Inf", "a number is missing"},
	{"7' 12\"", "under 12"},
	{"7' 11-32/32", "under one"},
	{"7.5' 3\"", "whole number"},
	{"7' 3'", "after feet come inches, not ft"},
	{"7' 30 mm", "after feet come inches, not mm"},
	{"7' in", "a number is missing"},
	{"7' 3 yd", "“yd” is not a unit"},
	{"7' -", "a number is missing"},
	{"1000000 mm", "under 1000 m"},
	{"1000 m", "under 1000 m"},
	{"3280' 11\"", "under 1000 m"},
	{strings.Repeat("9", 40), "under 1000 m"},
	{strings.Repeat("9", 41), "longer than 40"},
	{"999999.999999999999999999999 mm", "under 1000 m"}, // the nearest float64 is the bound
	{"5\x00", "cannot be read"},
	{"5\xff", "cannot be read"},
}

func TestParseLengthRefusesWithAReason(t *testing.T) {
	t.Parallel()
	for _, tt := range refused {
		t.Run(strconv.Quote(tt.text), func(t *testing.T) {
			t.Parallel()
			got, err := measure.ParseLength(tt.text, measure.Inches)
			var refusal *measure.LengthError
			require.ErrorAs(t, err, &refusal)
			require.Contains(t, refusal.Reason, tt.reason)
			require.Zero(t, got)
		})
	}
}

func TestLengthErrorIsOnePrintableSentence(t *testing.T) {
	t.Parallel()
	_, err := measure.ParseLength("25,5", measure.Inches)
	require.EqualError(t, err, "“25,5” is not a length: it has a comma; write 25.5, not 25,5, and 1250, not 1,250")
	_, err = measure.ParseLength("5\x07"+strings.Repeat("x", 400), measure.Inches)
	require.NotContains(t, err.Error(), "\x07")
	require.Less(t, len(err.Error()), 250)
}

// A length in inches and the same one in millimetres are one length, to the bit.
func TestInchesAndMillimetresOfOneLengthAgree(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(0, 390_000).Draw(t, "tenths of an inch") // 0.1 in = 2.54 mm
		in := strconv.Itoa(tenths/10) + "." + strconv.Itoa(tenths%10)
		mm := strconv.Itoa(tenths*254/100) + "." + strconv.Itoa(tenths*254/10%10) + strconv.Itoa(tenths*254%10)
		fromInches, err := measure.ParseLength(in, measure.Inches)
		require.NoError(t, err)
		for _, text := range []string{mm, mm + " mm", in + "in"} {
			same, err := measure.ParseLength(text, measure.Millimetres)
			require.NoError(t, err)
			require.Equal(t, math.Float64bits(float64(fromInches)), math.Float64bits(float64(same)), text)
		}
		number, err := measure.ParseNumber(in, measure.Inches)
		require.NoError(t, err)
		require.Equal(t, fromInches, number)
	})
}

// 1/64 in is 0.396875 mm: every 64th up to 4 ft in each of its spellings.
func TestEverySixtyFourthIsExactInEachSpelling(t *testing.T) {
	t.Parallel()
	for n := range 48 * 64 {
		whole, over := strconv.Itoa(n/64), strconv.Itoa(n%64)+"/64"
		feet := strconv.Itoa(n/64/12) + "' " + strconv.Itoa(n/64%12) + "-" + over + `"`
		want := measure.Length(float64(n*396875) / 1e6)
		for _, text := range []string{strconv.Itoa(n) + "/64", whole + "-" + over, whole + " " + over, feet} {
			got, err := measure.ParseLength(text, measure.Inches)
			require.NoError(t, err)
			require.Equal(t, want, got, text)
		}
	}
}

func FuzzParseLength(f *testing.F) {
	for _, tt := range written {
		f.Add(tt.text, tt.unit == measure.Millimetres)
	}
	for _, tt := range refused {
		f.Add(tt.text, false)
	}
	f.Fuzz(func(t *testing.T, text string, metric bool) {
		unit := measure.Inches
		if metric {
			unit = measure.Millimetres
		}
		got, err := measure.ParseLength(text, unit)
		want, ok := twinLength(text, unit)
		require.Equal(t, ok, err == nil, "%q: %v", text, err)
		if err != nil {
			var refusal *measure.LengthError
			require.True(t, errors.As(err, &refusal) && refusal.Reason != "")
			return
		}
		require.Equal(t, measure.Length(want), got, "%q", text)
		require.True(t, got >= 0 && got < 1e6)
	})
}

func BenchmarkParseLength(b *testing.B) {
	for _, text := range []string{"25.5", "25-1/2", "7' 3-1/2\"", "648 mm"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := measure.ParseLength(text, measure.Inches); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
