package takeoff

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// shares are how a stave that is longer than the boards is divided, in two or in three. Neighbours are turned end for
// end, so that their joints lie a fifth or a tenth of the length apart.
//
// Common practice: joints of neighbouring staves are shifted.
var shares = [][]measure.Length{{0.4, 0.6}, {0.25, 0.4, 0.35}}

// fingerPitch is from finger to finger. Common practice.
const fingerPitch = 3.8 * measure.Millimetre

// Joined are the pieces that each stave of a blank is finger-jointed from, end to end, where it is longer than the
// boards on sale.
type Joined struct {
	Parts  [3]measure.Length // as cut, with their fingers; 0: no such part
	Places [2]measure.Length // of the joints, from the finished piece's tip; of every other stave from its other tip
	Count  int               // parts of a stave; 0: it is whole
}

// Parts is how many pieces are cut for the blank from boards.
func (b *Blank) Parts() int { return b.Staves * max(1, b.Joined.Count) }

// EndJoints is how many finger joints the blank's staves have.
func (b *Blank) EndJoints() int { return b.Staves * max(0, b.Joined.Count-1) }

// join divides the staves where they are longer than the longest board: in two if that does, else in three. It leaves
// them whole where neither does, and where the blank is not for joining.
func (b *Blank) join(longest measure.Length, s *catalogue.Settings) {
	b.Joined = Joined{}
	if !b.Fingers || b.StaveLength <= longest {
		return
	}
	for _, share := range shares {
		j := Joined{Count: len(share)}
		fits, at := true, -b.StaveLength+b.Length
		at = at/2 - s.EndTrim // where the stave begins, from the piece's tip
		for i, part := range share {
			ends := measure.Length(2)
			if i == 0 || i == len(share)-1 {
				ends = 1
			}
			j.Parts[i] = part*b.StaveLength + ends*s.FingerLength/2
			fits = fits && j.Parts[i] <= longest
			if at += part * b.StaveLength; i < len(share)-1 {
				j.Places[i] = at
			}
		}
		if fits {
			b.Joined = j
			b.BoardFeet += float64(b.EndJoints()) * BoardFeet(b.Rough, b.StaveRip, s.FingerLength)
			return
		}
	}
}

// LongestJoined is the length of the longest stave that can be finger-jointed from boards so long.
func LongestJoined(board measure.Length, s *catalogue.Settings) measure.Length {
	return (board - s.FingerLength) / 0.4
}

// fingerArea is the glued area of the staves' finger joints: both flanks of each finger, over the section.
func (b *Blank) fingerArea(s *catalogue.Settings) measure.Area {
	section := measure.Area(b.StaveRip) * measure.Area(b.Rough)
	return section * measure.Area(b.EndJoints()) * measure.Area(2*s.FingerLength/fingerPitch)
}
