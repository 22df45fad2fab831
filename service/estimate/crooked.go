package estimate

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/labour"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/scribe"
	"seamwright/service/takeoff"
)

// Edge of a run that a wall stands at.
const (
	AtWall  = "wall"
	AtStart = "start"
	AtEnd   = "end"
)

// WallOrder is a wall that is not straight: offsets from a string along an edge of a run.
type WallOrder struct {
	Run     string
	Edge    string // AtWall, AtStart or AtEnd
	Left    bool   // straight: it is not scribed, and its gap is covered as it is
	Offsets []scribe.Offset

	profile *scribe.Profile // laid already, along the run that this is a piece of; nil: not yet
}

// Crooked is what a wall asks of a run's piece.
type Crooked struct {
	Edge     string
	Length   measure.Length // of this edge of the piece, with the ends of pieces that go through at its corners
	Slope    measure.Angle  // of the best line against the string
	Stations []scribe.Station
	Greatest measure.Length // the blank is wider, at an end longer, by it
	// Gap after scribing, and from where to where it would range without.
	Scribed, Least, Most measure.Length
	Left                 bool  // straight: nothing is scribed, the gap ranges from Least to Most
	Cover                Cover // of its gap
	Text                 string
}

// Finished is the piece's outline as it is cut: as the walls are where they are not straight, else the nominal one.
func (p *Piece) Finished() []plan.Point {
	if p.Scribed != nil {
		return p.Scribed
	}
	return p.Outline
}

// profiles are the walls of a run; nil where none was told.
type profiles struct{ wall, start, end *scribe.Profile }

func (p *profiles) at(edge string) **scribe.Profile {
	switch edge {
	case AtStart:
		return &p.start
	case AtEnd:
		return &p.end
	}
	return &p.wall
}

func greatest(p *scribe.Profile) measure.Length {
	if p == nil {
		return 0
	}
	return p.Greatest
}

// blankDepth is how deep run i's blank must be before anything is scribed off it.
func (w *work) blankDepth(i int) measure.Length {
	if w.crooked == nil {
		return w.runs[i].Depth
	}
	return w.runs[i].Depth + greatest(w.crooked[i].wall)
}

// blankOf is the blank of run i: wider and longer by what is scribed off it.
func (w *work) blankOf(i int, l *plan.Layout) takeoff.Blank {
	extent := l.Pieces[i].Extent
	if w.crooked != nil {
		c := &w.crooked[i]
		extent += greatest(c.start) + greatest(c.end) + w.throughExtra(i, l)
		if outline := w.scribedOutline(i, l); outline != nil { // a mitred tip that reaches further back is longer as well
			from, to := measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
			for _, p := range outline {
				along, _ := l.Local(i, p)
				from, to = min(from, along), max(to, along)
			}
			extent = max(extent, to-from)
		}
	}
	return takeoff.BlankOf(extent, w.blankDepth(i), w.order.Top.Thickness, w.set)
}

// resolveWalls checks the walls and lays the best line along each. All that is wrong comes at once.
func (w *work) resolveWalls() error {
	walls := w.order.Site.Walls
	if len(walls) == 0 {
		return nil
	}
	w.crooked, w.left = make([]profiles, len(w.runs)), make([]profiles, len(w.runs))
	var wrong fault.List
	for i := range walls {
		wrong.Add(fmt.Sprintf("/%d", i), w.resolveWall(&walls[i]))
	}
	return wrong.Err()
}

func (w *work) resolveWall(wall *WallOrder) error {
	i := -1
	for k := range w.runs {
		if w.runs[k].Name == wall.Run {
			i = k
		}
	}
	if i < 0 {
		return unknownRun(wall.Run, w.runs)
	}
	if wall.profile != nil {
		*w.crooked[i].at(wall.Edge) = wall.profile
		return nil
	}
	var wrong fault.List
	along, across := w.runs[i].Length, w.runs[i].Depth
	switch {
	case wall.Edge == AtWall:
	case wall.Edge == AtStart && i > 0, wall.Edge == AtEnd && i < len(w.runs)-1:
		wrong.Add("", impossible("/edge", fmt.Sprintf("Run %s has no free %s: there it meets its neighbour.", wall.Run, wall.Edge),
			"Give the offsets of the walls and of the chain's free ends."))
	default:
		along, across = across, along
	}
	at, other := w.crooked[i].at(wall.Edge), w.left[i].at(wall.Edge)
	if wall.Left {
		at, other = other, at
	}
	if *at != nil || *other != nil {
		wrong.Add("", impossible("/edge", fmt.Sprintf("This edge of run %s has offsets already.", wall.Run), "Give all of them in one list."))
	}
	for k, o := range wall.Offsets {
		here := fmt.Sprintf("/offsets/%d", k)
		if o.At > along+1e-6 {
			wrong.Add(here, impossible("/at", fmt.Sprintf("The station at %s lies beyond the edge, which is %s long.", w.phrase(o.At),
				w.phrase(along)), ""))
		}
		if k > 0 && o.At <= wall.Offsets[k-1].At {
			wrong.Add(here, impossible("/at", "Stations are told in order, each further along than the one before.", ""))
		}
		if o.Off <= -across {
			wrong.Add(here, impossible("/offset", fmt.Sprintf("The wall would cross the other side of the slab: it bulges %s there, and the slab reaches %s.",
				w.phrase(-o.Off), w.phrase(across)), "Offsets are positive where the wall draws back from the room."))
		}
	}
	if err := wrong.Err(); err != nil {
		return err
	}
	p := scribe.Of(wall.Offsets)
	*at = &p
	return nil
}

