package seam

import (
	"strconv"

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
	s.b = make([]byte, 0, 48<<10)
	w := paperWidth
	if s.narrow {
		w = phoneWidth
	}
	x, y := frameSpace, frameSpace
	y = s.title(x, y, w)
	y = s.strap(x, y, w)
	if s.c.Hardware.Feasible {
		y = s.views(x, y, w)
	} else {
		y = s.paragraph(x, y, w, "Not to be made like this: "+s.c.Hardware.Reason, letters{size: sizeHead, bold: true}) + 2
		y = s.views(x, y, w)
	}
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
	return s.document(w+2*frameSpace, y+frameSpace-2)
}

// document puts the root round what is drawn.
func (s *sheet) document(w, h float64) []byte {
	out := pen{b: make([]byte, 0, len(s.b)+2048)}
	out.raw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `)
	out.num(w)
	out.raw(" ")
	out.num(h)
	out.raw(`" width="`)
	out.num(w)
	out.raw(`mm" height="`)
	out.num(h)
	out.raw(`mm" role="img" aria-labelledby="seam-title seam-desc" font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" fill="`, ink, `" stroke-linejoin="round">`, "\n")
	out.raw(`<title id="seam-title">`, escape(s.heading()), "</title>\n")
	out.raw(`<desc id="seam-desc">`, escape(s.description()), "</desc>\n")
	out.rect(0, 0, w, h, 0, stroke{fill: white})
	out.b = append(out.b, s.b...)
	out.raw("</svg>\n")
	return out.b
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
		text += strconv.Itoa(m.number) + ", " + kindName(m.kind) + " at " + m.at.Text(s.units) + ", " + m.sizeText(s.units) +
			", slides dry " + slideText(m.dry, s.units) + ", humid " + slideText(m.humid, s.units)
	}
	return text + ". Lengths in " + unitName(s.units) + "."
}

func (s *sheet) phrase(l measure.Length) string { return l.Phrase(s.units) }

// title writes the head of the sheet.
func (s *sheet) title(x, y, w float64) float64 {
	for _, line := range wrap(s.heading(), w, letters{size: sizeTitle, bold: true}) {
		y += sizeTitle * 1.15
		s.text(x, y, line, letters{size: sizeTitle, bold: true})
	}
	y += 1.5
	about := "All lengths in " + unitName(s.units) + ". Every distance is from the FRONT end of the seam, along it: hook the tape there once and mark everything without moving it. " +
		"The drawing shows the pieces from below, as they lie face down on the bench: seen from above, " + s.first + " and " + s.second + " change sides."
	if s.turn > 0 {
		about = "All lengths in " + unitName(s.units) + ". Every distance is from the FRONT end of the seam; as it bends after " + s.turn.Text(s.units) +
			", hook the tape at the turn and use the column “from turn”. The drawing shows the pieces from below, as they lie face down on the bench: seen from above, " + s.first + " and " + s.second + " change sides."
	}
	if s.est.Reference != "" {
		y = s.paragraph(x, y, w, fit(isolate(s.est.Reference), w*1.9, letters{size: sizeHead}), letters{size: sizeHead}) + 0.5
	}
	return s.paragraph(x, y, w, about, letters{size: sizeBody}) + 3
}

// paragraph writes a wrapped text and returns where it ends.
func (s *sheet) paragraph(x, y, w float64, text string, l letters) float64 {
	for _, line := range wrap(text, w, l) {
		y += l.size * 1.3
		s.text(x, y-l.size*0.3, line, l)
	}
	return y
}

// headline begins a block.
func (s *sheet) headline(x, y, w float64, text string) float64 {
	s.text(x, y+sizeHead, text, letters{size: sizeHead, bold: true})
	s.line(x, y+sizeHead+1.2, x+w, y+sizeHead+1.2, stroke{ink: ink, width: medium})
	return y + sizeHead + 2.2
}
