package estimate

import (
	"math"

	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// shares is how much of a corner's swing each of the legs at corner k takes: half each when both are end legs, all of
// it when the other lies between two corners, none when both do. A leg may be made of several pieces.
//
// Common practice.
func (w *work) shares(k int) (first, second float64) {
	from, _ := w.group(k)
	_, to := w.group(k + 1)
	begins, ends := from == 0, to == len(w.corners)
	switch {
	case begins && ends:
		return 0.5, 0.5
	case begins:
		return 1, 0
	case ends:
		return 0, 1
	}
	return 0, 0
}

// swing decides whether the legs can follow when the corner's angle breathes: of a miter, and of a butt that is not
// square. They can when the walls leave each leg its needed gap, which the covering of a wall joint must hide
// (wall_gap_limit), and when the fixings' slots need not be longer than slots are made (fixing_slot_most). Else the
// corner counts as held rigid and its seam opens by the bound. What the caller says goes before that.
//
// Common practice.
func (o *option) swing(w *work, k int) {
	asked := w.corners[k].Restrained
	m := &o.Movement
	first, second := w.shares(k)
	if asked != nil && !*asked && first+second == 0 {
		first, second = 0.5, 0.5 // it is said to swing: neither leg more than the other
	}
	m.NeededGapFirst = w.neededGap(k, m.FirstLine, first*shiftIn(&m.Dry, &m.Humid, false))
	m.NeededGapSecond = w.neededGap(k+1, m.SecondLine, second*shiftIn(&m.Dry, &m.Humid, true))
	most, at := m.NeededGapFirst, k
	if m.NeededGapSecond > most {
		most, at = m.NeededGapSecond, k+1
	}
	limit := w.set.WallGapLimit
	switch {
	case m.Dry.AngleChange == 0 && m.Humid.AngleChange == 0:
		m.RestrainedWhy = "Nothing opens: the legs need not swing."
	case asked != nil && *asked:
		m.Restrained, m.RestrainedWhy = true, "The order says that the legs cannot swing."
	case asked != nil && most > limit:
		m.RestrainedWhy = "The order says that the legs can swing, but run " + w.runs[at].Name + " then needs a gap of " +
			w.phraseUp(most) + " at its far end; a wall joint up to " + w.phraseDown(limit) + " is covered."
	case asked != nil:
		m.RestrainedWhy = "The order says that the legs can swing."
	case first+second == 0:
		m.Restrained, m.RestrainedWhy = true, "Both runs lie between two corners: neither can swing."
	case most > limit:
		m.Restrained, m.RestrainedWhy = true, "To swing, run "+w.runs[at].Name+" needs a gap of "+w.phraseUp(most)+
			" at its far end; a wall joint up to "+w.phraseDown(limit)+" is covered."
	default:
		if slot := o.longestSlot(w, k, first, second); slot > w.set.FixingSlotMost {
			m.Restrained, m.RestrainedWhy = true, "To swing, the legs need slots of "+w.phraseUp(slot)+
				" in their fixings at the far ends; slots up to "+w.phrase(w.set.FixingSlotMost)+" are made."
			break
		}
		m.RestrainedWhy = "The legs can swing: the walls leave the gap of up to " + w.phraseUp(most) +
			" that they need at their far ends, and the fixings follow in slots."
	}
	if m.Restrained || m.Dry.AngleChange == 0 && m.Humid.AngleChange == 0 {
		first, second = 0, 0
	}
	o.firstShare, o.secondShare = first, second
	o.facts.Restrained, o.facts.NeededGap = m.Restrained, most
	left, right := o.sideways()
	o.facts.Swing = max(left, right)
}

// sideways is how far the far ends of the first and the second leg go, to the wall or away from it, in the worse
// season: their shares of the swing.
func (o *option) sideways() (first, second measure.Length) {
	dry, humid := &o.Movement.Dry, &o.Movement.Humid
	return max(magnitude(dry.FirstShift), magnitude(humid.FirstShift)) * measure.Length(o.firstShare),
		max(magnitude(dry.SecondShift), magnitude(humid.SecondShift)) * measure.Length(o.secondShare)
}

// shiftIn is how far a leg's far end moves towards its wall, at least 0, in the season in which that is most, if only
// it swings.
func shiftIn(dry, humid *joint.Season, second bool) float64 {
	if second {
		return float64(max(0, dry.SecondShift, humid.SecondShift))
	}
	return float64(max(0, dry.FirstShift, humid.FirstShift))
}

// neededGap is the gap that run i needs at its wall: what its wall edge moves there in the humid season, from its fixed
// line, its swing and the allowance.
func (w *work) neededGap(i int, line hardware.Hold, swing float64) measure.Length {
	return wallGap(w.runs[i].move.HumidStrain, w.runs[i].Depth, line) + measure.Length(swing) + w.set.WallAllowance
}

// wallGap is how far a run's wall edge moves towards the wall from the state at making to the humid season: ε·(depth −
// fixed line), at least 0.
func wallGap(humid float64, depth measure.Length, line hardware.Hold) measure.Length {
	return max(0, measure.Length(humid)*(depth-line.Point(depth)))
}

// longestSlot is the longest slot across that a fixing of the two swinging legs needs: at the far end, furthest from
// the fixed line.
func (o *option) longestSlot(w *work, k int, first, second float64) measure.Length {
	if w.fixing == nil {
		return 0
	}
	a := swinging{o.Movement.Dry.AngleChange, o.Movement.Humid.AngleChange, first, false, 0}
	b := swinging{o.Movement.Dry.AngleChange, o.Movement.Humid.AngleChange, second, false, 0}
	return max(w.farSlot(k, o.Movement.FirstLine, a, w.legLength(k, o.layout)),
		w.farSlot(k+1, o.Movement.SecondLine, b, w.legLength(k+1, o.layout)))
}

func (w *work) farSlot(i int, line hardware.Hold, s swinging, far measure.Length) measure.Length {
	across, _ := w.slots(i, line, s, far, w.runs[i].Depth)
	return across
}

// swinging is how a run swings about the corner at one of its ends.
type swinging struct {
	dry, humid measure.Angle
	share      float64        // of the corner's change of angle; 0: it does not swing
	fromEnd    bool           // about the corner at its end, not at its start
	corner     measure.Length // its tip at that corner, along the run from its start
}

// swingOf is how run i swings in a chosen top: an end leg about its one corner, if that is free. A run between two
// corners that are both said to swing counts with the one that takes it further towards its wall.
func (w *work) swingOf(i int, l *plan.Layout, options []*option) swinging {
	from, to := w.legTips(i, l)
	first, last := w.group(i)
	var s swinging
	if last < len(options) && options[last].firstShare > 0 {
		m := &options[last].Movement
		s = swinging{m.Dry.AngleChange, m.Humid.AngleChange, options[last].firstShare, true, to}
	}
	if first > 0 && options[first-1].secondShare > 0 {
		m := &options[first-1].Movement
		if other := (swinging{m.Dry.AngleChange, m.Humid.AngleChange, options[first-1].secondShare, false, from}); s.share == 0 ||
			other.toWall() > s.toWall() {
			s = other
		}
	}
	return s
}

// toWall is how far the run turns towards its wall in the season in which that is most.
func (s *swinging) toWall() measure.Angle { return measure.Angle(s.share) * max(s.dry, s.humid) }

// distance is how far a place along the run lies from the corner about which it swings.
func (s *swinging) distance(along measure.Length) measure.Length {
	if s.fromEnd {
		return s.corner - along
	}
	return along - s.corner
}

// slots are the lengths of a fixing's slots so that the slab can move, across the run and along it, for a fixing at
// some distance from the corner about which the run swings and from the run's front:
//
//	across = shank + 2·max|ε·(y − f) + x·Δθ| + slot_allowance,  along = shank + 2·max|y·Δθ| + slot_allowance
//
// over both seasons, with y from the front, f the fixed line, x from the corner and Δθ the run's share of the corner's
// change. A run that does not swing needs no slot along it (0): wood hardly moves along the grain.
//
// Source: plane trigonometry (a small turn moves a point by its distance times the angle); the allowance is common
// practice.
func (w *work) slots(i int, line hardware.Hold, s swinging, x, y measure.Length) (across, along measure.Length) {
	m, f := &w.runs[i].move, line.Point(w.runs[i].Depth)
	dry, humid := s.share*math.Tan(float64(s.dry)), s.share*math.Tan(float64(s.humid))
	sideways := max(magnitude(measure.Length(m.DryStrain)*(y-f)+x*measure.Length(dry)),
		magnitude(measure.Length(m.HumidStrain)*(y-f)+x*measure.Length(humid)))
	across = hardware.Slot(w.fixing.ThreadDiameter, sideways, w.set)
	if s.share > 0 {
		along = hardware.Slot(w.fixing.ThreadDiameter, y*measure.Length(max(math.Abs(dry), math.Abs(humid))), w.set)
	}
	return across, along
}
