package seam

import (
	"strconv"
	"strings"

	"seamwright/service/measure"
	"seamwright/service/plan"
)

// slideText is a slide with its arrow, as the drawing shows it: inches to 0.001, millimetres to 0.01. Right is towards
// the back end. What would round to nothing is a plain 0.
func slideText(l measure.Length, units measure.System) string {
	places := 3
	if units == measure.Millimetres {
		places = 2
	}
	size := measure.Round(l.In(units), places)
	switch {
	case size > 0:
		return "→ " + strconv.FormatFloat(size, 'f', places, 64)
	case size < 0:
		return "← " + strconv.FormatFloat(-size, 'f', places, 64)
	default:
		return "0"
	}
}

// sizeText is how large a slot, hole or channel must be at least, as measure.Least and measure.Bore print it. A bore in
// inches has the exact figure beside it.
func (m *mark) sizeText(units measure.System) string {
	if m.drawn.bored {
		return m.drawn.cut + " " + boreText(m.size, units)
	}
	return m.drawn.cut + " " + m.size.TextAs(units, measure.Least)
}

// recessWords follow the size of a cut whose recess is elongated.
func (m *mark) recessWords(units measure.System) string {
	if m.recess == 0 {
		return ""
	}
	return ", recess " + m.recess.TextAs(units, measure.Least) + " long"
}

// recessText lists the lengths along the seam of the recesses that are elongated, by their numbers; empty when all are round.
func (s *sheet) recessText() string {
	text := ""
	for i := range s.marks {
		if m := &s.marks[i]; m.recess > 0 {
			text += ", No. " + strconv.Itoa(m.number) + " " + m.recess.TextAs(s.units, measure.Least)
		}
	}
	if text == "" {
		return ""
	}
	return "Recesses are elongated along the seam, half to either side: " + text[2:] + "."
}

// boreText is a bore's diameter: the next drill up, and of inches the exact figure.
func boreText(l measure.Length, units measure.System) string {
	text := l.TextAs(units, measure.Bore)
	if units == measure.Millimetres {
		return text
	}
	return text + " (" + strconv.FormatFloat(measure.Round(l.Inches(), 3), 'f', 3, 64) + ")"
}

// jointName names a joint, with the run that goes through.
func jointName(j plan.Joint, first, second string) string {
	if run := j.ThroughRun(first, second); run != "" {
		return j.Kind.Name() + ", " + run + " goes through"
	}
	return j.Kind.Name()
}

// degrees is an angle to a hundredth of a degree.
func degrees(a measure.Angle) string {
	return a.Text() + "°"
}

// plainFigure is a slide's size without its arrow.
func plainFigure(l measure.Length, units measure.System) string {
	text := slideText(l, units)
	if _, figure, ok := strings.Cut(text, " "); ok {
		return figure
	}
	return text
}
