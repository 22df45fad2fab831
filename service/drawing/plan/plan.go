// Package plan draws a top seen from above, true to scale: every piece with its grain, walls, front edges, seams,
// cut-outs, dimensions and angles, and lists of what is drawn. A label that finds no room gives way to a mark that is
// explained below, so nothing lies on anything else, whatever the top.
//
// It is pure: the same estimate and options give the same bytes.
package plan

import (
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Options say how a plan is drawn. The zero value draws it for paper, as a sheet of its own.
type Options struct {
	Narrow bool    // for a phone; otherwise for a sheet of A4 or letter paper, upright
	Screen bool    // shown at whatever size a screen gives it: its bar alone tells the scale
	Width  float64 // of the sheet, in millimetres; 0: that of paper or a phone
	Height float64 // most that the drawn top may take with its dimensions, in millimetres; 0: what suits a sheet
	Number string  // of the quote, written under the title; empty: none
	Date   string  // written under the title; empty: none
	Speech pen.Speech
}

// Draw returns the plan as an SVG document with a title and lists. It returns an Impossible fault when the estimate holds no run.
func Draw(e *estimate.Estimate, o Options) ([]byte, error) {
	s, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	s.take()
	defer s.leave()
	return s.draw(), nil
}

// Picture returns the plan without a title and lists, for a document that has its own, and what its marks mean, one after the
// other. It fills the width that is asked for; the scale is a usual one at which the top fits.
func Picture(e *estimate.Estimate, o Options) (drawing []byte, marks []string, err error) {
	s, err := newSheet(e, o)
	if err != nil {
		return nil, nil, err
	}
	s.bare = true
	s.take()
	defer s.leave()
	return s.draw(), s.legend, nil
}

// Widths of the sheet, in millimetres, as those of the seam's sheet.
const (
	paperWidth = 190.0
	phoneWidth = 92.0
	frameSpace = 4.0
)

// sheet is a plan being drawn: the wood goes on the pen, what is written about it on notes.
type sheet struct {
	pen.Pen
	notes pen.Pen
	est   *estimate.Estimate
	o     Options
	bare  bool // without title and lists
	frame float64

	customer bool   // of large letters, without a maker's marks
	pad      border // of a customer's plan: what its walls, lengths and names take

	width  float64
	ratio  pen.Scale
	runs   []run
	at     func(x, y measure.Length) pen.Point
	ground ground
	from   *scratch // whose paper it is drawn on; nil: its own
	legend []string
	marks  int           // that stand in the picture
	voids  [][]pen.Point // cut-outs: what stands in one names it
}

func newSheet(e *estimate.Estimate, o Options) (*sheet, error) {
	n := len(e.Runs)
	if n == 0 || len(e.Outline) != 2*n+2 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no outline to draw."}
	}
	s := &sheet{est: e, o: o, width: paperWidth, frame: frameSpace}
	if o.Narrow {
		s.width = phoneWidth
	}
	if o.Width > 0 {
		s.frame, s.width = 0.5, o.Width-1
	}
	return s, nil
}

func (s *sheet) draw() []byte {
	x, y, w := s.frame, s.frame, s.width
	if !s.bare {
		y = s.title(x, y, w)
	}
	y = s.picture(x, y, w)
	y = s.key(x, y, w)
	if !s.bare {
		y = s.lists(x, y, w)
	}
	s.Append(&s.notes)
	id := "plan"
	if s.o.Narrow {
		id = "plan-narrow" // both may stand in one page
	}
	return s.Document(w+2*s.frame, y+s.frame, id, s.heading(), s.description())
}

func (s *sheet) inches() bool { return s.est.Units == measure.Inches }

func (s *sheet) heading() string {
	if s.est.Reference != "" {
		return s.say("Plan: %s", pen.Isolate(s.est.Reference))
	}
	return s.say("Plan of the top")
}

// title writes the head of the sheet.
func (s *sheet) title(x, y, w float64) float64 {
	name := s.est.Reference
	if name == "" {
		name = s.say("Plan of the top")
	}
	big := pen.Letters{Size: pen.Title, Bold: true}
	lines := pen.Wrap(pen.Isolate(name), w, big)
	if len(lines) > 2 {
		big.Size = pen.Head
		lines = pen.Wrap(pen.Isolate(name), w, big)
	}
	for _, line := range lines {
		y += big.Size * 1.15
		s.Text(x, y, line, big)
	}
	y += 1.5
	var under []string
	if s.o.Number != "" {
		under = append(under, s.say("No. %s", s.o.Number))
	}
	if s.o.Date != "" {
		under = append(under, s.o.Date)
	}
	if len(under) > 0 {
		y = s.Paragraph(x, y, w, pen.Fit(strings.Join(under, " · "), w, pen.Letters{Size: pen.Head}),
			pen.Letters{Size: pen.Head}) + 0.5
	}
	about := s.say("Plan, seen from above, the first run's wall at the top. Lengths in %s.", s.unit())
	about += " " + s.say("%s thick. Whole top %s.", s.text(s.est.Made.Thickness), s.mass(s.est.WholeMass()))
	return s.Paragraph(x, y, w, about, pen.Letters{Size: pen.Body}) + 1
}

// unit is the name of the unit of lengths.
func (s *sheet) unit() string {
	if s.inches() {
		return s.say("inches")
	}
	return s.say("millimetres")
}

// say says a text in the drawing's language.
func (s *sheet) say(english string, values ...any) string { return s.o.Speech.Say(english, values...) }

func (s *sheet) text(l measure.Length) string { return s.o.Speech.Number(l.Text(s.est.Units)) }

func (s *sheet) mass(whole string) string {
	unit := " lb"
	if s.est.Units == measure.Millimetres {
		unit = " kg"
	}
	return s.o.Speech.Phrase(whole + unit)
}

func (s *sheet) degrees(a measure.Angle) string {
	return s.o.Speech.Number(a.Text()) + "°"
}
