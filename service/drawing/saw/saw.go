// Package saw draws what stands at the saw: every board with the strips that are ripped from it, the staves that are crosscut from each
// and what is left; and every blank with its numbered staves, their growth rings and the finished piece in it.
//
// It is pure: the same estimate and options give the same bytes.
package saw

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// Options say how the plan is drawn. The zero value: in English.
type Options struct{ Speech pen.Speech }

// Width of the drawings, in millimetres: what the text of a page of A4 and of Letter holds.
const Width = 174.0

// Plan is the wood of a top, ready to be drawn whole or part by part.
type Plan struct {
	Stocks []Stock
	Blanks []Blank

	est    *estimate.Estimate
	speech pen.Speech
}

// Stock is the boards of one purchase.
type Stock struct {
	Name   string   // of the material, with how it is sawn
	Facts  []string // what to buy and how to rip, sentence by sentence
	Boards []Part
}

// Part is a piece of the plan that is not divided: a board or a blank.
type Part struct {
	Title   string
	Picture []byte // SVG of Width
	height  float64
	draw    func(p *pen.Pen, y float64)
}

// Blank is the stave layout of a piece.
type Blank struct {
	Run  string
	Part Part
}

// New lays the plan out. It returns an Impossible fault when the answer holds no purchase of wood.
func New(e *estimate.Estimate, o Options) (*Plan, error) {
	if len(e.Lumber) == 0 {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "This estimate holds no cutting plan."}
	}
	s := &Plan{est: e, speech: o.Speech}
	boards := e.Sawing()
	scale := s.scale(boards)
	for i := range e.Lumber {
		w := &e.Lumber[i]
		stock := Stock{Name: s.nameOf(i), Facts: s.facts(w, boards[i])}
		for n := range boards[i] {
			stock.Boards = append(stock.Boards, s.board(w, &boards[i][n], scale))
		}
		s.Stocks = append(s.Stocks, stock)
	}
	for i := range e.Runs {
		if e.Runs[i].Blank.Staves > 0 {
			s.Blanks = append(s.Blanks, Blank{Run: e.Runs[i].Name, Part: s.blank(i)})
		}
	}
	return s, nil
}

func (s *Plan) say(english string, values ...any) string { return s.speech.Say(english, values...) }

// text is a length without its unit.
func (s *Plan) text(l measure.Length) string { return s.speech.Number(l.Text(s.est.Units)) }

// phrase is a length with its unit, rounded to the side that its meaning asks for.
func (s *Plan) phrase(l measure.Length, size measure.Size) string {
	return s.speech.Number(l.TextAs(s.est.Units, size)) + " " + s.say(s.est.Units.String())
}

// long is a length of a board as a lumber yard says it: in whole feet where it is that, with the inches; else as any other.
func (s *Plan) long(l measure.Length) string {
	if feet := measure.Round(float64(l/measure.Foot), 4); s.est.Units == measure.Inches && feet == float64(int(feet)) {
		return strconv.Itoa(int(feet)) + " " + s.say("ft") + " (" + s.phrase(l, measure.Measured) + ")"
	}
	return s.phrase(l, measure.Measured)
}

// nameOf is the name of what purchase i buys, as the bill has it: of panels of several lengths all names.
func (s *Plan) nameOf(i int) string {
	var names []string
	for _, code := range s.est.Lumber[i].Materials() {
		names = append(names, s.billed(code, i))
	}
	return strings.Join(names, "; ")
}

// billed is the name of a material that purchase i buys. One that is bought in two sawings has two lines in the bill, in the order of
// the purchases.
func (s *Plan) billed(code string, i int) string {
	nth := 0
	for k := range i {
		if slices.Contains(s.est.Lumber[k].Materials(), code) {
			nth++
		}
	}
	for k := range s.est.Bill {
		if s.est.Bill[k].Item != code {
			continue
		}
		if nth == 0 {
			return s.speech.Told(s.est.Bill[k].Description)
		}
		nth--
	}
	return code
}

// isPanel says whether a purchase is of ready-made panels.
func isPanel(w *estimate.LumberPlan) bool { return w.NetBoardFeet == 0 }

