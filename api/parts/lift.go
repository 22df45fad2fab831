package parts

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
)

func (s *room) postLift(c *web.Call) error {
	return answer(c, readLift, estimate.Lift, writeLift)
}

func readLift(o *wire.Object, explain bool) estimate.LiftOrder {
	distance := func(key string) measure.Length { l, _ := o.Distance(key); return l }
	mass := measure.Kilogram
	if o.Units() == measure.Inches {
		mass = measure.Pound
	}
	return estimate.LiftOrder{
		Units:  o.Units(),
		Weight: measure.Mass(o.Number("weight")) * mass,
		People: o.Whole("people"),
		Lift: hardware.Lift{
			Horizontal: distance("horizontal"),
			Height:     distance("height"),
			Travel:     distance("travel"),
			Asymmetry:  measure.Angle(o.Number("asymmetry")) * measure.Degree,
			PerMinute:  o.Number("per_minute"),
			Hours:      o.Number("hours"),
			Coupling:   hardware.Coupling(o.Text("coupling")),
		},
		Told:    estimate.LiftTold{PerMinute: o.Has("per_minute"), Hours: o.Has("hours")},
		Explain: explain,
	}
}

func writeLift(w *wire.Writer, a *estimate.LiftAnswer) {
	w.Units = a.Units
	w.Open()
	w.Text("units", w.Units.String())
	w.Mass("weight", a.Weight)
	w.Int("people", int64(a.People))
	w.Mass("share", a.Share)
	f := wire.WriteFields(w)
	estimates.WalkMultipliers(f, &a.Multipliers)
	estimates.WalkLimit(f, &a.Limit)
	w.NumberOrNull("index", a.Index, 4)
	wire.IntOrNull(f, "people_enough", &a.Enough)
	w.Texts("cautions", a.Cautions)
	estimates.WriteGrounds(w, &a.Grounds)
	w.Close()
}
