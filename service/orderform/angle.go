package orderform

import (
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Tapes are the three lengths by which a customer measures a corner: from it along either wall, and across between the two marks.
type Tapes struct {
	Units         measure.System
	First, Second measure.Length
	Across        measure.Length
}

// TapedCorner is the corner of three tapes. Angle and tolerance are rounded to the tenth of a degree, the tolerance up.
type TapedCorner struct {
	Angle     measure.Angle
	Tolerance measure.Angle  // off by this at most when no reading is off by more than Reading
	Reading   measure.Length // what a careful reading may be off by
	Text      string
}

// Corner works out the angle of a taped corner on the room's side, and says it in a language. It returns an Impossible fault when
// the lengths form no triangle.
func (t *Tapes) Corner(speech pen.Speech) (TapedCorner, error) {
	theta, _, err := plan.TapedAngle(t.First, t.Second, t.Across, false)
	if err != nil {
		fault := plan.NoTriangle(t.First, t.Second, t.Across, t.Units)
		fault.Pointer, fault.Detail, fault.Fix = "/across", speech.Told(fault.Detail), speech.Told(fault.Fix)
		return TapedCorner{}, fault
	}
	step := plan.TapeStep(t.Units)
	off := plan.TapedTolerance(t.First, t.Second, t.Across, step)
	c := TapedCorner{Angle: tenths(math.Round, theta), Tolerance: min(tenths(math.Ceil, off), 180*measure.Degree),
		Reading: step}
	c.Text = speech.Say("The corner is %s°, give or take %s° when each reading is within %s. The longer the lengths, the surer the angle.",
		speech.Number(c.Angle.Text()), speech.Number(c.Tolerance.Text()),
		speech.Phrase(step.Text(t.Units)+" "+t.Units.String()))
	return c, nil
}

// tenths rounds an angle to tenths of a degree.
func tenths(round func(float64) float64, a measure.Angle) measure.Angle {
	const noise = 1e-9 // of floating point: 0.3° stays 0.3°
	return measure.Angle(round(a.Degrees()*10-noise)/10) * measure.Degree
}
