package diagnoses

import (
	"seamwright/api/estimates"
	"seamwright/api/wire"
	"seamwright/service/diagnosis"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func write(w *wire.Writer, a *diagnosis.Answer) {
	w.Open()
	w.Text("units", w.Units.String())
	w.Date("date", a.Date)
	w.Text("run", a.Run)
	if a.Corner > 0 {
		w.Int("corner", int64(a.Corner))
	} else {
		w.Null("corner")
	}
	w.OpenAt("moisture")
	w.Number("making", float64(a.Making), 2)
	w.Number("now", float64(a.Now), 2)
	w.Text("by", a.NowBy)
	w.Close()
	w.Text("finding", string(a.Finding))
	writeFigures(w, "predicted", &a.Predicted)
	writeFigures(w, "tolerance", &a.Tolerance)
	lengthOrNull(w, "held_gap", a.Bound)
	if a.Implied != nil {
		w.Number("implied_making", float64(*a.Implied), 1)
	} else {
		w.Null("implied_making")
	}
	w.Text("text", a.Text)
	w.Texts("advice", a.Advice)
	estimates.WriteGrounds(w, &estimate.Grounds{Assumptions: a.Assumptions, Sources: a.Sources})
	w.Close()
}

func writeFigures(w *wire.Writer, name string, f *diagnosis.Figures) {
	w.OpenAt(name)
	lengthOrNull(w, "gap", f.Gap)
	lengthOrNull(w, "step", f.Step)
	lengthOrNull(w, "width", f.Width)
	w.Number("content", float64(f.Content), 2)
	w.Close()
}

func lengthOrNull(w *wire.Writer, name string, l *measure.Length) {
	if l == nil {
		w.Null(name)
		return
	}
	w.Length(name, *l)
}
