package estimate

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// PartOf says which piece of a run one is, where the run is made of several, end to end.
type PartOf struct {
	Run      string         // as asked for
	Number   int            // from 1, from the run's start
	Count    int            // pieces of the run
	From, To measure.Length // along the run's wall edge, from its start
}

// part is a piece, or a whole run, with its run's place in the order.
type part struct {
	PartOf
	run int
}

// seamPlace is a seam in line with its run's place in the order, and its own in the run.
type seamPlace struct {
	InLineSeam
	run, number int
}

// SeamReason is why a run is made of pieces.
type SeamReason string

// The reasons.
const (
	SeamNamed SeamReason = "named" // the order places it
	SeamWood  SeamReason = "wood"  // no wood on sale is so long
	SeamWay   SeamReason = "way"   // the run does not pass the way to its place
)

// InLineSeam is the seam between two pieces of one run.
type InLineSeam struct {
	Run    string         // as asked for
	At     measure.Length // along the run's wall edge, from its start
	Reason SeamReason
}

// inLine is a seam that a run is to have.
type inLine struct {
	StraightSeam
	reason SeamReason
}

// parts is an order whose runs are made of pieces: its runs and corners are those of the pieces, and from everything of
// them the way back to the order as it was sent.
type parts struct {
	order   Order
	runs    []part      // Count 1: it is whole
	corners []int       // of the order as sent; −1: a seam in line
	seams   []seamPlace // by corner
	base    []int       // of the order as sent
	walls   []int
	asked   *Order
}

// part makes pieces of the runs that have seams. w is the order as sent, found good.
func (w *work) part(asked *Order, seams [][]inLine) *parts {
	p := &parts{order: *asked, asked: asked}
	t := &p.order.Top
	t.Runs, t.Corners = nil, nil
	for i := range w.runs {
		if i > 0 {
			p.add(i-1, seamPlace{}, asked.Top.Corners[i-1])
		}
		p.partRun(w, i, seams[i])
	}
	p.partCutouts(w)
	p.partBase(w)
	p.partWalls(w)
	return p
}

func (p *parts) add(corner int, seam seamPlace, c Corner) {
	p.order.Top.Corners = append(p.order.Top.Corners, c)
	p.corners, p.seams = append(p.corners, corner), append(p.seams, seam)
}

func (p *parts) partRun(w *work, i int, seams []inLine) {
	run := p.asked.Top.Runs[i]
	run.Name, run.StraightSeams = w.runs[i].Name, nil
	from := measure.Length(0)
	for n := range len(seams) + 1 {
		to := run.Length
		if n < len(seams) {
			to = seams[n].At
		}
		piece := run
		piece.Length = to - from
		of := PartOf{Run: run.Name, Number: n + 1, Count: len(seams) + 1, From: from, To: to}
		if len(seams) > 0 {
			piece.Name = p.pieceName(w, run.Name, n+1)
			piece.partOf = &of
		}
		if n > 0 {
			s := &seams[n-1]
			seam := InLineSeam{Run: run.Name, At: s.At, Reason: s.reason}
			p.add(-1, seamPlace{seam, i, n - 1}, Corner{Pull: s.Pull, Alignment: s.Alignment, inLine: &seam})
		}
		p.order.Top.Runs, p.runs = append(p.order.Top.Runs, piece), append(p.runs, part{of, i})
		from = to
	}
}

// longestName is how long a run's name may be, in letters.
const longestName = 40

// pieceName is the run's name and the piece's number, told apart from all other names.
func (p *parts) pieceName(w *work, of string, number int) string {
	taken := func(name string) bool {
		return slices.ContainsFunc(w.runs, func(r run) bool { return r.Name == name }) ||
			slices.ContainsFunc(p.order.Top.Runs, func(r Run) bool { return r.Name == name })
	}
	if short := []rune(of); len(short) > longestName-4 {
		of = string(short[:longestName-4])
	}
	name := of + strconv.Itoa(number)
	for again := 'a'; taken(name) && again <= 'z'; again++ {
		name = of + string(again) + strconv.Itoa(number)
	}
	return name
}

