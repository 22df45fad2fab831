package diffusion

import (
	"math"

	"seamwright/service/measure"
	"seamwright/service/wood"
)

// Transfer is how fast moisture passes a face of a slab, metres a second: the flow of moisture content for each point
// that the face is off the equilibrium of the air, −D·∂M/∂x = S·(M − M_e). Zero is a sealed face.
type Transfer float64

// MillimetresPerDay is a transfer in the unit in which it is told.
func (s Transfer) MillimetresPerDay() float64 { return float64(s) * 1e3 * secondsPerDay }

// Resistance is what holds vapour back on its way to a face, m²·s·Pa/kg.
type Resistance float64

// AirFilm is the resistance of the still air of a room over a face.
//
// Source: usual value of building physics (2e-8 kg/(m²·s·Pa) passes), from memory.
const AirFilm Resistance = 5e7

// Pass is how fast moisture passes a face that air reaches through a resistance, for a change between two moistures:
//
//	S = p/(ρ₀·Z)·Δh/ΔM
//
// p is the saturated vapour pressure, ρ₀ the oven-dry mass in a volume of moist wood, Z the resistance, Δh/ΔM the slope
// of the sorption equation.
//
// Source: definition of the two flows, set equal.
func Pass(w Wood, from, to measure.Moisture, z Resistance) Transfer {
	dry := wood.WaterDensity * w.Gravity
	return Transfer(SaturatedVapour(w.Temperature) * humidityPerMoisture(from, to, w.Temperature) / (dry * float64(z)))
}

// Test is the published test of what finishes keep out, and its wood: both faces of a ponderosa pine panel, from air of
// 30 % into air of 90 % relative humidity.
//
// Source: W. C. Feist, J. K. Little, J. M. Wennesheimer, FPL Research Paper FPL 462 (1985). Humidities and temperature
// as quoted, the panel's thickness of 5/8 in from memory.
const (
	testThickness = 0.015875 // m
	testDry       = measure.Humidity(30)
	testHumid     = measure.Humidity(90)
	testAir       = measure.Temperature(26.7) // 80 °F
	testGravity12 = 0.40                      // ponderosa pine, Wood Handbook Table 5-3
)

// Coating is the resistance of a finish that keeps so many percent of the moisture out over so many days of the
// published test: with it the test's panel takes up by so much less than the bare one, by the series with a resisting
// surface. None for 0 percent or less.
//
// Source: as the test's; reading a resistance from it is our own.
func Coating(percent float64, days int) Resistance {
	if percent <= 0 {
		return 0
	}
	p := newPanel()
	most := p.taken(AirFilm, days) * (1 - percent/100)
	low, high := 1.0, 1e15
	for range 50 {
		mid := math.Sqrt(low * high)
		if p.taken(AirFilm+Resistance(mid), days) > most {
			low = mid
		} else {
			high = mid
		}
	}
	return Resistance(high)
}

// panel is the test's wood and the change that it makes.
type panel struct {
	diffusion Diffusion
	pass      float64 // through a resistance of 1, m/s
}

func newPanel() panel {
	dry, _ := wood.EMC(testDry, testAir) // the test's air is within what the equation holds for
	wet, _ := wood.EMC(testHumid, testAir)
	middle := (dry + wet) / 2
	w := Wood{Gravity: wood.Gravity(wood.BasicFrom12(testGravity12), middle), Moisture: middle, Temperature: testAir}
	return panel{Across(w), float64(Pass(w, dry, wet, 1))}
}

// taken is the share of its whole change that the panel has made after days behind a resistance.
func (p panel) taken(z Resistance, days int) float64 {
	half := testThickness / 2
	tau := float64(p.diffusion) * float64(days) * secondsPerDay / (half * half)
	return Exchanged(tau, half*p.pass/float64(z)/float64(p.diffusion))
}
