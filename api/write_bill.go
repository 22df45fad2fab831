package api

import "seamwright/service/estimate"

func (w *writer) lumber(l *estimate.LumberPlan) {
	w.open()
	w.text("material", l.Material)
	w.numberOrNull("net_board_feet", l.NetBoardFeet, 2)
	w.numberOrNull("yield_board_feet", l.YieldBoardFeet, 2)
	w.numberOrNull("plan_board_feet", l.PlanBoardFeet, 2)
	w.numberOrNull("buy_board_feet", l.BuyBoardFeet, 2)
	w.int("strips_per_board", int64(l.StripsPerBoard))
	writeAll(w, "boards", l.Boards, func(w *writer, b *estimate.BoardCount) {
		w.open()
		w.made("length", b.Length)
		w.int("planned", int64(b.Planned))
		w.int("buy", int64(b.Buy))
		w.close()
	})
	writeAll(w, "strips", l.Strips, (*writer).strip)
	w.amount("cost", l.Cost)
	w.amount("lower_bound", l.LowerBound)
	w.bool("optimal", l.Optimal)
	w.madeAll("offcuts", l.Offcuts)
	w.close()
}

func (w *writer) strip(s *estimate.StripCut) {
	w.open()
	w.made("length", s.Length)
	w.int("count", int64(s.Count))
	writeAll(w, "pieces", s.Pieces, func(w *writer, p *estimate.StripPiece) {
		w.open()
		w.text("run", p.Run)
		w.made("length", p.Length)
		w.close()
	})
	w.made("leftover", s.Leftover)
	w.close()
}

func (w *writer) billLine(b *estimate.BillLine) {
	w.open()
	w.int("line", int64(b.Line))
	w.text("item", b.Item)
	w.text("kind", string(b.Kind))
	w.text("description", b.Description)
	w.quantity("need", b.Need)
	w.quantity("buy", b.Buy)
	w.text("unit", string(b.Unit))
	if b.PackSize.IsZero() {
		w.null("pack")
	} else {
		w.openAt("pack")
		w.quantity("size", b.PackSize)
		w.int("count", int64(b.Packs))
		w.close()
	}
	w.unitPrice("unit_price", b.UnitPrice)
	w.amount("amount", b.Amount)
	w.openAt("price")
	w.text("supplier", b.Supplier)
	w.date("valid_from", b.ValidFrom)
	w.date("confirmed_on", b.ConfirmedOn)
	w.bool("stale", b.Stale)
	w.close()
	w.close()
}
