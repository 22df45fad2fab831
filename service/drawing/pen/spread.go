package pen

import "math"

// Spread moves labels of the given width along a line so that none overlaps another and all lie between lo and hi, each
// as near as may be to where it wants to be (least squares; at is ascending). It reports false when there is no room.
//
// Neighbours that would overlap are merged into blocks that stand at the mean of what their members want: the
// pool-adjacent-violators algorithm (Barlow, Bartholomew, Bremner and Brunk, Statistical Inference under Order
// Restrictions, 1972; from memory).
func Spread(at []float64, width, lo, hi float64) ([]float64, bool) {
	if float64(len(at))*width > hi-lo+1e-9 {
		return nil, false
	}
	type block struct {
		sum   float64 // of what its members want the block's first label to be at
		count int
	}
	var blocks []block
	start := func(b block) float64 {
		most := hi - width/2 - float64(b.count-1)*width
		return math.Max(lo+width/2, math.Min(most, b.sum/float64(b.count)))
	}
	for _, x := range at {
		b := block{x, 1}
		for len(blocks) > 0 {
			prev := blocks[len(blocks)-1]
			if start(prev)+float64(prev.count)*width <= start(b)+1e-9 {
				break
			}
			// b's members follow prev's: what they want of the first label is that much less.
			b = block{prev.sum + b.sum - float64(b.count)*float64(prev.count)*width, prev.count + b.count}
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	out := make([]float64, 0, len(at))
	for _, b := range blocks {
		first := start(b)
		for i := range b.count {
			out = append(out, first+float64(i)*width)
		}
	}
	return out, true
}
