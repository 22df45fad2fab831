package estimate

import (
	"cmp"
	"slices"

	"seamwright/service/hardware"
	"seamwright/service/plan"
)

// sketch is a chain as it looks by what each of its corners is worth by itself.
type sketch struct {
	lines  []hardware.Hold // of each run
	joints []plan.Joint
	points float64
}

// How many beginnings are kept at a corner for each line behind it, and how many whole chains are held against each other.
const (
	mostBeginnings = 6 // of two corners all pairs of ways
	mostSketches   = 8
)

// worth is what one way to make a corner adds to the points of a chain.
type worth struct {
	joint         plan.Joint
	before, after hardware.Hold // lines of its two runs in the order of the search; HoldAuto: an end run's, which is its own
	points        float64
}

// partial is a beginning of a chain, corner by corner.
type partial struct {
	ways   []worth
	points float64
}

// line is that of the run that comes next.
func (p *partial) line() hardware.Hold {
	if len(p.ways) == 0 {
		return hardware.HoldAuto
	}
	return p.ways[len(p.ways)-1].after
}

// sketchChain returns the best chain of joints and lines as far as can be seen at little cost, nil when none is found. Each corner is
// weighed with one joint at all others, wood at what its size costs. The worths then add up, and the best chains are found from corner to
// corner (dynamic programming over the line of the run between them). What a corner is worth depends a little on its neighbours, too, by
// the lengths of the pieces; so the best few are reckoned as they are.
func (w *work) sketchChain(shared []hardware.Hold) (best *sketch) {
	w.sketching = true
	defer func() { w.sketching = false }()
	for a := range ways {
		others := slices.Repeat([]plan.Joint{w.way(a)}, len(w.corners))
		chains := w.sketchBeside(others, shared)
		for i := range chains {
			if s := &chains[i]; w.reckon(s) && (best == nil || s.points > best.points) {
				best = s
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// sketchBeside lists the best chains if each corner is worth what it is with given joints at the others, the best first.
func (w *work) sketchBeside(others []plan.Joint, shared []hardware.Hold) (found []sketch) {
	c := w.chain(others, shared)
	if c == nil {
		return nil
	}
	begin := []partial{{}}
	for step := range w.corners {
		begin = extend(begin, w.weigh(c, w.corner(step)))
	}
	w.forget(c)
	slices.SortStableFunc(begin, func(a, b partial) int { return cmp.Compare(b.points, a.points) })
	for i := range begin[:min(len(begin), mostSketches)] {
		found = append(found, w.sketch(&begin[i], shared))
	}
	return found
}

// chain is a chain with its joints and lines given, each corner with the first kind of pull parts; nil when it cannot be laid out.
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
	s.points = 0
	for _, o := range c.options {
		if !o.Feasible {
			return false
		}
		s.points += float64(o.points)
	}
	last := w.corner(len(w.corners) - 1)
	if w.costOption(c, last, c.options[last]) != nil {
		return false
	}
	s.points += w.pointsFor(c.options[last].Cost.Float())
	return true
}

// pointsFor are the points for what a whole top costs, against any other such.
func (w *work) pointsFor(cost float64) float64 {
	if w.usual == 0 {
		w.usual = cost
	}
	return float64(w.set.PointsCost) * 10 * (cost - w.usual) / w.usual
}

// extend adds a corner to every beginning that ends with the line of its first run, and keeps the best few for each line behind it.
func extend(begin []partial, list []worth) (out []partial) {
	for i := range begin {
		for _, v := range list {
			if v.before == begin[i].line() {
				out = append(out, partial{append(slices.Clone(begin[i].ways), v), begin[i].points + v.points})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b partial) int { return cmp.Compare(b.points, a.points) })
	kept, fronts, backs := out[:0], 0, 0
	for _, p := range out {
		count := &fronts
		if p.line() == hardware.HoldBack {
			count = &backs
		}
		if *count++; *count <= mostBeginnings {
			kept = append(kept, p)
		}
	}
	return kept
}

// weigh lists what the ways to make corner k that the caller's wish allows are worth, with every line that its runs may have.
func (w *work) weigh(c *chosen, k int) (list []worth) {
	first, second := c.shared[k], c.shared[k+1]
	for a := range ways {
		j := w.way(a)
		if !w.wished(k, j) {
			continue
		}
		for _, c.shared[k] = range w.linesOfRun(k, first) {
			for _, c.shared[k+1] = range w.linesOfRun(k+1, second) {
				o, err := w.tryLines(k, j, c, w.corners[k].Pull)
				if err == nil && o.Feasible && w.costOption(c, k, o) == nil {
					v := worth{joint: j, before: w.settled(k, c), after: w.settled(k+1, c), points: float64(o.points) + w.pointsFor(o.Cost.Float())}
					if w.fromEnd {
						v.before, v.after = v.after, v.before
					}
					list = append(list, v)
				}
				w.tried.giveBack([]*option{o}, nil)
			}
		}
	}
	c.shared[k], c.shared[k+1] = first, second
	return list
}

// linesOfRun are the lines that run i may have: the one given or, where it may be held at its back as well, both.
func (w *work) linesOfRun(i int, given hardware.Hold) []hardware.Hold {
	if w.mayBeBack(i) {
		return []hardware.Hold{hardware.HoldFront, hardware.HoldBack}
	}
	return []hardware.Hold{given}
}

// settled is the line that two corners share; HoldAuto for an end run, whose only corner settles it.
func (w *work) settled(i int, c *chosen) hardware.Hold {
	if i == 0 || i == len(w.corners) {
		return hardware.HoldAuto
	}
	return c.shared[i]
}

// sketch is a whole chain in the order of the runs.
func (w *work) sketch(p *partial, shared []hardware.Hold) sketch {
	s := sketch{lines: slices.Clone(shared), joints: make([]plan.Joint, len(p.ways))}
	for step, v := range p.ways {
		k := w.corner(step)
		s.joints[k] = v.joint
		between := k + 1
		if w.fromEnd {
			between = k
		}
		if v.after != hardware.HoldAuto {
			s.lines[between] = v.after
		}
	}
	return s
}
