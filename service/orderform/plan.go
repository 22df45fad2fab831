package orderform

import (
	"seamwright/service/estimate"
	"seamwright/service/plan"
)

// Plan is the top as a customer sees it from above.
type Plan struct {
	Outline  []plan.Point
	Pieces   [][]plan.Point
	Sides    []SideDrawn
	Front    []plan.Point // the front edges, from one free end to the other
	Openings []OpeningDrawn
	Below    []BelowDrawn
}

// SideDrawn is one side: its wall from its left end to its right, as one who stands before it sees it, and its measures.
type SideDrawn struct {
	Wall       [2]plan.Point
	Long, Deep string // as a person reads them, without the unit
}

// OpeningDrawn is one opening with its place.
type OpeningDrawn struct {
	For     string
	Side    int // from 1
	Outline []plan.Point
}

// BelowDrawn is what stands below a stretch of a side: its outline from the wall to the front.
type BelowDrawn struct {
	Kind    string
	Side    int // from 1
	Outline []plan.Point
}

func (f *Form) planOf(r *Request, est *estimate.Estimate) Plan {
	p := Plan{Outline: est.Outline}
	for i := range est.Runs {
		p.Pieces = append(p.Pieces, est.Runs[i].Piece.Outline)
	}
	if len(est.Outline) != 2*len(est.Runs)+2 || len(r.Sides) != len(est.Runs) {
		return p
	}
	var wall []plan.Point
	wall, p.Front = est.Chain()
	for i, s := range r.Sides {
		drawn := SideDrawn{[2]plan.Point{wall[i], wall[i+1]}, f.number(s.Long), f.number(s.Deep)}
		if r.TurnsLeft { // its run goes the other way
			drawn.Wall[0], drawn.Wall[1] = drawn.Wall[1], drawn.Wall[0]
		}
		p.Sides = append(p.Sides, drawn)
	}
	for i := range min(len(est.Cutouts), len(r.Openings)) {
		p.Openings = append(p.Openings, OpeningDrawn{r.Openings[i].For, r.Openings[i].Side, est.Cutouts[i].Outline})
	}
	p.Below = belowOf(r, p.Sides, p.Pieces)
	return p
}
