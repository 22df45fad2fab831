package estimate

import (
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// leg is the piece of run i as the seam of corner k must carry it when the joined top is lifted by the other piece.
func (o *option) leg(w *work, k, i int) hardware.Leg {
	s, path := w.shapeOf(i, o.layout), o.layout.Seams[k].Path
	return hardware.Leg{Run: w.runs[i].Name, Mass: s.mass,
		Arm: plan.SegmentDistance(s.centre, s.centre, path[0], path[len(path)-1])}
}

// pieceMass is a piece's mass at the making moisture, its cut-outs and what is hollow below taken off.
func (w *work) pieceMass(i int, p *plan.Piece, l *plan.Layout) measure.Mass {
	area := p.Area
	for k := range w.cutouts {
		if w.cutouts[k].run == i {
			area -= w.cutouts[k].area()
		}
	}
	volume := measure.Volume(float64(area)*float64(w.order.Top.Thickness)) - w.hollowVolume(i, w.hollows(i, l))
	return measure.Mass(w.runs[i].density * volume.CubicMetres())
}

// centreOfMass is a piece's centroid, its cut-outs taken off: the sum of area times centroid, a cut-out's area being
// negative, over the area that is left. What is hollow below counts as an opening by its share of the thickness.
//
// Source: statics.
func (w *work) centreOfMass(i int, p *plan.Piece, l *plan.Layout) plan.Point {
	left, x, y := float64(p.Area), float64(p.Area)*float64(p.Centroid.X), float64(p.Area)*float64(p.Centroid.Y)
	hollows, share := w.hollows(i, l), float64(w.under()/w.order.Top.Thickness)
	for _, h := range hollows {
		r, area := l.Rectangle(i, h.From, h.To, h.Front, h.Back), share*float64(h.area())
		left -= area
		x -= area * float64(r[0].X+r[2].X) / 2
		y -= area * float64(r[0].Y+r[2].Y) / 2
	}
	for k := range w.cutouts {
		c := &w.cutouts[k]
		if c.run != i {
			continue
		}
		r := w.rectangle(c, l)
		middle := plan.Point{X: (r[0].X + r[2].X) / 2, Y: (r[0].Y + r[2].Y) / 2}
		if c.shape != nil {
			middle = plan.Centroid(w.holeOn(c, l))
		}
		area := float64(c.area())
		if c.overHollow(hollows) {
			area *= 1 - share
		}
		left -= area
		x -= area * float64(middle.X)
		y -= area * float64(middle.Y)
	}
	if left <= 0 {
		return p.Centroid // cut-outs that overlap and leave nothing
	}
	return plan.Point{X: measure.Length(x / left), Y: measure.Length(y / left)}
}

// people is how many carry the piece of run i.
func (w *work) people(i int, p *plan.Piece, l *plan.Layout) int {
	return hardware.People(w.pieceMass(i, p, l), w.set.PersonLimit)
}
