package estimate

import (
	"fmt"

	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// rails are what is left in front of and behind a cut-out, and what each bears when the piece is lifted flat by its
// ends. The moment beside the cut-out is that of the whole piece, held at both tips, with its weight spread evenly:
//
//	M = w·x·(X − x)/2
//
// at the place x of the cut-out that is nearest to the middle of the piece's length X; at the middle it is w·X²/8. Rails
// of one thickness share it by their widths, so that both bear the same stress. By itself a rail bears w·L²/8 of its
// own weight over its length L.
//
// Over a hollow the slab alone bears, and the weight is that of the whole thickness: the safe side.
//
// Source: statics (beams on two supports under an even load).
func (w *work) rails(c *cutout, p *plan.Piece, l *plan.Layout) []Rail {
	r, thick := &w.runs[c.run], w.thicknessAt(c, w.hollows(c.run, l))
	strength := w.bendingStrength(c.run)
	from, to := l.Tips(c.run)
	length := to - from
	x := min(max(length/2, c.from-from), c.to-from)
	x = min(max(x, 0), length)
	widths := [2]measure.Length{c.FromFront, max(0, r.Depth-c.FromFront-c.Depth)}
	per := w.pieceMass(c.run, p, l).Weight().Newtons() / length.Metres() // newtons per metre
	lifted := wood.BendingStress(per*x.Metres()*(length-x).Metres()/2, widths[0]+widths[1], thick)
	rails := make([]Rail, 0, 2)
	for i, side := range [2]int{frontSide, wallSide} {
		if c.open[side] || widths[i] <= 0 {
			continue
		}
		own := r.density * widths[i].Metres() * w.order.Top.Thickness.Metres() * measure.Mass(1).Weight().Newtons()
		rail := Rail{Side: sideNames[side], Width: widths[i], Length: c.Length, Lifted: lifted, Strength: strength,
			Own: wood.BendingStress(own*c.Length.Metres()*c.Length.Metres()/8, widths[i], thick)}
		rails = append(rails, rail)
		if w.order.Explain {
			w.explain(fmt.Sprintf("bending stress of the rail at the %s of the %s cut-out, lifted flat", rail.Side, cutoutName(c)), "6·w·x·(X − x)/2 / (b·t²)", lifted.Number(w.units), w.stressUnit(), source.CommonPractice,
				Input{"weight per length w", measure.Round(per, 6), "N/m"}, Input{"piece's length X", measure.Round(length.In(w.units), 6), w.units.String()},
				Input{"place x", measure.Round(x.In(w.units), 6), w.units.String()}, Input{"both rails' width b", measure.Round((widths[0] + widths[1]).In(w.units), 6), w.units.String()})
		}
	}
	return rails
}

func (w *work) stressUnit() string {
	if w.units == measure.Millimetres {
		return "kPa"
	}
	return "lbf/in²"
}

// warnOfRails warns of a rail that would break when its piece is lifted flat.
func (w *work) warnOfRails(index int, c *cutout, rails []Rail) {
	for i := range rails {
		r := &rails[i]
		if r.Holds() {
			continue
		}
		w.warn("weak_rail", Serious, numbered("/top/cutouts/", index), fmt.Sprintf("Lifted flat by its ends, the piece of run %s bends the %s of wood %s the %s cut-out with %s; more than %s is not to be relied on. Clamp a stiffener across the opening, carry the piece on edge, and support it on both sides of the cut-out.",
			w.runs[c.run].Name, w.phraseDown(r.Width), sideWords[map[string]int{"front": frontSide, "wall": wallSide}[r.Side]], cutoutName(c), w.stress(max(r.Own, r.Lifted)), w.stress(r.Strength)))
		return
	}
}

// bendingStrength is the bending stress that run i's wood may bear along the grain: its modulus of rupture over the
// shop's safety; 0 when it is not known.
//
// Source: Wood Handbook, FPL-GTR-190 (2010), Tables 5-3 and 5-5; the safety is common practice.
func (w *work) bendingStrength(i int) measure.Pressure {
	s := w.runs[i].species.BendingStrength
	if !s.Known {
		return 0
	}
	w.cite(s.Source)
	return measure.Pressure(s.Value/w.set.SupportSafety) * measure.Kilopascal
}
