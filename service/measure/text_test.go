package measure_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/measure"
)

func TestTextIsWhatAMakerReadsOnAList(t *testing.T) {
	t.Parallel()
	tests := []struct {
		length     measure.Length
		in, ft, mm string
	}{
		{0, "0", `0"`, "0"},
		{25.5 * measure.Inch, "25-1/2", `2' 1-1/2"`, "647.5"},
		{96 * measure.Inch, "96", `8' 0"`, "2438.5"},
		{87.5 * measure.Inch, "87-1/2", `7' 3-1/2"`, "2222.5"},
		{0.625 * measure.Inch, "5/8", `5/8"`, "16"},
		{-0.125 * measure.Inch, "-1/8", `-1/8"`, "-3"},
		{-25.5 * measure.Inch, "-25-1/2", `-2' 1-1/2"`, "-647.5"},
		{648 * measure.Millimetre, "25-1/2", `2' 1-1/2"`, "648"},
		{measure.Inch / 64, "1/32", `1/32"`, "0.5"}, // a tie goes away from zero
		{-measure.Inch / 64, "-1/32", `-1/32"`, "-0.5"},
		{25.984375 * measure.Inch, "26", `2' 2"`, "660"},
		{11.99 * measure.Inch, "12", `1' 0"`, "304.5"},
		{0.25 * measure.Millimetre, "0", `0"`, "0.5"},
		{-0.1 * measure.Millimetre, "0", `0"`, "0"}, // never -0
		{measure.Length(math.NaN()), "NaN", `NaN"`, "NaN"},
		{measure.Length(math.Inf(1)), "+Inf", `+Inf"`, "+Inf"},
	}
	for _, tt := range tests {
		t.Run(tt.in+" and "+tt.mm, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, tt.in, tt.length.Text(measure.Inches))
			require.Equal(t, tt.ft, tt.length.FeetText())
			require.Equal(t, tt.mm, tt.length.Text(measure.Millimetres))
		})
	}
}

func TestPhraseSaysSmallLengthsMoreFinely(t *testing.T) {
	t.Parallel()
	tests := []struct {
		length measure.Length
		in, mm string
	}{
		{0, "0 in", "0 mm"},
		{25.5 * measure.Inch, "25-1/2 in", "647.5 mm"},
		{648 * measure.Millimetre, "25-1/2 in", "648 mm"},
		{0.25 * measure.Inch, "1/4 in", "6.5 mm"},
		{0.2268 * measure.Inch, "0.227 in", "5.8 mm"},
		{2.1 * measure.Millimetre, "0.083 in", "2.1 mm"},
		{0.1875 * measure.Inch, "3/16 in", "4.8 mm"},
		{-0.03125 * measure.Inch, "-1/32 in", "-0.79 mm"},
		{0.1879 * measure.Inch, "3/16 in", "4.8 mm"},
		{0.1882 * measure.Inch, "0.188 in", "4.8 mm"},
		{-2.1 * measure.Millimetre, "-0.083 in", "-2.1 mm"},
		{0.35 * measure.Millimetre, "0.014 in", "0.35 mm"},
		{0.001 * measure.Millimetre, "less than 0.001 in", "less than 0.01 mm"},
	}
	for _, tt := range tests {
		t.Run(tt.in, func(t *testing.T) {
			t.Parallel()
			require.Equal(t, tt.in, tt.length.Phrase(measure.Inches))
			require.Equal(t, tt.mm, tt.length.Phrase(measure.Millimetres))
		})
	}
}

func TestRoundGoesHalfAwayFromZeroDespiteNoise(t *testing.T) {
	t.Parallel()
	tests := []struct {
		x      float64
		places int
		want   float64
	}{
		{2.5, 0, 3}, {-2.5, 0, -3}, {1.005, 2, 1.01}, {-1.005, 2, -1.01}, {2.345, 2, 2.35}, {2.344, 2, 2.34},
		{0.1 + 0.2, 1, 0.3}, {1.4999, 0, 1}, {36.06243, 4, 36.0624}, {1e300, 2, 1e300}, {7, -1, 7},
		{123456789.00005, 4, 123456789.0001}, {math.Inf(-1), 2, math.Inf(-1)},
	}
	for _, tt := range tests {
		require.Equal(t, tt.want, measure.Round(tt.x, tt.places), "%v to %d", tt.x, tt.places)
	}
	require.True(t, math.IsNaN(measure.Round(math.NaN(), 2)))
	require.False(t, math.Signbit(measure.Round(-0.00001, 4)), "never -0")
}

