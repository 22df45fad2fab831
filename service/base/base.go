// Package base is what stands under a run of a top: where it holds the slab, where it does not, and the spans and overhangs
// that follow. Lengths along a run count from its start on the wall edge, lengths across it from its front edge.
package base

import (
	"cmp"
	"slices"

	"seamwright/service/measure"
)

// Kind is what stands under a stretch of a run.
type Kind string

// The kinds.
const (
	Cabinet   Kind = "cabinet"   // carries: rails at its front and back, sides at its ends
	Open      Kind = "open"      // nothing stands there
	Appliance Kind = "appliance" // stands there and carries nothing
	Legs      Kind = "legs"      // a pair, with a rail from front to back
	Bracket   Kind = "bracket"   // an arm from the wall
	Batten    Kind = "batten"    // along the wall, under the back edge
)

// Carries reports whether it carries the slab by itself. A batten does so at the wall alone.
func (k Kind) Carries() bool { return k == Cabinet || k == Legs || k == Bracket }

// Over reports whether it may lie over another: brackets and battens are fixed to the wall of a bay.
func (k Kind) Over() bool { return k == Bracket || k == Batten }

// Part is a stretch of a run with what stands under it.
type Part struct {
	Kind     Kind
	From, To measure.Length // along the run
	Front    measure.Length // from the top's front edge to its front
	Depth    measure.Length // of it, towards the wall
	Closed   bool           // of a cabinet: nobody reaches up through it
	Place    int            // of the order's list; −1: nobody told of it
	Supplied bool           // it comes with the top; else it stands there
	Item     string         // code of what is bought for it; empty: nothing, or timber
}

// Narrow is as wide as a carrier may be to count as a line on which the slab turns; a wider one holds it level.
//
// Common practice.
const Narrow = 150 * measure.Millimetre

// middle is where a narrow carrier holds.
func (p *Part) middle() measure.Length { return (p.From + p.To) / 2 }

// narrow reports whether the slab turns over it.
func (p *Part) narrow() bool { return p.To-p.From <= Narrow }

func byStart(a, b Part) int { return cmp.Compare(a.From, b.From) }

// noise is what is left of a length by rounding.
const noise = measure.Length(1e-6)

// Line is everything along a piece, in order and without a gap: what carries it and what does not. Battens are listed apart, and
// so are props: brackets and legs under the overhang before a part that carries.
type Line struct {
	From, To measure.Length // of the piece
	Depth    measure.Length
	Seam     [2]bool // its start, its end is a seam
	Parts    []Part
	Battens  []Part
	Props    []Part            // in order
	Edge     [2]measure.Length // from where to where its front edge goes, for what stands under that; both 0: as the piece
}

// Lay puts parts that do not overlap, but for what may lie over others, into a line from one end of a piece to the other.
// What reaches beyond the piece is cut off there; what nobody told of is open. A bracket and legs part the open bay that they stand in.
func (m *Memory) Lay(parts []Part, from, to, depth measure.Length, seam [2]bool) Line {
	l := Line{From: from, To: to, Depth: depth, Seam: seam}
	n := len(parts)
	l.Parts = m.partsFor(2*n + 1)
	defer m.Release(m.Mark()) // what stands below and over others is sorted first
	below, over := m.partsFor(n), []Part(nil)
	for i := range parts {
		p := parts[i]
		p.From, p.To = max(p.From, from), min(p.To, to)
		switch {
		case p.To-p.From <= noise:
		case p.Kind == Batten:
			l.Battens = append(l.Battens, p)
		case p.Kind.Over() || p.Kind == Legs && (InFront(&p, parts) || inBay(&p, parts)):
			if over == nil {
				over = m.partsFor(n)
			}
			over = append(over, p)
		default:
			below = append(below, p)
		}
	}
	slices.SortStableFunc(below, byStart)
	slices.SortStableFunc(over, byStart)
	at := from
	gap := func(to measure.Length) {
		if to-at > noise {
			l.Parts = append(l.Parts, Part{Kind: Open, From: at, To: to, Place: -1})
		}
	}
	for i := range below {
		gap(below[i].From)
		l.Parts = append(l.Parts, below[i])
		at = below[i].To
	}
	gap(to)
	for i := range over {
		if InFront(&over[i], below) {
			l.Props = append(l.Props, over[i])
		} else {
			l.hang(&over[i])
		}
	}
	return l
}

// hang puts a bracket or legs into the bay that they stand in.
func (l *Line) hang(b *Part) {
	for i := range l.Parts {
		p := l.Parts[i]
		if p.Kind.Carries() || b.From >= p.To-noise || b.To <= p.From+noise {
			continue
		}
		var now [3]Part
		n := 0
		if b.From-p.From > noise {
			now[0], n = p, 1
			now[0].To = b.From
		}
		now[n] = *b
		n++
		if p.To-b.To > noise {
			now[n] = p
			now[n].From = b.To
			n++
		}
		l.Parts = slices.Replace(l.Parts, i, i+1, now[:n]...)
		return
	}
}

// Bare reports whether nothing along the piece carries it.
func (l *Line) Bare() bool {
	return !slices.ContainsFunc(l.Parts, func(p Part) bool { return p.Kind.Carries() })
}

// Hangs reports whether nothing carries a piece, unless it is between two seams, and so between two pieces.
func (l *Line) Hangs() bool { return l.Bare() && !(l.Seam[0] && l.Seam[1]) }

// Tips reports whether a piece with no seam stands on one narrow carrier alone.
func (l *Line) Tips() bool {
	carriers, wide := 0, false
	for i := range l.Parts {
		if p := &l.Parts[i]; p.Kind.Carries() {
			carriers++
			wide = wide || !p.narrow()
		}
	}
	return carriers == 1 && !wide && !l.Seam[0] && !l.Seam[1]
}

// Bays are the open stretches between two places, those that touch as one.
func (l *Line) Bays(from, to measure.Length) (bays []Part) {
	for i := range l.Parts {
		p := l.Parts[i]
		if p.Kind != Open || p.From < from-noise || p.To > to+noise {
			continue
		}
		if n := len(bays); n > 0 && p.From-bays[n-1].To <= noise {
			bays[n-1].To = p.To
			continue
		}
		bays = append(bays, p)
	}
	return bays
}

// Gap is how far the piece reaches past what carries it at its start (0) or end (1).
func (l *Line) Gap(end int) measure.Length {
	gap := measure.Length(0)
	for i := range l.Parts {
		p := &l.Parts[i]
		if end == 1 {
			p = &l.Parts[len(l.Parts)-1-i]
		}
		if p.Kind.Carries() {
			break
		}
		gap += p.To - p.From
	}
	return gap
}

// Under are the parts under a place along the piece: both where two meet, none beyond its ends.
func (l *Line) Under(along measure.Length) []Part {
	first, behind := 0, len(l.Parts)
	for first < behind && l.Parts[first].To < along-noise {
		first++
	}
	for behind > first && l.Parts[behind-1].From > along+noise {
		behind--
	}
	return l.Parts[first:behind]
}

// battenUnder reports whether the wall edge lies on battens all the way.
func (l *Line) battenUnder(from, to measure.Length) bool {
	if len(l.Battens) == 0 {
		return from >= to-noise
	}
	battens := l.Battens
	if !slices.IsSortedFunc(battens, byStart) {
		battens = slices.Clone(battens)
		slices.SortFunc(battens, byStart)
	}
	for _, b := range battens {
		if b.From <= from+noise {
			from = max(from, b.To)
		}
	}
	return from >= to-noise
}
