package estimate

import (
	"fmt"
	"math"

	"seamwright/service/measure"
	"seamwright/service/scribe"
)

// What is asked back about a wall: a scribe that deep is mostly a size in another unit, a string that far off its wall a station misread.
//
// Common practice: walls of houses are out by some eighths of an inch, bad ones by an inch.
const (
	deepScribe  = 50 * measure.Millimetre
	stringSlope = 0.05 // of the string against the wall's best line
)

// warnOffsets asks for another look at offsets that are much for a wall. They are reckoned as they were told.
func (w *work) warnOffsets() {
	for i := range w.order.Site.Walls {
		wall := &w.order.Site.Walls[i]
		name := wall.Run
		if part := w.partNamed(name); part != nil && wall.profile != nil {
			if part.Number > 1 {
				continue // it is the same wall
			}
			name = part.Run
		}
		p := scribe.Of(wall.Offsets)
		place := fmt.Sprintf("the %s of run %s", wall.Edge, name)
		if p.Greatest > deepScribe {
			w.warn("offsets_deep", Caution, numbered("/site/walls/", i)+"/offsets",
				fmt.Sprintf("The offsets at %s lie up to %s apart, seen from their best line. Look again at them and at their unit: a wall is seldom out by more than 1 in (25 mm).",
					place, w.phrase(p.Greatest)))
		}
		if math.Abs(p.Slope) > stringSlope {
			w.warn("string_off_wall", Caution, numbered("/site/walls/", i)+"/offsets",
				fmt.Sprintf("The string ran %.1f° off the wall's best line at %s. If it was held along the wall, look again at the first and the last offset.",
					math.Abs(math.Atan(p.Slope))*180/math.Pi, place))
		}
	}
}

// partNamed is what the run of a name is a piece of; nil where it is whole.
func (w *work) partNamed(name string) *PartOf {
	for i := range w.runs {
		if w.runs[i].Name == name {
			return w.runs[i].partOf
		}
	}
	return nil
}
