package plan

import (
	"strings"

	"seamwright/service/drawing/pen"
)

func (s *sheet) holeName(i int) string { return s.kindName(s.est.Cutouts[i].Kind) }

func (s *sheet) kindName(kind string) string {
	return pen.Short(s.say(strings.ReplaceAll(kind, "_", " ")), nameLength)
}

// holeSizes writes each cut-out's name and size in it, and its distances from the front edge and the nearer end; one that has no room
// is told below the drawing, unless a table there says it.
func (s *sheet) holeSizes(holes []hole) {
	plain := pen.Letters{Size: pen.Body}
	for i := range holes {
		h := &holes[i]
		name, sizes := s.holeName(i), s.holeSize(h)
		c := middle(h.corners[0], h.corners[2])
		if !s.tryAt([]pen.Point{c}, []string{name, sizes}, plain, nil) &&
			!s.tryAt([]pen.Point{c}, []string{sizes}, plain, nil) &&
			!s.leader(c, []string{name, sizes}, plain, 30) {
			s.mark(c, s.say("Cut-out %s: %s", name, sizes))
		}
		front, along := s.frontSize(h), s.alongSize(h)
		if !along || !front && s.bare {
			s.mark(c, h.name+": "+s.holePlace(h))
		}
		s.box(h)
	}
}

// frontSize is a cut-out's distance from the front edge, in the wood before it. It reports whether there was room.
func (s *sheet) frontSize(h *hole) bool {
	if h.open[0] {
		return true // nothing to measure
	}
	r := &s.runs[h.run]
	l := distance(h.corners[0], h.corners[1])
	for _, share := range []float64{0.5, 0.3, 0.7, 0.1, 0.9} {
		p := move(h.corners[0], r.along, l*share)
		if s.dimension(p, move(p, r.room, float64(h.fromFront)/float64(s.ratio)), r.along, s.text(h.fromFront),
			[]float64{0}) {
			return true
		}
	}
	return false
}

// alongSize is a cut-out's distance from the nearer end of its piece: beside it in the wood, or outside at the wall, where
// nothing is in the way at a corner. It reports whether there was room.
func (s *sheet) alongSize(h *hole) bool {
	r := &s.runs[h.run]
	back, k := pen.At(-r.room.X, -r.room.Y), 1/float64(s.ratio)
	tip, to, figure, open := r.piece.from, h.corners[0], h.fromStart, h.open[3]
	if h.fromEnd < h.fromStart {
		tip, to, figure, open = r.piece.to, h.corners[1], h.fromEnd, h.open[1]
	}
	if open {
		return true // nothing to measure
	}
	end := move(r.wall[0], r.along, float64(tip)*k)
	t := (end.X-to.X)*r.along.X + (end.Y-to.Y)*r.along.Y
	for _, share := range []float64{0.5, 0.3, 0.7, 0.9, 0.1} {
		p := move(to, back, distance(h.corners[1], h.corners[2])*share)
		if s.dimension(p, move(p, r.along, t), back, s.text(figure), []float64{0}) {
			return true
		}
	}
	return s.dimension(move(end, r.along, -t), end, back, s.text(figure), []float64{4.5, 6.5, 8.5, 11, 14})
}
