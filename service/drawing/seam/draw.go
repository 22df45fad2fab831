package seam

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/joint"
	"seamwright/service/measure"
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
	if s.overhang() {
		y = s.Paragraph(x, y, w, "Check this corner: the seam runs past the end of "+s.through()+". Part of it would have no wood to meet.", pen.Letters{Size: pen.Head, Bold: true}) + 2
	}
	for _, reason := range s.against() {
		y = s.Paragraph(x, y, w, "Not to be made like this: "+reason, pen.Letters{Size: pen.Head, Bold: true}) + 1.5
	}
	y = s.views(x, y, w)
	if s.narrow {
		y = s.table(x, y, w)
		y = s.facts(x, y, w)
		y = s.sections(x, y, w)
		y = s.steps(x, y, w)
		y = s.cautions(x, y, w)
	} else {
		const wide = 106.0
		a := s.table(x, y, wide)
		b := s.facts(x+wide+gutter, y, w-wide-gutter)
		b = s.sections(x+wide+gutter, b, w-wide-gutter)
		a = s.steps(x, a, wide)
		y = s.cautions(x, max(a, b), w)
	}
	id := "seam-" + strconv.Itoa(s.index+1)
	if s.narrow {
		id += "-narrow" // all may stand in one page
	}
	return s.Document(w+2*frameSpace, y+frameSpace-2, id, s.heading(), s.description())
}

// against are the reasons that exclude the joint, if any.
func (s *sheet) against() []string {
	var out []string
	if s.c.Feasible {
		return nil
	}
	for i := range s.c.Findings {
		if s.c.Findings[i].Effect == joint.Excludes {
			out = append(out, s.c.Findings[i].Text)
		}
	}
	if !s.c.Hardware.Feasible && !slices.ContainsFunc(out, func(text string) bool { return strings.Contains(text, s.c.Hardware.Reason) }) {
		out = append(out, s.c.Hardware.Reason)
	}
	return out
}

func (s *sheet) heading() string {
	return "Seam at corner " + strconv.Itoa(s.index+1) + ", " + s.first + " and " + s.second + ": " + jointName(s.c.Joint, s.first, s.second)
}

// description tells the drawing in words.
func (s *sheet) description() string {
	text := "The seam is " + s.phrase(s.c.Geometry.SeamLength) + " long and the top " + s.phrase(s.thickness) + " thick. "
	if len(s.marks) == 0 {
		return text + "It has no parts."
	}
	text += strconv.Itoa(len(s.marks)) + " places are cut along it, from its front end: "
	for i := range s.marks {
		m := &s.marks[i]
		if i > 0 {
			text += "; "
		}
		text += strconv.Itoa(m.number) + ", " + m.kind.Traits().Name + " at " + m.at.Text(s.units) + ", " + m.sizeText(s.units) + m.recessWords(s.units) +
			", slides dry " + slideText(m.dry, s.units) + ", humid " + slideText(m.humid, s.units)
	}
	return text + ". Lengths in " + unitName(s.units) + "."
}

func (s *sheet) phrase(l measure.Length) string { return l.Phrase(s.units) }

// title writes the head of the sheet.
func (s *sheet) title(x, y, w float64) float64 {
	for _, line := range pen.Wrap(s.heading(), w, pen.Letters{Size: pen.Title, Bold: true}) {
		y += pen.Title * 1.15
		s.Text(x, y, line, pen.Letters{Size: pen.Title, Bold: true})
	}
	y += 1.5
	about := "All lengths in " + unitName(s.units) + ". Every distance is from the FRONT end of the seam, along it: hook the tape there once and mark everything without moving it. " +
		"The drawing shows the pieces from below, as they lie face down on the bench: seen from above, " + s.first + " and " + s.second + " change sides."
	if s.turn > 0 {
		about = "All lengths in " + unitName(s.units) + ". Every distance is from the FRONT end of the seam; as it bends after " + s.turn.Text(s.units) +
			", hook the tape at the turn and use the column “from turn”. The drawing shows the pieces from below, as they lie face down on the bench: seen from above, " + s.first + " and " + s.second + " change sides."
	}
	if s.est.Reference != "" {
		y = s.Paragraph(x, y, w, pen.Fit(pen.Isolate(s.est.Reference), w*1.9, pen.Letters{Size: pen.Head}), pen.Letters{Size: pen.Head}) + 0.5
	}
	return s.Paragraph(x, y, w, about, pen.Letters{Size: pen.Body}) + 3
}
