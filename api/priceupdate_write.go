package api

import (
	"time"

	"seamwright/service/measure"
	"seamwright/store/lists"
)

// EncodePriceUpdate writes a report as POST /v1/price-updates answers it.
func EncodePriceUpdate(u *lists.Update) []byte {
	w := newWriter(measure.Millimetres)
	defer w.free()
	w.priceUpdate(u, true)
	return append([]byte(nil), w.buf...)
}

// priceUpdate writes the report of a list; in full with the first rows that were held or rejected.
func (w *writer) priceUpdate(u *lists.Update, full bool) {
	w.open()
	w.textOrNull("id", u.ID)
	w.text("supplier", u.Supplier)
	w.date("list_date", u.ListDate)
	w.date("effective_from", u.EffectiveFrom)
	w.text("currency", u.Currency)
	w.text("status", string(u.Status))
	w.textOrNull("would_be", string(u.WouldBe))
	w.texts("held_because", u.HeldBecause)
	w.bool("repeated", u.Repeated)
	w.understood(u)
	w.openAt("counts")
	for _, c := range []struct {
		name string
		n    int
	}{{"rows", u.Counts.Rows}, {"new", u.Counts.New}, {"changed", u.Counts.Changed}, {"unchanged", u.Counts.Unchanged}, {"duplicate", u.Counts.Duplicate},
		{"held", u.Counts.Held}, {"rejected", u.Counts.Rejected}, {"missing", u.Counts.Missing}} {
		w.int(c.name, int64(c.n))
	}
	w.close()
	writeAll(w, "largest_moves", u.LargestMoves, (*writer).priceMove)
	writeAll(w, "basket", u.Basket, (*writer).topEffect)
	if full {
		w.int("undecided", int64(u.Undecided))
		writeAll(w, "first_rows", u.FirstRows, (*writer).priceUpdateRow)
		w.priceOffers(u.Offers)
	}
	w.int("revision", u.Revision)
	w.text("created_at", u.CreatedAt.UTC().Format(time.RFC3339))
	w.text("created_by", u.CreatedBy)
	w.timeOrNull("decided_at", u.DecidedAt)
	w.textOrNull("decided_by", u.DecidedBy)
	w.close()
}

func (w *writer) understood(u *lists.Update) {
	w.openAt("understood")
	w.text("format", u.Understood.Format)
	w.text("encoding", u.Understood.Encoding)
	w.textOrNull("separator", u.Understood.Separator)
	w.textOrNull("decimal_sign", u.Understood.DecimalSign)
	w.texts("columns", u.Understood.Columns)
	w.texts("ignored", u.Understood.Ignored)
	w.texts("stated", u.Understood.Stated)
	w.close()
}

func (w *writer) priceOffers(o *lists.Offers) {
	if o == nil {
		w.null("offers")
		return
	}
	w.openAt("offers")
	w.int("checked", o.Checked)
	w.int("unchecked", o.Unchecked)
	w.int("drifted", o.Drifted)
	writeAll(w, "first", o.First, func(w *writer, one *lists.Offer) {
		w.open()
		w.text("quote", one.Quote)
		w.int("number", one.Number)
		w.literal("moved", one.Moved)
		w.close()
	})
	w.close()
}

func (w *writer) priceMove(m *lists.Move) {
	w.open()
	w.text("item", m.Item)
	w.literal("pack_size", m.Size)
	w.text("before", m.Before)
	w.text("after", m.After)
	w.literal("percent", m.Percent)
	w.bool("held", m.Held)
	w.close()
}

func (w *writer) topEffect(e *lists.TopEffect) {
	w.open()
	w.text("reference", e.Reference)
	w.textOrNull("cost_before", e.CostBefore)
	w.textOrNull("cost_after", e.CostAfter)
	w.literal("percent", e.Percent)
	w.textOrNull("reason", e.Reason)
	w.close()
}

func (w *writer) priceUpdateRow(r *lists.Row) {
	w.open()
	w.int("line", int64(r.Line))
	w.text("status", string(r.Status))
	w.textOrNull("column", r.Column)
	w.text("reason", r.Reason)
	w.textOrNull("found", r.Found)
	w.textOrNull("code", r.Code)
	w.textOrNull("item", r.Item)
	w.literal("pack_size", r.Size)
	w.textOrNull("amount", r.Amount)
	w.textOrNull("before", r.Before)
	w.textOrNull("per", r.Per)
	w.close()
}
