package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Slip returns how far, at most, one piece slides along the seam against the other at a distance from the held
// point: rate times distance, never negative. The rate is Seam.SlipRate.
//
// Source: plane trigonometry (the strain of the stopping run, resolved along the seam).
func Slip(rate float64, at, held measure.Length) measure.Length {
	return measure.Length(rate * math.Abs(float64(at-held)))
}

// Hole returns the diameter of a screw's exit hole, or the width of a draw bolt's channel, that lets a shank slide
// by slip either way:
//
//	hole = shank + max(2·slip + hole_allowance, hole_least)
//
// shank is the screw's thread diameter or the bolt's diameter. It rounds nothing.
//
// Source: common practice; the allowances are settings.
func Hole(shank, slip measure.Length, s *catalogue.Settings) measure.Length {
	return shank + max(2*slip+s.HoleAllowance, s.HoleLeast)
}

// Slot returns the width along the seam of the slot for an alignment part: part + 2·slip + slot_allowance.
//
// Source: common practice; the allowance is a setting.
func Slot(part, slip measure.Length, s *catalogue.Settings) measure.Length {
	return part + 2*slip + s.SlotAllowance
}

// AlignmentSlot returns the width along the seam of an alignment part's slot: by Slot, and no less than the cutter
// leaves.
func AlignmentSlot(f *catalogue.Fastener, slip measure.Length, s *catalogue.Settings) measure.Length {
	return max(CutterSlot(f, s.BiscuitCutter), Slot(f.Width, slip, s))
}

// Travel returns how far a draw bolt's washer can go either way from the middle of its recess: (recess − bearing)/2,
// recess being its length along the seam.
//
// A bolt floats: of its two washers the one that grips less slides first, to its stop, then the other one. So a seam
// may slip by the travels of both recesses together, however the grip is shared.
//
// Source: plane geometry; the washers start in the middle (common practice).
func Travel(recess, bearing measure.Length) measure.Length { return max(0, (recess-bearing)/2) }

// LongRecess returns the length along the seam of a recess that is elongated for a slip: recess + 2·slip, so that
// either washer alone can follow it.
//
// Source: plane geometry.
func LongRecess(recess, slip measure.Length) measure.Length { return recess + 2*slip }

// Bearing returns how much wood lies all round the hole under a head or washer: (head − hole)/2. It is negative
// when the hole is wider than the head.
//
// Source: plane geometry.
func Bearing(head, hole measure.Length) measure.Length { return (head - hole) / 2 }

// reach returns how far from the held point a shank may stand so that its head still bears by bearing_least: the
// inverse of Slip, Hole and Bearing. It is negative when the head bears nowhere, and infinite when nothing slips.
func reach(shank, head measure.Length, rate float64, s *catalogue.Settings) measure.Length {
	widest := head - 2*s.BearingLeast
	if widest < shank+s.HoleLeast || widest < shank+s.HoleAllowance {
		return -1
	}
	if rate == 0 {
		return measure.Length(math.Inf(1))
	}
	return (widest - shank - s.HoleAllowance) / measure.Length(2*rate)
}
