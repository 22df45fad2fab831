// Package days draws the labour steps as bars over the working days, with their waits.
package days

import (
	"fmt"
	"math"

	"seamwright/service/drawing/pen"
	"seamwright/service/labour"
)

// Sizes in millimetres of paper.
const (
	width = 174.0
	names = 62.0
	row   = 4.3
	top   = 9.0
	// hours is the working day that bars are drawn to; a step's day itself is reckoned with the shop's own hours.
	hours = 8.0
)

// Draw returns the chart as an SVG document; id begins its identifiers.
func Draw(plan *labour.Plan, id string) []byte {
	var p pen.Pen
	days := max(plan.WorkingDays, 1)
	if plan.NoPromise != "" {
		for i := range plan.Steps {
			days = max(days, plan.Steps[i].Day)
		}
	}
	scale := (width - names) / float64(days)
	bottom := top + float64(len(plan.Steps))*row
	grid(&p, days, scale, bottom)
	began := map[int]float64{} // how much of a day earlier steps take
	for i := range plan.Steps {
		s := &plan.Steps[i]
		y := top + float64(i)*row
		p.Text(6, y+row*0.72, fmt.Sprint(s.Number), pen.Letters{Size: pen.Small, At: pen.Right})
		l := pen.Letters{Size: pen.Small, Bold: s.Critical}
		p.Text(8, y+row*0.72, pen.Fit(s.Name, names-10, l), l)
		takes := s.Minutes.Expected / 60 / hours
		start := float64(s.Day-1) + math.Min(began[s.Day], 0.95)
		began[s.Day] += takes
		bar(&p, s, names+start*scale, math.Max(takes*scale, 0.8), y, scale)
	}
	p.Text(names, bottom+3.6, "Filled: work. Framed and hatched: waiting. Bold: the longest chain. Drawn to days of 8 hours.", pen.Letters{Size: pen.Small, Ink: pen.Faint})
	about, tall := fmt.Sprintf("%d steps over %d working days.", len(plan.Steps), days), bottom+5
	if plan.NoPromise != "" {
		about, tall = fmt.Sprintf("%d steps. %s", len(plan.Steps), plan.NoPromise), bottom+9
		p.Text(names, bottom+7.6, "No days are promised: the wood must rest first.", pen.Letters{Size: pen.Small, Bold: true})
	}
	return p.Document(width, tall, id, "The work over the days", about)
}

func grid(p *pen.Pen, days int, scale, bottom float64) {
	every := 1
	for float64(every)*scale < 7 {
		every++
	}
	for d := range days + 1 {
		x := names + float64(d)*scale
		p.Line(x, top-2, x, bottom, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
		if d < days && d%every == 0 {
			p.Text(x+0.8, top-3, fmt.Sprintf("day %d", d+1), pen.Letters{Size: pen.Small, Ink: pen.Faint})
		}
	}
}

func bar(p *pen.Pen, s *labour.Step, x, w, y, scale float64) {
	edge := width
	w = math.Min(w, edge-x)
	if s.WaitHours > 0 {
		wait := math.Min(s.WaitHours/24*scale, edge-x-w)
		if wait > 0.3 {
			p.Rect(x+w, y+0.9, wait, row-1.8, 0, pen.Stroke{Ink: pen.Faint, Width: pen.Thin, Fill: pen.White})
			for at := x + w; at < x+w+wait; at += 1.6 {
				end := math.Min(at+row-1.8, x+w+wait)
				p.Line(at, y+row-0.9, end, y+row-0.9-(end-at), pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
			}
		}
	}
	p.Rect(x, y+0.6, w, row-1.2, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Thin, Fill: pen.Ink})
}
