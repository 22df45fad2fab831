// Package boards draws a cutting plan: every strip with the pieces that are cut from it and what is left.
package boards

import (
	"fmt"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// Sizes in millimetres of paper.
const (
	width  = 174.0
	label  = 16.0 // room for "3 ×" before a strip
	high   = 7.5
	gap    = 5.2
	top    = 8.0
	atRest = 22.0 // room for the length behind a strip
)

// Draw returns the plan as an SVG document with the material's name over it; id begins its identifiers.
func Draw(plan *estimate.LumberPlan, name string, units measure.System, id string) []byte {
	var p pen.Pen
	longest := measure.Length(1)
	for i := range plan.Strips {
		longest = max(longest, plan.Strips[i].Length)
	}
	scale := (width - label - atRest) / float64(longest)
	p.Text(0, 4, pen.Fit(name+": strips as they are cut, in "+units.String(), width, pen.Letters{Size: pen.Body, Bold: true}), pen.Letters{Size: pen.Body, Bold: true})
	y := top
	var said []string
	for i := range plan.Strips {
		s := &plan.Strips[i]
		said = append(said, strip(&p, s, y, scale, units))
		y += high + gap
	}
	if text := beyond(plan, units); text != "" {
		p.Text(0, y, pen.Fit(text, width, pen.Letters{Size: pen.Small}), pen.Letters{Size: pen.Small})
		said = append(said, text)
		y += gap
	}
	return p.Document(width, y, id, "Cutting plan of "+name, strings.Join(said, " "))
}

// beyond says which boards are bought but not cut.
func beyond(plan *estimate.LumberPlan, units measure.System) string {
	var list []string
	for _, b := range plan.Beyond() {
		list = append(list, fmt.Sprintf("%d × %s", b.Buy, b.Length.Text(units)))
	}
	if len(list) == 0 {
		return ""
	}
	return "Bought and not in the plan: " + strings.Join(list, ", ") + ", the grade's yield for wood that is not clear."
}

// strip draws one kind of strip and says in words what is on it.
func strip(p *pen.Pen, s *estimate.StripCut, y, scale float64, units measure.System) string {
	p.Text(label-2, y+high*0.68, fmt.Sprintf("%d ×", s.Count), pen.Letters{Size: pen.Body, At: pen.Right})
	length := float64(s.Length) * scale
	p.Rect(label, y, length, high, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	hatch(p, label+length-float64(s.Leftover)*scale, label+length, y)
	x := label
	var words []string
	for i := range s.Pieces {
		piece := &s.Pieces[i]
		w := float64(piece.Length) * scale
		p.Rect(x, y, w, high, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.Wood})
		text := pen.Isolate(piece.Run) + " " + piece.Length.Text(units)
		l := pen.Letters{Size: pen.Small, At: pen.Middle}
		p.Text(x+w/2, y+high*0.64, pen.Fit(text, w-1, l), l)
		words = append(words, piece.Run+" "+piece.Length.Text(units))
		x += w
	}
	p.Text(label+length+1.5, y+high*0.64, s.Length.Text(units), pen.Letters{Size: pen.Small, Ink: pen.Faint})
	p.Text(label, y+high+2.6, "left over "+s.Leftover.Text(units), pen.Letters{Size: pen.Small, Ink: pen.Faint})
	return fmt.Sprintf("%d strips of %s: %s; %s left.", s.Count, s.Length.Text(units), strings.Join(words, ", "), s.Leftover.Text(units))
}

// hatch marks what is left over, so that it reads without colour.
func hatch(p *pen.Pen, from, to, y float64) {
	const step = 2.2
	for x := from; x < to; x += step {
		end := min(x+high, to)
		p.Line(x, y+high, end, y+high-(end-x), pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
	}
}
