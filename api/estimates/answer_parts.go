package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/plan"
)

func walkPoints(f *wire.Fields, name string, points *[]plan.Point) {
	wire.List(f, name, points, func(f *wire.Fields, p *plan.Point) { f.PairItem(&p.X, &p.Y) })
}

// WriteOutline writes the corners of an outline.
func WriteOutline(w *wire.Writer, name string, points []plan.Point) {
	w.List(name)
	WritePoints(w, points)
	w.End()
}

// WritePoints writes points into a list.
func WritePoints(w *wire.Writer, points []plan.Point) {
	f := wire.WriteFields(w)
	for i := range points {
		f.PairItem(&points[i].X, &points[i].Y)
	}
}

// WriteDays writes the working days; null when none are promised.
func WriteDays(w *wire.Writer, days int, promised bool) {
	if !promised {
		w.Null("working_days")
		return
	}
	w.Int("working_days", int64(days))
}

// WriteGrounds writes what an answer rests on: defaults that were taken, warnings, sources and, where they were asked for,
// workings.
func WriteGrounds(w *wire.Writer, g *estimate.Grounds) {
	f := wire.WriteFields(w)
	walkAssumptions(f, g.Assumptions)
	wire.List(f, "warnings", &g.Warnings, walkWarning)
	wire.List(f, "sources", &g.Sources, walkSource)
	walkWorkings(f, g.Workings)
}
