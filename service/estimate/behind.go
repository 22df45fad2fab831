package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/diffusion"
	"seamwright/service/source"
)

// Behind is how far a run's slab stays behind the air of a year.
type Behind struct {
	Damping float64 // share of the air's swing that the mean of the slab makes
	Lag     float64 // days after the air
	Sources []source.Source
}

// BehindAir works out how far a run of an estimate stays behind the air, with its thickness and finish; ok is false
// when the catalogue does not know its wood any more, or not its density.
func BehindAir(e *Estimate, run int, cat *catalogue.Snapshot) (b Behind, ok bool) {
	r := &e.Runs[run]
	w := alone(e.Units, false, cat)
	s := cat.SpeciesByCode(r.Species)
	if s == nil {
		return b, false
	}
	slab, err := w.slab(s, min((r.Moisture.Dry+r.Moisture.Humid)/2, wettestRest), usualAir)
	if err != nil {
		return b, false
	}
	var coat diffusion.Resistance
	if f := cat.FinishOf(e.Made.Finish); f != nil && f.Finish.Excluding > 0 {
		coat = diffusion.Coating(
			f.Finish.Excluding,
			excludingDays,
		) * diffusion.Resistance(
			float64(e.Made.Coats)/float64(f.Finish.Coats),
		)
		w.cite(source.FinishExcluding)
	}
	pass := func(z diffusion.Resistance) diffusion.Transfer {
		return diffusion.Pass(slab.wood, r.Moisture.Dry, min(r.Moisture.Humid, wettestRest), z)
	}
	through := diffusion.Slab{
		Thickness: e.Made.SlabThickness(),
		Diffusion: slab.Diffusion,
		Top:       pass(diffusion.AirFilm + coat),
		Under:     pass(diffusion.AirFilm),
	}
	if e.Made.Faces == BothFaces {
		through.Under = through.Top
	}
	w.cite(source.Diffusion)
	year := through.Year(diffusion.Months{}, diffusion.Months{}) // damping and lag do not depend on the months
	return Behind{year.Damping, year.Lag, w.sources()}, true
}
