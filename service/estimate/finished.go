package estimate

import (
	"slices"

	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/scribe"
)

// face is an edge of a piece's outline and the wall that it lies at.
type face struct {
	*scribe.Profile        // nil: it is straight
	edge            string // of the run
	run             int    // whose wall it is: the piece's own, or the one that it goes through to
	out             plan.Point
}

// at is the station of a place: along a wall from its run's start, along a free end from the wall.
func (f *face) at(w *work, l *plan.Layout, p plan.Point) measure.Length {
	along, in := l.Local(f.run, p)
	if f.edge == AtWall {
		return along
	}
	return w.runs[f.run].Depth - in
}

// extra is by how much the finished piece reaches beyond the nominal edge at a place.
func (f *face) extra(w *work, l *plan.Layout, p plan.Point) measure.Length {
	if f.Profile == nil {
		return 0
	}
	return f.ExtraAt(f.at(w, l, p))
}

// station is where the wall is at a station.
func (f *face) station(w *work, l *plan.Layout, s *scribe.Station) plan.Point {
	r := &w.runs[f.run]
	switch f.edge {
	case AtStart:
		return l.Place(f.run, -s.Extra, r.Depth-s.At)
	case AtEnd:
		return l.Place(f.run, r.Length+s.Extra, r.Depth-s.At)
	}
	return l.Place(f.run, s.At, r.Depth+s.Extra)
}

// faces are the edges of run i's nominal outline, each from its point to the next; crooked reports whether any is not straight.
func (w *work) faces(i int, l *plan.Layout) (all []face, crooked bool) {
	outline := l.Pieces[i].Outline
	var through [2]throughEnd
	ends := 0
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		if t, ok := w.throughAt(k, l); ok && t.piece == i && greatest(w.crooked[t.wall].wall) > 0 {
			through[ends] = t
			ends++
		}
	}
	c := &w.crooked[i]
	if ends == 0 && greatest(c.wall)+greatest(c.start)+greatest(c.end) == 0 {
		return nil, false
	}
	near := func(a, b measure.Length) bool { return magnitude(a-b) < 1e-3 }
	atWall := func(run int, a, b plan.Point) bool {
		_, in := l.Local(run, a)
		_, beyond := l.Local(run, b)
		return near(in, w.runs[run].Depth) && near(beyond, w.runs[run].Depth)
	}
	all = slices.Grow(w.faced[:0], len(outline))[:len(outline)]
	w.faced = all
	for k, a := range outline {
		b, f := outline[(k+1)%len(outline)], &all[k]
		*f = face{run: i}
		from, _ := l.Local(i, a)
		to, _ := l.Local(i, b)
		switch {
		case atWall(i, a, b):
			f.Profile, f.edge = c.wall, AtWall
		case i == 0 && near(from, 0) && near(to, 0):
			f.Profile, f.edge = c.start, AtStart
		case i == len(w.runs)-1 && near(from, w.runs[i].Length) && near(to, w.runs[i].Length):
			f.Profile, f.edge = c.end, AtEnd
		default:
			for _, t := range through[:ends] {
				if atWall(t.wall, a, b) {
					f.Profile, f.edge, f.run = w.crooked[t.wall].wall, AtWall, t.wall
				}
			}
		}
		if greatest(f.Profile) == 0 {
			f.Profile = nil
		}
		f.out = w.outOf(f, l, a, b)
	}
	return all, true
}

// outOf is the direction out of the wood, square to an edge from a to b; of an edge that is cut straight the one or the other.
func (w *work) outOf(f *face, l *plan.Layout, a, b plan.Point) plan.Point {
	if f.Profile == nil {
		d := a.Distance(b)
		return plan.Point{X: (b.Y - a.Y) / d, Y: (a.X - b.X) / d}
	}
	from, to := l.Place(f.run, 0, 0), l.Place(f.run, 0, 1)
	switch f.edge {
	case AtStart:
		to = l.Place(f.run, -1, 0)
	case AtEnd:
		to = l.Place(f.run, 1, 0)
	}
	return plan.Point{X: to.X - from.X, Y: to.Y - from.Y}
}

// scribedOutline is run i's piece with its edges as the walls are; nil where they are straight or not told. It follows the nominal
// outline: each crooked edge is drawn out to its wall, station by station, beyond the first and the last as far as there. Two edges meet
// where their lines do: a wall and a cut along the cut, two crooked walls where both are, each by its own offsets.
func (w *work) scribedOutline(i int, l *plan.Layout) []plan.Point {
	w.scribed = w.scribedIn(w.scribed, i, l)
	if len(w.scribed) == 0 {
		return nil
	}
	return slices.Clone(w.scribed)
}

// scribedIn is the same in a list that is there; empty where the edges are straight or not told.
func (w *work) scribedIn(points []plan.Point, i int, l *plan.Layout) []plan.Point {
	points = points[:0]
	if w.crooked == nil {
		return points
	}
	faces, crooked := w.faces(i, l)
	if !crooked {
		return points
	}
	outline := l.Pieces[i].Outline
	n := len(outline)
	corner := func(k int) plan.Point { return w.meeting(&faces[(k+n-1)%n], &faces[k], l, outline[k]) }
	for k := range n {
		f, here, next := &faces[k], corner(k), corner((k+1)%n)
		points = append(points, here)
		if f.Profile == nil {
			continue
		}
		a, b := f.at(w, l, here), f.at(w, l, next)
		for m := range f.Stations {
			s := &f.Stations[m]
			if a > b {
				s = &f.Stations[len(f.Stations)-1-m]
			}
			if s.At > min(a, b)+noiseOfSums && s.At < max(a, b)-noiseOfSums {
				points = append(points, f.station(w, l, s))
			}
		}
	}
	return points
}

// meeting is where two edges meet that meet at a point of the nominal outline, each as far out as its wall is there:
//
//	n₁·(p − p₀) = e₁(p),  n₂·(p − p₀) = e₂(p)
//
// Walls are so nearly straight that a few steps find it; at a jog, where they do not, the extras are those at the nominal point.
func (w *work) meeting(into, from *face, l *plan.Layout, at plan.Point) plan.Point {
	if into.Profile == nil && from.Profile == nil {
		return at
	}
	m, n := into.out, from.out
	det := m.X*n.Y - m.Y*n.X
	with := func(p plan.Point) plan.Point {
		a, b := into.extra(w, l, p), from.extra(w, l, p)
		if magnitude(det) < 1e-9 { // they go on in line
			out := max(a, b)
			return plan.Point{X: at.X + out*m.X, Y: at.Y + out*m.Y}
		}
		return plan.Point{X: at.X + (a*n.Y-b*m.Y)/det, Y: at.Y + (b*m.X-a*n.X)/det}
	}
	first := with(at)
	p := first
	for range 8 {
		next := with(p)
		if next.Distance(p) < 1e-9 {
			return next
		}
		p = next
	}
	return first
}
