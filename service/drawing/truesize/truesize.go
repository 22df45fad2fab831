// Package truesize draws at 1 : 1: the template of a piece or of a corner as SVG for machines, the same in tiles for the printer, and a
// seam's storey stick. One unit is a millimetre of wood.
//
// It is pure: the same estimate and options give the same bytes.
package truesize

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/template"
)

// Options say how something is drawn at true size. The zero value: seen from above, in English.
type Options struct {
	Below  bool
	Speech pen.Speech
}

// Drawing is something at true size, ready to be drawn whole or in tiles.
type Drawing struct {
	Title string
	About []string // what a maker must know before using it, sentence by sentence

	art
	id    string // of the SVG
	units measure.System
	say   func(english string, values ...any) string
}

// OfRun returns the template of run's piece, from 0.
func OfRun(e *estimate.Estimate, run int, o Options) (*Drawing, error) {
	t, err := template.OfRun(e, run, template.Side(o.Below))
	if err != nil {
		return nil, err
	}
	return drawn(t, o.Speech), nil
}

// OfCorner returns the template of a corner, from 0.
func OfCorner(e *estimate.Estimate, corner int, o Options) (*Drawing, error) {
	t, err := template.OfCorner(e, corner, template.Side(o.Below))
	if err != nil {
		return nil, err
	}
	return drawn(t, o.Speech), nil
}

// SVG returns the drawing whole. A template's groups are the layers of package template and "notes"; every shape has an identifier of
// its own.
func (d *Drawing) SVG() []byte {
	var p pen.Pen
	group := ""
	for i := range d.strokes {
		k := &d.strokes[i]
		if k.group != group {
			if group != "" {
				p.End()
			}
			p.Group(k.group)
			group = k.group
		}
		p.Ident(k.id, func() { k.draw(&p) })
	}
	if group != "" {
		p.End()
	}
	p.Group("notes")
	for i := range d.labels {
		l := &d.labels[i]
		p.Text(l.at.X, l.at.Y, l.text, l.l)
	}
	p.End()
	about := ""
	for _, text := range d.About {
		about += text + " "
	}
	return p.TrueSize(d.width, d.height, d.id, d.Title, about)
}

// border is the space round the shapes, so that no line lies on the edge of the drawing.
const border = 5.0

// nameLength is how many letters of a run's name a line carries.
const nameLength = 24

// sheet is a template being drawn.
type sheet struct {
	*Drawing
	t      *template.Template
	speech pen.Speech
	used   map[string]int
	blocks int // of labels that are read together, so far
}

func drawn(t *template.Template, speech pen.Speech) *Drawing {
	s := &sheet{Drawing: &Drawing{id: "template", units: t.Estimate.Units, say: speech.Say}, t: t, speech: speech,
		used: map[string]int{}}
	s.width, s.height = float64(t.Hi.X-t.Lo.X)+2*border, float64(t.Hi.Y-t.Lo.Y)+2*border
	s.Title, s.About = s.title(), s.about()
	for _, layer := range template.Layers {
		for i := range t.Shapes {
			if shape := &t.Shapes[i]; shape.Layer == layer {
				s.stroke(shape)
			}
		}
	}
	for i := range t.Shapes {
		s.label(&t.Shapes[i])
	}
	return s.Drawing
}

// place is a point of the template on the drawing.
func (s *sheet) place(p plan.Point) pen.Point {
	return pen.At(float64(p.X-s.t.Lo.X)+border, float64(s.t.Hi.Y-p.Y)+border)
}

func (s *sheet) points(shape *template.Shape) []pen.Point {
	out := make([]pen.Point, len(shape.Points))
	for i, p := range shape.Points {
		out[i] = s.place(p)
	}
	return out
}

func (s *sheet) stroke(shape *template.Shape) {
	s.strokes = append(s.strokes, stroke{group: string(shape.Layer), id: s.ident(shape), points: s.points(shape),
		open:   shape.Open,
		radius: float64(shape.Radius), look: look(shape)})
}

