package estimate

import (
	"fmt"
	"math"
	"slices"

	"seamwright/service/base"
	"seamwright/service/division"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// leastPiece is how long a piece of a run is at least where the service divides the run, and never shorter than it is deep.
// Common practice.
const leastPiece = 600 * measure.Millimetre

// besideCorner is how far from a corner's seam the service keeps a straight one: both have their hardware. Common practice.
const besideCorner = 300 * measure.Millimetre

// bearing is how far a seam lies within what carries it, where that is wide enough: both pieces lie on it. Common practice.
const bearing = 50 * measure.Millimetre

// seamsNamed are the straight seams that the order places, run by run.
func seamsNamed(t *Top) [][]inLine {
	seams := make([][]inLine, len(t.Runs))
	for i := range t.Runs {
		for _, s := range t.Runs[i].StraightSeams {
			seams[i] = append(seams[i], inLine{s, SeamNamed})
		}
	}
	return seams
}

// anySeam reports whether any run has one.
func anySeam(seams [][]inLine) bool {
	return slices.ContainsFunc(seams, func(s []inLine) bool { return len(s) > 0 })
}

// without is an order without the straight seams that it places.
func without(order Order) Order {
	runs := make([]Run, len(order.Top.Runs))
	copy(runs, order.Top.Runs)
	for i := range runs {
		runs[i].StraightSeams = nil
	}
	order.Top.Runs = runs
	return order
}

// whole is the order as sent with everything looked up, its runs whole; to part it, and to find where.
func (m *Maker) whole(order *Order) (*work, error) { return m.resolve(without(*order)) }

// parted makes pieces of the runs that have straight seams.
func (m *Maker) parted(order *Order, seams [][]inLine) (*parts, error) {
	w, err := m.whole(order)
	if err != nil {
		return nil, err
	}
	if err := w.checkSeams(order, seams); err != nil {
		return nil, err
	}
	return w.part(order, seams), nil
}

// checkSeams refuses straight seams where none can be. All that is wrong comes at once.
func (w *work) checkSeams(order *Order, seams [][]inLine) error {
	var wrong fault.List
	pieces := 0
	for i := range seams {
		r, last := &w.runs[i], measure.Length(0)
		pieces += 1 + len(seams[i])
		for n, s := range seams[i] {
			at := fmt.Sprintf("/top/runs/%d/straight_seams/%d", i, n)
			if order.Top.StraightJoints == StraightForbid {
				wrong.Add(at, impossible("", fmt.Sprintf("The order forbids straight joints, and places one in run %s.", r.Name),
					`Leave out "straight_joints": "forbid", or the seam.`))
				continue
			}
			next := r.Length
			if n+1 < len(seams[i]) {
				next = seams[i][n+1].At
			}
			switch least := max(LeastRun, r.Depth); {
			case s.At <= last || s.At >= r.Length:
				wrong.Add(at, impossible("/at", fmt.Sprintf("A straight seam lies between the one before and the end of run %s, which is %s long.", r.Name, w.phrase(r.Length)),
					"Places count along the wall edge from the run's start, each further along than the one before."))
			case s.At-last < least-noiseOfSums || next > s.At && next-s.At < least-noiseOfSums:
				wrong.Add(at, impossible("/at", fmt.Sprintf("The pieces beside this seam of run %s must be at least as long as they are deep (%s): the grain runs along them.", r.Name, w.phraseUp(least)),
					"Move the seam, or leave it out."))
			}
			last = s.At
			wrong.Add(at, w.cutBySeam(i, s.At))
		}
	}
	if pieces > MostPieces {
		wrong.Add("", impossible("/top/runs", fmt.Sprintf("The top would be made of %d pieces; up to %d can be estimated.", pieces, MostPieces), "Leave seams out."))
	}
	return wrong.Err()
}

// cutBySeam refuses a straight seam through a cut-out, or too near to one.
func (w *work) cutBySeam(i int, at measure.Length) error {
	for k := range w.cutouts {
		c := &w.cutouts[k]
		if c.run == i && at > c.from-w.set.CutoutClear+noiseOfSums && at < c.to+w.set.CutoutClear-noiseOfSums {
			return impossible("/at", fmt.Sprintf("The seam would come within %s of the %s cut-out in run %s, which lies from %s to %s.", w.phrase(w.set.CutoutClear),
				cutoutName(c), w.runs[i].Name, w.phrase(c.from), w.phrase(c.to)), "Move the seam, or the cut-out.")
		}
	}
	return nil
}

// propose adds straight seams to the runs that are too long: for the wood, where the top was refused for it, and for the
// way. With sure only those that are too long whichever joints are at their ends, else those that may be: as the longest of
// them have it. It reports whether there are any more.
func (m *Maker) propose(order *Order, seams [][]inLine, noWood, sure bool) (more [][]inLine, any bool) {
	w, err := m.whole(order)
	if err != nil {
		return nil, false
	}
	l := w.someLayout()
	if l == nil {
		return nil, false
	}
	more = make([][]inLine, len(seams))
	copy(more, seams)
	pieces := len(w.runs)
	for i := range w.runs {
		if len(seams[i]) > 0 {
			pieces += len(seams[i])
			continue
		}
		longest, reason := w.longestPiece(i, l, noWood)
		if reason == "" || sure && !w.tooLongInAll(i, noWood) {
			continue
		}
		for _, at := range w.dividedAt(i, l, longest) {
			more[i] = append(more[i], inLine{StraightSeam{At: at}, reason})
			any = true
		}
		pieces += len(more[i])
	}
	return more, any && pieces <= MostPieces
}

// tooLongInAll reports whether run i is too long, for the wood or the way, whichever joints are at its ends.
func (w *work) tooLongInAll(i int, noWood bool) bool {
	joints := make([]plan.Joint, len(w.corners))
	for k := range joints {
		joints[k] = w.jointAt(k, plan.Joint{Kind: plan.Miter})
	}
	for l := range w.layoutsOf(i, joints) {
		if _, reason := w.longestPiece(i, l, noWood); reason == "" {
			return false
		}
	}
	return true
}

// someLayout is a layout of the top, in which no piece is shorter along the wall than it will be; nil when there is none.
func (w *work) someLayout() *plan.Layout {
	joints := make([]plan.Joint, len(w.corners))
	for _, j := range []plan.Joint{{Kind: plan.Miter}, {Kind: plan.Butt, Through: plan.First}} {
		for i := range joints {
			joints[i] = j
		}
		if l, err := plan.Lay(w.top, joints, 0, 0); err == nil {
			return l
		}
	}
	return nil
}

// longestPiece is how long a piece of run i may be, and what the run is too long for; empty: for nothing.
func (w *work) longestPiece(i int, l *plan.Layout, noWood bool) (longest measure.Length, reason SeamReason) {
	extent := l.Pieces[i].Extent
	longest = measure.Length(math.Inf(1))
	if wood := extent + w.spare(i, l); noWood && wood < extent {
		longest, reason = wood, SeamWood
	}
	if w.walk == nil {
		return longest, reason
	}
	box := w.carriedBox(i, l)
	if w.walk.Passes(box) {
		return longest, reason
	}
	if reason == "" {
		reason = SeamWay
	}
	return min(longest, w.walk.Longest(box.Depth, box.Thickness)-(box.Length-extent)), reason
}

// dividedAt is where the service divides run i: clear of cut-outs, corners, appliances and closed cabinets, on what carries
// the seam where that is told, else in pieces as near to equal as may be.
//
// Common practice.
func (w *work) dividedAt(i int, l *plan.Layout, longest measure.Length) []measure.Length {
	s := division.Slab{Longest: longest, Grid: 10 * measure.Millimetre}
	if w.units == measure.Inches {
		s.Grid = measure.Inch / 2
	}
	s.From, s.To = l.Tips(i)
	inner, outer := w.fullDepth(i, l)
	for _, clear := range [2]measure.Length{w.furthestReach() + w.set.CutoutClear, w.set.CutoutClear} {
		s.Barred, s.Held = nil, nil
		if i > 0 {
			s.Barred = append(s.Barred, division.Stretch{From: s.From, To: inner + besideCorner})
		}
		if i < len(w.corners) {
			s.Barred = append(s.Barred, division.Stretch{From: outer - besideCorner, To: s.To})
		}
		for k := range w.cutouts {
			if c := &w.cutouts[k]; c.run == i {
				s.Barred = append(s.Barred, division.Stretch{From: c.from - clear, To: c.to + clear})
			}
		}
		w.bear(i, &s)
		for _, least := range [2]measure.Length{max(leastPiece, w.runs[i].Depth), max(LeastRun, w.runs[i].Depth)} {
			s.Least = least
			if at := s.Places(); at != nil {
				return at
			}
		}
	}
	return nil
}

// fullDepth is the stretch of run i's piece that has its whole depth: what is beyond it belongs to a corner or an end.
func (w *work) fullDepth(i int, l *plan.Layout) (inner, outer measure.Length) {
	inner, outer = l.Tips(i)
	for _, front := range [2]measure.Length{0, w.runs[i].Depth} {
		from, to := l.Span(i, front)
		inner, outer = max(inner, from), min(outer, to)
	}
	return inner, outer
}

// bear tells where what stands under run i carries a seam, and where nobody would reach its hardware.
func (w *work) bear(i int, s *division.Slab) {
	if w.base == nil || !w.toldBase(i) {
		return
	}
	reach := w.furthestReach()
	for k := range w.base.parts[i] {
		p := &w.base.parts[i][k]
		switch {
		case p.Kind == base.Appliance || p.Closed:
			s.Barred = append(s.Barred, division.Stretch{From: p.From - reach, To: p.To + reach})
		case p.Kind.Carries():
			on := min(bearing, (p.To-p.From)/2)
			s.Held = append(s.Held, division.Stretch{From: p.From + on, To: p.To - on})
		}
	}
}

// whyInLine says why a run is made of pieces, for the customer.
func (w *work) whyInLine(k int, o *option) string {
	s := w.corners[k].inLine
	why := map[SeamReason]string{SeamNamed: "as asked", SeamWood: "as no wood on sale is so long",
		SeamWay: "as it does not pass the way in one piece"}[s.Reason]
	return fmt.Sprintf("Run %s is made of pieces, %s: they meet end to end in a straight seam, %s from its start; %s from below and no glue hold it shut, since end grain on end grain holds little glue, and both pieces move alike.",
		s.Run, why, w.phrase(s.At), o.Hardware.Pull.Words())
}

// warnInLine says of a seam in line what its pieces must have in common.
func (w *work) warnInLine(k int) {
	s := w.corners[k].inLine
	a, b := &w.runs[k], &w.runs[k+1]
	text := fmt.Sprintf("Run %s is made of pieces: %s and %s meet end to end, %s from its start", s.Run, a.Name, b.Name, w.phrase(s.At))
	switch s.Reason {
	case SeamWood:
		text += ", because no wood on sale is long enough"
	case SeamWay:
		text += ", because it does not pass the way in one piece"
	case SeamNamed:
	}
	text += ". Both sides are end grain: glue would hold little there and is left out, hardware pulls the seam together from below, and alignment parts keep its faces level."
	if c := magnitude(measure.Length(a.laws.Strain(a.wet.Making, a.wet.Making+1)) * a.Depth); c > 0 {
		text += fmt.Sprintf(" Of one wood, equally moist and held on the same line they move alike, and nothing slips or opens; where one is a point moister than the other, their edges stand off by up to %s.", w.phraseUp(c))
	}
	text += " Cut both ends in one setting, lay the pieces in line before they are trimmed, and carry both sides of the seam."
	w.warn("straight_seam", Info, numbered("/top/corners/", k), text)
	if w.base == nil {
		w.warn("seam_wants_support", Caution, numbered("/top/corners/", k),
			fmt.Sprintf("Nothing is said of what stands under run %s: put its straight seam over something that carries both pieces, at the front and at the wall.", s.Run))
	}
}

// tellParts notes that runs are made of pieces, and leads what was said of these back to the order as it was sent.
func (p *parts) tellParts(e *[]Assumption, warnings *[]Warning) {
	for k := range p.seams {
		if s := &p.seams[k]; p.corners[k] < 0 && s.Reason != SeamNamed {
			*e = append(*e, Assumption{seamPointer(s), s.At,
				map[SeamReason]string{SeamWood: "no wood on sale is as long as this run", SeamWay: "the run does not pass the way in one piece"}[s.Reason]})
		}
	}
	*e, *warnings = p.told(*e, *warnings)
}
