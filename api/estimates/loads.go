package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/measure"
)

// ReadSurfaceLoad reads a uniform load, lbf/ft² or kPa.
func ReadSurfaceLoad(o *wire.Object, key string) measure.Pressure {
	if o.Units() == measure.Inches {
		return measure.Pressure(o.Number(key)) * measure.PoundPerSquareFoot
	}
	return measure.Pressure(o.Number(key)) * measure.Kilopascal
}

// SurfaceLoad is a uniform load as callers have it.
func SurfaceLoad(units measure.System, p measure.Pressure) float64 {
	if units == measure.Inches {
		return float64(p / measure.PoundPerSquareFoot)
	}
	return p.Kilopascals()
}

// ReadForce reads a force, lbf or N.
func ReadForce(o *wire.Object, key string) measure.Force {
	if o.Units() == measure.Inches {
		return measure.Force(o.Number(key)) * measure.PoundForce
	}
	return measure.Force(o.Number(key)) * measure.Newton
}