// holding is the piece of run i that has a place.
func (p *parts) holding(i int, at measure.Length) int {
	for n := range p.runs {
		if r := &p.runs[n]; r.run == i && (at < r.To || r.Number == r.Count) {
			return n
		}
	}
	return 0
}

// partCutouts places the cut-outs in the pieces.
func (p *parts) partCutouts(w *work) {
	t := &p.order.Top
	t.Cutouts = slices.Clone(t.Cutouts)
	for k := range t.Cutouts {
		c, placed := &t.Cutouts[k], &w.cutouts[k]
		n := p.holding(placed.run, (placed.from+placed.to)/2)
		part := &p.runs[n]
		c.Run = t.Runs[n].Name
		if c.FromStart != nil {
			at := *c.FromStart - part.From
			c.FromStart = &at
		} else {
			at := *c.FromEnd - (w.runs[placed.run].Length - part.To)
			c.FromEnd = &at
		}
	}
}

// partBase gives each piece what stands under it: a stretch that goes on under a seam becomes one on either side.
func (p *parts) partBase(w *work) {
	if len(p.order.Base) == 0 {
		return
	}
	p.order.Base = nil
	for k, b := range p.asked.Base {
		for n := range p.runs {
			r := &p.runs[n]
			from, to := max(b.From, r.From), min(b.To, r.To)
			if r.Run != b.Run || to <= from+noiseOfSums {
				continue
			}
			piece := b
			piece.Run, piece.From, piece.To = p.order.Top.Runs[n].Name, from-r.From, to-r.From
			piece.goesOn = from > b.From+noiseOfSums && len(p.base) > 0 && p.base[len(p.base)-1] == k
			p.order.Base, p.base = append(p.order.Base, piece), append(p.base, k)
		}
	}
}

// partWalls gives each piece its stretch of the wall. The best line is the whole run's, so that the pieces' fronts stay in
// line.
func (p *parts) partWalls(w *work) {
	if len(p.order.Site.Walls) == 0 {
		return
	}
	p.order.Site.Walls = nil
	for k, o := range p.asked.Site.Walls {
		for n := range p.runs {
			r := &p.runs[n]
			if r.Run != o.Run || o.Edge == AtStart && r.Number > 1 || o.Edge == AtEnd && r.Number < r.Count {
				continue
			}
			piece := o
			piece.Run = p.order.Top.Runs[n].Name
			if o.Edge == AtWall && r.Count > 1 {
				piece.profile = (*w.profilesOf(&o)[r.run].at(AtWall)).Stretch(r.From, r.To)
			}
			p.order.Site.Walls, p.walls = append(p.order.Site.Walls, piece), append(p.walls, k)
		}
	}
}

// pointer leads from a place in the order of pieces to the one in the order as it was sent.
func (p *parts) pointer(at string) string {
	for _, list := range [...]struct {
		prefix string
		count  int
		to     func(n int) string
	}{
		{"/top/runs/", len(p.runs), func(n int) string { return numbered("/top/runs/", p.runs[n].run) }},
		{"/top/corners/", len(p.corners), p.cornerPointer},
		{"/base/", len(p.base), func(n int) string { return numbered("/base/", p.base[n]) }},
		{"/site/walls/", len(p.walls), func(n int) string { return numbered("/site/walls/", p.walls[n]) }},
	} {
		rest, ok := strings.CutPrefix(at, list.prefix)
		if !ok {
			continue
		}
		number, more, deeper := strings.Cut(rest, "/")
		n, err := strconv.Atoi(number)
		if err != nil || n < 0 || n >= list.count {
			return at
		}
		if deeper && !(list.prefix == "/top/corners/" && p.corners[n] < 0 && !p.says(n, more)) {
			return list.to(n) + "/" + more
		}
		return list.to(n)
	}
	return at
}

