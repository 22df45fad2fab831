package plan

import (
	"fmt"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Piece is one run's slab as cut.
type Piece struct {
	Outline    []Point // counter-clockwise
	WallEdge   measure.Length
	FrontEdge  measure.Length
	Extent     measure.Length // along the grain from tip to tip: what a blank must hold
	StartAngle measure.Angle  // of the cut with the run's length, at the wall corner, inside the wood
	EndAngle   measure.Angle
	Area       measure.Area
	Centroid   Point
}

// Seam is where two pieces meet.
type Seam struct {
	Joint   Joint
	Angle   measure.Angle // of the corner
	Length  measure.Length
	Path    []Point        // from the front end to the wall end; three points for a mason's miter
	Mitred  measure.Length // mason's miter: length of its mitred part, at the front
	First   measure.Angle  // of the first run's cut
	Second  measure.Angle
	OnFirst bool // the stopping run is the second (its end grain meets the first run's long grain)
}

// Layout is a top with its joints decided.
type Layout struct {
	Pieces  []Piece
	Seams   []Seam
	Outline []Point // of the whole top, counter-clockwise
	Front   []Point // the front edges from the chain's start to its end
	Area    measure.Area

	frames []*frame
	mirror bool
	drawn  []int // of each run, which of the drafter's pieces this is; nil: drawn by itself
}

// frame is a run's own axes on the plan (before mirroring).
type frame struct {
	start Point  // wall corner or free end where the run starts
	along vector // from start to end along the wall
	room  vector // from the wall into the room
	run   Run
	ends  [2][]Point // points of the start's and the end's cut, from the wall to the front
}

// Lay lays a top out with the given joint at each corner. margin is the wood that a mason's miter leaves behind
// the edge profile, profile the depth of that profile. It returns Impossible faults, with pointers such as
// "/runs/1/length", when a piece would have no edge left or the top would run into itself.
func Lay(top Top, joints []Joint, profile, margin measure.Length) (*Layout, error) {
	s := new(sheet)
	s.clear(len(top.Runs))
	if err := s.draw(&top, joints, profile+margin); err != nil {
		return nil, err
	}
	return &s.layout, nil
}

// sheet is what a layout is drawn on.
type sheet struct {
	memory
	layout Layout
}

// draw lays a top out on the sheet.
func (s *sheet) draw(top *Top, joints []Joint, inset measure.Length) error {
	l := &s.layout
	l.mirror = top.Hand == Left
	frames := s.framesOf(top, make([]frame, 0, len(top.Runs)))
	for i := range frames {
		l.frames = append(l.frames, &frames[i])
	}
	l.Seams = make([]Seam, 0, len(top.Corners))
	for i, theta := range top.Corners {
		seam, err := s.meet(l.frames[i], l.frames[i+1], theta, joints[i], inset)
		if err != nil {
			return fault.Item("/corners", i, err)
		}
		l.Seams = append(l.Seams, seam)
	}
	if err := s.cutPieces(); err != nil {
		return err
	}
	o := s.close(top, l.frames)
	if o.overlaps {
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/runs",
			Detail: "The runs overlap: with these lengths, depths and angles the top would run into itself.",
			Fix:    "Check the lengths of the runs between the corners."}
	}
	l.Outline, l.Front, l.Area = o.outline, o.front, o.area
	if l.mirror {
		for i := range l.Pieces {
			l.Pieces[i].mirror()
		}
		for i := range l.Seams {
			flip(l.Seams[i].Path)
		}
		o.mirror()
	}
	return nil
}

// framesOf walks the chain. The first run comes from its free end (length, 0) to the origin; a straight top likewise, and
// one whose first run is made of several pieces in line.
func (s *memory) framesOf(top *Top, frames []frame) []frame {
	first := 0 // the run that ends at the first corner
	at, along := Point{X: top.Runs[0].Length}, vector{-1, 0}
	for first < len(top.Corners) && top.Corners[first] == InLine {
		first++
		at.X += top.Runs[first].Length
	}
	for i := range top.Runs {
		run := &top.Runs[i]
		f := frame{start: at, along: along, room: along.right(), run: *run}
		end := at.move(along, run.Length)
		if i == first {
			end = Point{} // exactly, by the definition of the origin
		}
		f.ends[0] = s.line(at, at.move(f.room, run.Depth))
		f.ends[1] = s.line(end, end.move(f.room, run.Depth))
		if i < len(top.Corners) {
			along = along.turn(sinCos(top.Corners[i]))
			at = end
		}
		frames = append(frames, f)
	}
	return frames
}

