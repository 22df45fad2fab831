package truesize

import (
	"fmt"
	"math"
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/template"
)

// How far a storey stick reaches to either side of its seam, in millimetres: as far as what is cut there, within what one row of tiles
// holds.
const (
	stickLeast = 42.0
	stickMost  = 83.0
	stickSpare = 6.0 // beyond what is cut
)

// OfStick returns the storey stick of a corner's seam, from 0: a strip as long as the seam, to be laid on both pieces as they lie face
// down, its middle line on the seam and its front end at the seam's. Everything that is cut into the seam stands on it at its place. Of
// a mason's miter it is the straight part, from the turn on.
func OfStick(e *estimate.Estimate, corner int, o Options) (*Drawing, error) {
	if corner < 0 || corner >= len(e.Corners) {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: fmt.Sprintf("There is no corner %d; this top has %d.",
			corner+1, len(e.Corners))}
	}
	c := e.Corners[corner].ChosenCandidate()
	if c == nil || len(c.Geometry.SeamPath) < 2 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: fmt.Sprintf("This estimate holds no seam at corner %d.",
			corner+1)}
	}
	s := &stick{Drawing: &Drawing{id: "stick", units: e.Units, say: o.Speech.Say}, e: e, c: c, corner: corner,
		speech: o.Speech}
	if c.Joint.Kind.Turns() {
		path := c.Geometry.SeamPath
		s.turn = path[0].Distance(path[1])
	}
	s.draw()
	return s.Drawing, nil
}

// stick is a storey stick being drawn.
type stick struct {
	*Drawing
	e      *estimate.Estimate
	c      *estimate.Candidate
	corner int
	turn   measure.Length // of a mason's miter, from the front end; else 0
	half   float64        // of its height
	speech pen.Speech
}

func (s *stick) draw() {
	s.half = stickLeast
	for run := s.corner; run <= s.corner+1; run++ {
		for _, shape := range template.Beside(s.e, s.corner, run) {
			for _, p := range shape.Points {
				s.half = math.Min(stickMost, math.Max(s.half, float64(p.Y+shape.Radius)+stickSpare))
			}
		}
	}
	length := float64(s.c.Geometry.SeamLength - s.turn)
	s.width, s.height = length+2*border, 2*s.half+2*border
	number := strconv.Itoa(s.corner + 1)
	first, second := pen.Short(s.e.Runs[s.corner].Name, nameLength), pen.Short(s.e.Runs[s.corner+1].Name, nameLength)
	s.Title = s.say("Storey stick for the seam at corner %s: %s and %s", number, first, second)
	if s.e.InLine(s.corner) {
		s.Title = s.say("Storey stick for straight seam %s: %s and %s", number, first, second)
	}
	s.About = append(s.About, s.say("Lay it on the pieces as they lie face down, the middle line on the seam, the front end at the seam's front end; or cut it along the middle line and lay each half on its own piece."),
		s.say("Dashed: hidden in the seam's face, or within the wood."))
	if s.turn > 0 {
		s.About = append(s.About, s.say("This seam bends %s from its front end: the stick begins at the bend, with the figures from there first, those from the front end in brackets.", phrase(s.turn, s.units, s.speech)))
	}
	x0, y := border, border+s.half
	line := func(group, id string, look pen.Stroke, open bool, points ...pen.Point) {
		s.strokes = append(s.strokes, stroke{group: group, id: id, points: points, open: open, look: look})
	}
	line("stick", "stick-outline", pen.Stroke{Ink: pen.Ink, Width: 0.35}, false, pen.At(x0, y-s.half),
		pen.At(x0+length, y-s.half), pen.At(x0+length, y+s.half), pen.At(x0, y+s.half))
	line("seam", "stick-seam", pen.Stroke{Ink: pen.Dry, Width: 0.5}, true, pen.At(x0, y), pen.At(x0+length, y))
	lower, upper := s.corner, s.corner+1
	if !template.FirstLiesLeft(s.e, s.corner) { // seen from below, what lies left of the seam lies below it on the page
		lower, upper = upper, lower
	}
	for _, half := range []struct {
		run  int
		down float64
	}{{upper, -1}, {lower, 1}} {
		s.side(half.run, half.down, x0, y)
	}
	marks := s.c.Hardware.Marks()
	for i := range marks {
		x := x0 + float64(marks[i].At-s.turn)
		line("centres", "centre-"+strconv.Itoa(marks[i].Number), pen.Stroke{Ink: pen.Humid, Width: 0.2}, true,
			pen.At(x, y-s.half), pen.At(x, y+s.half))
		if d := float64(marks[i].Part.RecessDistance); d > 0 && d < s.half { // where the recesses are bored
			const arm = 5.0
			for n, side := range [2]float64{-1, 1} {
				line("centres", "centre-"+strconv.Itoa(marks[i].Number)+"-recess-"+strconv.Itoa(n+1),
					pen.Stroke{Ink: pen.Humid, Width: 0.2}, true, pen.At(x-arm, y+side*d), pen.At(x+arm, y+side*d))
			}
		}
		s.tell(&marks[i], x, y)
	}
	ends := pen.Letters{Size: 4, Bold: true, Upward: true, At: pen.Middle}
	front := s.say("front end")
	if s.turn > 0 {
		front = s.say("bend")
	}
	s.labels = append(s.labels, label{at: pen.At(x0+4.5, y-s.half/2), text: front, l: ends},
		label{at: pen.At(x0+length-1.5, y-s.half/2), text: s.say("wall end"), l: ends})
	for _, half := range []struct {
		run int
		y   float64
	}{{upper, y - s.half + 5}, {lower, y + s.half - 2}} {
		text := pen.Fit(pen.Short(s.e.Runs[half.run].Name, nameLength), length/3, pen.Letters{Size: 4.5, Bold: true})
		s.labels = append(s.labels, label{at: pen.At(s.gap(marks, x0, length), half.y), text: text,
			l: pen.Letters{Size: 4.5, Bold: true, At: pen.Middle}})
	}
}

