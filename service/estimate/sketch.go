package estimate

import (
	"cmp"
	"iter"
	"slices"

	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// sketch is a chain of joints and fixed lines, seen at little cost: wood costs what its size does, and no boards are
// chosen for it.
type sketch struct {
	joints []plan.Joint
	lines  []hardware.Hold // of each run
	points int             // of all findings but those about cost
	cost   money.Amount    // of the whole top
}

// better reports whether a chain beats another: by its points with those for cost, then by its cost.
func (w *work) better(s, other *sketch) bool {
	a, b := s.cost.Float(), other.cost.Float()
	total, rival := s.points+joint.CostPoints(w.set, a, min(a, b)), other.points+joint.CostPoints(w.set, b, min(a, b))
	return total > rival || total == rival && a < b
}

// How many beginnings of chains are kept at a corner for each end, how many whole chains are held against each other,
// and how many ways are tried for the other corners while one is weighed: the first nearly always does.
const (
	mostBases      = 2
	mostBeginnings = 8
	mostSketches   = 8
)

// mostToSketch is what a top may have taken when another whole chain is reckoned beside the best so far. Six runs take less
// with all of them; of a top of more pieces, or with many lines to choose from, the chains that look best are held against each
// other.
const mostToSketch = 250

// sketchChain returns the best chain as far as can be seen at little cost, nil when none is found. Each corner is
// weighed by itself, with one joint at all others. The worths then add up, and the best chains are found from corner to
// corner (dynamic programming over the run between them). What a corner is worth depends a little on its neighbours,
// too, by the lengths of the pieces; so the best few chains are reckoned as they are.
func (w *work) sketchChain(lines []hardware.Hold) (best *sketch) {
	w.sketching = true
	defer func() { w.sketching = false }()
	if w.short() {
		return nil
	}
	for a := range mostBases {
		found := 0
		for _, p := range w.chainsBeside(w.usualWay(a), lines) {
			s := w.sketchOf(&p, lines)
			if !w.reckon(&s) {
				continue
			}
			if best == nil || w.better(&s, best) {
				best = &s
			}
			if found++; found == mostSketches || w.effort() > mostToSketch {
				break
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// short reports whether a run is too long for all wood on sale, or for the way, whichever joints are at its ends: its length depends on no
// others. Then no chain can be made, and none need be looked for.
func (w *work) short() bool {
	w.joints = w.joints[:0]
	for k := range w.corners {
		w.joints = append(w.joints, w.jointAt(k, plan.Joint{Kind: plan.Miter}))
	}
	joints := slices.Clone(w.joints)
	l, err := w.layouts.lay(w)
	if err != nil {
		return false
	}
	for i := range w.runs {
		if w.spare(i, l) < 0 && w.shortWithAll(i, joints) {
			return true
		}
	}
	return false
}

// shortWithAll reports the same of run i, the joints at other corners as they are.
func (w *work) shortWithAll(i int, joints []plan.Joint) bool {
	for l := range w.layoutsOf(i, joints) {
		if w.spare(i, l) >= 0 {
			return false
		}
	}
	return true
}

// layoutsOf are the layouts with every way to make run i's ends that the caller's wish allows, the joints at other corners as
// they are.
func (w *work) layoutsOf(i int, joints []plan.Joint) iter.Seq[*plan.Layout] {
	ends := [2][]plan.Joint{{{}}, {{}}} // a free end has no joint, and is looked at once
	if i > 0 {
		ends[0] = w.waysAt(i - 1)
	}
	if i < len(w.corners) {
		ends[1] = w.waysAt(i)
	}
	return func(yield func(*plan.Layout) bool) {
		for _, start := range ends[0] {
			for _, end := range ends[1] {
				w.joints = append(w.joints[:0], joints...)
				if i > 0 {
					w.joints[i-1] = start
				}
				if i < len(w.corners) {
					w.joints[i] = end
				}
				if i > 0 && !w.wished(i-1, start) || i < len(w.corners) && !w.wished(i, end) {
					continue
				}
				if l, err := w.layouts.lay(w); err == nil && !yield(l) {
					return
				}
			}
		}
	}
}

// partial is a beginning of a chain, corner by corner.
type partial struct {
	ways   []worth
	points float64
}

// end is what the rest of a chain depends on: the run that comes next, by its line, and whether its piece stops at the
// corner, which makes it shorter.
type end struct {
	line  hardware.Hold
	stops bool
}

func (p *partial) end() end {
	if len(p.ways) == 0 {
		return end{}
	}
	return p.ways[len(p.ways)-1].behind.end()
}

func (s *side) end() end { return end{s.line, s.stops} }

// chainsBeside lists the best chains, the best first, as if each corner were worth what it is with one joint at all
// others.
func (w *work) chainsBeside(other plan.Joint, lines []hardware.Hold) []partial {
	base := w.chain(slices.Repeat([]plan.Joint{other}, len(w.corners)), lines)
	if base == nil {
		return nil
	}
	defer w.forget(base)
	list := []partial{{}}
	for step := 0; step < len(w.corners) && len(list) > 0; step++ {
		list = w.extend(list, w.weigh(base, w.corner(step)), base)
	}
	return list
}

// extend adds a corner to every beginning that ends as it begins, where there is wood long enough for the run between,
// and keeps the best few for each end, the best first. Only what is kept is written down.
func (w *work) extend(list []partial, ways []worth, base *chosen) []partial {
	longer := w.longer[:0]
	for i := range list {
		p := &list[i]
		for k := range ways {
			v := &ways[k]
			if v.before.line == p.end().line && w.spareBetween(p, v, base) >= 0 {
				longer = append(longer, step{p, v, p.points + v.points})
			}
		}
	}
	w.longer = longer
	defer clear(longer) // it holds on to the beginnings
	return kept(longer)
}

// kept are the best few steps for each end, the best first, written down as beginnings.
func kept(longer []step) (list []partial) {
	slices.SortStableFunc(longer, func(a, b step) int { return cmp.Compare(b.points, a.points) })
	count := map[end]int{}
	for _, s := range longer {
		e := s.way.behind.end()
		if count[e]++; count[e] <= mostBeginnings {
			list = append(list, partial{append(slices.Clip(s.from.ways), *s.way), s.points})
		}
	}
	return list
}

// step is a beginning with one corner more.
type step struct {
	from   *partial
	way    *worth
	points float64
}

// spareBetween is by how much the piece of the run between a beginning and a corner could be longer for the longest
// wood. What each of its ends adds to its length does not depend on the other.
func (w *work) spareBetween(p *partial, v *worth, base *chosen) float64 {
	if len(p.ways) == 0 {
		return float64(v.before.spare)
	}
	behind := &p.ways[len(p.ways)-1].behind
	return float64(behind.spare + v.before.spare - w.spare(v.before.run, base.layout))
}

// sketchOf is a whole chain in the order of the runs.
func (w *work) sketchOf(p *partial, lines []hardware.Hold) sketch {
	s := sketch{joints: make([]plan.Joint, len(p.ways)), lines: slices.Clone(lines)}
	for step := range p.ways {
		v := &p.ways[step]
		s.joints[w.corner(step)] = v.joint
		if v.behind.line != hardware.HoldAuto {
			s.lines[v.behind.run] = v.behind.line
		}
	}
	return s
}

// chain is a chain with its joints and lines given, each corner with the first kind of pull parts; nil when it cannot
// be laid out.
func (w *work) chain(joints []plan.Joint, lines []hardware.Hold) *chosen {
	n := len(w.corners)
	c := &chosen{options: make([]*option, n), joints: make([]plan.Joint, n), shared: slices.Clone(lines)}
	if w.start(c, joints) != nil {
		return nil // it is found again, and told, when the corners are chosen
	}
	return c
}

// reckon sets what a whole chain is worth. It reports whether it can be made.
func (w *work) reckon(s *sketch) bool {
	c := w.chain(s.joints, s.lines)
	if c == nil {
		return false
	}
	defer w.forget(c)
	for i := range w.runs {
		if w.spare(i, c.layout) < 0 {
			return false
		}
	}
	s.points = 0
	for step := range w.corners {
		k := w.corner(step)
		o := w.bestMade(c, k, s.joints[k])
		if o == nil {
			return false
		}
		w.tried.giveBack(c.options[k:k+1], nil)
		c.options[k] = o
		s.points += o.points
	}
	last := w.corner(len(w.corners) - 1)
	s.cost = c.options[last].Cost
	return true
}
