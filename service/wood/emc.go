// Package wood is what moisture does to wood: equilibrium moisture content, change of width and length, density, and
// an indication of the stress when the change is held back.
package wood

import (
	"fmt"
	"math"

	"seamwright/service/measure"
)

// Limits of the sorption equation's temperature, °C.
const (
	ColdestAir = -1.2  // a little under 30 °F
	HottestAir = 130.0 // 266 °F
)

// EMC returns the equilibrium moisture content of wood in air of relative humidity h (0 < h < 1 as a share) and
// temperature T in °F:
//
//	EMC = (1800/W)·[ K·h/(1 − K·h) + (K₁·K·h + 2·K₁·K₂·K²·h²)/(1 + K₁·K·h + K₁·K₂·K²·h²) ]
//	W = 330 + 0.452·T + 0.00415·T²       K  = 0.791 + 4.63e-4·T − 8.44e-7·T²
//	K₁ = 6.34 + 7.75e-4·T − 9.35e-5·T²   K₂ = 1.09 + 2.84e-2·T − 9.04e-5·T²
//
// Valid for about −1…130 °C (30–266 °F); outside it, and for air that is bone-dry or saturated, it returns an error.
// One number for all species; real woods differ by a point or two between drying and wetting. It rounds nothing.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), ch. 4, eq. 4-5 (two-hydrate sorption), coefficients for °F.
func EMC(humidity measure.Humidity, temperature measure.Temperature) (measure.Moisture, error) {
	if !(humidity > 0 && humidity < 100) {
		return 0, fmt.Errorf("relative humidity must lie between 0 and 100 %%, not %g", float64(humidity))
	}
	if c := temperature.Celsius(); !(c >= ColdestAir && c <= HottestAir) {
		return 0, fmt.Errorf("temperature must lie from -1 to 130 °C (30 to 266 °F), not %.4g °C (%.4g °F)", c,
			temperature.Fahrenheit())
	}
	t, h := temperature.Fahrenheit(), float64(humidity)/100
	w := 330 + 0.452*t + 0.00415*t*t     // WH eq. 4-5, W
	k := 0.791 + 4.63e-4*t - 8.44e-7*t*t // WH eq. 4-5, K
	k1 := 6.34 + 7.75e-4*t - 9.35e-5*t*t // WH eq. 4-5, K₁
	k2 := 1.09 + 2.84e-2*t - 9.04e-5*t*t // WH eq. 4-5, K₂
	kh := k * h
	emc := 1800 / w * (kh/(1-kh) + (k1*kh+2*k1*k2*kh*kh)/(1+k1*kh+k1*k2*kh*kh)) // WH eq. 4-5
	if math.IsNaN(emc) || emc < 0 {
		return 0, fmt.Errorf("no equilibrium for %g %% at %.4g °C", float64(humidity), temperature.Celsius())
	}
	return measure.Moisture(emc), nil
}