// side draws what is cut out of one piece, as far as the stick reaches.
func (s *stick) side(run int, down, x0, y float64) {
	w := window{0, math.Min(y, y+down*s.half), s.width, math.Max(y, y+down*s.half)}
	count := map[string]int{}
	for _, shape := range template.Beside(s.e, s.corner, run) {
		points := make([]pen.Point, len(shape.Points))
		for i, p := range shape.Points {
			points[i] = pen.At(x0+float64(p.X-s.turn), y+down*float64(p.Y))
		}
		k := stroke{group: string(template.Hardware), id: "piece-" + strconv.Itoa(run+1) + "-" + string(shape.Feature) + "-" +
			strconv.Itoa(shape.Number), points: points,
			radius: float64(shape.Radius), look: look(&shape)}
		if r := reach(points).grown(k.radius); r.y0 >= w.y0-1e-9 && r.y1 <= w.y1+1e-9 {
			s.strokes = append(s.strokes, k)
			continue
		}
		if shape.Radius > 0 {
			points = ring(points[0], float64(shape.Radius))
		}
		for i := range points { // what reaches further is cut off
			if a, b, ok := w.segment(points[i], points[(i+1)%len(points)]); ok && a != b {
				count[k.id]++
				s.strokes = append(s.strokes, stroke{group: k.group, id: k.id + "-" + strconv.Itoa(count[k.id]),
					points: []pen.Point{a, b}, open: true, look: k.look})
			}
		}
	}
}

// tell writes a mark's number, distance and size beside its line.
func (s *stick) tell(m *hardware.Mark, x, y float64) {
	at := (m.At - s.turn).Text(s.units)
	if s.turn > 0 {
		at += " (" + m.At.Text(s.units) + ")"
	}
	number := strconv.Itoa(m.Number) + ": " + s.speech.Number(at)
	write := func(x, y float64, text string, bold bool, end pen.Anchor) {
		s.labels = append(s.labels, label{at: pen.At(x, y), text: text,
			l: pen.Letters{Size: 3.2, Bold: bold, Upward: true, At: end, Halo: true}})
	}
	top, bottom := y-s.half+1.5, y+s.half-1.5
	write(x+3.6, top, number, true, pen.Right)
	cut, size := m.Cut()
	write(x-1, top, s.speech.Number(s.say(cut, m.Size.TextAs(s.units, size))), false, pen.Right)
	write(x+3.6, bottom, number, true, pen.Left)
	if m.Part.RecessDistance > 0 {
		write(x-1, bottom, s.say("recess at %s", s.speech.Number(m.Part.RecessDistance.Text(s.units))), false, pen.Left)
	}
}

// gap is the middle of the widest stretch between two marks.
func (s *stick) gap(marks []hardware.Mark, x0, length float64) float64 {
	last, best, at := 0.0, 0.0, length/2
	for i := range len(marks) + 1 {
		next := length
		if i < len(marks) {
			next = float64(marks[i].At - s.turn)
		}
		if next-last > best {
			best, at = next-last, (last+next)/2
		}
		last = next
	}
	return x0 + at
}
