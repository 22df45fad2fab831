// Package reliability draws how many finished jobs stayed under what they should not exceed with a chance of 50, 80 and
// 90
// percent: on the diagonal a range holds what it says.
//
// It is pure: the same figures give the same bytes.
package reliability

import (
	"strconv"

	"seamwright/service/drawing/pen"
	"seamwright/service/learning"
	"seamwright/service/measure"
)

// Sizes in millimetres of paper.
const (
	margin = 6.0
	left   = 12.0
	side   = 90.0 // of the square
	dot    = 1.3
)

// Draw returns the picture as an SVG document.
func Draw(estimated, learned [3]learning.Covered) []byte {
	p := &pen.Pen{}
	width := 2*margin + left + side + 4
	y := p.Headline(margin, margin, width-2*margin, "How often jobs stayed under their range") + 3
	x0, y0 := margin+left, y+side
	at := func(chance, share float64) (float64, float64) { return x0 + side*chance/100, y0 - side*share/100 }
	grid, small := pen.Stroke{
		Ink:   pen.Pale,
		Width: pen.Thin,
	}, pen.Letters{
		Size: pen.Small,
		Ink:  pen.Faint,
		At:   pen.Right,
	}
	for v := 0.0; v <= 100; v += 20 {
		x, y := at(v, v)
		p.Line(x, y0, x, y0-side, grid)
		p.Line(x0, y, x0+side, y, grid)
		text := strconv.FormatFloat(v, 'f', 0, 64)
		p.Text(x0-1, y+1, text, small)
		p.Text(x, y0+4, text, pen.Letters{Size: pen.Small, Ink: pen.Faint, At: pen.Middle})
	}
	p.Line(x0, y0, x0+side, y0-side, pen.Stroke{Ink: pen.Faint, Width: pen.Medium, Dash: "2 1.5"})
	p.Text(x0+side, y0+8.5, "chance that the range gives, %", small)
	p.Text(x0+1, y0-side+3, "jobs that stayed under it, %", pen.Letters{Size: pen.Small, Ink: pen.Faint})
	for i := range estimated {
		e, l := estimated[i], learned[i]
		x, low := at(e.Percent, max(e.Share()-2*e.Error, 0))
		_, high := at(e.Percent, min(e.Share()+2*e.Error, 100))
		p.Line(x, low, x, high, pen.Stroke{Ink: pen.Ink, Width: pen.Medium})
		x, y := at(l.Percent, l.Share())
		p.Circle(x, y, dot, pen.Stroke{Ink: pen.Humid, Width: pen.Medium, Fill: pen.White})
		x, y = at(e.Percent, e.Share())
		p.Circle(x, y, dot, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.Ink})
	}
	about := described(estimated, learned)
	y = p.Paragraph(
		margin,
		y0+11,
		width-2*margin,
		"Filled: by the estimates, with two standard errors. Hollow: by what was learned from the same jobs. "+about,
		pen.Letters{Size: pen.Small, Ink: pen.Faint},
	)
	return p.Document(width, y+margin, "calibration", "How often jobs stayed under their range", about)
}

func described(estimated, learned [3]learning.Covered) string {
	text := strconv.Itoa(estimated[0].Of) + " jobs."
	for i, e := range estimated {
		number := func(x float64) string { return strconv.FormatFloat(measure.Round(x, 1), 'f', -1, 64) }
		text += " P" + number(
			e.Percent,
		) + ": " + number(
			e.Share(),
		) + " % by the estimates, " + number(
			learned[i].Share(),
		) + " % by what was learned."
	}
	return text
}
