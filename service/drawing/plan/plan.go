// Package plan draws a top seen from above, true to scale: every piece with its grain, walls, front edges, seams,
// cut-outs, dimensions and angles, and lists of what is drawn. A label that finds no room gives way to a mark that is
// explained below, so nothing lies on anything else, whatever the top.
//
// It is pure: the same estimate and options give the same bytes.
package plan

import (
	"math"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Audience is for whom a plan is drawn.
type Audience string

// The audiences.
const (
	Shop     Audience = ""         // everything
	Customer Audience = "customer" // outline, main sizes and cut-outs; no weights, no seam lengths
)

// Options say how a plan is drawn. The zero value draws everything for paper.
type Options struct {
	Audience Audience
	Narrow   bool   // for a phone; otherwise for a sheet of A4 or letter paper, upright
	Number   string // of the quote, written under the title; empty: none
	Date     string // written under the title; empty: none
	Speech   pen.Speech
}

// Draw returns the plan as an SVG document. It returns an Impossible fault when the estimate holds no run.
func Draw(e *estimate.Estimate, o Options) ([]byte, error) {
	s, err := newSheet(e, o)
	if err != nil {
		return nil, err
	}
	return s.draw(), nil
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
	notes  pen.Pen
	est    *estimate.Estimate
	o      Options
	width  float64
	ratio  int // of the scale, 1 : ratio
	runs   []run
	at     func(x, y measure.Length) pen.Point
	ground ground
	legend []string
}

func newSheet(e *estimate.Estimate, o Options) (*sheet, error) {
	n := len(e.Runs)
	if n == 0 || len(e.Outline) != 2*n+2 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no outline to draw."}
	}
	s := &sheet{est: e, o: o, width: paperWidth}
	if o.Narrow {
		s.width = phoneWidth
	}
	return s, nil
}

func (s *sheet) draw() []byte {
	runs := len(s.est.Runs)
	s.Grow((11 + 4*runs) << 10) // about as much as it takes
	s.notes.Grow((4 + 2*runs) << 10)
	s.ground.lines, s.ground.boxes = make([]drawn, 0, 32*runs), make([]box, 0, 12*runs)
	x, y, w := frameSpace, frameSpace, s.width
	y = s.title(x, y, w)
	y = s.picture(x, y, w)
	y = s.key(x, y, w)
	y = s.lists(x, y, w)
	s.Append(&s.notes)
	id := "plan"
	if s.o.Narrow {
		id = "plan-narrow" // both may stand in one page
	}
	return s.Document(w+2*frameSpace, y+frameSpace, id, s.heading(), s.description())
}

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
		lines = []string{lines[0], pen.Fit(lines[1]+" …", w, big)}
	}
	for _, line := range lines {
		y += pen.Title * 1.15
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
		y = s.Paragraph(x, y, w, pen.Fit(strings.Join(under, " · "), w, pen.Letters{Size: pen.Head}), pen.Letters{Size: pen.Head}) + 0.5
	}
	about := s.say("Plan, seen from above, the first run's wall at the top. Lengths in %s.", s.unit())
	if s.o.Audience == Shop {
		about += " " + s.text(s.est.Made.Thickness) + " thick. Whole top " + s.mass(s.est.Mass) + "."
	}
	return s.Paragraph(x, y, w, about, pen.Letters{Size: pen.Body}) + 1
}

// unit is the name of the unit of lengths.
func (s *sheet) unit() string {
	if s.est.Units == measure.Inches {
		return s.say("inches")
	}
	return s.say("millimetres")
}

// say says a text in the drawing's language.
func (s *sheet) say(english string, values ...any) string { return s.o.Speech.Say(english, values...) }

func (s *sheet) text(l measure.Length) string { return s.o.Speech.Number(l.Text(s.est.Units)) }

func (s *sheet) mass(m measure.Mass) string {
	unit := " lb"
	if s.est.Units == measure.Millimetres {
		unit = " kg"
	}
	return strconv.FormatFloat(m.Number(s.est.Units), 'f', 1, 64) + unit
}

func (s *sheet) degrees(a measure.Angle) string {
	return s.o.Speech.Number(a.Text()) + "°"
}

// scales that a maker has on a ruler or reckons easily, by system.
var (
	metricScales   = []int{1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750}
	imperialScales = []int{1, 2, 4, 6, 8, 12, 16, 20, 24, 32, 40, 48, 64, 80, 96, 128, 160, 192, 256, 384, 512, 768}
)

// chooseScale is the largest scale at which a top of that size fits.
func chooseScale(units measure.System, w, h, roomW, roomH float64) int {
	list := metricScales
	if units == measure.Inches {
		list = imperialScales
	}
	need := math.Max(w/roomW, h/roomH)
	for _, n := range list {
		if float64(n) >= need {
			return n
		}
	}
	return int(math.Ceil(need/1000)) * 1000
}
