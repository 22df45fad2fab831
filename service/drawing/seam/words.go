package seam

import (
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// slideText is a slide with its arrow, as the drawing shows it: inches to 0.001, millimetres to 0.01. Right is towards
// the back end. What would round to nothing is a plain 0.
func (s *sheet) slideText(l measure.Length) string {
	places := 3
	if s.units == measure.Millimetres {
		places = 2
	}
	size := measure.Round(l.In(s.units), places)
	switch {
	case size > 0:
		return "→ " + s.speech.Number(strconv.FormatFloat(size, 'f', places, 64))
	case size < 0:
		return "← " + s.speech.Number(strconv.FormatFloat(-size, 'f', places, 64))
	default:
		return "0"
	}
}

// plainFigure is a slide's size without its arrow.
func (s *sheet) plainFigure(l measure.Length) string {
	text := s.slideText(l)
	if _, figure, ok := strings.Cut(text, " "); ok {
		return figure
	}
	return text
}

// sizeText is how large a slot, hole or channel must be at least, as measure.Least and measure.Bore print it. A bore in
// inches has the exact figure beside it.
func (s *sheet) sizeText(m *mark) string {
	if m.sized == measure.Bore {
		return s.say(m.drawn.cut) + " " + s.boreText(m.size)
	}
	return s.say(m.drawn.cut) + " " + s.least(m.size)
}

// boreText is a bore's diameter: the next drill up, and of inches the exact figure.
func (s *sheet) boreText(l measure.Length) string {
	text := s.speech.Number(l.TextAs(s.units, measure.Bore))
	if s.units == measure.Millimetres {
		return text
	}
	return text + " (" + s.speech.Number(strconv.FormatFloat(measure.Round(l.Inches(), 3), 'f', 3, 64)) + ")"
}

// recessWords follow the size of a cut whose recess is elongated.
func (s *sheet) recessWords(m *mark) string {
	if m.recess == 0 {
		return ""
	}
	return ", " + s.say("recess %s long", s.least(m.recess))
}

// recessText lists the lengths along the seam of the recesses that are elongated, by their numbers; empty when all are round.
func (s *sheet) recessText() string {
	var list []string
	for i := range s.marks {
		if m := &s.marks[i]; m.recess > 0 {
			list = append(list, s.say("No. %s", strconv.Itoa(m.number))+" "+s.least(m.recess))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return s.say("Recesses are elongated along the seam, half to either side: %s.", strings.Join(list, ", "))
}

// jointName names a joint, with the run that goes through.
func jointName(in pen.Speech, j plan.Joint, first, second string) string {
	name := in.Say(j.Kind.Name())
	if run := j.ThroughRun(first, second); run != "" {
		return in.Say("%s, %s goes through", name, run)
	}
	return name
}

func (s *sheet) jointName(j plan.Joint) string { return jointName(s.speech, j, s.first, s.second) }

// degrees is an angle to a hundredth of a degree.
func (s *sheet) degrees(a measure.Angle) string {
	return strings.Replace(s.speech.Number(a.Text()), "-", "−", 1) + "°"
}

// exact is a length for the tape, to 1/32 in or half a millimetre.
func (s *sheet) exact(l measure.Length) string { return s.speech.Number(l.Text(s.units)) }

// most is a depth or the wood that is left, rounded down; least a size that must not come out smaller, rounded up.
func (s *sheet) most(l measure.Length) string {
	return s.speech.Number(l.TextAs(s.units, measure.Most))
}
func (s *sheet) least(l measure.Length) string {
	return s.speech.Number(l.TextAs(s.units, measure.Least))
}

// phrase is a length with its unit; mostPhrase the same, rounded down.
func (s *sheet) phrase(l measure.Length) string { return s.speech.Phrase(l.Phrase(s.units)) }
func (s *sheet) mostPhrase(l measure.Length) string {
	return s.speech.Phrase(l.PhraseAs(s.units, measure.Most))
}

// unitName is what lengths are in.
func (s *sheet) unitName() string {
	if s.units == measure.Millimetres {
		return s.say("millimetres")
	}
	return s.say("inches")
}
