package saw

import (
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// LabelOptions say on what labels are printed.
type LabelOptions struct {
	Width, Height float64 // of the paper, in millimetres
	Job, Quote    string  // on every label
	Speech        pen.Speech
}

// Sizes on a sheet of labels, in millimetres.
const (
	edge         = 10.0
	pieceColumns = 2
	pieceHigh    = 46.0
	staveColumns = 3
	staveHigh    = 28.0
)

// labels is sheets of labels on their way.
type labels struct {
	*Plan
	o      LabelOptions
	sheets [][]byte
	boxes  [][]pen.Box // where the texts of each sheet stand
	p      *pen.Pen
	y      float64 // where the next row begins
	column int
	foot   []string // the quote and the job, in lines for the labels that are drawn
}

// Labels draws sheets of labels to cut apart, each of the paper's size: one for each piece, then one for each stave in the order in which
// the saw gives them.
func Labels(e *estimate.Estimate, o LabelOptions) ([][]byte, error) {
	if len(e.Runs) == 0 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no piece to label."}
	}
	return drawLabels(e, o).sheets, nil
}

func drawLabels(e *estimate.Estimate, o LabelOptions) *labels {
	l := &labels{Plan: &Plan{est: e, speech: o.Speech}, o: o, p: new(pen.Pen), y: edge}
	boards := e.Sawing()
	high := l.high(pieceColumns, pieceHigh)
	for i := range e.Runs {
		x, y, w := l.next(pieceColumns, high)
		l.piece(i, x, y, w, high, boards)
	}
	l.row(high)
	high = l.high(staveColumns, staveHigh)
	for _, stock := range boards {
		for b := range stock {
			for s := range stock[b].Strips {
				for k := range stock[b].Strips[s].Staves {
					if stave := &stock[b].Strips[s].Staves[k]; stave.Number > 0 {
						x, y, w := l.next(staveColumns, high)
						l.stave(&stock[b], s, stave, x, y, w, high)
					}
				}
			}
		}
	}
	l.finish()
	return l
}

// high breaks the quote and the job into lines for labels of which as many stand in a row, and says how high these are: each
// line after the first makes them higher.
func (l *labels) high(columns int, least float64) float64 {
	const most = 4
	w := (l.o.Width-2*edge)/float64(columns) - 2*inset
	text := l.o.Quote
	if text != "" && l.o.Job != "" {
		text += " · "
	}
	l.foot = pen.Wrap(text+l.o.Job, w, footLetters)
	if len(l.foot) > most {
		l.foot = append(l.foot[:most-1], pen.Fit(l.foot[most-1]+" …", w, footLetters))
	}
	return least + footPitch*float64(max(0, len(l.foot)-1))
}

// The letters at a label's foot, and the height of their lines.
var footLetters = pen.Letters{Size: pen.Small, Ink: pen.Faint}

const footPitch = pen.Small * 1.2

// next is where the next label of a size stands; the border is drawn.
func (l *labels) next(columns int, high float64) (x, y, w float64) {
	if l.column == columns {
		l.row(high)
	}
	if l.y+high > l.o.Height-edge {
		l.finish()
	}
	w = (l.o.Width - 2*edge) / float64(columns)
	x, y = edge+float64(l.column)*w, l.y
	l.p.Rect(x, y, w, high, 0, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Dash: "2 1.4"})
	l.column++
	return x, y, w
}

// row ends a row that has begun.
func (l *labels) row(high float64) {
	if l.column > 0 {
		l.y, l.column = l.y+high, 0
	}
}

// finish ends a sheet that has begun.
func (l *labels) finish() {
	if l.y == edge && l.column == 0 {
		return
	}
	n := strconv.Itoa(len(l.sheets) + 1)
	l.sheets = append(l.sheets, l.p.Document(l.o.Width, l.o.Height, "labels-"+n, l.say("Labels"), l.o.Job))
	l.boxes = append(l.boxes, l.p.Boxes())
	l.p, l.y, l.column = new(pen.Pen), edge, 0
}

// lines writes lines one under the other in a label and leaves out what has no room.
func (l *labels) lines(x, y, w, bottom float64, texts ...string) {
	k := pen.Letters{Size: pen.Body}
	for _, text := range texts {
		if text == "" || y+k.Size > bottom {
			continue
		}
		y += k.Size * 1.3
		l.p.Text(x, y, pen.Fit(text, w, k), k)
	}
}

// job writes the quote and the job at the foot of a label that ends at y.
func (l *labels) job(x, y float64) {
	for i, line := range l.foot {
		l.p.Text(x, y-2-footPitch*float64(len(l.foot)-1-i), line, footLetters)
	}
}

const inset = 3.0 // within a label