// look is how a shape is drawn: its layer is told by weight and dashes as well as by ink.
func look(s *template.Shape) pen.Stroke {
	switch s.Layer {
	case template.Outline:
		return pen.Stroke{Ink: pen.Ink, Width: 0.35}
	case template.Front:
		return pen.Stroke{Ink: pen.Ink, Width: 0.8}
	case template.Seam:
		return pen.Stroke{Ink: pen.Dry, Width: 0.35}
	case template.Cutouts:
		return pen.Stroke{Ink: pen.Humid, Width: 0.35}
	case template.Centres:
		return pen.Stroke{Ink: pen.Humid, Width: 0.2}
	case template.Blank:
		return pen.Stroke{Ink: pen.Faint, Width: 0.2, Dash: "6 2"}
	case template.Fixings:
		return pen.Stroke{Ink: pen.Faint, Width: 0.25}
	case template.Hardware:
	}
	if s.Hidden {
		return pen.Stroke{Ink: pen.Ink, Width: 0.25, Dash: "2 1"}
	}
	return pen.Stroke{Ink: pen.Ink, Width: 0.25}
}

// ident is a shape's identifier: its piece, the corner it belongs to, its layer or what it is, its number; where one thing has several
// lines, which of them.
func (s *sheet) ident(shape *template.Shape) string {
	id := "piece-" + strconv.Itoa(shape.Piece+1)
	if shape.Corner > 0 {
		id += "-corner-" + strconv.Itoa(shape.Corner)
	}
	if shape.Layer == template.Hardware {
		id += "-" + string(shape.Feature)
	} else {
		id += "-" + string(shape.Layer)
	}
	if shape.Number > 0 {
		id += "-" + strconv.Itoa(shape.Number)
	}
	s.used[id]++
	if n := s.used[id]; n > 1 {
		id += "-" + strconv.Itoa(n)
	}
	return id
}

func (s *sheet) name(run int) string { return pen.Short(s.t.Estimate.Runs[run].Name, nameLength) }

func (s *sheet) title() string {
	switch k := s.t.Corner; {
	case k < 0:
	case s.t.Estimate.InLine(k):
		return s.say("Seam %s at true size: %s and %s", strconv.Itoa(k+1), s.name(k), s.name(k+1))
	default:
		return s.say("Corner %s at true size: %s and %s", strconv.Itoa(k+1), s.name(k), s.name(k+1))
	}
	return s.say("Piece %s at true size", s.name(s.t.Run))
}

// side says from where the template is seen.
func (s *sheet) side() string {
	if s.t.Below {
		return s.say("Seen from below: for the underside")
	}
	return s.say("Seen from above: for the face")
}

// about is what a maker must know before using the template.
func (s *sheet) about() []string {
	list := []string{s.side() + "."}
	if !s.t.Below {
		list = append(list, s.say("What is cut from below is drawn as seen through the wood; to mark it on the underside use the template that is seen from below."))
	}
	list = append(list, s.say("The outline is the finished piece at the moisture when made, without any allowance: saw outside the line by what the skim cut and scribing take."))
	if s.t.Run >= 0 {
		if r := &s.t.Estimate.Runs[s.t.Run]; r.Blank.Length > 0 {
			list = append(list, s.say("The blank is %s longer at either end and %s wider at either edge.",
				s.phrase((r.Blank.Length-r.Piece.LongEdge)/2), s.phrase((r.Blank.Width-r.Depth)/2)))
		}
	} else {
		list = append(list, s.say("Both pieces as far as %s beyond the seam.", s.phrase(template.Reach)))
		if leg, across, ok := template.Check(s.t.Estimate, s.t.Corner); ok {
			list = append(list, s.say("The walls meet at %s°: from their corner %s along either of them, it must be %s across.",
				s.speech.Number(s.t.Estimate.Corners[s.t.Corner].Angle.Text()), s.phrase(leg), s.phrase(across)))
		}
	}
	if s.t.Estimate.Made.Moulding > 0 {
		list = append(list, s.say("The moulding stands before the front edges: the outline is the slab behind it."))
	}
	return list
}

func (s *sheet) phrase(l measure.Length) string { return phrase(l, s.units, s.speech) }

// phrase is a measure with its unit in a language.
func phrase(l measure.Length, units measure.System, speech pen.Speech) string {
	unit := units.String()
	return speech.Number(strings.TrimSuffix(l.Phrase(units), unit)) + speech.Say(unit)
}