func TestNumbersAreRoundedForTheCallersSystem(t *testing.T) {
	t.Parallel()
	const length = 36.06242 * measure.Inch
	require.Equal(t, 36.0624, length.Number(measure.Inches))
	require.Equal(t, 915.99, length.Number(measure.Millimetres))
	const area = 14.74226 * measure.SquareFoot
	require.Equal(t, 14.7423, area.Number(measure.Inches))
	require.Equal(t, 1.3696, area.Number(measure.Millimetres))
	const mass = 77.06 * measure.Pound
	require.Equal(t, 77.1, mass.Number(measure.Inches))
	require.Equal(t, 35.0, mass.Number(measure.Millimetres))
	const force = 100.25 * measure.PoundForce
	require.Equal(t, 100.3, force.Number(measure.Inches))
	require.Equal(t, 445.9, force.Number(measure.Millimetres))
	require.Equal(t, 44.7299, (44.72987 * measure.Degree).Number())
	require.InDelta(t, 36.06242, length.In(measure.Inches), 1e-13)
	require.InDelta(t, 915.985468, length.In(measure.Millimetres), 1e-9)
}

// Text keeps to half of its step, and ParseLength reads it and the feet back to the same length.
func TestTextReadsBackWithinHalfAStep(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Float64Range(0, 30_000).Draw(t, "mm"))
		for unit, half := range map[measure.System]measure.Length{measure.Inches: measure.Inch / 64,
			measure.Millimetres: 0.25} {
			back, err := measure.ParseLength(l.Text(unit), unit)
			require.NoError(t, err)
			require.InDelta(t, float64(l), float64(back), float64(half)+1e-5)
			require.Equal(t, l.Text(unit), back.Text(unit))
		}
		feet, err := measure.ParseLength(l.FeetText(), measure.Millimetres)
		require.NoError(t, err)
		inches, err := measure.ParseLength(l.Text(measure.Inches), measure.Inches)
		require.NoError(t, err)
		require.Equal(t, inches, feet)
	})
}

func TestRoundKeepsToHalfOfTheLastPlace(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "x")
		places := rapid.IntRange(0, 6).Draw(t, "places")
		got := measure.Round(x, places)
		require.InDelta(t, x, got, 0.50001*math.Pow10(-places))
		require.Equal(t, got, measure.Round(got, places))
		require.Equal(t, -got, measure.Round(-x, places))
	})
}

func BenchmarkText(b *testing.B) {
	l := 87.5 * measure.Inch
	b.ReportAllocs()
	for b.Loop() {
		if l.Text(measure.Inches) != "87-1/2" {
			b.Fatal(l)
		}
	}
}

// What a size is decides to which side it is printed: a hole of 0.354 in is bored with 23/64, never with 11/32.
func TestSizesAreRoundedToTheSideThatTheyMay(t *testing.T) {
	t.Parallel()
	tests := []struct {
		length   measure.Length
		size     measure.Size
		in, mm   string
		ofPhrase string
	}{
		{0.354 * measure.Inch, measure.Measured, "11/32", "9", "11/32 in"},
		{0.354 * measure.Inch, measure.Bore, "23/64", "9", "23/64 in"},
		{0.354 * measure.Inch, measure.Least, "3/8", "9", "3/8 in"},
		{0.354 * measure.Inch, measure.Most, "11/32", "8.5", "11/32 in"},
		{0.2912 * measure.Inch, measure.Least, "5/16", "7.5", "5/16 in"},
		{0.0758 * measure.Inch, measure.Least, "3/32", "2", "0.076 in"},
		{0.1872 * measure.Inch, measure.Least, "3/16", "5", "3/16 in"},
		{0.1876 * measure.Inch, measure.Least, "7/32", "5", "0.188 in"},
		{0.1878 * measure.Inch, measure.Most, "3/16", "4.5", "3/16 in"},
		{0.0758 * measure.Inch, measure.Most, "1/16", "1.5", "0.075 in"},
		{9 * measure.Inch / 32, measure.Least, "9/32", "7.5", "9/32 in"},
		{9 * measure.Inch / 32, measure.Bore, "9/32", "7.2", "9/32 in"},
		{7 * measure.Millimetre, measure.Least, "9/32", "7", "9/32 in"},
		{8.31 * measure.Millimetre, measure.Bore, "21/64", "8.4", "21/64 in"},
		{0, measure.Least, "0", "0", "0 in"},
		{-0.001 * measure.Millimetre, measure.Least, "0", "0", "less than 0.001 in"},
		{25.5 * measure.Inch, measure.Most, "25-1/2", "647.5", "25-1/2 in"},
		{-25.5 * measure.Inch, measure.Bore, "-25-1/2", "-647.7", "-25-1/2 in"},
	}
	for _, tt := range tests {
		require.Equal(t, tt.in, tt.length.TextAs(measure.Inches, tt.size), "%v as %d", tt.length, tt.size)
		require.Equal(t, tt.mm, tt.length.TextAs(measure.Millimetres, tt.size), "%v as %d", tt.length, tt.size)
		require.Equal(t, tt.ofPhrase, tt.length.PhraseAs(measure.Inches, tt.size), "%v as %d", tt.length, tt.size)
	}
}

