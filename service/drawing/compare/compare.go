// Package compare draws the ways to make each corner side by side: a sketch of the joint, what the seam does through the
// year, its hardware and strength, hours, cost, and what speaks for and against it. A maker sees why one was chosen.
//
// It is pure: the same estimate and options give the same bytes.
package compare

import (
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Options say how a picture is drawn. The zero value is for paper.
type Options struct {
	Narrow bool // for a phone
	Speech pen.Speech
}

// picture is the drawing in the making: of an estimate, in a language.
type picture struct {
	pen.Pen
	e  *estimate.Estimate
	in pen.Speech
}

// Sizes in millimetres of paper.
const (
	margin     = 6.0
	gap        = 4.0
	inside     = 3.0 // of a card's frame
	wide       = 267.0
	narrow     = 92.0
	sketchSize = 34.0
	nameLength = 12
)

// across is how many cards stand beside each other.
func across(o Options) int {
	if o.Narrow {
		return 1
	}
	return 5
}

// Draw returns the picture as an SVG document. It returns a NotFound fault for a top without a corner.
func Draw(e *estimate.Estimate, o Options) ([]byte, error) {
	p, w, h, err := draw(e, o)
	if err != nil {
		return nil, err
	}
	return p.Document(w, h, "compare", p.in.Say("The ways to make each corner, side by side"), p.describe()), nil
}

func draw(e *estimate.Estimate, o Options) (*picture, float64, float64, error) {
	if len(e.Corners) == 0 {
		return nil, 0, 0, &fault.Fault{Kind: fault.NotFound,
			Detail: "This top has no corner, so there is nothing to compare."}
	}
	sheet := wide
	if o.Narrow {
		sheet = narrow
	}
	p := &picture{e: e, in: o.Speech}
	y := margin
	w := sheet - 2*margin
	if e.Reference != "" {
		l := pen.Letters{Size: pen.Title, Bold: true}
		for _, line := range pen.Wrap(pen.Isolate(e.Reference), w, l) {
			y += pen.Title * 1.15
			p.Text(margin, y, line, l)
		}
		y += pen.Title * 0.45
	}
	for c := range e.Corners {
		y = p.Headline(margin, y, w, p.cornerTitle(c)) + 1
		y = p.Paragraph(margin, y, w, p.told(e.Corners[c].Why), pen.Letters{Size: pen.Body}) + 2
		y = p.cards(c, y, w, across(o)) + gap
	}
	y = p.Paragraph(margin, y, w, p.in.Say("Sketches are not to scale. Points add up what speaks for a joint and take off what speaks against it; hours and cost are of the whole top with that joint, cost before margin and tax."),
		pen.Letters{Size: pen.Small, Ink: pen.Faint})
	return p, sheet, y + margin, nil
}

func (p *picture) cornerTitle(c int) string {
	if p.e.InLine(c) {
		return p.in.Say("Straight seam %s, %s and %s", strconv.Itoa(c+1), p.name(c), p.name(c+1))
	}
	return p.in.Say("Corner %s, %s to %s, %s°", strconv.Itoa(c+1), p.name(c), p.name(c+1),
		p.in.Number(trimmed(measure.Round(p.e.Corners[c].Angle.Degrees(), 2))))
}

func (p *picture) name(run int) string { return pen.Short(p.e.Runs[run].Name, nameLength) }

// told is what an answer says, in the drawing's language.
func (p *picture) told(text string) string { return p.in.Told(text) }

// cards draws the candidates of a corner in rows and returns where they end. The cards of a row are equally high.
func (p *picture) cards(c int, y, w float64, most int) float64 {
	list := p.e.Corners[c].Candidates
	places := min(most, max(len(list), 2)) // a way that has no other is no sheet wide
	most = min(most, len(list))
	each := (w - gap*float64(places-1)) / float64(places)
	for first := 0; first < len(list); first += most {
		row := list[first:min(first+most, len(list))]
		height := 0.0
		for i := range row {
			trial := picture{e: p.e, in: p.in} // only to learn how high it is
			height = max(height, trial.content(c, &row[i], 0, 0, each-2*inside)+2*inside)
		}
		for i := range row {
			x := margin + float64(i)*(each+gap)
			p.frame(&p.e.Corners[c], &row[i], x, y, each, height)
			p.content(c, &row[i], x+inside, y+inside, each-2*inside)
		}
		y += height + gap
	}
	return y - gap
}

// frame is thick round the chosen joint and dashed round one that cannot be made.
func (p *picture) frame(corner *estimate.CornerResult, k *estimate.Candidate, x, y, w, h float64) {
	line := pen.Stroke{Ink: pen.Faint, Width: pen.Medium}
	switch {
	case k.Joint == corner.Chosen:
		line = pen.Stroke{Ink: pen.Ink, Width: 2 * pen.Thick}
	case !k.Feasible:
		line.Dash = "2 1.5"
	}
	p.Rect(x, y, w, h, 1, line)
}

// content fills a card of inner width w and returns where it ends.
func (p *picture) content(c int, k *estimate.Candidate, x, y, w float64) float64 {
	p.sketch(c, k, x+w/2, y+sketchSize/2, w)
	y += sketchSize + 2
	head := pen.Letters{Size: pen.Head, Bold: true}
	for _, line := range pen.Wrap(p.title(c, k), w, head) {
		y += pen.Head * 1.25
		p.Text(x, y-0.8, line, head)
	}
	verdict := pen.Letters{Size: pen.Body, Bold: k.Joint == p.e.Corners[c].Chosen}
	y = p.Paragraph(x, y+0.5, w, p.standing(c, k), verdict) + 1
	for _, f := range p.facts(k) {
		y = p.fact(x, y, w, f)
	}
	y += 1.5
	for _, f := range p.reasons(k) {
		y = p.Paragraph(x, y+0.8, w, f, pen.Letters{Size: pen.Small, Ink: pen.Ink})
	}
	return y
}

// fact writes a name on the left and its figure on the right of one line, or on two where there is no room.
func (p *picture) fact(x, y, w float64, f [2]string) float64 {
	label, figure := pen.Letters{Size: pen.Small, Ink: pen.Faint}, pen.Letters{Size: pen.Small, At: pen.Right}
	y += pen.Small * 1.45
	if pen.Width(f[0], label)+pen.Width(f[1], figure)+2 > w {
		p.Text(x, y, pen.Fit(f[0], w, label), label)
		y += pen.Small * 1.45
	} else {
		p.Text(x, y, f[0], label)
	}
	p.Text(x+w, y, pen.Fit(f[1], w, figure), figure)
	return y
}

func (p *picture) describe() string {
	var all []string
	for c := range p.e.Corners {
		for i := range p.e.Corners[c].Candidates {
			k := &p.e.Corners[c].Candidates[i]
			if p.e.InLine(c) {
				all = append(all, p.in.Say("Seam %s, %s: %s.", strconv.Itoa(c+1), p.title(c, k), p.standing(c, k)))
				continue
			}
			all = append(all, p.in.Say("Corner %s, %s: %s.", strconv.Itoa(c+1), p.title(c, k),
				strings.TrimSuffix(p.standing(c, k), ".")))
		}
	}
	return strings.Join(all, " ")
}