// label writes what a maker must know beside a shape.
func (s *sheet) label(shape *template.Shape) {
	points := s.points(shape)
	m := reach(points).middle()
	small := pen.Letters{Size: 3.2, Bold: true, At: pen.Middle, Halo: true}
	switch shape.Layer {
	case template.Outline:
		s.nameOf(shape, points)
	case template.Cutouts:
		c := &s.t.Estimate.Cutouts[shape.Number-1]
		w := reach(points)
		lines, l := inOpening(s.say("cut-out %s: %s", strconv.Itoa(shape.Number), s.say(spaced(c.Kind))), math.Max(w.x1-w.x0-4, 20))
		s.blocks++
		for i, text := range lines {
			up := math.Min(14, (w.y1-w.y0)/4) + float64(len(lines)-1-i)*l.Size*1.2
			s.labels = append(s.labels, label{at: pen.At(m.X, m.Y-up), text: text, l: l, block: s.blocks})
		}
	case template.Hardware:
		if cut := hardware.Feature(shape.Feature); cut != hardware.ChannelCut && cut != hardware.PocketHoleCut {
			s.add(pen.At(m.X, m.Y+1.1), strconv.Itoa(shape.Number), small)
		}
	case template.Front:
		if p, q := points[0], points[1]; math.Abs(p.Y-q.Y) < 1 && math.Abs(p.X-q.X) > 60 {
			s.add(pen.At(m.X, m.Y-4), s.say("visible front"), edgeLetters)
		}
	case template.Seam, template.Centres, template.Fixings, template.Blank:
	}
}

// inOpening writes a text over a cut-out's middle on one line or two; a small one's in smaller letters, before any is left out.
func inOpening(text string, room float64) ([]string, pen.Letters) {
	l := pen.Letters{Size: 5, At: pen.Middle}
	for ; l.Size > pen.Small; l.Size -= 0.2 {
		whole := !slices.ContainsFunc(measure.Unbroken(text), func(word string) bool { return pen.Width(word, l) > room })
		if lines := pen.Wrap(text, room, l); whole && len(lines) <= 2 {
			return lines, l
		}
	}
	return []string{pen.Fit(text, room, l)}, l
}

var edgeLetters = pen.Letters{Size: 5, At: pen.Middle}

func (s *sheet) add(at pen.Point, text string, l pen.Letters) {
	s.labels = append(s.labels, label{at: at, text: text, l: l})
}

// nameOf writes a piece's name, its wood, which edge is which, and the check line, where nothing else stands.
func (s *sheet) nameOf(shape *template.Shape, points []pen.Point) {
	r := &s.t.Estimate.Runs[shape.Piece]
	w := reach(points)
	lines := []label{
		{at: pen.At(0, -9), text: s.name(shape.Piece), l: pen.Letters{Size: 12, Bold: true, At: pen.Middle}},
		{at: pen.At(0, -2), text: s.speech.Name(r.Wood), l: pen.Letters{Size: 5, At: pen.Middle}},
		{at: pen.At(0, 5), text: s.side(), l: pen.Letters{Size: 4, At: pen.Middle}},
	}
	need := window{-s.check()/2 - 2, -20, s.check()/2 + 2, 20}
	for i := range lines {
		b := lines[i].box()
		need.x0, need.x1 = math.Min(need.x0, b.x0), math.Max(need.x1, b.x1)
	}
	at, ok := s.clear(points, need)
	if !ok { // a narrow piece: its name alone
		lines = []label{{at: pen.At(0, 2), text: pen.Fit(s.name(shape.Piece), (w.x1-w.x0)*0.6,
			pen.Letters{Size: 6, Bold: true}), l: pen.Letters{Size: 6, Bold: true, At: pen.Middle}}}
		at = w.middle()
	}
	s.blocks++
	for _, l := range lines {
		l.at, l.block = pen.At(l.at.X+at.X, l.at.Y+at.Y), s.blocks
		s.labels = append(s.labels, l)
	}
	if ok {
		s.checkLine(at.X, at.Y+16)
	}
	if s.t.Corner < 0 || shape.Piece == s.t.Corner { // a corner's second piece is turned
		s.addBeside(pen.At(at.X, w.y0+8), s.say("wall edge"), w)
	}
}

