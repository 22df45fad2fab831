package estimate

import (
	"fmt"
	"math"

	"seamwright/service/measure"
	"seamwright/service/plan"
)

// warnBestLines says where a corner's angle between the strings is another than the one between the best lines, along which the pieces
// lie. Seen from the corner the first run's wall comes into the room by its slope, the second's draws back by its own.
func (w *work) warnBestLines(l *plan.Layout) {
	if w.crooked == nil {
		return
	}
	slope := func(i int) float64 {
		if p := w.crooked[i].wall; greatest(p) > 0 {
			return math.Atan(p.Slope)
		}
		return 0 // a straight wall is its own best line, however the string was held
	}
	for k := range w.corners {
		if w.corners[k].inLine != nil {
			continue
		}
		turn := measure.Angle(slope(k+1) - slope(k))
		gap := l.Seams[k].Length * measure.Length(math.Abs(turn.Sin()))
		if gap <= w.set.HairlineGap {
			continue
		}
		angle := w.corners[k].angle
		w.warn("corner_between_best_lines", Caution, numbered("/top/corners/", k)+"/angle",
			fmt.Sprintf("The corner's angle counts between the best lines of its walls. If %.2f° was measured between the strings, it is %.2f° between the best lines: give that, or the seam gapes by up to %s at one end.",
				angle.Degrees(), (angle+turn).Degrees(), w.phraseUp(gap)))
	}
}
