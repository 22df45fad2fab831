package plan

import (
	"math"
	"slices"

	"seamwright/service/drawing/pen"
)

// grain draws lines along a piece, with a gap round every label.
func (s *sheet) grain(i int) {
	r := &s.runs[i]
	depth := s.depth(i)
	step := math.Max(2.2, depth/14)
	var lines []pen.Point
	for across := step / 2; across < depth; across += step {
		base := move(r.wall[0], r.room, across)
		var cuts []float64
		for k, p := range r.outline {
			q := r.outline[(k+1)%len(r.outline)]
			hp := (p.X-base.X)*r.room.X + (p.Y-base.Y)*r.room.Y
			hq := (q.X-base.X)*r.room.X + (q.Y-base.Y)*r.room.Y
			if (hp > 0) != (hq > 0) {
				x := pen.At(p.X+(q.X-p.X)*hp/(hp-hq), p.Y+(q.Y-p.Y)*hp/(hp-hq))
				cuts = append(cuts, (x.X-base.X)*r.along.X+(x.Y-base.Y)*r.along.Y)
			}
		}
		slices.Sort(cuts)
		for k := 0; k+1 < len(cuts); k += 2 {
			lines = s.unlabelled(lines, segment{move(base, r.along, cuts[k]+0.8), move(base, r.along, cuts[k+1]-0.8)})
		}
	}
	s.Lines(lines, pen.Stroke{Ink: pen.Pale, Width: pen.Thin})
}

// ring draws a shape's outline as it is seen through the wood, with a gap round every label.
func (s *sheet) ring(to *pen.Pen, corners []pen.Point, look pen.Stroke) {
	var lines []pen.Point
	for i, p := range corners {
		lines = s.unlabelled(lines, segment{p, corners[(i+1)%len(corners)]})
	}
	to.Lines(lines, look)
}

// unlabelled adds the parts of a line that no label covers.
func (s *sheet) unlabelled(lines []pen.Point, l segment) []pen.Point {
	type gap struct{ from, to float64 }
	var gaps []gap
	whole := drawn{l, round(l.a, l.b)}
	for i := range s.ground.boxes {
		b := s.ground.boxes[i].grow(0.5)
		if whole.beside(&b) {
			continue
		}
		if from, to, hit := clip(l, b); hit {
			gaps = append(gaps, gap{from, to})
		}
	}
	slices.SortFunc(gaps, func(a, b gap) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	at := 0.0
	draw := func(from, to float64) {
		if (to-from)*distance(l.a, l.b) > 0.8 {
			lines = append(lines, pen.At(l.a.X+(l.b.X-l.a.X)*from, l.a.Y+(l.b.Y-l.a.Y)*from),
				pen.At(l.a.X+(l.b.X-l.a.X)*to, l.a.Y+(l.b.Y-l.a.Y)*to))
		}
	}
	for _, g := range gaps {
		draw(at, g.from)
		at = math.Max(at, g.to)
	}
	draw(at, 1)
	return lines
}
