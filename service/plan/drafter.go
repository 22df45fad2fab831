package plan

import (
	"slices"

	"seamwright/service/fault"
	"seamwright/service/measure"
)

// Drafter lays tops out in the same memory, one top after another, each with one set of joints after another. What a joint makes of
// its corner, and what two joints make of the piece between them, is drawn once for a top: layouts share it. It is for one
// goroutine; the zero value is ready.
type Drafter struct {
	memory
	top    Top // that is laid out; without runs none is
	inset  measure.Length
	bare   []frame // of its runs, their ends square
	frames []*frame
	closed closed

	meeting [2]frame // at the corner at hand

	cuts  [][]jointCut // at each corner so far
	of    [][]int      // the pieces of each run so far
	drawn []*drawn     // all of them, those of tops before as well until the next Reset
	used  int
	runs  int // drawn of the tops before this one

	layouts []*Layout
	laid    int
}

// jointCut is what one joint makes of a corner.
type jointCut struct {
	joint      Joint
	seam       Seam
	path       []Point // of the seam, not mirrored
	end, start []Point // the cuts of the run before the corner and of the one behind it
	refused    error
}

// drawn is a run's piece between two joints.
type drawn struct {
	before, behind int // among the cuts of its two corners; −1: a free end
	frame          frame
	piece          Piece
	fails          bool
}

// How much memory is kept for the next top; a long chain needs more.
const (
	mostDrawn   = 128
	mostLayouts = 64
)

// Reset takes all layouts back that were laid: they must not be looked at any more.
func (d *Drafter) Reset() {
	if len(d.drawn) > mostDrawn {
		d.drawn = append([]*drawn(nil), d.drawn[:mostDrawn]...)
	}
	if len(d.layouts) > mostLayouts {
		d.layouts = append([]*Layout(nil), d.layouts[:mostLayouts]...)
	}
	d.used, d.laid, d.runs = 0, 0, 0
	d.top.Runs = d.top.Runs[:0]
	d.renew()
}

// Lay is the function Lay. The layout is good until the next Reset; what is to last longer must be copied, and none of it changed.
func (d *Drafter) Lay(top *Top, joints []Joint, profile, margin measure.Length) (*Layout, error) {
	if !d.lies(top, profile+margin) {
		d.begin(top, profile+margin)
	}
	for k := range top.Corners {
		if c := &d.cuts[k][d.cut(k, joints[k])]; c.refused != nil {
			return nil, fault.Item("/corners", k, c.refused)
		}
	}
	if l := d.share(joints); l != nil {
		return l, nil
	}
	return Lay(*top, joints, profile, margin) // which says why it is refused
}

// lies reports whether a top is the one that is laid out.
func (d *Drafter) lies(top *Top, inset measure.Length) bool {
	return len(d.top.Runs) > 0 && d.inset == inset && d.top.Hand == top.Hand && slices.Equal(d.top.Runs, top.Runs) &&
		slices.Equal(d.top.Corners, top.Corners)
}

func (d *Drafter) begin(top *Top, inset measure.Length) {
	n := len(top.Runs)
	d.top = Top{top.Hand, append(d.top.Runs[:0], top.Runs...), append(d.top.Corners[:0], top.Corners...)}
	d.inset, d.runs = inset, d.used
	d.bare = d.framesOf(top, d.bare[:0])
	d.frames = d.frames[:0]
	for i := range d.bare {
		d.frames = append(d.frames, &d.bare[i])
	}
	d.closed = d.close(top, d.frames)
	if top.Hand == Left {
		d.closed.mirror()
	}
	d.cuts, d.of = slices.Grow(d.cuts[:0], n)[:n], slices.Grow(d.of[:0], n)[:n]
	for i := range n {
		d.cuts[i], d.of[i] = d.cuts[i][:0], d.of[i][:0]
	}
}

