// Package takeoff works out what must be bought for a top: blanks and staves, boards or panels with their cutting
// plan, and everything else in the packs it is sold in.
package takeoff

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Blank is what a piece is cut from, and what the blank is glued up from.
type Blank struct {
	Length      measure.Length
	Width       measure.Length
	Thickness   measure.Length // finished
	Rough       measure.Length // rough stock; 0 for a ready-made panel
	Staves      int            // 0 for a ready-made panel
	StaveWidth  measure.Length // in the finished blank; all staves of a blank are equally wide
	StaveRip    measure.Length // as ripped
	StaveLength measure.Length
	BoardFeet   float64 // net, on the rough thickness
}

// BlankOf returns the blank of a piece that reaches extent along the grain and depth across it: an end trim longer at
// each end, and wider by the width allowance.
//
// Common practice; the allowances are the shop's.
func BlankOf(extent, depth, thickness measure.Length, s *catalogue.Settings) Blank {
	return Blank{Length: extent + 2*s.EndTrim, Width: depth + s.WidthAllowance, Thickness: thickness}
}

// Glue up a blank from staves of boards so wide: as few as the widest stave allows, ⌈blank width / widest stave⌉, all
// equally wide, so that they fill the blank and none is trimmed away; each ripped wider and cut longer by the shop's
// allowances.
//
// Common practice; board feet on the rough thickness by NHLA's rule.
func (b *Blank) glueUp(lumber *catalogue.Lumber, board measure.Length, s *catalogue.Settings) {
	b.Rough = lumber.RoughThickness
	b.Staves = int(math.Ceil(float64(b.Width/widestStave(board, s)) - 1e-9))
	b.StaveWidth = b.Width / measure.Length(b.Staves)
	b.StaveRip = b.StaveWidth + s.StaveRip
	b.StaveLength = b.Length + s.StaveTrim
	b.BoardFeet = float64(b.Staves) * BoardFeet(b.Rough, b.StaveRip, b.StaveLength)
}

// widestStave is the greatest finished width of a stave: the shop's, or less when the boards on sale are too narrow for
// it.
func widestStave(board measure.Length, s *catalogue.Settings) measure.Length {
	return min(s.StaveWidth, board-s.StaveRip)
}

// BoardFeet is T(in)·W(in)·L(in)/144 on the rough thickness.
//
// Source: NIST Handbook 44, Appendix C (a board foot is 144 in³ of nominal size); NHLA rules.
func BoardFeet(rough, width, length measure.Length) float64 {
	return measure.Volume(float64(rough) * float64(width) * float64(length)).BoardFeet() // NIST HB 44, App. C
}

// GlueArea is the area of the blank's stave joints at the thickness that the staves are planed to before they are
// glued: finished and the thickness allowance. Zero for a ready-made panel.
func (b *Blank) GlueArea(s *catalogue.Settings) measure.Area {
	if b.Staves < 2 {
		return 0
	}
	return measure.Area(b.Length*measure.Length(b.Staves-1)) * measure.Area(b.Thickness+s.ThicknessAllowance)
}

// StripsPerBoard is how many strips a board of width w gives: ⌊(w + kerf)/(strip + kerf)⌋.
func StripsPerBoard(w, strip, kerf measure.Length) int {
	return int(math.Floor(float64((w+kerf)/(strip+kerf)) + 1e-9)) // common practice
}

// quarters names a rough thickness the way the trade does: 8/4 for 2 in.
func quarters(rough measure.Length) string {
	return fmt.Sprintf("%d/4", int(math.Round(rough.Inches()*4)))
}