// crookedOf is what the walls of run i ask, in the order wall, start, end; nil where none was told.
func (w *work) crookedOf(i int, r *RunResult, l *plan.Layout) []Crooked {
	if w.crooked == nil {
		return nil
	}
	var out []Crooked
	for _, edge := range []string{AtWall, AtStart, AtEnd} {
		p, left := *w.crooked[i].at(edge), *w.left[i].at(edge)
		if p == nil && left == nil {
			continue
		}
		straight := p == nil
		if straight {
			p = left
		}
		gap := w.set.WallAllowance // a free end needs no more: along the grain wood hardly moves
		if edge == AtWall {
			gap = r.GapAtWall()
		}
		c := Crooked{Edge: edge, Length: w.edgeLength(edge, i, l), Slope: measure.Angle(math.Atan(p.Slope)), Stations: p.Stations, Greatest: p.Greatest,
			Scribed: gap, Least: gap, Most: gap + p.Greatest, Left: straight, Cover: r.WallJoint.Cover}
		if edge != AtWall {
			c.Cover, _ = w.coverOfEnd(i, edge)
		}
		c.Text = w.crookedText(&c, r.Name)
		out = append(out, c)
	}
	return out
}

func (w *work) crookedText(c *Crooked, run string) string {
	side := map[string]string{AtWall: "wall", AtStart: "start", AtEnd: "end"}[c.Edge]
	if c.Greatest == 0 {
		return fmt.Sprintf("The %s of run %s is straight: nothing is to be scribed.", side, run)
	}
	if c.Left {
		how := "seal it"
		if c.Cover == CoverStrip {
			how = "cover it with a strip"
		}
		return fmt.Sprintf("The %s of run %s is left straight: the gap is from %s to %s; %s.", side, run, w.phrase(c.Least), w.phraseUp(c.Most), how)
	}
	text := fmt.Sprintf("Scribe the %s of run %s: up to %s comes off the blank, which is larger by that.", side, run, w.phraseUp(c.Greatest))
	if c.Most <= w.set.WallGapLimit {
		return text + fmt.Sprintf(" Left straight, the gap would be from %s to %s, which a covering still hides.", w.phrase(c.Least),
			w.phraseUp(c.Most))
	}
	return text + fmt.Sprintf(" Left straight, the gap would be from %s to %s, more than a covering hides.", w.phrase(c.Least),
		w.phraseUp(c.Most))
}

// edgeLength is how much of a wall's edge is scribed: of run i's piece and of the ends of pieces that go through there. Free ends are
// square.
func (w *work) edgeLength(edge string, i int, l *plan.Layout) measure.Length {
	if edge != AtWall {
		return w.runs[i].Depth
	}
	length := l.Pieces[i].WallEdge
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		if t, ok := w.throughAt(k, l); ok && t.wall == i {
			length += t.to - t.from
		}
	}
	return length
}

// scribedEdges is how many metres of edge are scribed: every edge whose wall is not straight, from end to end.
func (w *work) scribedEdges(pieces []*shape) (run measure.Length) {
	for i := range w.crooked {
		run += pieces[i].wallEdge
		for _, end := range [...]*scribe.Profile{w.crooked[i].start, w.crooked[i].end} {
			if greatest(end) > 0 {
				run += w.runs[i].Depth
			}
		}
	}
	return run
}

// warnWalls says of each run that is scribed that the plan of work has no step for it, where the shop's catalogue has none.
func (w *work) warnWalls(steps []labour.Step) {
	if slices.ContainsFunc(steps, func(s labour.Step) bool { return s.When == catalogue.IfScribedWall }) {
		return
	}
	for i := range w.crooked {
		c := &w.crooked[i]
		if most := max(greatest(c.wall), greatest(c.start), greatest(c.end)); most > 0 {
			w.warn("scribing_not_in_plan", Info, "/site/walls",
				fmt.Sprintf("Run %s is scribed by up to %s: the plan of work has no step for scribing to walls, so add its time.",
					w.runs[i].Name, w.phraseUp(most)))
		}
	}
}

