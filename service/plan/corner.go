package plan

import (
	"fmt"
	"math"
	"strconv"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Limits of the room-side angle at a corner. Between StraightFrom and StraightTo two runs make a straight
// extension, not a corner.
const (
	LeastAngle    = 45 * measure.Degree
	GreatestAngle = 315 * measure.Degree
	StraightFrom  = 170 * measure.Degree
	StraightTo    = 190 * measure.Degree
)

// slack is by how many degrees an angle may miss a limit: one typed at the limit itself must pass.
const slack = 1e-9

// CheckAngle returns an Impossible fault when two runs cannot make a corner at the angle.
func CheckAngle(theta measure.Angle) error {
	deg := theta.Degrees()
	switch {
	case !makesCorner(deg):
		return &fault.Fault{Kind: fault.Impossible,
			Detail: fmt.Sprintf("A corner of %s cannot be made; the room-side angle must lie from 45° to 315°.",
				refused(deg, makesCorner))}
	case !bends(deg):
		return &fault.Fault{Kind: fault.Impossible,
			Detail: fmt.Sprintf("%s is a straight extension, not a corner; a corner bends by at least 10° (170° or less, 190° or more).", refused(deg, bends)),
			Fix:    "Join the two runs end to end as one longer run, or measure the angle again."}
	}
	return nil
}

// makesCorner says whether an angle in degrees is within the limits, bends whether it is no straight extension.
func makesCorner(deg float64) bool {
	return deg >= LeastAngle.Degrees()-slack && deg <= GreatestAngle.Degrees()+slack
}

func bends(deg float64) bool {
	return deg <= StraightFrom.Degrees()+slack || deg >= StraightTo.Degrees()-slack
}

// refused writes an angle that missed a limit with as many decimals, two at least, as show that it did.
func refused(deg float64, fits func(float64) bool) string {
	shown := deg
	for places := 2; places < 10; places++ {
		if shown = measure.Round(deg, places); !fits(shown) {
			break
		}
	}
	return strconv.FormatFloat(shown, 'f', -1, 64) + "°"
}

// TapedAngle returns the room-side angle of a corner from three taped lengths: along one wall, along the other, and
// across between the two marks, and how much the angle changes per change of the length across:
//
//	θ = acos((a² + b² − c²) / (2ab)),  dθ/dc = c / (a·b·sin θ)
//
// For a reflex corner (the walls bend away from the room) the three lengths are taped on the wall's side, and
// the room-side angle is 360° − θ. The sensitivity is in radians per millimetre. It returns an Impossible
// fault when the lengths cannot form a triangle.
//
// Source: law of cosines (plane trigonometry).
func TapedAngle(a, b, c measure.Length, reflex bool) (theta measure.Angle, sensitivity float64, err error) {
	longest, rest := max(a, b, c), a+b+c-max(a, b, c)
	if a <= 0 || b <= 0 || c <= 0 || longest >= rest {
		return 0, 0, ErrTriangle
	}
	// law of cosines
	cos := (float64(a)*float64(a) + float64(b)*float64(b) - float64(c)*float64(c)) / (2 * float64(a) * float64(b))
	t := math.Acos(min(1, max(-1, cos)))
	sensitivity = float64(c) / (float64(a) * float64(b) * math.Sin(t)) // its derivative by c
	if reflex {
		return measure.Angle(2*math.Pi - t), -sensitivity, nil
	}
	return measure.Angle(t), sensitivity, nil
}

// TapeStep is the error that a careful tape reading may have: 1/16 in, or 1 mm. Common practice.
func TapeStep(units measure.System) measure.Length {
	if units == measure.Inches {
		return measure.Inch / 16
	}
	return measure.Millimetre
}

// TapedDerivatives are the changes of a taped angle for each of its three readings, in radians per millimetre,
//
//	dθ/da = −(a − b·cos θ) / (a·b·sin θ),  dθ/db = −(b − a·cos θ) / (a·b·sin θ),  dθ/dc = c / (a·b·sin θ)
//
// The lengths must form a triangle; the angle is the one between a and b.
//
// Source: law of cosines (plane trigonometry), differentiated.
func TapedDerivatives(a, b, c measure.Length) (first, second, across float64) {
	x, y, z := float64(a), float64(b), float64(c)
	cos := (x*x + y*y - z*z) / (2 * x * y)
	sin := math.Sqrt(max(0, 1-cos*cos))
	each := x * y * sin
	return -(x - y*cos) / each, -(y - x*cos) / each, z / each
}

// TapedTolerance is by how much a taped angle is off at most when each of its three readings is off by step: the sum of
// what each does, to the first order in step. The lengths must form a triangle.
//
// Source: see TapedDerivatives.
func TapedTolerance(a, b, c, step measure.Length) measure.Angle {
	first, second, across := TapedDerivatives(a, b, c)
	return measure.Angle(float64(step) * (math.Abs(first) + math.Abs(second) + across))
}

// NoTriangle says why three taped lengths cannot close, in the units in which they were read.
func NoTriangle(a, b, c measure.Length, units measure.System) *fault.Fault {
	least, sum := max(a-b, b-a), a+b
	return &fault.Fault{Kind: fault.Impossible,
		Detail: fmt.Sprintf("Lengths %s, %s and %s %s cannot form a triangle; the length across must be over %s and under %s.",
			a.Text(units), b.Text(units), c.Text(units), units, least.PhraseAs(units, measure.Least), sum.PhraseAs(units, measure.Most)),
		Fix: "Tape the three lengths again."}
}

// ErrTriangle is returned for three lengths that cannot close a triangle; NoTriangle has the words.
var ErrTriangle = &fault.Fault{Kind: fault.Impossible, Detail: "the three lengths cannot form a triangle"}

// NominalAngle is the common corner nearest to θ: 45°, 90°, 135°, 225°, 270° or 315°; in line it is what it is.
func NominalAngle(theta measure.Angle) measure.Angle {
	if theta == InLine {
		return theta
	}
	best := LeastAngle
	for _, n := range []measure.Angle{45, 90, 135, 225, 270, 315} {
		if n *= measure.Degree; math.Abs(float64(theta-n)) < math.Abs(float64(theta-best)) {
			best = n
		}
	}
	return best
}

// nearNominal is how far off a usual corner one may be taken for it: nobody takes 60° for 45°. Common practice.
const nearNominal = 10 * measure.Degree

// MayPassForNominal reports whether θ is near enough to its nominal angle to be taken for it by mistake.
func MayPassForNominal(theta measure.Angle) bool {
	return math.Abs(float64(theta-NominalAngle(theta))) <= float64(nearNominal)+1e-9
}

// NominalErrorGap is how wide a seam of length s gapes at its far end when both cuts together miss the corner by
// the difference between θ and the nominal angle: s·tan|error|.
func NominalErrorGap(s measure.Length, theta measure.Angle) measure.Length {
	gap := float64(s) * math.Tan(math.Abs(float64(theta-NominalAngle(theta))))
	if gap < 1e-9 {
		return 0 // the angle is the nominal one; what is left is rounding noise
	}
	return measure.Length(gap)
}

// ProfileMismatch is how far two moulded edges of profile depth p miss each other along a miter whose cuts make
// α₁ and α₂ with their runs: p·|cot α₁ − cot α₂|. It is zero when the seam bisects the corner.
func ProfileMismatch(p measure.Length, first, second measure.Angle) measure.Length {
	return measure.Length(float64(p) * math.Abs(1/math.Tan(float64(first))-1/math.Tan(float64(second))))
}