// facts are what to buy of a stock, how to rip it, and why more is bought than is cut.
func (s *Plan) facts(w *estimate.LumberPlan, boards []takeoff.Board) (list []string) {
	var buy []string
	for _, b := range w.Boards {
		buy = append(buy, fmt.Sprintf("%d × %s", b.Buy, s.long(b.Length)))
	}
	if isPanel(w) {
		list = append(list, s.say("Get %s long.", strings.Join(buy, ", ")))
		return list
	}
	if least := w.LeastWidth(); least > 0 {
		mixed := ripsDiffer(boards)
		list = append(list, s.say("Get %s long, each at least %s wide between straight edges.", strings.Join(buy, ", "),
			s.phrase(least, measure.Least)),
			s.rip(w, mixed))
		if over := w.BoardWidth - least; over > measure.Millimetre {
			sentence := "Reckoned with boards of %s: of such a one %s is left over beside the strips."
			if mixed {
				sentence = "Reckoned with boards of %s: of such a one at least %s is left over beside the strips."
			}
			list = append(list, s.say(sentence, s.phrase(w.BoardWidth, measure.Measured), s.phrase(over, measure.Most)))
		}
	} else {
		list = append(list, s.say("Get %s long.", strings.Join(buy, ", ")), s.rip(w, false))
	}
	if w.MeasuredWidth > 0 {
		list = append(list, s.say("The boards are unedged: measured %s wide, they are reckoned with %s between straight edges.",
			s.phrase(w.MeasuredWidth, measure.Measured), s.phrase(w.BoardWidth, measure.Measured)))
	}
	if text := s.spare(w, boards); text != "" {
		list = append(list, text)
	}
	return list
}

// ripsDiffer says whether not all strips of a stock are ripped to one width.
func ripsDiffer(boards []takeoff.Board) bool {
	var first measure.Length
	for i := range boards {
		for _, strip := range boards[i].Strips {
			if strip.Rip == 0 { // nothing is cut from it
				continue
			}
			if first == 0 {
				first = strip.Rip
			}
			if !strip.Rip.Near(first) {
				return true
			}
		}
	}
	return false
}

// rip says into what a board is ripped; mixed when its strips are not all of one width.
func (s *Plan) rip(w *estimate.LumberPlan, mixed bool) string {
	n := strconv.Itoa(w.StripsPerBoard)
	switch {
	case w.LeastWidth() == 0 && w.StripsPerBoard == 1:
		return s.say("Rip one strip from each board.")
	case w.LeastWidth() == 0:
		return s.say("Rip %s strips from each board.", n)
	case mixed && w.StripsPerBoard == 1:
		return s.say("Rip one strip from each board, as wide as stands beside it; every crosscut takes %s.",
			s.phrase(w.Kerf, measure.Bore))
	case mixed:
		return s.say("Rip %s strips from each board, each as wide as stands beside it; every rip and crosscut takes %s.", n,
			s.phrase(w.Kerf, measure.Bore))
	case w.StripsPerBoard == 1:
		return s.say("Rip one strip of %s from each board; every crosscut takes %s.",
			s.phrase(w.StripWidth, measure.Measured), s.phrase(w.Kerf, measure.Bore))
	default:
		return s.say("Rip %s strips of %s from each board; every rip and crosscut takes %s.", n,
			s.phrase(w.StripWidth, measure.Measured), s.phrase(w.Kerf, measure.Bore))
	}
}