// addBeside writes a text under an edge, further to the left or right where something is cut or written, lower where the edge itself
// runs lower, as one does that is scribed to its wall; not at all where there is no room.
func (s *sheet) addBeside(at pen.Point, text string, w window) {
	taken := s.taken()
	for i := range s.labels {
		taken = append(taken, s.labels[i].box())
	}
	const aside, down, lowest = 25.0, 4.0, 24.0
	struck := func(b window) bool {
		return slices.ContainsFunc(s.strokes, func(k stroke) bool { return k.tiled() && k.crosses(b) })
	}
	for low := 0.0; low <= lowest; low += down {
		for n := range int((w.x1 - w.x0) / aside) {
			x := at.X + aside*float64((n+1)/2)*float64(1-2*(n%2)) // to either side by turns
			l := label{at: pen.At(x, at.Y+low), text: text, l: edgeLetters}
			if b := l.box(); b.x0 > w.x0 && b.x1 < w.x1 && !slices.ContainsFunc(taken, b.meets) && !struck(b.grown(0.5)) {
				s.labels = append(s.labels, l)
				return
			}
		}
	}
}

// taken are the places of cut-outs, hardware, fixings and seams.
func (s *sheet) taken() (list []window) {
	for i := range s.strokes {
		k := &s.strokes[i]
		switch template.Layer(k.group) {
		case template.Cutouts, template.Hardware, template.Fixings, template.Seam:
			list = append(list, reach(k.points).grown(3+k.radius))
		case template.Outline, template.Front, template.Centres, template.Blank:
		}
	}
	return list
}

// clear finds room for a window in a piece, as near to its middle as may be, where no cut-out, hardware or fixing stands.
func (s *sheet) clear(outline []pen.Point, need window) (at pen.Point, ok bool) {
	w := reach(outline)
	m := w.middle()
	taken := s.taken()
	const grid = 10.0
	best := math.Inf(1)
	for x := w.x0; x <= w.x1; x += grid {
		for y := w.y0; y <= w.y1; y += grid {
			p := pen.At(x, y)
			d := math.Hypot(x-m.X, 2*(y-m.Y))
			if d >= best {
				continue
			}
			b := need.moved(x, y)
			corners := []pen.Point{{X: b.x0, Y: b.y0}, {X: b.x1, Y: b.y0}, {X: b.x1, Y: b.y1}, {X: b.x0, Y: b.y1}}
			if slices.ContainsFunc(corners, func(c pen.Point) bool { return !inside(outline, c) }) ||
				slices.ContainsFunc(taken, b.meets) {
				continue
			}
			best, at, ok = d, p, true
		}
	}
	return at, ok
}

// check is how long the line is that tells whether the printer kept the size: 100 mm, or 4 in.
func (d *Drawing) check() float64 {
	if d.units == measure.Millimetres {
		return 100
	}
	return float64(4 * measure.Inch)
}

func (d *Drawing) checkText() string {
	if d.units == measure.Millimetres {
		return d.say("must measure %s", "100 mm")
	}
	return d.say("must measure %s", "4 "+d.say("in"))
}

// checkLine adds the line to the whole drawing, round a place.
func (s *sheet) checkLine(x, y float64) {
	half := s.check() / 2
	k := pen.Stroke{Ink: pen.Ink, Width: 0.25}
	for _, line := range [][2]pen.Point{{pen.At(x-half, y), pen.At(x+half, y)}, {pen.At(x-half, y-2), pen.At(x-half, y+2)},
		{pen.At(x+half, y-2), pen.At(x+half, y+2)}} {
		s.used["check"]++
		s.strokes = append(s.strokes, stroke{group: checkGroup, id: "check-" + strconv.Itoa(s.used["check"]), points: line[:],
			open: true, look: k})
	}
	s.labels = append(s.labels, label{pen.At(x, y-1), s.checkText(), pen.Letters{Size: 3.2, At: pen.Middle}, true, 0})
}

// checkGroup is the group of the check lines.
const checkGroup = "check-line"

// spaced is a code as words.
func spaced(code string) string {
	if code == "" {
		return "marked"
	}
	out := []byte(code)
	for i := range out {
		if out[i] == '_' {
			out[i] = ' '
		}
	}
	return string(out)
}
