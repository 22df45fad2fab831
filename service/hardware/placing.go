package hardware

import (
	"math"

	"seamwright/service/measure"
)

const (
	noise     = measure.Length(1e-9) // rounding of floating point; a millionth of what a shop can measure
	mostParts = 200                  // parts of one kind in one seam; more come of settings that make no sense
)

// placing is the rules of one placement: where, along one seam, alignment and pull parts of given sizes may stand.
// Positions are those of the parts' centres, from the front end of the seam.
type placing struct {
	length  measure.Length
	front   measure.Length // no part reaches in front of this: the profile, and part_clear of wood at the end
	back    measure.Length // no part reaches behind this: part_clear of wood at the end
	clear   measure.Length // between any two parts
	held    measure.Length
	rate    float64
	blocked []Interval

	alignSpacing measure.Length
	slotRules

	halfPull    measure.Length // pull: half the room taken along the seam, recess, washer or pocket
	halfChannel measure.Length // pull: half the channel's width where nothing slips, without its least width; 0 for screws
	long        bool           // pull: the recesses are elongated by the slip
	pullFrom    measure.Length // first place for a pull part: from the end at least, and its head bears
	pullTo      measure.Length // last place
	pullEnd     measure.Length // first and last pull part from the ends, at least
	pullWindow  measure.Length // first and last pull part from the ends, at most, where there is wood for it
	pullFirst   measure.Length // last place for the first pull part
	pullLast    measure.Length // first place for the last one
	pullSpacing measure.Length
	pullBars    []bar // where the axis of a pull part may not stand because of the pieces' edges
	leastPulls  int
}

// slotRules are the rules for alignment parts of one size.
type slotRules struct {
	halfSlot   measure.Length // half the slot's width where nothing slips
	halfCut    measure.Length // half of what the cutter leaves anyway
	alignFirst measure.Length // last place for the first part
	alignLast  measure.Length // first place for the last one
	slotFrom   measure.Length // first place with wood for a slot
	slotTo     measure.Length // last place
	slotWalls  []Interval     // stretches of seam that slots must leave free because of the pieces' edges
}

// layout is where the parts stand, each list in ascending order.
type layout struct {
	pulls, aligns []measure.Length
	work          *coverage // while they are placed
}

// slip is the slip at a position.
func (r *placing) slip(at measure.Length) measure.Length { return Slip(r.rate, at, r.held) }

// alignHalf is half the slot's width of an alignment part at a position.
func (r *placing) alignHalf(at measure.Length) measure.Length {
	return max(r.halfCut, r.halfSlot+r.slip(at))
}

// pullHalf is half the room that a pull part takes along the seam at a position.
func (r *placing) pullHalf(at measure.Length) measure.Length {
	switch {
	case r.halfChannel == 0:
		return r.halfPull
	case r.long:
		return max(r.halfPull, r.halfChannel) + r.slip(at)
	}
	return max(r.halfPull, r.halfChannel+r.slip(at))
}

// wood reports whether a stretch of seam is free wood: inside the ends, out of the profile, not blocked.
func (r *placing) wood(from, to measure.Length) bool {
	if from < r.front-noise || to > r.back+noise {
		return false
	}
	for _, b := range r.blocked {
		if from < b.To-noise && to > b.From+noise {
			return false
		}
	}
	return true
}

// slotWood reports whether a place has free wood for a slot.
func (r *placing) slotWood(at measure.Length) bool {
	return r.slotWoodWith(at, r.alignHalf(at))
}

// slotWoodWith does the same when half the slot is known.
func (r *placing) slotWoodWith(at, half measure.Length) bool {
	if at < r.slotFrom-noise || at > r.slotTo+noise {
		return false
	}
	from, to := at-half, at+half
	for i := range r.slotWalls {
		if w := &r.slotWalls[i]; from < w.To-noise && to > w.From+noise {
			return false
		}
	}
	return r.wood(from, to)
}

