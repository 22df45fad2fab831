package view

import (
	"slices"

	"seamwright/service/drawing/pen"
)

// within is the part of a polygon that lies in a convex one (Sutherland and Hodgman's algorithm, Communications of the ACM
// 17, 1974; from memory).
func within(polygon, convex []pen.Point) []pen.Point {
	if turns(convex) < 0 {
		convex = slices.Clone(convex)
		slices.Reverse(convex)
	}
	for i, a := range convex {
		b := convex[(i+1)%len(convex)]
		off := func(p pen.Point) float64 { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
		var kept []pen.Point
		for k, p := range polygon {
			q := polygon[(k+1)%len(polygon)]
			hp, hq := off(p), off(q)
			if hp >= 0 {
				kept = append(kept, p)
			}
			if (hp > 0) != (hq > 0) && hp != hq {
				kept = append(kept, pen.At(p.X+(q.X-p.X)*hp/(hp-hq), p.Y+(q.Y-p.Y)*hp/(hp-hq)))
			}
		}
		polygon = kept
	}
	return polygon
}

func turns(polygon []pen.Point) (twice float64) {
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		twice += a.X*b.Y - b.X*a.Y
	}
	return twice
}

// grain draws lines along each piece.
func (v *picture) grain() {
	var ends []pen.Point
	for i := range v.pieces {
		p := &v.pieces[i]
		const lines = 9
		for k := range lines {
			base := p.start.plus(p.room.times(p.depth * (float64(k) + 0.5) / lines))
			cuts := p.cuts(base)
			for c := 0; c+1 < len(cuts); c += 2 {
				if cuts[c+1]-cuts[c] > 40 {
					ends = append(ends, v.at(base.plus(p.along.times(cuts[c]+15)).at(0)),
						v.at(base.plus(p.along.times(cuts[c+1]-15)).at(0)))
				}
			}
		}
	}
	v.Lines(ends, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
}

// cuts are where a line along the piece meets its outline, from its run's start.
func (p *piece) cuts(base spot) (list []float64) {
	for i, a := range p.outline {
		b := p.outline[(i+1)%len(p.outline)]
		ha, hb := a.minus(base).dot(p.room), b.minus(base).dot(p.room)
		if (ha > 0) != (hb > 0) {
			list = append(list, between(a, b, ha/(ha-hb)).minus(base).dot(p.along))
		}
	}
	slices.Sort(list)
	return list
}
