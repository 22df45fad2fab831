package takeoff_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// NIST Handbook 44, Appendix C: a US fluid ounce is 29.573 53 mL, a foot 0.3048 m, a board foot 2.359 737 dm³ (144 in³).
func TestWhatIsSoldInTheOtherSystemsUnit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sold         catalogue.Unit
		job          measure.System
		amount       float64
		least, about string
	}{
		{catalogue.Litre, measure.Inches, 0.5, "17 fl oz", "16.9 fl oz"},
		{catalogue.Litre, measure.Inches, 0.02957353, "1.1 fl oz", "1.0 fl oz"},
		{catalogue.Metre, measure.Inches, 33, "108.3 ft", "108 ft"},
		{catalogue.Metre, measure.Inches, 0.3048, "1 ft", "1.0 ft"},
		{catalogue.BoardFoot, measure.Millimetres, 100, "0.236 m³", "0.236 m³"},
		{catalogue.CubicMetre, measure.Inches, 1, "423.8 board feet", "424 board feet"},
	} {
		own, other := takeoff.InOther(c.sold, c.job)
		require.True(t, other, c.sold)
		require.Equal(t, c.least, own.Least(c.amount)+" "+own.Name)
		require.Equal(t, c.about, own.About(c.amount)+" "+own.Name)
		same := measure.Inches
		if c.job == same {
			same = measure.Millimetres
		}
		_, other = takeoff.InOther(c.sold, same)
		require.False(t, other, "%s in its own system", c.sold)
	}
	_, other := takeoff.InOther(catalogue.Each, measure.Inches)
	require.False(t, other)
}
