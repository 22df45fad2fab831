package takeoff

import (
	"math"

	"seamwright/service/measure"
)

// MostFields is how many fields of blocks a blank may have under it.
const MostFields = 12

// Under is what lies under a slab with a built-up edge, in each of the layers below the first: a strip along its front edge and one
// along its wall edge, and between them fields of blocks at its ends, its seams and its supports. All has its grain the slab's way,
// so that an end shows end grain from top to bottom and nothing holds the slab back. Between the fields it is hollow.
type Under struct {
	Front, Wall measure.Length             // width of the strips, in the blank
	Blocks      [MostFields]measure.Length // length of each field's blocks as they are cut; 0: no such field
	Count       int                        // fields; 0: nothing lies under the slab, or layers all over
	Strips      int                        // full-length staves of the strips, of all layers
	Across      int                        // blocks side by side in a field
}

// Fields are the lengths of the blocks, field by field.
func (u *Under) Fields() []measure.Length { return u.Blocks[:min(u.Count, MostFields)] }

// Add adds a field of blocks so long, to a thousandth of a millimetre: equal ones are equal.
func (u *Under) Add(length measure.Length) {
	u.Blocks[u.Count] = measure.Length(math.Round(float64(length)*1000) / 1000)
	u.Count++
}

// BuiltUp reports whether the blank is one slab with strips and blocks under it.
func (b *Blank) BuiltUp() bool { return b.Under.Count > 0 }

// BlockCount is how many blocks lie under the slab, in all fields and layers.
func (b *Blank) BlockCount() int { return b.Under.Across * b.Under.Count * (b.layers() - 1) }

// BlockRun is the length of all blocks as they are cut.
func (b *Blank) BlockRun() (run measure.Length) {
	for _, length := range b.Under.Fields() {
		run += length
	}
	return run * measure.Length(b.Under.Across*(b.layers()-1))
}

// fill works out from how many staves strips and blocks come: whole staves side by side, the last one ripped to what is left.
//
// Common practice.
func (b *Blank) fill() {
	u := &b.Under
	staves := func(width measure.Length) int { return int(math.Ceil(float64(width/b.StaveWidth) - 1e-9)) }
	u.Strips = (staves(u.Front) + staves(u.Wall)) * (b.layers() - 1)
	u.Across = staves(max(0, b.Width-u.Front-u.Wall))
	b.Staves += u.Strips
}

// stripJoints are the stave joints within the strips; where no blocks lie between them also those from the one to the other.
func (u *Under) stripJoints(layers int) int {
	if u.Across == 0 {
		return u.Strips - (layers - 1)
	}
	return u.Strips - 2*(layers-1)
}

// blockLines is the length of the joints between the blocks of all fields, and between them and the strips.
func (b *Blank) blockLines() measure.Length {
	if b.Under.Across == 0 {
		return 0
	}
	return b.BlockRun() / measure.Length(b.Under.Across) * measure.Length(b.Under.Across+1)
}

// underFaces is the area on which strips and blocks are glued on the slab, and on each other.
func (b *Blank) underFaces() measure.Area {
	u := &b.Under
	var fields measure.Length
	for _, length := range u.Fields() {
		fields += length
	}
	one := measure.Area(b.Length)*measure.Area(u.Front+u.Wall) + measure.Area(fields)*measure.Area(b.Width-u.Front-u.Wall)
	return one * measure.Area(b.layers()-1)
}

// Alike reports whether the same strips and blocks are asked for, from whatever staves.
func (u *Under) Alike(other *Under) bool {
	return u.Front == other.Front && u.Wall == other.Wall && u.Count == other.Count && u.Blocks == other.Blocks
}