func (s *sheet) cutPieces() error {
	var wrong fault.List
	l := &s.layout
	l.Pieces = make([]Piece, len(l.frames))
	for i := range l.frames {
		if err := l.frames[i].piece(&l.Pieces[i], &s.memory); err != nil {
			wrong.Add("", fault.Item("/runs", i, err))
		}
	}
	if wrong.Err() == nil && len(l.Seams) > 1 {
		l.seamsMeetTheirPieces(&wrong)
	}
	return wrong.Err()
}

// seamsMeetTheirPieces finds runs so short between two corners that the slab beyond one of them would reach to the seam
// of the other: there three slabs would meet.
func (l *Layout) seamsMeetTheirPieces(wrong *fault.List) {
	for k := range l.Seams {
		for _, i := range [2]int{k, k + 1} {
			if !l.Pieces[i].along(l.Seams[k].Path) {
				wrong.Add(fmt.Sprintf("/runs/%d", i), &fault.Fault{Kind: fault.Impossible, Pointer: "/length",
					Detail: fmt.Sprintf("Run %s is too short between its corners: the seam at one would meet the slab beyond the other.", l.frames[i].run.Name),
					Fix:    "Check length and depths, or make the run longer."})
			}
		}
	}
}

// along reports whether all points of a seam's path lie on a piece's outline.
func (p *Piece) along(path []Point) bool {
	for _, q := range path {
		if !onEdge(p.Outline, q) {
			return false
		}
	}
	return true
}

// onEdge reports whether a point lies on an outline, to a thousandth of a millimetre.
func onEdge(outline []Point, p Point) bool {
	for i := range outline {
		if pointSegment(p, outline[i], outline[(i+1)%len(outline)]) < 1e-3 {
			return true
		}
	}
	return false
}

// piece cuts a run's slab from its two ends.
func (f *frame) piece(p *Piece, memory *memory) error {
	s, e := f.ends[0], f.ends[1]
	wall := s[0].along(e[0], f.along)
	front := s[len(s)-1].along(e[len(e)-1], f.along)
	if wall <= 0 || front <= 0 {
		return &fault.Fault{Kind: fault.Impossible, Pointer: "/length",
			Detail: fmt.Sprintf("Run %s is too short for the depths that meet at its corners: no edge would be left along its %s.", f.run.Name, edgeName(front <= 0)),
			Fix:    "Check length and depths, or make the run longer."}
	}
	outline := memory.empty(len(s) + len(e))
	outline = append(outline, e[0])
	outline = append(outline, s...)
	for i := len(e) - 1; i > 0; i-- {
		outline = append(outline, e[i])
	}
	*p = Piece{Outline: outline, WallEdge: wall, FrontEdge: front, Area: Area(outline), Centroid: Centroid(outline)}
	p.StartAngle = s[0].angleAt(f.along, s[1])
	p.EndAngle = e[0].angleAt(f.along.back(), e[1])
	lo, hi := measure.Length(0), measure.Length(0)
	for i, q := range outline {
		x := f.start.along(q, f.along)
		if i == 0 || x < lo {
			lo = x
		}
		if i == 0 || x > hi {
			hi = x
		}
	}
	p.Extent = hi - lo
	return nil
}

func edgeName(front bool) string {
	if front {
		return "front"
	}
	return "wall"
}

// closed is a whole top's outline, which depends on its runs and angles alone.
type closed struct {
	outline, front []Point
	area           measure.Area
	overlaps       bool // it runs into itself
}

// close draws the whole top's outline.
func (s *memory) close(top *Top, frames []*frame) closed {
	n := len(frames)
	out := s.empty(2*n + 2)
	last := frames[n-1]
	out = append(out, last.start.move(last.along, last.run.Length))
	for i := n - 1; i >= 0; i-- {
		out = append(out, frames[i].start)
	}
	for i := range frames {
		if i == 0 {
			out = append(out, frames[0].start.move(frames[0].room, top.Runs[0].Depth))
		} else {
			out = append(out, frontCorner(frames[i-1], frames[i], top.Corners[i-1], 0))
		}
	}
	out = append(out, last.start.move(last.along, last.run.Length).move(last.room, last.run.Depth))
	return closed{out, s.line(out[n+1:]...), Area(out), overlaps(out) || covers(out)}
}

