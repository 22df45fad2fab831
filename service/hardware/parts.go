package hardware

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// parts are the catalogue's items that fit a top, each list with the one to try first in front.
type parts struct {
	alignment []*catalogue.Fastener
	screws    []*catalogue.Fastener // and what else stands near the held point
	bolts     []*catalogue.Fastener // and what else stands further out (pullForm.further)
}

// drop lets the parts go.
func (p *parts) drop() {
	drop(&p.alignment)
	drop(&p.screws)
	drop(&p.bolts)
}

// gather sorts out what fits the seam's thickness and the wish.
func (p *parts) gather(seam *Seam, wish Wish, cat *catalogue.Snapshot) {
	p.alignment, p.screws, p.bolts = p.alignment[:0], p.screws[:0], p.bolts[:0]
	for i := range cat.Fasteners {
		f := &cat.Fasteners[i]
		if !f.Fits(seam.Thickness) {
			continue
		}
		switch f.Kind.Role() {
		case catalogue.Aligns:
			if wish.Alignment == "" || wish.Alignment == f.Kind {
				p.alignment = append(p.alignment, f)
			}
		case catalogue.Pulls:
			p.addPull(f, seam.Thickness, &cat.Settings)
		case catalogue.Refused, catalogue.Fixes, catalogue.Carries: // not for a seam that moves
		}
	}
	p.sort(seam.Thickness, &cat.Settings)
}

// addPull adds a pull part for which there is room in the thickness; of several that differ in length alone the best.
func (p *parts) addPull(f *catalogue.Fastener, thickness measure.Length, s *catalogue.Settings) {
	by, among := formOf(f).pull, &p.screws
	if by == nil || !by.room(f, thickness, s) {
		return
	}
	if by.further {
		among = &p.bolts
	}
	if by.instead != nil {
		for i, have := range *among {
			if alike, better := by.instead(f, have); alike {
				if better {
					(*among)[i] = f
				}
				return
			}
		}
	}
	*among = append(*among, f)
}

// sort puts first what is tried first. Pull parts: as their form says, one form after the other. Alignment: the kind that
// comes first in so many rows, then the others in the order of their table; of one kind the widest first, or the one
// nearest to a third of its row's share of the thickness. Common practice.
func (p *parts) sort(thickness measure.Length, s *catalogue.Settings) {
	for _, pulls := range [2][]*catalogue.Fastener{p.screws, p.bolts} {
		slices.SortFunc(pulls, func(a, b *catalogue.Fastener) int {
			if form := a.Kind.Form(); form != b.Kind.Form() {
				return cmp.Compare(form, b.Kind.Form())
			}
			return formOf(a).pull.order(a, b)
		})
	}
	many := rows(thickness, s)
	ideal := thickness / measure.Length(3*many)
	slices.SortFunc(p.alignment, func(a, b *catalogue.Fastener) int {
		if a.Kind != b.Kind {
			return cmp.Compare(a.Kind.TriedAs(many), b.Kind.TriedAs(many))
		}
		if a.Kind.Traits().ByShare {
			off := cmp.Compare(math.Abs(float64(a.Thickness-ideal)), math.Abs(float64(b.Thickness-ideal)))
			return cmp.Or(off, cmp.Compare(b.Width, a.Width), cmp.Compare(a.Code, b.Code))
		}
		return cmp.Or(cmp.Compare(b.Width, a.Width), cmp.Compare(a.Code, b.Code))
	})
}

// rows returns in how many rows alignment parts stand, one above the other.
func rows(thickness measure.Length, s *catalogue.Settings) int {
	if thickness >= s.TwoRowsFrom {
		return 2
	}
	return 1
}
