package estimates

import (
	"seamwright/api/wire"
)

import "seamwright/service/estimate"

func writeLumber(w *wire.Writer, l *estimate.LumberPlan) {
	w.Open()
	w.Text("material", l.Material)
	w.NumberOrNull("net_board_feet", l.NetBoardFeet, 2)
	w.NumberOrNull("yield_board_feet", l.YieldBoardFeet, 2)
	w.NumberOrNull("plan_board_feet", l.PlanBoardFeet, 2)
	w.NumberOrNull("buy_board_feet", l.BuyBoardFeet, 2)
	w.Int("strips_per_board", int64(l.StripsPerBoard))
	wire.All(w, "boards", l.Boards, func(w *wire.Writer, b *estimate.BoardCount) {
		w.Open()
		w.Made("length", b.Length)
		w.Int("planned", int64(b.Planned))
		w.Int("buy", int64(b.Buy))
		w.Close()
	})
	wire.All(w, "strips", l.Strips, writeStrip)
	w.Amount("cost", l.Cost)
	w.Amount("lower_bound", l.LowerBound)
	w.Bool("optimal", l.Optimal)
	w.MadeAll("offcuts", l.Offcuts)
	w.Close()
}

func writeStrip(w *wire.Writer, s *estimate.StripCut) {
	w.Open()
	w.Made("length", s.Length)
	w.Int("count", int64(s.Count))
	wire.All(w, "pieces", s.Pieces, func(w *wire.Writer, p *estimate.StripPiece) {
		w.Open()
		w.Text("run", p.Run)
		w.Made("length", p.Length)
		w.Close()
	})
	w.Made("leftover", s.Leftover)
	w.Close()
}

func writeBillLine(w *wire.Writer, b *estimate.BillLine) {
	w.Open()
	w.Int("line", int64(b.Line))
	w.Text("item", b.Item)
	w.Text("kind", string(b.Kind))
	w.Text("description", b.Description)
	w.Quantity("need", b.Need)
	w.Quantity("buy", b.Buy)
	w.Text("unit", string(b.Unit))
	if b.PackSize.IsZero() {
		w.Null("pack")
	} else {
		w.OpenAt("pack")
		w.Quantity("size", b.PackSize)
		w.Int("count", int64(b.Packs))
		w.Close()
	}
	w.UnitPrice("unit_price", b.UnitPrice)
	w.Amount("amount", b.Amount)
	w.OpenAt("price")
	w.Text("supplier", b.Supplier)
	w.Date("valid_from", b.ValidFrom)
	w.Date("confirmed_on", b.ConfirmedOn)
	w.Bool("stale", b.Stale)
	w.Close()
	w.Close()
}