// pullStands reports whether a single pull part may stand at a position.
func (r *placing) pullStands(at measure.Length) bool {
	return r.pullStandsWith(at, r.pullHalf(at))
}

// pullStandsWith does the same when half the room that the part takes there is known.
func (r *placing) pullStandsWith(at, half measure.Length) bool {
	if at < r.pullFrom-noise || at > r.pullTo+noise {
		return false
	}
	for i := range r.pullBars {
		if r.bars(&r.pullBars[i], at) {
			return false
		}
	}
	return r.wood(at-half, at+half)
}

// alignStands reports whether a single alignment part may stand at a position, between these pull parts.
func (r *placing) alignStands(at measure.Length, pulls []measure.Length) bool {
	return r.slotWood(at) && r.clearOfPulls(at, pulls)
}

// clearOfPulls reports whether an alignment part at a position is clear of pull parts.
func (r *placing) clearOfPulls(at measure.Length, pulls []measure.Length) bool {
	half := r.alignHalf(at)
	for _, p := range pulls {
		if measure.Length(math.Abs(float64(at-p))) < half+r.pullHalf(p)+r.clear-noise {
			return false
		}
	}
	return true
}

// pullsFollow reports whether two pull parts may follow each other.
func (r *placing) pullsFollow(first, second measure.Length) bool {
	return second-first <= r.pullSpacing+noise && second-r.pullHalf(second) >= first+r.pullHalf(first)+r.clear-noise
}

// alignsFollow reports whether two alignment parts may follow each other.
func (r *placing) alignsFollow(first, second measure.Length) bool {
	return second-first <= r.alignSpacing+noise && second-r.alignHalf(second) >= first+r.alignHalf(first)+r.clear-noise
}

// alignsStand reports whether alignment parts keep every rule among themselves and with the pull parts.
func (r *placing) alignsStand(aligns, pulls []measure.Length) bool {
	for i, a := range aligns {
		if !r.alignStands(a, pulls) || i > 0 && !r.alignsFollow(aligns[i-1], a) {
			return false
		}
	}
	return len(aligns) > 0 && aligns[0] <= r.alignFirst+noise && aligns[len(aligns)-1] >= r.alignLast-noise
}

// endsFit reports whether at either end there is room for an outermost pull part and an outermost alignment part beside
// each other, whichever is nearer to the end. Without it there are no positions at all.
func (r *placing) endsFit() bool {
	front := r.pullFrom+r.pullHalf(r.pullFrom)+r.clear <= r.alignFirst-r.alignHalf(r.alignFirst)+noise ||
		r.slotFrom+r.alignHalf(r.slotFrom)+r.clear <= r.pullFirst-r.pullHalf(r.pullFirst)+noise
	back := r.pullTo-r.pullHalf(r.pullTo)-r.clear >= r.alignLast+r.alignHalf(r.alignLast)-noise ||
		r.slotTo-r.alignHalf(r.slotTo)-r.clear >= r.pullLast+r.pullHalf(r.pullLast)-noise
	return front && back
}

// place finds positions that keep every rule, and reports whether there are any:
//
//  1. as few pull parts as the rules allow;
//  2. those evenly spaced when they can be, at one of a dozen distances from the ends, with as few alignment parts
//     as that allows, and those as evenly spaced as that allows;
//  3. else pull parts where a search over the seam in quarters of an inch finds room for both, evened out.
//
// Step 3 fails only when no positions on that grid (see grid) keep every rule, or when the seam is over 6 m.
func (r *placing) place(l *layout) bool {
	// no search when alignment parts have no room even alone
	return r.roomy() && (r.evenly(l) || r.cover(l, nil) && r.search(l))
}

// roomy reports whether there is room for outermost parts at all.
func (r *placing) roomy() bool {
	if !(r.pullSpacing > 0 && r.alignSpacing > 0 && r.length > 0) || r.pullFrom > r.pullTo+noise ||
		r.pullFrom > r.pullFirst+noise || r.pullTo < r.pullLast-noise {
		return false
	}
	return r.endsFit()
}
