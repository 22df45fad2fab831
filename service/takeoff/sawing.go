package takeoff

import (
	"cmp"
	"strconv"

	"seamwright/service/measure"
)

// Board is one board, or panel, as it comes to the saw.
type Board struct {
	Number   int    // over all stocks of a top, from 1
	Material string // code of what is bought
	Length   measure.Length
	Spare    bool    // not cut by the plan: the grade's yield asks for it
	Strips   []Strip // in the order in which they are ripped; none of a spare one
}

// Strip is what a board is ripped into, and what is crosscut from it.
type Strip struct {
	Rip      measure.Length // the widest of its staves; 0 when nothing is cut from it, or for a panel
	Staves   []Stave        // from one end to the other
	Leftover measure.Length // behind the last cut
	Keep     bool           // the leftover is long enough to keep
}

// Stave is one stave of a blank, or the blank that is cut from a panel.
type Stave struct {
	Run    string
	Number int            // within its blank, from 1; 0 for a panel
	From   measure.Length // from the strip's end
	Length measure.Length
	Rip    measure.Length // its own width as ripped; 0 for a panel
}

// LeastWidth is how wide this board must be at least, between straight edges, to give its strips: Σ rip + (n − 1)·kerf. A
// strip from which nothing is cut counts with the width that the plan's boards are ripped to, as one that is kept has it.
// Zero when no width was kept.
func (b *Board) LeastWidth(w *WoodPlan) measure.Length {
	if w.StripWidth == 0 || len(b.Strips) == 0 {
		return w.LeastWidth()
	}
	width := w.Kerf * measure.Length(len(b.Strips)-1)
	for i := range b.Strips {
		width += cmp.Or(b.Strips[i].Rip, w.StripWidth)
	}
	return width // common practice
}

// Sawing hands the strips of plans out to numbered boards, of each plan in its own order, and numbers the staves of
// each blank as they come from them: so staves from one board lie side by side in the slab. blanks finds a run's blank
// by its name.
func Sawing(plans []WoodPlan, blanks func(run string) *Blank) [][]Board {
	all := make([][]Board, len(plans))
	boards, staves := 0, map[string]int{}
	for i := range plans {
		w := &plans[i]
		strips := w.strips(blanks, staves)
		for _, spare := range []bool{false, true} {
			for _, b := range w.Boards {
				n := b.Planned
				if spare {
					n = b.Buy - b.Planned
				}
				for range n {
					boards++
					one := Board{Number: boards, Material: cmp.Or(b.Material, w.Material), Length: b.Length, Spare: spare}
					if !spare {
						one.Strips = take(strips, b.Length, max(1, w.StripsPerBoard))
					}
					all[i] = append(all[i], one)
				}
			}
		}
	}
	return all
}

// strips are all strips of a plan by the length of their boards, one by one.
func (w *WoodPlan) strips(blanks func(run string) *Blank, staves map[string]int) map[measure.Length][]Strip {
	out := map[measure.Length][]Strip{}
	least := measure.Length(-1)
	if n := len(w.Offcuts); n > 0 {
		least = w.Offcuts[n-1]
	}
	for i := range w.Strips {
		cut := &w.Strips[i]
		for range cut.Count {
			s := Strip{Leftover: cut.Leftover, Keep: least >= 0 && cut.Leftover >= least}
			var at measure.Length
			for _, p := range cut.Pieces {
				one := Stave{Run: p.Run, From: at, Length: p.Length}
				if b := blanks(p.Run); b != nil && b.Staves > 0 {
					one.Number, one.Rip = b.number(p, staves), b.StaveRip
					s.Rip = max(s.Rip, b.StaveRip)
				}
				s.Staves = append(s.Staves, one)
				at += p.Length + w.Kerf
			}
			out[cut.Length] = append(out[cut.Length], s)
		}
	}
	return out
}

// number is the next number of a run's staves, or of its blocks, which come behind them, field by field.
func (b *Blank) number(p StripPiece, counted map[string]int) int {
	fields, each := b.Under.Fields(), b.Under.Across*(b.layers()-1)
	for k, length := range fields {
		key := p.Run + "\x00" + strconv.Itoa(k)
		if length == p.Length && counted[key] < each {
			counted[key]++
			return b.Parts() + k*each + counted[key]
		}
	}
	counted[p.Run]++
	return counted[p.Run]
}

// take takes the next n strips of a length, fewer when there are no more.
func take(strips map[measure.Length][]Strip, length measure.Length, n int) []Strip {
	n = min(n, len(strips[length]))
	out := strips[length][:n:n]
	strips[length] = strips[length][n:]
	return out
}
