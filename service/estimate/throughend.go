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

// stretchOf is the end's stretch of a wall that is not straight, as the piece meets it: from the corner of the walls on, and what is
// removed counts from where this stretch draws back most. Nil where the wall is straight.
func (w *work) stretchOf(t *throughEnd) *scribe.Profile {
	whole := w.crooked[t.wall].wall
	if greatest(whole) == 0 {
		return nil
	}
	p := whole.Stretch(t.from, t.to)
	if t.wall < t.piece { // the wall comes to the corner
		p = p.Reversed(t.to - t.from)
	}
	p.Foremost()
	return p
}

// throughExtra is how much longer run i's blank is where its piece goes through to a wall that is not straight: its end is cut straight
// where that wall draws back most, and scribed from there.
func (w *work) throughExtra(i int, l *plan.Layout) (extra measure.Length) {
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		if t, ok := w.throughAt(k, l); ok && t.piece == i {
			if p := w.crooked[t.wall].wall; greatest(p) > 0 {
				_, most := p.Reach(t.from, t.to)
				extra += most / t.sin
			}
		}
	}
	return extra
}

// throughWalls are what the neighbours' walls ask of run i's piece, where it goes through to one that is not straight. There is one gap
// along a wall and one cover, whichever piece lies there.
func (w *work) throughWalls(i int, runs []RunResult, l *plan.Layout) (out []Crooked) {
	if w.crooked == nil {
		return nil
	}
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		t, ok := w.throughAt(k, l)
		if !ok || t.piece != i {
			continue
		}
		p, at := w.stretchOf(&t), &runs[t.wall]
		if p == nil {
			continue
		}
		gap := at.GapAtWall()
		c := Crooked{Edge: AtEnd, WallOf: at.Name, Length: t.to - t.from, Slope: measure.Angle(math.Atan(p.Slope)), Stations: p.Stations,
			Greatest: p.Greatest, Scribed: gap, Least: gap, Most: gap + p.Greatest, Cover: at.WallJoint.Cover}
		if k < i {
			c.Edge = AtStart
		}
		c.Text = w.throughText(&c, runs[i].Name)
		out = append(out, c)
	}
	return out
}

func (w *work) throughText(c *Crooked, run string) string {
	if c.Greatest == 0 {
		return fmt.Sprintf("Run %s goes through to the wall of run %s, which is straight there: nothing is to be scribed.", run, c.WallOf)
	}
	return fmt.Sprintf("Run %s goes through to the wall of run %s: scribe its %s to that wall; up to %s comes off the blank, which is longer for it.",
		run, c.WallOf, c.Edge, w.phraseUp(c.Greatest)) + w.ifLeftStraight(c)
}