// scribedOutline is run i's piece with its edges as the walls are; nil where they are straight or not told. It follows the
// nominal outline: each crooked edge is drawn out to the wall, station by station, and its ends along the cuts that meet
// it.
func (w *work) scribedOutline(i int, l *plan.Layout) []plan.Point {
	if w.crooked == nil {
		return nil
	}
	c := &w.crooked[i]
	if greatest(c.wall)+greatest(c.start)+greatest(c.end) == 0 {
		return nil
	}
	type local struct{ along, in measure.Length } // in: from the front
	outline := l.Pieces[i].Outline
	n := len(outline)
	nominal := make([]local, n)
	for k, p := range outline {
		nominal[k].along, nominal[k].in = l.Local(i, p)
	}
	depth, length := w.runs[i].Depth, w.runs[i].Length
	near := func(a, b measure.Length) bool { return magnitude(a-b) < 1e-3 }
	edgeOf := func(a, b local) *scribe.Profile {
		switch {
		case near(a.in, depth) && near(b.in, depth):
			return c.wall
		case i == 0 && near(a.along, 0) && near(b.along, 0):
			return c.start
		case i == len(w.runs)-1 && near(a.along, length) && near(b.along, length):
			return c.end
		}
		return nil
	}
	// out moves a place beyond an edge by what the wall draws back there; towards is the cut that the place slides along.
	out := func(p local, of *scribe.Profile, towards local) local {
		if of == nil {
			return p
		}
		if of == c.wall {
			extra := of.ExtraAt(p.along)
			if rise := p.in - towards.in; magnitude(rise) > 1e-6 {
				p.along += (p.along - towards.along) / rise * extra
			}
			p.in += extra
			return p
		}
		extra := of.ExtraAt(depth - p.in)
		if of == c.start {
			p.along -= extra
		} else {
			p.along += extra
		}
		return p
	}
	most := n
	for _, edge := range [...]*scribe.Profile{c.wall, c.start, c.end} {
		if edge != nil {
			most += len(edge.Stations)
		}
	}
	points := make([]plan.Point, 0, most)
	add := func(p local) { points = append(points, l.Place(i, p.along, p.in)) }
	for k := range n {
		before, here, after := nominal[(k+n-1)%n], nominal[k], nominal[(k+1)%n]
		into, from := edgeOf(before, here), edgeOf(here, after)
		corner := here
		if into == c.wall && into != nil {
			corner = out(corner, into, after)
		}
		if from == c.wall && from != nil {
			corner = out(corner, from, before)
		}
		for _, end := range []*scribe.Profile{into, from} {
			if end != nil && end != c.wall {
				corner = out(corner, end, corner)
			}
		}
		add(corner)
		if from == nil {
			continue
		}
		place := func(s *scribe.Station) local {
			if from == c.wall {
				return local{s.At, depth + s.Extra}
			}
			p := local{here.along, depth - s.At}
			return out(p, from, p)
		}
		between := func(x, a, b measure.Length) bool { return x > min(a, b)+1e-6 && x < max(a, b)-1e-6 }
		forward := from == c.wall && after.along > here.along || from != c.wall && after.in < here.in
		for m := range from.Stations {
			s := &from.Stations[m]
			if !forward {
				s = &from.Stations[len(from.Stations)-1-m]
			}
			inside := between(s.At, here.along, after.along)
			if from != c.wall {
				inside = between(depth-s.At, here.in, after.in)
			}
			if inside {
				add(place(s))
			}
		}
	}
	return points
}

// coverOfEnd is what covers the gap at a free end that stands at a wall, and how wide that gap is where it is widest. Along the
// grain wood hardly moves: the gap is the allowance, and what the wall draws back where the end is left straight.
func (w *work) coverOfEnd(i int, edge string) (Cover, measure.Length) {
	widest := w.set.WallAllowance + greatest(*w.left[i].at(edge))
	if widest > w.set.WallGapLimit {
		return CoverStrip, widest
	}
	return CoverSealant, widest
}

// drawsBack is by how much the wall edge of run i, left straight, gapes more at its widest than at its narrowest.
func (w *work) drawsBack(i int) measure.Length {
	if w.left == nil {
		return 0
	}
	return greatest(w.left[i].wall)
}

// coverEnds is how much sealant and strip the free ends take that are told to stand at walls.
func (w *work) coverEnds() (sealant measure.Volume, strip measure.Length) {
	for i := range w.crooked {
		for _, edge := range [...]string{AtStart, AtEnd} {
			if *w.crooked[i].at(edge) == nil && *w.left[i].at(edge) == nil {
				continue
			}
			depth := w.runs[i].Depth
			if cover, widest := w.coverOfEnd(i, edge); cover == CoverStrip {
				strip += depth
			} else {
				sealant += measure.Volume(float64(widest) * float64(max(leastSealant, widest/2)) * float64(depth))
			}
		}
	}
	return sealant, strip
}
