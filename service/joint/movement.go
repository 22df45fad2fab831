package joint

import (
	"math"

	"seamwright/service/measure"
)

// Side is one run at a seam, as the seasons move it. Its points stay on its fixed line and move across the grain in
// proportion to their distance from it.
type Side struct {
	Strain float64        // of the season; positive is swelling
	Line   measure.Length // from the run's edge at which the seam begins, inwards, to its fixed line
	// between the run's length and the seam; 0 (a reflex corner: 180°) where the seam runs along the grain
	Cut measure.Angle
}

// slope is a side with the sine and the cosine of its cut.
type slope struct{ strain, line, sin, cos measure.Length }

func (a Side) slope() slope {
	return slope{measure.Length(a.Strain), a.Line, measure.Length(clean(a.Cut.Sin())), measure.Length(clean(a.Cut.Cos()))}
}

// stretch is how far the run's wood at distance s along the seam has moved across its grain, positive towards the wall:
// ε·(s·sin α − f).
func (a slope) stretch(s measure.Length) measure.Length { return a.strain * (s*a.sin - a.line) }

// Slip is how far side a slides along the seam against side b at distance s from the seam's front end; positive is
// towards the wall:
//
//	slip(s) = ε₁·(s·sin α₁ − f₁)·sin α₁ − ε₂·(s·sin α₂ − f₂)·sin α₂
//
// A butt has its stopping run as side a and its through run, whose seam runs along its grain, as side b: with b's sine
// 0 what is left is ε·w·|sin θ|, w being the distance across the grain from the fixed line.
//
// Source: plane trigonometry (a line stretched across the grain, projected on the seam).
func Slip(s measure.Length, a, b Side) measure.Length { return slipAt(s, a.slope(), b.slope()) }

func slipAt(s measure.Length, a, b slope) measure.Length {
	return a.stretch(s)*a.sin - b.stretch(s)*b.sin
}

// Opening is how far the seam opens (positive) or closes at distance s from its front end when the angle cannot change:
//
//	opening(s) = ε₁·(s·sin α₁ − f₁)·cos α₁ + ε₂·(s·sin α₂ − f₂)·cos α₂
//
// A through run's seam runs along its grain: it adds the same everywhere, −ε·f, where f is the distance of its fixed
// line from the seam: its whole slab pushes the seam, or leaves it open.
//
// Source: plane trigonometry; the direction agrees with common practice.
func Opening(s measure.Length, a, b Side) measure.Length { return openingAt(s, a.slope(), b.slope()) }

func openingAt(s measure.Length, a, b slope) measure.Length {
	return a.stretch(s)*a.cos + b.stretch(s)*b.cos
}

// clean makes nothing of a sine's rounding noise, so that a right angle is one.
func clean(x float64) float64 {
	if math.Abs(x) < 1e-15 {
		return 0
	}
	return x
}

// Stopping is a butt's or mason's miter's stopping run at a corner of angle θ: its cut is θ, or what θ exceeds 180° by,
// so that a reflex corner opens where the same cosine would close an inner one.
func Stopping(strain float64, line measure.Length, theta measure.Angle) Side {
	if theta > math.Pi {
		theta -= math.Pi
	}
	return Side{strain, line, theta}
}

// Through is a butt's or mason's miter's through run; line is from its front edge. Its seam lies on its front edge, at
// a reflex corner on its wall edge.
func Through(strain float64, line, depth measure.Length, theta measure.Angle) Side {
	if theta > math.Pi {
		return Side{strain, line - depth, math.Pi}
	}
	return Side{strain, line, 0}
}

// MiterTurn is the change of the corner's angle, in radians, when the legs of a miter are free to swing:
// (ε₁·sin 2α₁ + ε₂·sin 2α₂)/2.
func MiterTurn(e1, e2 float64, a1, a2 measure.Angle) float64 {
	return (e1*(2*a1).Sin() + e2*(2*a2).Sin()) / 2 // the cuts turn by ε·sin α·cos α each
}

// Shift is how far the free end of a leg moves sideways when it swings by an angle: length · tan(angle).
func Shift(leg measure.Length, turn measure.Angle) measure.Length {
	return leg * measure.Length(math.Tan(float64(turn)))
}

// SeasonOf is what a season does to a seam of two sides that are held flush at distance held from its front end: there
// nothing slips, and nothing opens but by what a through run pushes. far is how far it is from there to the seam's far
// end, and first and second are how long the legs are.
func SeasonOf(a, b Side, held, far, first, second measure.Length) Season {
	to, one, other := held+far, a.slope(), b.slope()
	slips := slipAt(to, one, other) - slipAt(held, one, other)
	opens := openingAt(to, one, other) - openingAt(held, one, other)
	out := season(slips, opens, measure.Angle(opens/far), first, second)
	if push := -openingAt(held, one, other); magnitude(push) > noise {
		out.Push = push
	}
	return out
}

const noise = measure.Length(1e-9) // mm

func season(slip, opening measure.Length, turn measure.Angle, first, second measure.Length) Season {
	out := Season{MaxSlip: slip, MaxOpening: opening, AngleChange: turn,
		FirstShift: Shift(first, turn), SecondShift: Shift(second, turn)}
	switch {
	case opening > noise:
		out.OpensAt = AtWall
	case opening < -noise:
		out.OpensAt = AtFront
	default:
		out.MaxOpening, out.AngleChange, out.FirstShift, out.SecondShift = 0, 0, 0, 0
	}
	if magnitude(slip) <= noise {
		out.MaxSlip = 0
	}
	return out
}
