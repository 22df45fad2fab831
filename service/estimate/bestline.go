package estimate

import (
	"fmt"
	"math"

	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/scribe"
)

// throughEnd is the end of a piece that goes through at a corner: it lies along the other run's wall.
type throughEnd struct {
	piece, wall int            // the runs
	from, to    measure.Length // along the wall
	sin         measure.Length // of the corner's angle
}

// throughAt is the through piece's end at corner k, where one goes through and the walls turn into the room: beside the corner of the
// walls it takes d/sin θ of the other wall, d being its depth.
func (w *work) throughAt(k int, l *plan.Layout) (t throughEnd, ok bool) {
	s := &l.Seams[k]
	if !s.Joint.RunsThrough() || s.Angle >= 180*measure.Degree {
		return t, false
	}
	t = throughEnd{piece: k + 1, wall: k, sin: measure.Length(s.Angle.Sin())}
	if s.OnFirst {
		t.piece, t.wall = k, k+1
	}
	covered := w.runs[t.piece].Depth / t.sin
	if t.to = covered; t.wall == k {
		t.from, t.to = w.runs[k].Length-covered, w.runs[k].Length
	}
	return t, true
}

// beyond is by how much the end must reach further than to the best line of a wall, along its own run.
func (t *throughEnd) beyond(p *scribe.Profile) (most measure.Length) {
	if greatest(p) == 0 {
		return 0
	}
	for _, s := range p.Stretch(t.from, t.to).Stations {
		most = max(most, s.Extra/t.sin)
	}
	return most
}

// throughExtra is how much longer run i's blank is where its piece goes through to a wall that is not straight.
func (w *work) throughExtra(i int, l *plan.Layout) (extra measure.Length) {
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		if t, ok := w.throughAt(k, l); ok && t.piece == i {
			extra += t.beyond(w.crooked[t.wall].wall)
		}
	}
	return extra
}

// warnThroughEnds says which ends of pieces are scribed to their neighbours' walls: their outlines do not show it.
func (w *work) warnThroughEnds(l *plan.Layout) {
	if w.crooked == nil {
		return
	}
	for k := range w.corners {
		t, ok := w.throughAt(k, l)
		if !ok {
			continue
		}
		if extra := t.beyond(w.crooked[t.wall].wall); extra > measure.Millimetre/20 {
			w.warn("through_end_scribed", Caution, "/site/walls", fmt.Sprintf("Run %s goes through to the wall of run %s, which is not straight there: its end is left longer by up to %s and scribed with that wall. Its outline does not show this.",
				w.runs[t.piece].Name, w.runs[t.wall].Name, w.phraseUp(extra)))
		}
	}
}

// warnBestLines says where a corner's angle between the strings is another than the one between the best lines, along which the pieces
// lie. Seen from the corner the first run's wall comes into the room by its slope, the second's draws back by its own.
func (w *work) warnBestLines(l *plan.Layout) {
	if w.crooked == nil {
		return
	}
	slope := func(i int) float64 {
		if p := w.crooked[i].wall; greatest(p) > 0 {
			return math.Atan(p.Slope)
		}
		return 0 // a straight wall is its own best line, however the string was held
	}
	for k := range w.corners {
		if w.corners[k].inLine != nil {
			continue
		}
		turn := measure.Angle(slope(k+1) - slope(k))
		gap := l.Seams[k].Length * measure.Length(math.Abs(turn.Sin()))
		if gap <= w.set.HairlineGap {
			continue
		}
		angle := w.corners[k].angle
		w.warn("corner_between_best_lines", Caution, fmt.Sprintf("/top/corners/%d/angle", k),
			fmt.Sprintf("The corner's angle counts between the best lines of its walls. If %.2f° was measured between the strings, it is %.2f° between the best lines: give that, or the seam gapes by up to %s at one end.",
				angle.Degrees(), (angle+turn).Degrees(), w.phraseUp(gap)))
	}
}
