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
	screws    []*catalogue.Fastener
	bolts     []*catalogue.Fastener
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
		if seam.Thickness < f.LeastThickness || f.GreatestThickness > 0 && seam.Thickness > f.GreatestThickness {
			continue
		}
		switch f.Kind {
		case catalogue.Biscuit, catalogue.LooseTenon:
			if wish.Alignment == "" || wish.Alignment == f.Kind {
				p.alignment = append(p.alignment, f)
			}
		case catalogue.PocketScrew:
			if headOf(f) <= f.BoreDiameter { // the head must enter its pocket
				p.addScrew(f)
			}
		case catalogue.DrawBolt:
			if seam.Thickness >= f.RecessDepth+cat.Settings.WoodAboveRecess {
				p.bolts = append(p.bolts, f)
			}
		case catalogue.Dowel, catalogue.SlottedClip, catalogue.SlottedScrew: // not for a seam that moves
		}
	}
	p.sort(seam.Thickness, &cat.Settings)
}

// addScrew adds a screw; of several that differ in length alone it keeps the one that bites deepest.
func (p *parts) addScrew(f *catalogue.Fastener) {
	for i, have := range p.screws {
		if have.ThreadDiameter == f.ThreadDiameter && headOf(have) == headOf(f) && have.BoreDiameter == f.BoreDiameter &&
			have.MayMixWithBolt == f.MayMixWithBolt {
			if f.Penetration > have.Penetration {
				p.screws[i] = f
			}
			return
		}
	}
	p.screws = append(p.screws, f)
}

// sort puts first what is tried first. Screws: the thinnest, then ever heavier. Draw bolts: the strongest, the longest
// of equals. Alignment: biscuits, the widest first; from two_rows_from up loose tenons come before biscuits, the one
// nearest to a third of its row's share of the thickness first. Common practice.
func (p *parts) sort(thickness measure.Length, s *catalogue.Settings) {
	slices.SortFunc(p.screws, func(a, b *catalogue.Fastener) int {
		return cmp.Or(cmp.Compare(a.ThreadDiameter, b.ThreadDiameter), cmp.Compare(b.Penetration, a.Penetration), cmp.Compare(a.Code, b.Code))
	})
	slices.SortFunc(p.bolts, func(a, b *catalogue.Fastener) int {
		return cmp.Or(cmp.Compare(b.WorkingLoad, a.WorkingLoad), cmp.Compare(b.Length, a.Length), cmp.Compare(a.Code, b.Code))
	})
	first, ideal := catalogue.Biscuit, thickness/3
	if rows(thickness, s) == 2 {
		first, ideal = catalogue.LooseTenon, thickness/6
	}
	slices.SortFunc(p.alignment, func(a, b *catalogue.Fastener) int {
		if a.Kind != b.Kind {
			if a.Kind == first {
				return -1
			}
			return 1
		}
		if a.Kind == catalogue.LooseTenon {
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
