package plan

import (
	"strconv"
	"strings"

	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	layout "seamwright/service/plan"
)

// key explains the lines and gives the scale.
func (s *sheet) key(x, y, w float64) float64 {
	small := pen.Letters{Size: pen.Small}
	items := []struct {
		word string
		draw func(x, y float64)
	}{
		{"wall", func(x, y float64) { s.hatchedWall(&s.Pen, pen.At(x, y), pen.At(x+9, y), pen.At(0, -1)) }},
		{"visible front", func(x, y float64) { s.Line(x, y, x+9, y, pen.Stroke{Ink: pen.Ink, Width: 0.7}) }},
		{"seam", func(x, y float64) { s.Line(x, y, x+9, y, pen.Stroke{Ink: pen.Ink, Width: 0.4}) }},
		{"grain", func(x, y float64) {
			s.Rect(x, y-1.6, 9, 2.8, 0, pen.Stroke{Fill: pen.Wood})
			s.Line(x, y-0.9, x+9, y-0.9, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
			s.Line(x, y+0.5, x+9, y+0.5, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
		}},
	}
	at, line := x, y+3
	for _, i := range items {
		if i.word == "seam" && len(s.est.Corners) == 0 {
			continue
		}
		i.word = s.say(i.word)
		step := 10.5 + pen.Width(i.word, small) + 4
		if at+step > x+w {
			at, line = x, line+4.5
		}
		i.draw(at, line-0.8)
		s.Text(at+10.5, line, i.word, small)
		at += step
	}
	return s.ScaleBar(x, line+3, w, s.ratio, s.inches(), !s.o.Narrow && !s.o.Screen, s.o.Speech) + 3
}

// lists are the marks' meanings and what the drawing shows, in rows.
func (s *sheet) lists(x, y, w float64) float64 {
	if len(s.legend) > 0 {
		y = s.Headline(x, y, w, s.say("Marks"))
		for _, line := range s.legend {
			y = s.Paragraph(x, y, w, line, pen.Letters{Size: pen.Body})
		}
		y += 3
	}
	rows := [][]string{{s.say("run"), s.say("wood"), s.say("piece, tip to tip × depth"), s.say("gap at wall"),
		s.say("weight")}}
	shares := []float64{0.2, 0.28, 0.26, 0.13, 0.13}
	for i := range s.runs {
		r := &s.est.Runs[i]
		rows = append(rows, []string{r.Name, pen.Isolate(s.o.Speech.Name(r.Wood)) + ", " + s.say(string(r.Sawn)+"-sawn"),
			s.text(r.Piece.LongEdge) + " × " + s.text(r.Depth), s.least(r.GapAtWall()), s.mass(r.Piece.Mass.Whole(s.est.Units))})
	}
	y = s.table(x, y, w, s.say("Pieces"), shares, rows)
	rows = [][]string{{s.say("corner"), s.say("angle"), s.say("joint")}}
	for k := range s.est.Corners {
		row := []string{strconv.Itoa(k + 1), s.degrees(s.est.Corners[k].Angle), s.jointText(k)}
		if c := s.chosen(k); c != nil {
			row[2] += ", " + s.say("seam %s long", s.text(c.Geometry.SeamLength)) + s.swings(k)
		}
		rows = append(rows, row)
	}
	y = s.table(x, y, w, s.say("Corners"), []float64{0.12, 0.16, 0.72}, rows)
	rows = [][]string{{s.say("cut-out"), s.say("run"), s.say("size"), s.say("place")}}
	for i := range s.est.Cutouts {
		if h, ok := s.hole(&s.est.Cutouts[i]); ok {
			rows = append(rows, []string{s.holeName(i), s.est.Cutouts[i].Run, s.holeSize(&h),
				s.holePlace(&h)})
		}
	}
	y = s.table(x, y, w, s.say("Cut-outs"), []float64{0.19, 0.13, 0.26, 0.42}, rows)
	return s.table(x, y, w, s.say("Base"), []float64{0.12, 0.3, 0.14, 0.14, 0.16, 0.14}, s.baseRows())
}

// swings says how far the far ends of a corner's runs swing towards their walls, those that do.
func (s *sheet) swings(k int) (words string) {
	for _, r := range s.est.Runs[k : k+2] {
		if r.Movement.Swing > 0 {
			words += ", " + s.say("far end of %s swings %s", r.Name, s.least(r.Movement.Swing))
		}
	}
	return words
}

// least is a least size: rounded up.
func (s *sheet) least(l measure.Length) string {
	return s.o.Speech.Number(l.TextAs(s.est.Units, measure.Least))
}

// holePlace tells where a cut-out is, from the nearer end of its own piece and from its front edge.
func (s *sheet) holePlace(h *hole) string {
	end, from, open := s.endName(h.run, false), h.fromStart, h.open[3]
	if h.fromEnd < h.fromStart {
		end, from, open = s.endName(h.run, true), h.fromEnd, h.open[1]
	}
	switch {
	case h.open[0] && !open:
		return s.say("%s from %s, open at the front", s.text(from), end)
	case open && !h.open[0]:
		return s.say("%s from front, open at the end", s.text(h.fromFront))
	}
	place := s.say("%s from %s, %s from front", s.text(from), end, s.text(h.fromFront))
	if h.making != nil && h.making.Mount == estimate.MountUnder {
		place += ", " + s.say("hung below")
	}
	return place
}

// endName names an end of a piece: its free end, or its tip at a corner.
func (s *sheet) endName(i int, last bool) string {
	k := i - 1
	if last {
		k = i
	}
	switch {
	case k >= 0 && k < len(s.est.Corners) && s.est.InLine(k):
		return s.say("its end at seam %s", strconv.Itoa(k+1))
	case k >= 0 && k < len(s.est.Corners):
		return s.say("its end at corner %s", strconv.Itoa(k+1))
	case last:
		return s.say("free end")
	default:
		return s.say("free start")
	}
}

func (s *sheet) jointText(k int) string {
	j := s.est.Corners[k].Chosen
	switch j.Through {
	case layout.First:
		return s.say("%s, %s goes through", s.jointWord(j), s.name(k))
	case layout.Second:
		return s.say("%s, %s goes through", s.jointWord(j), s.name(k+1))
	default:
		return s.jointWord(j)
	}
}

// table writes rows under a headline, the first row naming the columns; with no other rows it writes nothing. Cells are
// shortened to their columns, except the last one's, which wrap.
func (s *sheet) table(x, y, w float64, head string, shares []float64, rows [][]string) float64 {
	if len(rows) < 2 {
		return y
	}
	y = s.Headline(x, y, w, head)
	for n, row := range rows {
		l := pen.Letters{Size: pen.Body}
		if n == 0 {
			l = pen.Letters{Size: pen.Small, Ink: pen.Faint}
		}
		at, next := x, y+4
		for i, cell := range row {
			room := w*shares[i] - 1.5
			if n > 0 && i == 0 {
				l.Bold = true
				s.Text(at, y+3.2, fitted(cell, room, l), l)
				l.Bold = false
			} else {
				lines := pen.Wrap(pen.Short(cell, 300), room, l)
				for k, line := range lines {
					s.Text(at, y+3.2+float64(k)*3.4, line, l)
				}
				next = max(next, y+4+3.4*float64(len(lines)-1))
			}
			at += w * shares[i]
		}
		y = next
		s.Line(x, y, x+w, y, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
	}
	return y + 3
}

// description tells the drawing in words, names in full.
func (s *sheet) description() string {
	var b strings.Builder
	b.WriteString(s.say("Seen from above.") + " ")
	for i := range s.runs {
		r := &s.est.Runs[i]
		b.WriteString(s.say("Run %s of %s: %s along the wall, %s deep, visible front %s", pen.Isolate(r.Name),
			s.o.Speech.Name(r.Wood), s.text(s.runs[i].length), s.text(r.Depth), s.text(s.runs[i].frontLength)))
		if !s.customer {
			b.WriteString(", " + s.mass(r.Piece.Mass.Whole(s.est.Units)))
		}
		b.WriteString(". ")
		switch {
		case i >= len(s.est.Corners):
		case s.est.InLine(i):
			b.WriteString(s.say("Seam %s", strconv.Itoa(i+1)) + ": " + s.jointWord(s.est.Corners[i].Chosen) + ". ")
		default:
			b.WriteString(s.say("Corner %s: %s", strconv.Itoa(i+1), s.degrees(s.est.Corners[i].Angle)) + ", " +
				s.jointWord(s.est.Corners[i].Chosen) + ". ")
		}
	}
	for i := range s.est.Cutouts {
		if h, ok := s.hole(&s.est.Cutouts[i]); ok {
			b.WriteString(s.say("Cut-out %s in run %s: %s", pen.Isolate(s.say(s.est.Cutouts[i].Kind)),
				pen.Isolate(s.est.Cutouts[i].Run), s.holeSize(&h)) + ", " + s.holePlace(&h) + ". ")
		}
	}
	return b.String() + s.say("Lengths in %s.", s.unit())
}
