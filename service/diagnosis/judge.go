package diagnosis

import (
	"fmt"
	"math"

	"seamwright/service/joint"
	"seamwright/service/measure"
)

// judge finds what what was measured means. The width says most of the wood itself, then the gap, then the step; a
// moisture or the air alone only says whether the year is the one that was reckoned with.
func (d *diagnosis) judge() {
	a, m := &d.answer, &d.q.Measured
	a.Finding = AsPredicted
	widthOff := d.judgeWidth()
	switch {
	case widthOff:
	case m.Gap != nil && *m.Gap > *a.Predicted.Gap+*a.Tolerance.Gap:
		d.judgeGap(*m.Gap)
	case m.Step != nil && magnitude(*m.Step-*a.Predicted.Step) > *a.Tolerance.Step:
		d.judgeStep(*m.Step)
	case m.Gap == nil && m.Step == nil && m.Width == nil:
		d.judgeAir()
	}
	a.Text = d.text()
}

// judgeWidth reports whether the width is off, and what that means.
func (d *diagnosis) judgeWidth() bool {
	a, m := &d.answer, &d.q.Measured
	if m.Width == nil || magnitude(*m.Width-*a.Predicted.Width) <= *a.Tolerance.Width {
		return false
	}
	d.implies(*m.Width-d.run.Depth, d.slope(d.width()))
	return true
}

// judgeGap: a seam whose legs should swing and that opens by no more than if they could not is held; one that opens
// further was made of wood that was off, unless the width was measured and says that it was not.
func (d *diagnosis) judgeGap(gap measure.Length) {
	a := &d.answer
	bound, off := d.now(d.gap())
	if !d.seam.Movement.Restrained && gap <= magnitude(bound)+off {
		a.Finding = Held
		return
	}
	if d.q.Measured.Width != nil {
		a.Finding = NotExplained
		return
	}
	d.implies(d.signed(gap, bound), d.slope(d.gap()))
}

// signed gives a gap the sign of the end at which it was measured, else of the one at which it is expected.
func (d *diagnosis) signed(gap, expected measure.Length) measure.Length {
	if d.q.GapAt == joint.AtFront || d.q.GapAt == joint.Nowhere && expected < 0 {
		return -gap
	}
	return gap
}

// judgeStep: a seam that slides less than the wood must have moved is held; one that slides further was made of wood that
// was off.
func (d *diagnosis) judgeStep(step measure.Length) {
	a := &d.answer
	expected, _ := d.now(d.step())
	switch {
	case step < magnitude(expected):
		a.Finding = Held
	case d.q.Measured.Width != nil:
		a.Finding = NotExplained
	case expected < 0:
		d.implies(-step, d.slope(d.step()))
	default:
		d.implies(step, d.slope(d.step()))
	}
}

// judgeAir: wood that is not as wet as the season should have it lives in another year than the one that was reckoned
// with, which is no finding about the top.
func (d *diagnosis) judgeAir() {
	a := &d.answer
	if math.Abs(float64(a.Now-a.Predicted.Content)) > float64(a.Tolerance.Content) {
		a.Finding = NotExplained
	}
}

// implies works out how wet the wood must have been when it was made, that it has changed so much since, at so much for
// a point.
func (d *diagnosis) implies(change, slope measure.Length) {
	a := &d.answer
	a.Finding = NotExplained
	if math.Abs(float64(slope)) < 1e-6 {
		return
	}
	made := a.Now - measure.Moisture(change/slope)
	off := made - a.Making
	if math.Abs(float64(off)) > float64(mostOff) || made < driestMaking || made > wettestMaking {
		return
	}
	a.Implied = &made
	if a.Finding = MadeDry; off > 0 {
		a.Finding = MadeWet
	}
}

var findings = map[Finding]string{
	AsPredicted:  "What was measured is as predicted for the day.",
	Held:         "The wood moves as predicted, but something holds a leg or a slab that should slide.",
	NotExplained: "The model does not explain what was measured.",
}

func (d *diagnosis) text() string {
	a := &d.answer
	by := map[string]string{"content": "as measured", "air": "by the measured air", "season": "by the season"}[a.NowBy]
	s := fmt.Sprintf(
		"Made at %.1f %%, the wood is reckoned at %.1f %% (%s, ± %.1f).",
		float64(a.Making),
		float64(a.Now),
		by,
		float64(d.spread),
	)
	if a.Implied != nil {
		side := "wetter"
		if *a.Implied < a.Making {
			side = "drier"
		}
		return s + fmt.Sprintf(
			" What was measured fits wood that was %s when made than was said: about %.1f %%.",
			side,
			float64(*a.Implied),
		)
	}
	return s + " " + findings[a.Finding]
}

// advise says what to slack, tighten or leave.
func (d *diagnosis) advise() {
	a, u := &d.answer, d.e.Units
	add := func(format string, args ...any) { a.Advice = append(a.Advice, fmt.Sprintf(format, args...)) }
	wall := d.run.Movement.WallGap.PhraseAs(u, measure.Least)
	driest, wettest := d.driestAndWettest()
	switch a.Finding {
	case AsPredicted:
		add(
			"Leave it: fill nothing, plane nothing. Between its driest and its wettest day run %s goes from %s to %s.",
			d.run.Name,
			driest,
			wettest,
		)
	case Held:
		add(
			"Slack the fixings of run %s, from its far end on, until the slab can be moved by hand in its slots; then tighten them so that they hold it down and let it slide.",
			d.run.Name,
		)
		add(
			"Look whether the wall leaves run %s its gap of %s, and whether sealant, a pipe or a screw without a slot holds it.",
			d.run.Name,
			wall,
		)
		add("Tighten the seam's pull parts only when it is free: pulling against a held leg splits wood.")
	case MadeWet:
		add(
			"Tighten the seam's pull parts now and once more in the driest month, about February; fill nothing before a whole year has gone by.",
		)
		add(
			"Leave the fixings as they are: wood that dries further pulls away from the wall and needs no more room there.",
		)
	case MadeDry:
		add(
			"Slack the fixings of run %s before the most humid month, about August, and see that its wall gap is %s and more: the wood will swell further than was reckoned.",
			d.run.Name,
			wall,
		)
		add("Plane nothing before the wettest month has shown how wide it gets.")
	case NotExplained:
		add(
			"Measure again: the wood's moisture in the middle of several staves, the width of run %s at three places, the gap at both ends of the seam.",
			d.run.Name,
		)
		add(
			"Look for water, for a base that has sunk or turned, and for fixings without slots. Change nothing until one of them is found.",
		)
	}
	if d.answer.NowBy == "season" {
		add("Measure the wood's moisture with a meter: the season alone leaves %.1f points open.", float64(d.spread))
	}
	add("This is what a model makes of a few measurements, and no promise.")
}

func (d *diagnosis) driestAndWettest() (driest, wettest string) {
	m := &d.run.Movement
	return (d.run.Depth + m.ToDry).Phrase(d.e.Units), (d.run.Depth + m.ToHumid).Phrase(d.e.Units)
}
