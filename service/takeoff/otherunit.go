package takeoff

import (
	"math"
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// OtherUnit is a unit of a job's system that says what a unit of sale of the other system comes to.
type OtherUnit struct {
	Name   string  // as people write it: "fl oz"
	Factor float64 // how many of it one unit of sale is
}

// others are the units of sale that say nothing to a job in the other system: a board foot is 144 in³ of nominal size and a US
// fluid ounce 231/128 in³ (NIST Handbook 44, Appendix C); an inch is 25.4 mm.
var others = map[catalogue.Unit]struct {
	in measure.System
	OtherUnit
}{
	catalogue.BoardFoot:  {measure.Millimetres, OtherUnit{"m³", 144 * 0.0254 * 0.0254 * 0.0254}},
	catalogue.CubicMetre: {measure.Inches, OtherUnit{"board feet", 1 / (144 * 0.0254 * 0.0254 * 0.0254)}},
	catalogue.Litre:      {measure.Inches, OtherUnit{"fl oz", 128.0 / 231 / (0.254 * 0.254 * 0.254)}},
	catalogue.Metre:      {measure.Inches, OtherUnit{"ft", 1 / 0.3048}},
}

// InOther is the job's own unit for what is sold by a unit; false where the unit of sale is of the job's system or of none.
func InOther(sold catalogue.Unit, job measure.System) (OtherUnit, bool) {
	o, known := others[sold]
	return o.OtherUnit, known && o.in == job
}

// Least writes how much of it a need is, without its name: rounded up, as it is a least amount.
func (o OtherUnit) Least(need float64) string {
	places := 1
	if o.Factor < 1 {
		places = 3
	}
	scale := math.Pow10(places)
	return strconv.FormatFloat(math.Ceil(need*o.Factor*scale-1e-9)/scale, 'f', -1, 64)
}

// About writes what an amount that is sold comes to, without its name: rounded, as it stands beside the amount itself.
func (o OtherUnit) About(amount float64) string {
	is, places := amount*o.Factor, 0
	switch {
	case o.Factor < 1:
		places = 3
	case is < 20:
		places = 1
	}
	return strconv.FormatFloat(is, 'f', places, 64)
}
