package parts

import (
	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/passage"
)

func (s *room) postPassage(c *web.Call) error {
	return answer(c, readPassage, estimate.Pass, writePassage)
}

func readPassage(o *wire.Object, explain bool) estimate.PassageOrder {
	piece := o.Child("piece")
	thickness, _ := piece.Distance("thickness")
	clearance, _ := o.Distance("clearance")
	return estimate.PassageOrder{
		Units:     o.Units(),
		Piece:     passage.Piece{Length: piece.Length("length"), Depth: piece.Length("depth"), Thickness: thickness},
		Way:       estimates.ReadWay(o, "way"),
		Clearance: clearance,
		Explain:   explain,
	}
}

func writePassage(w *wire.Writer, a *estimate.PassageAnswer) {
	w.Units = a.Units
	w.Open()
	w.Text("units", w.Units.String())
	w.OpenAt("piece")
	w.Made("length", a.Piece.Length)
	w.Made("depth", a.Piece.Depth)
	w.Made("thickness", a.Piece.Thickness)
	w.Close()
	w.Length("clearance", a.Clearance)
	w.Bool("passes", a.Passes)
	f := wire.WriteFields(w)
	wire.List(f, "way", &a.Way, estimates.WalkPassing)
	w.Texts("cautions", a.Cautions)
	estimates.WriteGrounds(w, &a.Grounds)
	w.Close()
}
