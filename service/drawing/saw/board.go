package saw

import (
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/takeoff"
)

// Sizes of a board on the paper, in millimetres.
const (
	left   = 12.0 // for the board's number
	right  = 50.0 // for the strips' widths, and what is left where it has no room for its figure
	strip  = 6.6  // of a strip, whatever its width
	kerf   = 0.9  // between strips
	above  = 5.4  // for the board's title
	margin = 1.8  // under it
)

// board draws one board: its strips one under the other, along their length true to scale.
func (s *Plan) board(w *estimate.LumberPlan, b *takeoff.Board, scale float64) Part {
	title := s.title(w, b)
	height := above + float64(max(1, len(b.Strips)))*(strip+kerf) + margin
	return finish(title, "board-"+strconv.Itoa(b.Number), height, func(p *pen.Pen, y float64) {
		p.Rect(0, y+above-0.4, 9, strip+0.8, 0.8, pen.Stroke{Fill: pen.Ink})
		l := pen.Letters{Size: pen.Title, Bold: true, At: pen.Middle, Ink: pen.White}
		if b.Number > 99 {
			l.Size = pen.Head
		}
		p.Text(4.5, y+above+strip/2+l.Size*0.36, strconv.Itoa(b.Number), l)
		p.Text(left, y+above-1.4, pen.Fit(title, Width-left, pen.Letters{Size: pen.Body}), pen.Letters{Size: pen.Body})
		at := y + above
		if len(b.Strips) == 0 {
			s.whole(p, b, at, scale)
			return
		}
		for i := range b.Strips {
			s.strip(p, b, &b.Strips[i], at, scale)
			at += strip + kerf
		}
	})
}

// title says what to buy for a board.
func (s *Plan) title(w *estimate.LumberPlan, b *takeoff.Board) string {
	number := strconv.Itoa(b.Number)
	switch least := b.LeastWidth(w); {
	case isPanel(w):
		return s.say("Panel %s: %s long", number, s.long(b.Length))
	case least == 0:
		return s.say("Board %s: %s long", number, s.long(b.Length))
	default:
		return s.say("Board %s: %s long, at least %s wide", number, s.long(b.Length), s.phrase(least, measure.Least))
	}
}

// whole draws a board that the plan does not cut.
func (s *Plan) whole(p *pen.Pen, b *takeoff.Board, y, scale float64) {
	length := float64(b.Length) * scale
	p.Rect(left, y, length, strip, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White, Dash: "2 1"})
	l := pen.Letters{Size: pen.Body, At: pen.Middle}
	p.Text(left+length/2, y+strip/2+1.1, pen.Fit(s.say("spare, not cut"), length-1, l), l)
}

// strip draws one strip with its staves and what is left of it.
func (s *Plan) strip(p *pen.Pen, b *takeoff.Board, t *takeoff.Strip, y, scale float64) {
	length := float64(b.Length) * scale
	p.Rect(left, y, length, strip, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.White})
	hatch(p, left+length-float64(t.Leftover)*scale, left+length, y)
	for i := range t.Staves {
		stave := &t.Staves[i]
		x, wide := left+float64(stave.From)*scale, float64(stave.Length)*scale
		p.Rect(x, y, wide, strip, 0, pen.Stroke{Ink: pen.Ink, Width: pen.Medium, Fill: pen.Wood})
		l := pen.Letters{Size: pen.Body, At: pen.Middle, Bold: true}
		p.Text(x+wide/2, y+strip/2+1.15, staveText(stave, s.text(stave.Length), wide-1, l), l)
	}
	var beside []string
	if t.Rip > 0 {
		beside = append(beside, s.say("rip %s", s.text(t.Rip)))
	}
	if t.Leftover > 0 {
		l := pen.Letters{Size: pen.Small, At: pen.Middle, Halo: true}
		words := s.say("left %s", s.text(t.Leftover))
		if t.Keep {
			words = s.say("keep %s", s.text(t.Leftover))
		}
		if pen.Width(words, l) < float64(t.Leftover)*scale-1 {
			p.Text(left+length-float64(t.Leftover)*scale/2, y+strip/2+1.05, words, l)
		} else {
			beside = append(beside, words)
		}
	}
	p.Text(left+length+1.5, y+strip/2+1.05, strings.Join(beside, ", "), pen.Letters{Size: pen.Small})
}

// StaveName is how a stave is called on drawings and labels.
func StaveName(s *takeoff.Stave) string {
	name := pen.Short(s.Run, nameLength)
	if s.Number > 0 {
		name += " " + strconv.Itoa(s.Number)
	}
	return name
}

// staveText is what stands in a drawn stave: its name and length, else its name. Where that has no room either, its piece's
// name is shortened, never its number; a short block, whose label says board and strip, may be without both.
func staveText(s *takeoff.Stave, length string, room float64, l pen.Letters) string {
	name := StaveName(s)
	for _, text := range []string{name + "  " + length, name} {
		if pen.Width(text, l) <= room {
			return text
		}
	}
	if s.Number == 0 {
		return pen.Fit(name, room, l)
	}
	number := strconv.Itoa(s.Number)
	if short := pen.Fit(s.Run, room-pen.Width(" "+number, l), l); len([]rune(short)) > 1 {
		return short + " " + number
	}
	return ""
}

// hatch marks what is left over, so that it reads without colour.
func hatch(p *pen.Pen, from, to, y float64) {
	const step = 2.2
	var ends []pen.Point
	for x := from; x < to; x += step {
		end := min(x+strip, to)
		ends = append(ends, pen.At(x, y+strip), pen.At(end, y+strip-(end-x)))
	}
	p.Lines(ends, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
}