// piece draws a piece's label: it is stuck to the underside.
func (l *labels) piece(run int, x, y, w, high float64, boards [][]takeoff.Board) {
	r := &l.est.Runs[run]
	name, big := whole(r.Name, "", w-2*inset-26, 9)
	l.p.Text(x+inset, y+10.5, name, big)
	k := pen.Letters{Size: pen.Body, At: pen.Right}
	l.p.Text(x+w-inset, y+6.5, l.say("underside"), k)
	l.p.Text(x+w-inset, y+10.8, l.say("front ↓"), k)
	unit := l.say(l.est.Units.String())
	weight := ""
	if r.Piece.Mass > 0 {
		weight = l.weight(r.Piece.Mass)
		if r.People > 0 {
			weight = l.say("%s, %s to carry", weight, strconv.Itoa(r.People))
		}
	}
	l.lines(x+inset, y+12, w-2*inset, y+pieceHigh-5.5,
		l.speech.Name(r.Wood)+", "+l.say(sawnWords(r.Sawn)),
		l.say("finished %s × %s × %s %s", l.text(r.Piece.LongEdge), l.text(r.Depth), l.text(l.est.Made.Thickness), unit),
		l.say("blank %s × %s %s", l.text(r.Blank.Length), l.text(r.Blank.Width), unit),
		weight, l.corners(run), l.panel(r.Name, boards))
	l.job(x+inset, y+high)
}

// whole is a run's name with what stands behind it, in letters as large as there is room for. A name that has none even in the smallest
// is shortened.
func whole(name, behind string, room, size float64) (string, pen.Letters) {
	const least = 4.5
	l := pen.Letters{Size: size, Bold: true}
	for l.Size > least && pen.Width(pen.Isolate(name)+behind, l) > room {
		l.Size = max(least, l.Size-0.5)
	}
	return pen.Fit(pen.Isolate(name), room-pen.Width(behind, l), l) + behind, l
}

// weight is a mass with its unit.
func (l *labels) weight(m measure.Mass) string {
	unit := " lb"
	if l.est.Units == measure.Millimetres {
		unit = " kg"
	}
	return l.speech.Phrase(m.Whole(l.est.Units) + unit)
}

// corners says at which corners the piece meets others.
func (l *labels) corners(run int) string {
	text := ""
	for k := run - 1; k <= run; k++ {
		if k < 0 || k >= len(l.est.Corners) {
			continue
		}
		other := k + 1
		if other == run {
			other = k
		}
		if text != "" {
			text += "; "
		}
		number, name := strconv.Itoa(k+1), pen.Short(l.est.Runs[other].Name, 12)
		if l.est.InLine(k) {
			text += l.say("seam %s: %s", number, name)
		} else {
			text += l.say("corner %s: %s", number, name)
		}
	}
	return text
}

// panel says from which panel a piece is cut.
func (l *labels) panel(run string, boards [][]takeoff.Board) string {
	for _, stock := range boards {
		for b := range stock {
			for s := range stock[b].Strips {
				for _, stave := range stock[b].Strips[s].Staves {
					if stave.Run == run && stave.Number == 0 {
						return l.say("from panel %s", strconv.Itoa(stock[b].Number))
					}
				}
			}
		}
	}
	return ""
}

// stave draws a stave's label: it is stuck to the face that comes up.
func (l *labels) stave(b *takeoff.Board, strip int, s *takeoff.Stave, x, y, w, high float64) {
	which, sawn := "", catalogue.FlatSawn
	for i := range l.est.Runs {
		if r := &l.est.Runs[i]; r.Name == s.Run {
			which, sawn = l.place(&r.Blank, s.Number), r.Sawn
		}
	}
	const rings = 13.0
	room := w - 2*inset - rings - 2
	name, big := whole(s.Run, " "+strconv.Itoa(s.Number), room, 7.5)
	l.p.Text(x+inset, y+8.4, name, big)
	l.end(l.p, sawn, s.Number-1, x+w-inset-rings, y+3, rings, 5.4)
	l.lines(x+inset, y+8.8, w-2*inset, y+staveHigh-5,
		which,
		l.say("%s long, ripped %s", l.text(s.Length), l.phrase(s.Rip, measure.Measured)),
		l.say("board %s, strip %s", strconv.Itoa(b.Number), strconv.Itoa(strip+1)))
	l.job(x+inset, y+high)
}

// place says where a stave belongs in its blank as the blank is drawn: counted from the front of its layer, in the strips under
// a slab, as a block there, whose numbers follow, or as a piece of a stave that is joined end to end.
func (l *labels) place(b *takeoff.Blank, number int) string {
	of, deep := b.LayerStaves(), b.Layers
	if of == 0 {
		return ""
	}
	layer, at := (number-1)/of, (number-1)%of+1
	switch {
	case number > b.Parts():
		return l.say("block %s of %s under the slab", strconv.Itoa(number-b.Parts()), strconv.Itoa(b.BlockCount()))
	case b.Joined.Count > 0:
		return l.say("piece %s of %s, finger-jointed", strconv.Itoa(number), strconv.Itoa(b.Parts()))
	case b.BuiltUp() && number > of:
		return l.say("%s of %s for the strips under the slab", strconv.Itoa(number-of), strconv.Itoa(b.Staves-of))
	case b.BuiltUp() || deep < 2:
		return l.say("%s of %s, counted from the front", strconv.Itoa(at), strconv.Itoa(of))
	case at == of && halved(layer, of):
		return l.say("layer %s: halved, front and wall", strconv.Itoa(layer+1))
	default:
		return l.say("layer %s: %s of %s from the front", strconv.Itoa(layer+1), strconv.Itoa(at), strconv.Itoa(of))
	}
}

// sawnWords is how wood is sawn, as drawings say it.
func sawnWords(s catalogue.Sawn) string {
	if s == catalogue.MixedSawn {
		return "mixed"
	}
	return string(s) + "-sawn"
}
