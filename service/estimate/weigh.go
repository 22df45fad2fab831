package estimate

import (
	"slices"

	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// worth is what one way to make a corner adds to the points of a chain. Before and behind are its two runs in the order
// of the search.
type worth struct {
	joint          plan.Joint
	before, behind side
	points         float64
}

// side is a run at a corner.
type side struct {
	run   int
	line  hardware.Hold  // HoldAuto: an end run's, which is its own
	stops bool           // the other run goes through
	spare measure.Length // by how much its piece could be longer for the longest wood
}

// weigh lists what the ways to make corner k that the caller's wish allows are worth, with every line that its runs may
// have, the other corners as they are.
func (w *work) weigh(c *chosen, k int) (list []worth) {
	before, behind := k, k+1
	if w.fromEnd {
		before, behind = behind, before
	}
	first, second := c.shared[before], c.shared[behind]
	for _, j := range w.waysAt(k) {
		if !w.wished(k, j) {
			continue
		}
		for _, line := range w.linesOfRun(before, first) {
			if !w.suits(k, before, j, line) {
				continue
			}
			c.hold(before, k, line)
			for _, line := range w.linesOfRun(behind, second) {
				if !w.suits(k, behind, j, line) {
					continue
				}
				c.hold(behind, k, line)
				if o := w.bestMade(c, k, j); o != nil {
					list = append(list, worth{j, w.sideOf(before, o, c), w.sideOf(behind, o, c),
						float64(o.points) + w.pointsFor(o.Cost)})
					w.tried.giveBack([]*option{o}, nil)
				}
			}
		}
	}
	c.hold(before, k, first)
	c.hold(behind, k, second)
	return list
}

// bestMade is corner k made in one way with the better kind of pull parts, the others as they are; nil when it cannot be made.
func (w *work) bestMade(c *chosen, k int, j plan.Joint) *option {
	var store [2]*option
	options, err := w.tryPulls(k, j, c, store[:0])
	all := slices.Clone(options)
	if err == nil {
		_, err = w.costOptions(c, k, options)
	}
	if err == nil {
		if best := bestPulls(options, nil)[0]; best.Feasible {
			w.tried.giveBack(all, []*option{best})
			return best
		}
	}
	w.tried.giveBack(all, nil)
	return nil
}

// hold sets the line of a run at corner k, which its other corner has as well.
func (c *chosen) hold(run, k int, line hardware.Hold) {
	c.shared[run] = line
	switch {
	case run == k && k > 0:
		c.options[k-1].Movement.SecondLine = line
	case run == k+1 && run < len(c.options):
		c.options[run].Movement.FirstLine = line
	}
}

// linesOfRun are the lines that run i may have: the one given or, where it may be held at its back as well, both.
func (w *work) linesOfRun(i int, given hardware.Hold) []hardware.Hold {
	if w.mayBeBack(i) {
		return []hardware.Hold{hardware.HoldFront, hardware.HoldBack}
	}
	return []hardware.Hold{given}
}

// suits reports whether run i may be held at a line for a joint at corner k: at its back where that joint or the run's other corner wants
// it. A run that is made of pieces and ends freely has no other.
func (w *work) suits(k, i int, j plan.Joint, line hardware.Hold) bool {
	first, last := w.group(i)
	return line != hardware.HoldBack || w.corners[k].inLine != nil || first > 0 && last < len(w.corners) ||
		w.linesOf(k, j, nil)[0][i-k] == hardware.HoldBack
}

// sideOf is run i at the corner of a candidate.
func (w *work) sideOf(i int, o *option, c *chosen) side {
	s := side{run: i, spare: w.spare(i, o.layout)}
	if i > 0 && i < len(w.corners) {
		s.line = c.shared[i]
	}
	s.stops = o.Joint.RunsThrough() && o.stopping(o.corner) == i
	return s
}

// pointsFor are the points for what a whole top costs, against any other top that was weighed.
func (w *work) pointsFor(cost money.Amount) float64 {
	if w.usual == 0 {
		w.usual = cost.Float()
	}
	return float64(w.set.PointsCost) * 10 * (cost.Float() - w.usual) / w.usual
}
