package pen_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/drawing/pen"
)

// Money, forces, weights and counts have their thousands set apart by the language's sign; lengths have none, as on a tape.
func TestThousandsAreSetApartInAmountsAndNotInLengths(t *testing.T) {
	t.Parallel()
	english, german := pen.Speech{}, pen.Speech{Comma: true, Thousands: "."}
	for text, want := range map[string][2]string{
		"0.00": {"0.00", "0,00"}, "999": {"999", "999"}, "1000": {"1,000", "1.000"}, "2965.59": {"2,965.59", "2.965,59"},
		"-1234567.8": {"-1,234,567.8", "-1.234.567,8"}, "-999": {"-999", "-999"}, "+1000": {"+1,000", "+1.000"},
	} {
		require.Equal(t, want, [2]string{english.Amount(text), german.Amount(text)})
	}
	for text, want := range map[string][2]string{
		"2258 lbf": {"2,258 lbf", "2.258 lbf"}, "30127 N": {"30,127 N", "30.127 N"}, "1400 kPa": {"1,400 kPa", "1.400 kPa"},
		"1044.5 kg": {"1,044.5 kg", "1.044,5 kg"}, "2192.5 mm": {"2192.5 mm", "2192,5 mm"}, "12000 mm": {"12000 mm", "12000 mm"},
		"1000 in": {"1000 in", "1000 in"}, "1982": {"1982", "1982"}, "1982.5": {"1982.5", "1982,5"},
		"2540.66": {"2,540.66", "2.540,66"}, "less than 1000.5 mm": {"less than 1000.5 mm", "less than 1000,5 mm"},
	} {
		require.Equal(t, want, [2]string{english.Phrase(text), german.Phrase(text)}, text)
	}
}

// An answer writes figures plainly; a paper sets their thousands apart, whether the language has words for the sentence or not.
func TestThousandsAreSetApartInWhatAnAnswerSays(t *testing.T) {
	t.Parallel()
	german := pen.Speech{Comma: true, Thousands: ".", Words: map[string]string{"%s days": "%s Tage", "%s mm": "%s mm"},
		Sentences: []pen.Sentence{pen.Learn("It pulls with %s over %s and costs %s.", "Es zieht mit %s auf %s und kostet %s.")}}
	for text, want := range map[string][2]string{
		"It pulls with 2446 N over 2446 mm and costs 2446.00.": {"It pulls with 2,446 N over 2446 mm and costs 2,446.00.",
			"Es zieht mit 2.446 N auf 2446 mm und kostet 2.446,00."},
		"It pulls with 999 N over 1000 days and costs 1.": {"It pulls with 999 N over 1000 days and costs 1.",
			"Es zieht mit 999 N auf 1.000 Tage und kostet 1."},
		"Panel 4 x 4 x 26.5 mm, 2 x as good": {"Panel 4 × 4 × 26.5 mm, 2 × as good", "Panel 4 × 4 × 26.5 mm, 2 × as good"},
		"Nobody knows 1019 lbf of 1982 (1994), 1021.5 kg, 1500.5 mm.": {"Nobody knows 1,019 lbf of 1982 (1994), 1,021.5 kg, 1500.5 mm.",
			"Nobody knows 1.019 lbf of 1982 (1994), 1.021,5 kg, 1500.5 mm."},
	} {
		require.Equal(t, want, [2]string{pen.Speech{}.Told(text), german.Told(text)})
	}
}
