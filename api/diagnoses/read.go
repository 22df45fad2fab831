package diagnoses

import (
	"seamwright/api/estimates"
	"seamwright/api/wire"
	"seamwright/service/diagnosis"
	"seamwright/service/estimate"
	"seamwright/service/joint"
	"seamwright/service/measure"
)

// asked is the top that a request names.
type asked struct {
	order    estimate.Order
	there    bool // an estimate was sent
	quote    string
	revision int
}

func readAsked(o *wire.Object) asked {
	a := asked{there: o.Has("estimate"), quote: o.Text("quote"), revision: o.Whole("revision")}
	if a.there {
		top := o.Child("estimate")
		o.MeasuredIn(top.Text("units"))
		a.order = estimates.ReadOrder(top)
	}
	readQuestion(o, o.Units()) // for what is wrong with it
	return a
}

// readQuestion reads what was measured; in the units of the top where the request names none.
func readQuestion(o *wire.Object, units measure.System) *diagnosis.Question {
	in := units.String()
	if o.Has("units") {
		in = o.Text("units")
	}
	o.MeasuredIn(in)
	m := o.Child("measured")
	q := &diagnosis.Question{
		Date:   o.Date("date"),
		Run:    o.Text("run"),
		Corner: o.Whole("corner"),
		GapAt:  joint.End(o.Text("gap_at")),
		Measured: diagnosis.Measured{
			Gap:   m.DistanceIfThere("gap"),
			Step:  m.DistanceIfThere("step"),
			Width: m.DistanceIfThere("width"),
		},
	}
	if m.Has("content") {
		content := measure.Moisture(m.Number("content"))
		q.Measured.Content = &content
	}
	if m.Has("humidity") && m.Has("temperature") {
		air := estimates.ReadAir(m)
		q.Measured.Air = &air
	} else if m.Has("humidity") || m.Has("temperature") {
		m.Wrong("humidity", "Air is its humidity and its temperature: give both.")
	}
	return q
}