// spare explains the boards that are bought and not cut: how the grade's yield asks for them, and for which staves they are long enough.
func (s *Plan) spare(w *estimate.LumberPlan, boards []takeoff.Board) string {
	var numbers []string
	longest := measure.Length(0)
	for i := range boards {
		if boards[i].Spare {
			numbers = append(numbers, strconv.Itoa(boards[i].Number))
			longest = max(longest, boards[i].Length)
		}
	}
	volume := func(feet float64) string {
		amount, places := w.InUnit(feet)
		return s.speech.Amount(strconv.FormatFloat(amount, 'f', places, 64))
	}
	if w.YieldBoardFeet <= 0 {
		return ""
	}
	share := s.speech.Number(strconv.FormatFloat(100*w.NetBoardFeet/w.YieldBoardFeet, 'f', 1, 64))
	if len(numbers) == 0 {
		sentence := "No board is spare: the staves take %s board feet, the grade promises %s %% of clear wood, so %s are needed, and the boards that are cut hold %s."
		if w.Unit == catalogue.CubicMetre {
			sentence = "No board is spare: the staves take %s m³, of what is measured %s %% is clear wood between straight edges, so %s are needed, and the boards that are cut hold %s."
		}
		return s.say(sentence, volume(w.NetBoardFeet), share, volume(w.YieldBoardFeet), volume(w.PlanBoardFeet))
	}
	sentence := "Spare: board %s. The plan takes the boards for clear wood, the grade promises %s %% of it: %s board feet of staves need %s, and the boards that are cut hold %s. Staves that a knot or a split takes come from the spare."
	if w.Unit == catalogue.CubicMetre {
		sentence = "Spare: board %s. The plan takes the boards for clear wood, of what is measured %s %% is clear wood between straight edges: %s m³ of staves need %s, and the boards that are cut hold %s. Staves that a knot or a split takes come from the spare."
	}
	text := s.say(sentence, strings.Join(numbers, ", "), share, volume(w.NetBoardFeet), volume(w.YieldBoardFeet),
		volume(w.PlanBoardFeet))
	var short []string
	seen := map[string]bool{}
	for i := range w.Strips {
		for _, p := range w.Strips[i].Pieces {
			if p.Length > longest && !seen[p.Run] {
				seen[p.Run] = true
				short = append(short, pen.Short(p.Run, nameLength))
			}
		}
	}
	if len(short) > 0 {
		text += " " + s.say("It is too short for staves of %s: choose the clear boards for those.", strings.Join(short, ", "))
	}
	return text
}

// nameLength is how many letters of a run's name a line carries.
const nameLength = 24

// scale is that of all boards along their length, in paper per wood, so that they compare.
func (s *Plan) scale(boards [][]takeoff.Board) float64 {
	longest := measure.Length(1)
	for _, list := range boards {
		for i := range list {
			longest = max(longest, list[i].Length)
		}
	}
	return (Width - left - right) / float64(longest)
}

// SVG is the whole plan as one drawing.
func (s *Plan) SVG() []byte {
	var p pen.Pen
	const frame = 4.0
	w := Width + 2*frame
	title := s.say("Cutting plan, board by board")
	y := frame + pen.Title
	p.Text(frame, y, pen.Fit(title, Width, pen.Letters{Size: pen.Title, Bold: true}),
		pen.Letters{Size: pen.Title, Bold: true})
	y += 2
	if s.est.Reference != "" {
		y = p.Paragraph(frame, y, Width, pen.Isolate(s.est.Reference), pen.Letters{Size: pen.Head}) + 1
	}
	part := func(one *Part) {
		p.Raw(`<g transform="translate(4 0)">`)
		one.draw(&p, y)
		p.Raw("</g>\n")
		y += one.height
	}
	for i := range s.Stocks {
		y = p.Headline(frame, y+2, Width, s.Stocks[i].Name) + 1
		for _, fact := range s.Stocks[i].Facts {
			y = p.Paragraph(frame, y, Width, fact, pen.Letters{Size: pen.Body}) + 0.6
		}
		y += 2
		for n := range s.Stocks[i].Boards {
			part(&s.Stocks[i].Boards[n])
		}
	}
	if len(s.Blanks) > 0 {
		y = p.Headline(frame, y+2, Width, s.BlanksTitle()) + 1
		for _, fact := range s.Rings() {
			y = p.Paragraph(frame, y, Width, fact, pen.Letters{Size: pen.Body}) + 0.6
		}
		y += 2
		for i := range s.Blanks {
			part(&s.Blanks[i].Part)
		}
	}
	return p.Document(w, y+frame, "saw", title, s.about())
}

// BlanksTitle heads the stave layouts.
func (s *Plan) BlanksTitle() string { return s.say("The staves of each blank") }

// about tells the plan in words.
func (s *Plan) about() string {
	var texts []string
	for i := range s.Stocks {
		texts = append(texts, s.Stocks[i].Name+".")
		texts = append(texts, s.Stocks[i].Facts...)
	}
	return strings.Join(texts, " ")
}

// finish makes a part of what is drawn from a height of 0 on.
func finish(title, id string, height float64, draw func(p *pen.Pen, y float64)) Part {
	var p pen.Pen
	draw(&p, 0)
	return Part{Title: title, height: height, draw: draw, Picture: p.Document(Width, height, id, title, title)}
}