// share puts a layout together from what is drawn, its corners being cut; nil for one that is refused.
func (d *Drafter) share(joints []Joint) *Layout {
	if d.closed.overlaps {
		return nil
	}
	if d.laid == len(d.layouts) {
		d.layouts = append(d.layouts, new(Layout))
	}
	l := d.layouts[d.laid]
	*l = Layout{Pieces: l.Pieces[:0], Seams: l.Seams[:0], frames: l.frames[:0], drawn: l.drawn[:0], mirror: d.top.Hand == Left,
		Outline: d.closed.outline, Front: d.closed.front, Area: d.closed.area}
	if l.Seams == nil {
		l.Seams = make([]Seam, 0, len(d.top.Corners))
	}
	before := -1
	for i := range d.bare {
		behind := -1
		if i < len(d.top.Corners) {
			behind = d.cut(i, joints[i])
			l.Seams = append(l.Seams, d.cuts[i][behind].seam)
		}
		number := d.piece(i, before, behind)
		p := d.drawn[d.runs+number]
		if p.fails {
			return nil
		}
		l.Pieces, l.frames, l.drawn = append(l.Pieces, p.piece), append(l.frames, &p.frame), append(l.drawn, number)
		before = behind
	}
	d.laid++
	return l
}

// cut is the place of a joint among those of corner k.
func (d *Drafter) cut(k int, j Joint) int {
	for i := range d.cuts[k] {
		if d.cuts[k][i].joint == j {
			return i
		}
	}
	d.meeting = [2]frame{d.bare[k], d.bare[k+1]}
	a, b := &d.meeting[0], &d.meeting[1]
	c := jointCut{joint: j}
	var seam Seam
	if seam, c.refused = d.meet(a, b, d.top.Corners[k], j, d.inset); c.refused == nil {
		c.seam, c.path, c.end, c.start = seam, seam.Path, a.ends[1], b.ends[0]
		if d.top.Hand == Left {
			c.seam.Path = d.line(seam.Path...)
			flip(c.seam.Path)
		}
	}
	d.cuts[k] = append(d.cuts[k], c)
	return len(d.cuts[k]) - 1
}

// piece is the number of run i's piece between two cuts, among all that are drawn of the top.
func (d *Drafter) piece(i, before, behind int) int {
	for _, number := range d.of[i] {
		if p := d.drawn[d.runs+number]; p.before == before && p.behind == behind {
			return number
		}
	}
	if d.used == len(d.drawn) {
		d.drawn = append(d.drawn, new(drawn))
	}
	p := d.drawn[d.used]
	*p = drawn{before: before, behind: behind, frame: d.bare[i]}
	if before >= 0 {
		p.frame.ends[0] = d.cuts[i-1][before].start
	}
	if behind >= 0 {
		p.frame.ends[1] = d.cuts[i][behind].end
	}
	p.fails = p.frame.piece(&p.piece, &d.memory) != nil || len(d.top.Corners) > 1 && !d.meets(i, p)
	if !p.fails && d.top.Hand == Left {
		p.piece.mirror()
	}
	number := d.used - d.runs
	d.used++
	d.of[i] = append(d.of[i], number)
	return number
}

// meets reports whether a piece of run i reaches along both of its seams.
func (d *Drafter) meets(i int, p *drawn) bool {
	return (p.before < 0 || p.piece.along(d.cuts[i-1][p.before].path)) && (p.behind < 0 || p.piece.along(d.cuts[i][p.behind].path))
}

// Drawn is the number of a run's piece among all that its drafter drew of the top: pieces with one number are the same, in whichever
// layouts they are. It is −1 for a layout that was drawn by itself.
func (l *Layout) Drawn(run int) int {
	if l.drawn == nil {
		return -1
	}
	return l.drawn[run]
}

// Own puts copies in the place of lines, all in one piece of memory.
func Own(lines ...*[]Point) {
	n := 0
	for _, l := range lines {
		n += len(*l)
	}
	all := make([]Point, 0, n)
	for _, l := range lines {
		if *l != nil {
			from := len(all)
			all = append(all, *l...)
			*l = all[from:len(all):len(all)]
		}
	}
}
