package parts

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func (s *room) postSeasons(c *web.Call) error {
	return answer(c, readSeasons, estimate.Seasons, writeSeasons)
}

func readSeasons(o *wire.Object, explain bool) estimate.SeasonsOrder {
	order := estimate.SeasonsOrder{
		Units:     o.Units(),
		Species:   o.Text("species"),
		Sawn:      catalogue.Sawn(o.Text("sawn")),
		Width:     o.Length("width"),
		Thickness: o.Length("thickness"),
		Making:    estimates.ReadClimate(o.Child("moisture"), "making"),
		Months:    wire.Each(o.Children("months"), estimates.ReadState),
		Place:     o.Text("place"),
		Below:     estimates.ReadClimate(o, "below"),
		Finish:    estimates.ReadFinish(o.Child("finish")),
		Rings:     estimate.Rings(o.Text("rings")),
		Stave:     o.Length("stave_width"),
		Heart:     o.Length("heart_distance"),
		Explain:   explain,
	}
	if finish := o.Child("finish"); finish.Has("excluding") {
		percent := finish.Number("excluding")
		order.Excluding = &percent
	}
	return order
}

func writeSeasons(w *wire.Writer, a *estimate.SeasonsAnswer) {
	w.Units = a.Units
	w.Open()
	writeHead(w, a.Revision, a.Species, a.Sawn)
	w.Made("width", a.Width)
	w.Made("thickness", a.Thickness)
	w.Number("making", float64(a.Making), 2)
	writeSlab(w, &a.Slab)
	w.List("surface")
	for _, s := range a.Surface {
		w.Separate()
		w.Decimal(s.MillimetresPerDay(), 4)
	}
	w.End()
	wire.All(w, "months", a.Year.Months[:], writeMonth)
	writeRange(w, "lag_days", a.Year.Lag, a.High.Lag, a.Low.Lag, 2)
	writeRange(w, "damping", a.Year.Damping, a.Low.Damping, a.High.Damping, 4)
	writeSwing(w, "movement", a.Year.Swing)
	writeSwing(w, "movement_slow", a.Low.Swing)
	writeSwing(w, "movement_fast", a.High.Swing)
	writeSwing(w, "equilibrium_movement", a.Bound)
	writeCup(w, a.Year.Cup)
	w.Text("text", a.Text)
	estimates.WriteGrounds(w, &a.Grounds)
	w.Close()
}

func writeMonth(w *wire.Writer, m *estimate.SlabMonth) {
	w.Open()
	w.Number("equilibrium", float64(m.Equilibrium), 2)
	w.Number("mean", float64(m.Mean), 2)
	w.Length("change", m.Change)
	w.Length("cup", m.Cup)
	w.LengthOrNull("ripple", m.Ripple)
	w.Close()
}

// writeRange writes a figure with its least and its greatest.
func writeRange(w *wire.Writer, name string, likely, low, high float64, places int) {
	w.Number(name, likely, places)
	w.Number(name+"_low", low, places)
	w.Number(name+"_high", high, places)
}

func writeSwing(w *wire.Writer, name string, s estimate.Swing) {
	w.OpenAt(name)
	w.Length("least", s.Least)
	w.Length("greatest", s.Greatest)
	w.Length("range", measure.AnswerSpan(s.Least, s.Greatest, w.Units))
	w.Close()
}

// writeCup writes a cup, and as a maker reads it without its sign.
func writeCup(w *wire.Writer, cup measure.Length) {
	w.Length("cup", cup)
	w.Text("cup_text", max(cup, -cup).TextAs(w.Units, measure.Least))
}
