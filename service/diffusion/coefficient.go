// Package diffusion is moisture on its way through the thickness of a slab: how fast wood lets it through, what its
// surfaces hold back, how long a step of the air takes, and what a year of months does inside.
package diffusion

import (
	"math"

	"seamwright/service/measure"
	"seamwright/service/wood"
)

// Diffusion is how fast moisture moves through wood across its grain, in square metres a second.
type Diffusion float64

// Constants of nature.
const (
	gasConstant = 8.314462618 // J/(mol·K), CODATA 2018
	waterMolar  = 0.018015    // kg/mol
	zeroCelsius = 273.15      // K
	wallDensity = 1530.0      // kg/m³ of dry cell wall; Siau (1984), from memory
)

// measuredOverModel is how many times faster than the model two woods are whose change was measured: spruce 1.27 times
// (A. Sanchez-Ferrer, M. Engelhardt 2026), beech 1.87 times (it is 2 to 3 times slower than spruce, W. Sonderegger and
// others 2011); their geometric mean, rounded.
const measuredOverModel = 1.5

// SaturatedVapour is the pressure of water vapour over water, Pa:
//
//	p = 610.78·exp(17.27·T/(T + 237.3)), T in °C, 0 to 60
//
// Source: O. Tetens (1930), from memory; within 0.3 % of the steam tables up to 40 °C.
func SaturatedVapour(t measure.Temperature) float64 {
	return 610.78 * math.Exp(17.27*t.Celsius()/(t.Celsius()+237.3)) // Tetens
}

// humidityPerMoisture is by how much the relative humidity that wood is at rest with grows with its moisture content,
// a share for a share: the slope of the sorption equation between two moistures.
func humidityPerMoisture(from, to measure.Moisture, t measure.Temperature) float64 {
	const apart = 0.05 // points; nearer ones are taken as far apart
	if math.Abs(float64(to-from)) < 2*apart {
		from, to = from-apart, to+apart
	}
	return float64(humidityAt(to, t)-humidityAt(from, t)) / float64(to-from)
}

// humidityAt is the relative humidity that wood is at rest with, kept within what the sorption equation holds for.
func humidityAt(m measure.Moisture, t measure.Temperature) measure.Humidity {
	h, _ := wood.AirFor(m, t)
	return min(max(h, 0.1), 99.9)
}

// Wood is a wood on whose way through moisture is reckoned.
type Wood struct {
	Gravity     float64 // oven-dry mass over volume at Moisture, relative to water
	Moisture    measure.Moisture
	Temperature measure.Temperature
}

// Across is the diffusion across the grain, driven by moisture content, of bound water in the cell walls and of vapour
// in the lumens together:
//
//	D  = k·√v·D_b·D_v / ((1 − v)·(√v·D_b + (1 − √v)·D_v))
//	D_b = 7e-6·exp(−(38500 − 290·M)/(R·T))                  through the cell wall, m²/s, M in percent, T in K
//	D_v = D_a·p·M_w/(R·T·ρ_w)·dh/dM                        through the lumens
//	D_a = 2.2e-5·(T/273.15)^1.75                           vapour in air, m²/s
//	v  = 1 − G·(1/1.53 + M/100)                            share of the lumens
//
// p is the saturated vapour pressure, ρ_w the dry cell wall in a volume of moist cell wall, dh/dM the slope of the
// sorption equation. k raises the model to what was measured (measuredOverModel). Radial and tangential are not told
// apart: the measured ones of spruce differ by a sixteenth. It holds below fibre saturation, from about 0 to 60 °C;
// measured values of one species differ by a factor of two and more, so it is never told without a range.
//
// Source: J. F. Siau, Transport Processes in Wood (1984), transverse model, with its constants; from memory, raised to
// and held against published measurements in the tests.
func Across(w Wood) Diffusion {
	kelvin := w.Temperature.Celsius() + zeroCelsius
	m := float64(w.Moisture)
	bound := 7e-6 * math.Exp(-(38500-290*m)/(gasConstant*kelvin)) // Siau, D_b
	air := 2.2e-5 * math.Pow(kelvin/zeroCelsius, 1.75)            // Siau, D_a
	wall := wallDensity / (1 + wallDensity/wood.WaterDensity*m/100)
	vapour := air * SaturatedVapour(w.Temperature) * waterMolar / (gasConstant * kelvin * wall) *
		humidityPerMoisture(w.Moisture, w.Moisture, w.Temperature) // Siau, D_v
	lumens := max(1-w.Gravity*(wood.WaterDensity/wallDensity+m/100), 0.02) // Siau, v
	root := math.Sqrt(lumens)
	model := root * bound * vapour / ((1 - lumens) * (root*bound + (1-root)*vapour)) // Siau, D
	return Diffusion(measuredOverModel * model)
}

// SquareMillimetresPerDay is a diffusion in the unit in which it is told.
func SquareMillimetresPerDay(d Diffusion) float64 { return float64(d) * 1e6 * secondsPerDay }

const secondsPerDay = 86400.0
