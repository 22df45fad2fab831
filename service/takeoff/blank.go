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
	Layers      int            // glued on each other, their grain the same way; 0: it is one
	Layer       measure.Length // thickness of each, finished; 0: it is one
	Under       Under          // what lies under a slab with a built-up edge; else its layers are alike
	Staves      int            // of all layers; 0 for a ready-made panel
	StaveWidth  measure.Length // in the finished blank; all staves of a blank are equally wide
	StaveRip    measure.Length // as ripped
	StaveLength measure.Length
	BoardFeet   float64 // net, on the rough thickness
	Fingers     bool    // staves longer than the boards are finger-jointed from several
	Joined      Joined  // how
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
	if b.BuiltUp() {
		b.fill()
	} else {
		b.Staves *= b.layers()
	}
	b.StaveRip = b.StaveWidth + s.StaveRip
	b.StaveLength = b.Length + s.StaveTrim
	b.BoardFeet = float64(b.Staves)*BoardFeet(b.Rough, b.StaveRip, b.StaveLength) + BoardFeet(b.Rough, b.StaveRip, b.BlockRun())
}

// Laminate makes the blank one of so many layers of equal thickness, which are glued on each other with their grain the
// same way.
func (b *Blank) Laminate(layers int) {
	b.Layers, b.Layer = layers, b.Thickness/measure.Length(layers)
}

func (b *Blank) layers() int { return max(1, b.Layers) }

// LayerStaves is how many staves lie side by side in a layer.
func (b *Blank) LayerStaves() int {
	if b.BuiltUp() {
		return b.Staves - b.Under.Strips
	}
	return b.Staves / b.layers()
}

// joints is how many stave joints as long as the blank there are.
func (b *Blank) joints() int {
	switch {
	case b.Staves == 0:
		return 0
	case b.BuiltUp():
		return b.LayerStaves() - 1 + b.Under.stripJoints(b.layers())
	case b.LayerStaves() == 1:
		return 0 // single boards have no joints to shift
	}
	return b.Staves - b.layers() + b.layers()/2
}

// GlueLines is the length of all stave joints. Every other layer is shifted by half a stave, so that no joint lies over
// another: one of its staves is ripped in two, whose halves lie outside, and it has a joint more. Under a built-up edge there are the
// joints within its strips, and those of its blocks.
//
// Common practice.
func (b *Blank) GlueLines() measure.Length {
	return b.Length*measure.Length(b.joints()) + b.blockLines()
}

// Faces is the area on which layers are glued on each other.
func (b *Blank) Faces() measure.Area {
	if b.BuiltUp() {
		return b.underFaces()
	}
	return measure.Area(b.Length) * measure.Area(b.Width) * measure.Area(b.layers()-1)
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
// glued, finished and the thickness allowance, and of its layers' faces. Zero for a ready-made panel that is one.
func (b *Blank) GlueArea(s *catalogue.Settings) measure.Area {
	thick := b.Thickness
	if b.Layers > 0 {
		thick = b.Layer
	}
	return measure.Area(b.GlueLines())*measure.Area(thick+s.ThicknessAllowance) + b.Faces() + b.fingerArea(s)
}

// StripsPerBoard is how many strips a board of width w gives: ⌊(w + kerf)/(strip + kerf)⌋.
func StripsPerBoard(w, strip, kerf measure.Length) int {
	return int(math.Floor(float64((w+kerf)/(strip+kerf)) + 1e-9)) // common practice
}

// roughName names a rough thickness the way its trade does: 8/4 for 2 in of what is sold by the board foot, millimetres
// of what is sold by the cubic metre.
func roughName(m *catalogue.Material) string {
	rough := m.Lumber.RoughThickness
	if m.Unit == catalogue.CubicMetre {
		return rough.Phrase(measure.Millimetres)
	}
	return fmt.Sprintf("%d/4", int(math.Round(rough.Inches()*4)))
}
