package estimates

import (
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
)

// shown writes an estimate as the caller asks for it: whole, or as a price list needs it.
func shown(c *web.Call, e *estimate.Estimate) func(*wire.Writer) {
	if c.Summary() {
		return func(w *wire.Writer) { writeEstimateSummary(w, e) }
	}
	return func(w *wire.Writer) { w.Units = e.Units; write(w, e) }
}

// Kept writes an answer that was kept, as the caller asks for it: to the letter, or as a price list needs it.
func Kept(c *web.Call, w *wire.Writer, answer string) {
	if !c.Summary() {
		w.Raw("estimate", answer)
		return
	}
	e, err := Read(answer)
	if err != nil {
		w.Wrong = err
		return
	}
	w.Key("estimate")
	writeEstimateSummary(w, e)
}

// writeEstimateSummary is what a price list needs of an estimate.
func writeEstimateSummary(w *wire.Writer, e *estimate.Estimate) {
	w.Open()
	w.Text("reference", e.Reference)
	w.Text("currency", e.Currency)
	walkVersion(wire.WriteFields(w), &e.Revision, &e.PricedAsOf)
	joints := make([]string, len(e.Corners))
	for i, c := range e.Corners {
		joints[i] = string(c.Chosen.Kind)
	}
	w.Texts("joints", joints)
	w.Amount("cost", e.Price.Cost)
	w.Amount("total", e.Price.Total)
	w.Number("hours", e.Labour.Hours, 2)
	WriteDays(w, e.Labour.WorkingDays, e.Labour.NoPromise == "")
	w.Close()
}
