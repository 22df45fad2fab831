package parts

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/diffusion"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func (s *room) postConditioning(c *web.Call) error {
	return answer(c, readRest, estimate.Rest, writeRest)
}

func readRest(o *wire.Object, explain bool) estimate.RestOrder {
	order := estimate.RestOrder{
		Units:     o.Units(),
		Species:   o.Text("species"),
		Sawn:      catalogue.Sawn(o.Text("sawn")),
		Thickness: o.Length("thickness"),
		Air:       estimates.ReadAir(o.Child("air")),
		Faces:     o.Text("faces"),
		OneFace:   o.Text("faces") == "one",
		Within:    measure.Moisture(o.Number("within")),
		Explain:   explain,
	}
	if making := estimates.ReadClimate(o.Child("moisture"), "making"); making != nil {
		order.Making = *making
	}
	return order
}

func writeRest(w *wire.Writer, a *estimate.RestAnswer) {
	w.Units = a.Units
	w.Open()
	writeHead(w, a.Revision, a.Species, a.Sawn)
	w.Made("thickness", a.Thickness)
	w.Number("making", float64(a.Making), 2)
	w.Number("equilibrium", float64(a.Equilibrium), 2)
	w.Number("off", float64(a.Off), 2)
	w.Number("within", float64(a.Within), 2)
	writeSlab(w, &a.Slab)
	w.Number("surface", a.Slab.Surface.MillimetresPerDay(), 2)
	w.Number("days", a.Days.Likely, 1)
	w.Number("days_low", a.Days.Low, 1)
	w.Number("days_high", a.Days.High, 1)
	w.Bool("ready", a.Ready)
	w.Text("text", a.Text)
	estimates.WriteGrounds(w, &a.Grounds)
	w.Close()
}

// writeHead writes what the answer about a wood begins with.
func writeHead(w *wire.Writer, revision int64, species string, sawn catalogue.Sawn) {
	w.Text("units", w.Units.String())
	w.OpenAt("catalogue")
	w.Int("revision", revision)
	w.Close()
	w.Text("species", species)
	w.Text("sawn", string(sawn))
}

// writeSlab writes how moisture moves through a wood, square millimetres a day.
func writeSlab(w *wire.Writer, s *estimate.Slab) {
	w.Number("diffusion", diffusion.SquareMillimetresPerDay(s.Diffusion), 4)
	w.Number("diffusion_low", diffusion.SquareMillimetresPerDay(s.Low), 4)
	w.Number("diffusion_high", diffusion.SquareMillimetresPerDay(s.High), 4)
}