// covers reports whether two runs that are no neighbours lie over each other, also where their edges coincide and cross
// nowhere, as when a chain has gone once round the room. The outline has the wall's corners from the last run's end to the
// first one's, and then the front's from there on.
func covers(out []Point) bool {
	n := len(out)/2 - 1 // runs
	slab := func(i int) [4]Point { return [4]Point{out[n-i-1], out[n-i], out[n+1+i], out[n+2+i]} }
	for i := range n {
		for j := i + 2; j < n; j++ {
			a, b := slab(i), slab(j)
			if !parted(a[:], b[:]) && !parted(b[:], a[:]) {
				return true
			}
		}
	}
	return false
}

// overlaps reports whether an outline runs into itself.
func overlaps(out []Point) bool {
	for i := range out {
		for j := i + 2; j < len(out); j++ {
			if i == 0 && j == len(out)-1 {
				continue // neighbours round the end
			}
			if cross(out[i], out[i+1], out[j], out[(j+1)%len(out)]) {
				return true
			}
		}
	}
	return false
}

// mirror turns an outline into its mirror image, keeping it counter-clockwise.
func (c *closed) mirror() {
	flip(c.front)
	flip(c.outline)
	reverseAfterFirst(c.outline)
}

// mirror does the same to a piece.
func (p *Piece) mirror() {
	flip(p.Outline)
	reverseAfterFirst(p.Outline)
	p.Centroid.X = -p.Centroid.X
}

func flip(points []Point) {
	for i := range points {
		points[i].X = -points[i].X + 0 // + 0 makes 0 of −0
	}
}

func reverseAfterFirst(points []Point) {
	for i, j := 1, len(points)-1; i < j; i, j = i+1, j-1 {
		points[i], points[j] = points[j], points[i]
	}
}

// Rectangle returns the corners, on the plan, of a rectangle in a run: from and to along the wall edge from the
// run's start, and from the front edge inwards.
func (l *Layout) Rectangle(run int, from, to, front, back measure.Length) [4]Point {
	f := l.frames[run]
	at := func(along, fromFront measure.Length) Point {
		p := f.start.move(f.along, along).move(f.room, f.run.Depth-fromFront)
		if l.mirror {
			p.X = -p.X
		}
		return p
	}
	return [4]Point{at(from, front), at(to, front), at(to, back), at(from, back)}
}

// Place is a point of a run on the plan: along its wall edge from the run's start, and from its front edge inwards.
func (l *Layout) Place(run int, along, fromFront measure.Length) Point {
	f := l.frames[run]
	p := f.start.move(f.along, along).move(f.room, f.run.Depth-fromFront)
	if l.mirror {
		p.X = -p.X
	}
	return p
}

// Local is where a point of the plan lies on a run: along its wall edge from the run's start, and from its front edge
// inwards.
func (l *Layout) Local(run int, p Point) (along, fromFront measure.Length) {
	f := l.frames[run]
	if l.mirror {
		p.X = -p.X
	}
	return f.start.along(p, f.along), f.run.Depth - f.start.along(p, f.room)
}

// Tips are the outermost points of a run's piece, along its wall edge from the run's start.
func (l *Layout) Tips(run int) (from, to measure.Length) {
	f := l.frames[run]
	for i, q := range f.ends[0] {
		if at := f.start.along(q, f.along); i == 0 || at < from {
			from = at
		}
	}
	for i, q := range f.ends[1] {
		if at := f.start.along(q, f.along); i == 0 || at > to {
			to = at
		}
	}
	return from, to
}

// Span is the wood of a run's piece on a line along the run at some distance from its front edge: from and to, along
// its wall edge from the run's start.
func (l *Layout) Span(run int, fromFront measure.Length) (from, to measure.Length) {
	f := l.frames[run]
	return f.crossing(f.ends[0], fromFront, true), f.crossing(f.ends[1], fromFront, false)
}

// atEdge is by how much a line along the run's very front or wall may miss it through rounding, in millimetres.
const atEdge = measure.Length(1e-6)

// crossing is where an end's cut crosses the line, the innermost place when it does so more than once.
func (f *frame) crossing(end []Point, fromFront measure.Length, start bool) measure.Length {
	room := f.run.Depth - fromFront
	best, found := measure.Length(0), false
	for i := 1; i < len(end); i++ {
		a, b := f.start.along(end[i-1], f.room), f.start.along(end[i], f.room)
		if room < min(a, b)-atEdge || room > max(a, b)+atEdge {
			continue
		}
		at := f.start.along(end[i-1], f.along)
		if max(b-a, a-b) > atEdge {
			at += (f.start.along(end[i], f.along) - at) * (room - a) / (b - a)
		}
		if !found || start == (at > best) {
			best, found = at, true
		}
	}
	return best
}
