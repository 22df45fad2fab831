package lists

import (
	"time"

	"seamwright/api/wire"
	"seamwright/service/measure"
	"seamwright/store/lists"
)

// Encode writes a report as POST /v1/price-updates answers it.
func Encode(u *lists.Update) []byte {
	return wire.Encode(measure.Millimetres, func(w *wire.Writer) { writePriceUpdate(w, u, true) })
}

// writePriceUpdate writes the report of a list; in full with the first rows that were held or rejected.
func writePriceUpdate(w *wire.Writer, u *lists.Update, full bool) {
	w.Open()
	w.TextOrNull("id", u.ID)
	w.Text("supplier", u.Supplier)
	w.Date("list_date", u.ListDate)
	w.Date("effective_from", u.EffectiveFrom)
	w.Text("currency", u.Currency)
	w.Text("status", string(u.Status))
	w.TextOrNull("would_be", string(u.WouldBe))
	w.Texts("held_because", u.HeldBecause)
	w.Bool("repeated", u.Repeated)
	writeUnderstood(w, u)
	w.OpenAt("counts")
	for _, c := range []struct {
		name string
		n    int
	}{{"rows", u.Counts.Rows}, {"new", u.Counts.New}, {"changed", u.Counts.Changed}, {"unchanged", u.Counts.Unchanged}, {"duplicate", u.Counts.Duplicate},
		{"held", u.Counts.Held}, {"rejected", u.Counts.Rejected}, {"missing", u.Counts.Missing}} {
		w.Int(c.name, int64(c.n))
	}
	w.Close()
	wire.All(w, "largest_moves", u.LargestMoves, writePriceMove)
	wire.All(w, "basket", u.Basket, writeTopEffect)
	if full {
		w.Int("undecided", int64(u.Undecided))
		wire.All(w, "first_rows", u.FirstRows, writePriceUpdateRow)
		writePriceOffers(w, u.Offers)
	}
	w.Int("revision", u.Revision)
	w.Text("created_at", u.CreatedAt.UTC().Format(time.RFC3339))
	w.Text("created_by", u.CreatedBy)
	w.TimeOrNull("decided_at", u.DecidedAt)
	w.TextOrNull("decided_by", u.DecidedBy)
	w.Close()
}

func writeUnderstood(w *wire.Writer, u *lists.Update) {
	w.OpenAt("understood")
	w.Text("format", u.Understood.Format)
	w.Text("encoding", u.Understood.Encoding)
	w.TextOrNull("separator", u.Understood.Separator)
	w.TextOrNull("decimal_sign", u.Understood.DecimalSign)
	w.Texts("columns", u.Understood.Columns)
	w.Texts("ignored", u.Understood.Ignored)
	w.Texts("stated", u.Understood.Stated)
	w.Close()
}

func writePriceOffers(w *wire.Writer, o *lists.Offers) {
	if o == nil {
		w.Null("offers")
		return
	}
	w.OpenAt("offers")
	w.Int("checked", o.Checked)
	w.Int("unchecked", o.Unchecked)
	w.Int("drifted", o.Drifted)
	wire.All(w, "first", o.First, func(w *wire.Writer, one *lists.Offer) {
		w.Open()
		w.Text("quote", one.Quote)
		w.Int("number", one.Number)
		w.Literal("moved", one.Moved)
		w.Close()
	})
	w.Close()
}

func writePriceMove(w *wire.Writer, m *lists.Move) {
	w.Open()
	w.Text("item", m.Item)
	w.Literal("pack_size", m.Size)
	w.Text("before", m.Before)
	w.Text("after", m.After)
	w.Literal("percent", m.Percent)
	w.Bool("held", m.Held)
	w.Close()
}

func writeTopEffect(w *wire.Writer, e *lists.TopEffect) {
	w.Open()
	w.Text("reference", e.Reference)
	w.TextOrNull("cost_before", e.CostBefore)
	w.TextOrNull("cost_after", e.CostAfter)
	w.Literal("percent", e.Percent)
	w.TextOrNull("reason", e.Reason)
	w.Close()
}

func writePriceUpdateRow(w *wire.Writer, r *lists.Row) {
	w.Open()
	w.Int("line", int64(r.Line))
	w.Text("status", string(r.Status))
	w.TextOrNull("column", r.Column)
	w.Text("reason", r.Reason)
	w.TextOrNull("found", r.Found)
	w.TextOrNull("code", r.Code)
	w.TextOrNull("item", r.Item)
	w.Literal("pack_size", r.Size)
	w.TextOrNull("amount", r.Amount)
	w.TextOrNull("before", r.Before)
	w.TextOrNull("per", r.Per)
	w.Close()
}