// Whatever the length: least sizes are never printed smaller, nor by a step larger; most sizes the other way; measures
// within half a step.
func TestNoSizeIsPrintedOnItsWrongSide(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l := measure.Length(rapid.Float64Range(0, 5000).Draw(t, "mm"))
		for _, unit := range []measure.System{measure.Inches, measure.Millimetres} {
			for size, parts := range map[measure.Size][2]float64{measure.Measured: {32, 2}, measure.Least: {32, 2},
				measure.Bore: {64, 10}, measure.Most: {32, 2}} {
				printed, err := measure.ParseLength(l.TextAs(unit, size), unit)
				require.NoError(t, err)
				step := 1 / parts[unit]
				over := printed.In(unit) - l.In(unit)
				low, high := -1e-6, step // at least as large, and the very next step
				switch size {
				case measure.Measured:
					low, high = -step/2-1e-6, step/2+1e-6
				case measure.Most:
					low, high = -step, 1e-6
				case measure.Least, measure.Bore:
				}
				require.GreaterOrEqual(t, over, low, "%v as %d in %v", l, size, unit)
				require.LessOrEqual(t, over, high, "%v as %d in %v", l, size, unit)
			}
		}
	})
}

// What is printed of a whole is what the printed parts make, and as near to the whole as one step of the last digit.
func TestPrintedPartsMakeThePrintedWhole(t *testing.T) {
	t.Parallel()
	require.Equal(t, "0.080 in", measure.Span(-0.0404*measure.Inch, 0.0404*measure.Inch, measure.Inches, 3).Fine(measure.Inches)) // by itself 0.0808 is 0.081
	rapid.Check(t, func(r *rapid.T) {
		unit := rapid.SampledFrom([]measure.System{measure.Inches, measure.Millimetres}).Draw(r, "unit")
		from := measure.Length(rapid.Float64Range(-40, 40).Draw(r, "from"))
		to := measure.Length(rapid.Float64Range(-40, 40).Draw(r, "to"))
		places := measure.FinePlaces(unit)
		step := math.Pow10(-places)
		span := measure.Span(from, to, unit, places)
		if got, want := span.In(unit), measure.Round(to.In(unit), places)-measure.Round(from.In(unit), places); math.Abs(got-want) > 1e-9 {
			r.Fatalf("%v is not %v", got, want)
		}
		if off := math.Abs(float64((to - from).In(unit) - span.In(unit))); off > step*1.001 {
			r.Fatalf("off by %v", off)
		}
		if got, want := measure.AnswerSpan(from, to, unit).Number(unit), to.Number(unit)-from.Number(unit); math.Abs(got-want) > 1e-9 {
			r.Fatalf("answer: %v is not %v", got, want)
		}
	})
}

// 94.46 lb are 94.5 in the answer and on a label, and 95 where a paper has no room for the half: never 94 beside 94.5.
func TestWholeMassesFollowTheAnswersNumber(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		mass measure.Mass
		unit measure.System
		want string
	}{
		{94.46 * measure.Pound, measure.Inches, "95"}, {94.44 * measure.Pound, measure.Inches, "94"},
		{105.48 * measure.Pound, measure.Inches, "106"}, {2.5 * measure.Kilogram, measure.Millimetres, "3"},
		{8.44 * measure.Kilogram, measure.Millimetres, "8"}, {0.04 * measure.Kilogram, measure.Millimetres, "0"},
	} {
		require.Equal(t, tt.want, tt.mass.Whole(tt.unit), "%v", tt)
	}
}
