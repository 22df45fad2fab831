package estimate

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/joint"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// lines are the fixed lines of the two runs at a corner: where their bases hold them, and from where all their movement
// counts.
type lines [2]hardware.Hold

// linesOf lists the pairs of fixed lines with which a joint at corner k is worth trying, the first choice first:
//
//   - What the caller says of the base holds for every run.
//   - A miter is held where the caller wants its seam held, else at the front: both runs are fixed there.
//   - A through run is fixed at the edge that is its seam (the front, at a reflex corner the wall edge), or its whole
//     slab would push the seam and leave it open by turns.
//   - A stopping run is fixed where the caller wants the seam held, else at the front or, in a plain butt, at its
//     centre, where its ends slide half as far. At a reflex corner its front shows a step, and a mason's miter its
//     mitred corner: these are held at the front.
//
// Common practice.
func (w *work) linesOf(k int, j plan.Joint, to []lines) []lines {
	if f := w.order.Top.Fixing.FixedLine; f != hardware.HoldAuto {
		return append(to, lines{f, f})
	}
	wish, reflex := w.corners[k].HoldAt, w.corners[k].angle > 180*measure.Degree
	held := wish
	if held == hardware.HoldAuto {
		held = hardware.HoldFront
	}
	if !j.RunsThrough() {
		return append(to, lines{held, held})
	}
	through := hardware.HoldFront
	if reflex {
		through = hardware.HoldBack
	}
	to = append(to, pair(j, through, held))
	if wish == hardware.HoldAuto && !j.Kind.Turns() && !reflex {
		to = append(to, pair(j, through, hardware.HoldCentre))
	}
	return to
}

// pair puts the lines of a through and a stopping run in the order of the chain.
func pair(j plan.Joint, through, stopping hardware.Hold) lines {
	if j.Through == plan.First {
		return lines{through, stopping}
	}
	return lines{stopping, through}
}

// tryLines tries one way to make corner k, with a kind of pull parts, with every pair of lines worth trying and returns
// the best. A run that belongs to another corner as well has the line that was settled for both.
func (w *work) tryLines(k int, j plan.Joint, c *chosen, pull catalogue.FastenerKind) (best *option, refused error) {
	if err := w.ctx.Err(); err != nil {
		return w.tried.next(), err
	}
	var store [2]lines
	pairs := w.linesOf(k, j, store[:0])
	for i, p := range pairs {
		if k > 0 {
			p[0] = c.shared[k]
		}
		if k+1 < len(c.options) {
			p[1] = c.shared[k+1]
		}
		p = w.alike(k, p)
		if pairs[i] = p; i > 0 && p == pairs[i-1] {
			continue
		}
		o, err := w.try(k, j, p[0], p[1], c.joints, pull)
		worse := o
		if best == nil || err == nil && (refused != nil || o.heldBetter(best)) {
			best, worse, refused = o, best, err
		}
		w.tried.giveBack([]*option{worse}, nil)
		if i == 0 && err == nil && (o.facts.NoWay != "" || w.heldBest(o, pull)) {
			break // wherever it is held, its pieces are as long
		}
	}
	return best, refused
}

// heldBest reports whether no other place to hold a joint can be better by heldBetter: it has draw bolts because they
// were asked for, or the lightest screws on sale.
func (w *work) heldBest(o *option, pull catalogue.FastenerKind) bool {
	part := o.heaviest()
	switch {
	case !o.Feasible || part == nil:
		return false
	case part.Kind.Form() != catalogue.Pocketed:
		return pull == part.Kind
	}
	for _, f := range w.cat.FastenersOf(part.Kind) {
		if f.ThreadDiameter < part.ThreadDiameter {
			return false
		}
	}
	return true
}

// heldBetter reports whether a joint is better held here than where another option of it is held: there are pull parts
// for it, screws rather than draw bolts, and lighter ones.
//
// Common practice: the front first; the centre when the front asks for a heavier screw or for bolts.
func (o *option) heldBetter(other *option) bool {
	if o.Feasible != other.Feasible {
		return o.Feasible
	}
	a, b := o.heaviest(), other.heaviest()
	if !o.Feasible || a == nil || b == nil || a.Kind.Form() != catalogue.Pocketed {
		return false
	}
	return b.Kind.Form() != catalogue.Pocketed || a.ThreadDiameter < b.ThreadDiameter
}

// heaviest is the pull part of the last group: draw bolts when there are some.
func (o *option) heaviest() *catalogue.Fastener {
	groups := o.Hardware.Pull.Groups
	if len(groups) == 0 {
		return nil
	}
	return &groups[len(groups)-1].Part
}

// lineOf is run i's fixed line in a chosen top.
func (w *work) lineOf(i int, options []*option) hardware.Hold {
	switch {
	case i > 0:
		return options[i-1].Movement.SecondLine
	case len(options) > 0:
		return options[0].Movement.FirstLine
	case w.order.Top.Fixing.FixedLine != hardware.HoldAuto:
		return w.order.Top.Fixing.FixedLine
	}
	return hardware.HoldFront
}

// assumeLines notes the fixed lines that were taken, when the caller left them open.
func (w *work) assumeLines(options []*option) {
	if w.order.Top.Fixing.FixedLine != hardware.HoldAuto || w.order.Top.Fixing.Kind == FixNone {
		return
	}
	first, alike := w.lineOf(0, options), true
	var each strings.Builder
	for i := range w.runs {
		line := w.lineOf(i, options)
		alike = alike && line == first
		if i > 0 {
			each.WriteString(", ")
		}
		each.WriteString(w.runs[i].Name + ": " + string(line))
	}
	value := string(first)
	if !alike {
		value = each.String()
	}
	w.assume("/top/fixing/fixed_line", value,
		"each run is fixed to its base where its seam is held, a through run at the edge that is the seam")
}

// fixRun reckons what a run's fixed line and its swing decide: the gap at its wall and how that joint is covered.
func (w *work) fixRun(r *RunResult, i int, c *chosen) {
	m := &r.Movement
	s := w.swingOf(i, c.layout, c.options)
	m.FixedLine = w.lineOf(i, c.options)
	m.Swing = w.swingToWall(i, s, c.layout)
	m.WallGap = w.neededGap(i, m.FixedLine, float64(m.Swing))
	r.WallJoint = w.wallJoint(i, c.layout, c.options)
}

// swingToWall is how far a leg's far end moves towards its wall in the season in which that is most; 0 when it does not
// swing.
func (w *work) swingToWall(i int, s swinging, l *plan.Layout) measure.Length {
	if s.share == 0 {
		return 0
	}
	from, to := w.legTips(i, l) // the wall is straight, and so are the pieces of a leg
	return measure.Length(s.share) * max(0, joint.Shift(to-from, s.dry), joint.Shift(to-from, s.humid))
}
