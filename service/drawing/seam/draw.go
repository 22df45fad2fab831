package seam

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/joint"
)

// Widths of the sheet, in millimetres: what A4 and letter paper both hold upright, and one column for a phone.
const (
	paperWidth = 190.0
	phoneWidth = 92.0
	gutter     = 6.0
	frameSpace = 4.0 // white round everything
)

// draw puts the sheet together.
func (s *sheet) draw() []byte {
	s.Grow(48 << 10)
	w := paperWidth
	if s.narrow {
		w = phoneWidth
	}
	x, y := frameSpace, frameSpace
	y = s.title(x, y, w)
	y = s.strap(x, y, w)
	for _, reason := range s.against() {
		y = s.Paragraph(x, y, w, reason, pen.Letters{Size: pen.Head, Bold: true}) + 1.5
	}
	y = s.views(x, y, w) + 4
	if s.narrow {
		y = s.table(x, y, w)
		y = s.facts(x, y, w)
		y = s.sections(x, y, w)
		y = s.steps(x, y, w)
		y = s.cautions(x, y, w)
	} else {
		const wide = 108.0
		a := s.table(x, y, wide)
		b := s.facts(x+wide+gutter, y, w-wide-gutter)
		b = s.sections(x+wide+gutter, b, w-wide-gutter)
		a = s.steps(x, a, wide)
		y = s.cautions(x, max(a, b), w)
	}
	return s.Document(w+2*frameSpace, y+frameSpace-2, s.id("seam"), s.heading(), s.description())
}

// id begins the identifiers of a drawing of this corner: all may stand in one page.
func (s *sheet) id(what string) string {
	what += "-" + strconv.Itoa(s.index+1)
	switch {
	case s.narrow:
		what += "-narrow"
	case s.screen:
		what += "-screen"
	}
	return what
}

// against are what speaks against making it so: the reasons that exclude the joint, and that it has no wood to meet.
func (s *sheet) against() []string {
	var out []string
	if s.overhang() {
		out = append(out, s.say("Check this corner: the seam runs past the end of %s. Part of it would have no wood to meet.",
			s.through()))
	}
	if s.c.Feasible {
		return out
	}
	var reasons []string
	for i := range s.c.Findings {
		if s.c.Findings[i].Effect == joint.Excludes {
			reasons = append(reasons, s.c.Findings[i].Text)
		}
	}
	if !s.c.Hardware.Feasible && !slices.ContainsFunc(reasons,
		func(text string) bool { return strings.Contains(text, s.c.Hardware.Reason) }) {
		reasons = append(reasons, s.c.Hardware.Reason)
	}
	for _, reason := range reasons {
		out = append(out, s.say("Not to be made like this: %s", s.speech.Told(reason)))
	}
	return out
}

func (s *sheet) heading() string {
	if s.c.Joint.Kind.InLine() {
		return s.say("Straight seam %s, %s and %s", strconv.Itoa(s.index+1), s.first, s.second)
	}
	return s.say("Seam at corner %s, %s and %s: %s", strconv.Itoa(s.index+1), s.first, s.second, s.jointName(s.c.Joint))
}

// description tells the drawing in words.
func (s *sheet) description() string {
	text := s.say("The seam is %s long and the top %s thick.", s.phrase(s.c.Geometry.SeamLength), s.phrase(s.thickness)) +
		" "
	if len(s.marks) == 0 {
		return text + s.say("It has no parts.")
	}
	places := make([]string, len(s.marks))
	for i := range s.marks {
		m := &s.marks[i]
		places[i] = s.say("%s, %s at %s", strconv.Itoa(m.number), s.say(m.kind.Traits().Name), s.exact(m.at)) + ", " +
			s.sizeText(m) + s.recessWords(m) +
			", " + s.say("slides dry %s, humid %s", s.slideText(m.dry), s.slideText(m.humid))
	}
	return text + s.say("Along it, from its front end, are cut: %s.", strings.Join(places, "; ")) + " " +
		s.say("Lengths in %s.", s.unitName())
}

// about says how the sheet is to be read.
func (s *sheet) about() string {
	text := s.say("All lengths in %s.", s.unitName()) + " "
	if s.turn > 0 {
		text += s.say("Every distance is from the FRONT end of the seam; as it bends after %s, hook the tape at the turn and use the column “from turn”.", s.exact(s.turn))
	} else {
		text += s.say("Every distance is from the FRONT end of the seam, along it: hook the tape there once and mark everything without moving it.")
	}
	return text + " " + s.say("The drawing shows the pieces from below, as they lie face down on the bench: seen from above, %s and %s change sides.", s.first, s.second)
}

// title writes the head of the sheet.
func (s *sheet) title(x, y, w float64) float64 {
	for _, line := range pen.Wrap(s.heading(), w, pen.Letters{Size: pen.Title, Bold: true}) {
		y += pen.Title * 1.15
		s.Text(x, y, line, pen.Letters{Size: pen.Title, Bold: true})
	}
	y += 1.5
	if s.est.Reference != "" {
		y = s.Paragraph(x, y, w, pen.Isolate(s.est.Reference), pen.Letters{Size: pen.Head}) + 0.5
	}
	return s.Paragraph(x, y, w, s.about(), pen.Letters{Size: pen.Body}) + 3
}