// says reports whether the order as sent says something of a seam in line, beside its place.
func (p *parts) says(corner int, what string) bool {
	return p.seams[corner].Reason == SeamNamed && (what == "pull" || what == "alignment")
}

func (p *parts) cornerPointer(n int) string {
	if p.corners[n] >= 0 {
		return numbered("/top/corners/", p.corners[n])
	}
	return seamPointer(&p.seams[n])
}

// seamPointer is where an order says, or could say, where a seam in line is.
func seamPointer(s *seamPlace) string {
	return fmt.Sprintf("/top/runs/%d/straight_seams/%d", s.run, s.number)
}

// refusal is a refusal of the pieces, with pointers into the order as it was sent.
func (p *parts) refusal(err error) error {
	for _, f := range fault.All(err) {
		f.Pointer = p.pointer(f.Pointer)
	}
	return err
}

// told leads what is said back to the order as it was sent; what is then said twice is said once.
func (p *parts) told(assumptions []Assumption, warnings []Warning) ([]Assumption, []Warning) {
	var said []Assumption
	for _, a := range assumptions {
		a.Pointer = p.pointer(a.Pointer)
		if !slices.ContainsFunc(said, func(b Assumption) bool { return a.Pointer == b.Pointer && a.Why == b.Why && a.Value == b.Value }) {
			said = append(said, a)
		}
	}
	var warned []Warning
	for _, v := range warnings {
		v.Pointer = p.pointer(v.Pointer)
		if !slices.Contains(warned, v) {
			warned = append(warned, v)
		}
	}
	return said, warned
}

// tellBase leads what stands below back to the entries of the order as it was sent.
func (p *parts) tellBase(b *BaseResult) {
	if b == nil {
		return
	}
	sent := func(place *int) {
		if *place >= 0 && *place < len(p.base) {
			*place = p.base[*place]
		}
	}
	for i := range b.Runs {
		r := &b.Runs[i]
		for k := range r.Parts {
			sent(&r.Parts[k].Place)
		}
		for k := range r.Strips {
			sent(&r.Strips[k].Place)
		}
		for k := range r.Appliances {
			sent(&r.Appliances[k].Place)
		}
	}
	for i := range b.Props {
		sent(&b.Props[i].Place)
	}
}

// group is the first and the last piece of the run that run i is a piece of; i twice where it is whole.
func (w *work) group(i int) (first, last int) {
	first, last = i, i
	for first > 0 && w.corners[first-1].inLine != nil {
		first--
	}
	for last < len(w.corners) && w.corners[last].inLine != nil {
		last++
	}
	return first, last
}

// leg is how long the run is that run i is a piece of, from tip to tip.
func (w *work) legLength(i int, l *plan.Layout) (sum measure.Length) {
	first, last := w.group(i)
	for k := first; k <= last; k++ {
		sum += l.Pieces[k].Extent
	}
	return sum
}

// jointAt is a joint at corner k: the one given, or the only one between two pieces in line.
func (w *work) jointAt(k int, j plan.Joint) plan.Joint {
	if w.corners[k].inLine != nil {
		return plan.Joint{Kind: plan.Straight}
	}
	return j
}

// alike lets the end of a chain be held as the piece of the same run beside it, whose line another corner settles. Where
// both pieces have another corner, lines that differ make a step.
func (w *work) alike(k int, p lines) lines {
	begins, ends := k == 0, k == len(w.corners)-1
	switch {
	case w.corners[k].inLine == nil || begins == ends:
	case ends:
		p[1] = p[0]
	case begins:
		p[0] = p[1]
	}
	return p
}

// legTips are the outermost points of the run that run i is a piece of, along run i from its start.
func (w *work) legTips(i int, l *plan.Layout) (from, to measure.Length) {
	first, last := w.group(i)
	from, _ = l.Tips(first)
	_, to = l.Tips(last)
	for k := first; k < i; k++ {
		from -= w.top.Runs[k].Length
	}
	for k := i; k < last; k++ {
		to += w.top.Runs[k].Length
	}
	return from, to
}
