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
	WallOf   string         // the run whose wall it is, of an end that goes through to it at a corner; else empty
	Length   measure.Length // of this edge of the piece
	Slope    measure.Angle  // of the best line against the string
	Stations []scribe.Station
	Greatest measure.Length // the blank is wider, at a free end longer, by it
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

// blankLength is how long run i's blank must be before anything is scribed off it.
func (w *work) blankLength(i int, l *plan.Layout) measure.Length {
	extent := l.Pieces[i].Extent
	if w.crooked == nil {
		return extent
	}
	c := &w.crooked[i]
	extent += greatest(c.start) + greatest(c.end) + w.throughExtra(i, l)
	if w.scribed = w.scribedIn(w.scribed, i, l); len(w.scribed) > 0 { // a mitred tip that reaches further back is longer as well
		from, to := measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
		for _, p := range w.scribed {
			along, _ := l.Local(i, p)
			from, to = min(from, along), max(to, along)
		}
		extent = max(extent, to-from)
	}
	return extent
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
		wrong.Add(numbered("/", i), w.resolveWall(&walls[i]))
	}
	return wrong.Err()
}

// profilesOf are the runs' walls that a wall is one of: those that are scribed, or those that are left straight.
func (w *work) profilesOf(wall *WallOrder) []profiles {
	if wall.Left {
		return w.left
	}
	return w.crooked
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
		*w.profilesOf(wall)[i].at(wall.Edge) = wall.profile
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
		here := numbered("/offsets/", k)
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
	if p.Greatest >= across {
		return impossible("/offsets", fmt.Sprintf("The wall would lie up to %s off a straight line, and the slab reaches %s: that is no wall of one edge.",
			w.phrase(p.Greatest), w.phrase(across)), fmt.Sprintf("Check the sizes and their unit: without one they are read in %q.", w.units))
	}
	*at = &p
	return nil
}

// crookedOf is what the walls of run i ask, in the order wall, start, end; nil where none was told. What a piece is asked by its
// neighbour's wall comes behind (throughend.go).
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
	return "Scribe the " + side + " of run " + run + ": up to " + w.phraseUp(c.Greatest) + " comes off the blank, which is larger by that." +
		w.ifLeftStraight(c)
}

// ifLeftStraight says from where to where a gap would range without scribing.
func (w *work) ifLeftStraight(c *Crooked) string {
	text := " Left straight, the gap would be from " + w.phrase(c.Least) + " to " + w.phraseUp(c.Most) + ", "
	if c.Most <= w.set.WallGapLimit {
		return text + "which a covering still hides."
	}
	return text + "more than a covering hides."
}

// edgeLength is how long an edge of run i's piece is at its wall. Free ends are square.
func (w *work) edgeLength(edge string, i int, l *plan.Layout) measure.Length {
	if edge != AtWall {
		return w.runs[i].Depth
	}
	return l.Pieces[i].WallEdge
}

// scribedEdges is how much of run i's piece is scribed: every edge whose wall is not straight, from end to end.
func (w *work) scribedEdges(i int, l *plan.Layout) (run measure.Length) {
	if w.crooked == nil {
		return 0
	}
	for _, edge := range [...]string{AtWall, AtStart, AtEnd} {
		if greatest(*w.crooked[i].at(edge)) > 0 {
			run += w.edgeLength(edge, i, l)
		}
	}
	for k := max(i-1, 0); k <= min(i, len(w.corners)-1); k++ {
		if t, ok := w.throughAt(k, l); ok && t.piece == i && w.crooked[t.wall].wall.Crooked(t.from, t.to) {
			run += t.to - t.from
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
