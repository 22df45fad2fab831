package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/joint"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// PullKind is a joint with another kind of pull parts than the one reckoned with: what it would have come to.
type PullKind struct {
	Kind           catalogue.FastenerKind
	Score          int
	CostDifference money.Amount // against the kind reckoned with
}

// tryPulls tries one way to make corner k with each kind of pull parts that the caller's wish allows: as the hardware's
// own order has it, and with the other kind. The options are added to a list; the last is the one that an error is
// about.
func (w *work) tryPulls(k int, j plan.Joint, c *chosen, to []*option) ([]*option, error) {
	wish := w.corners[k].Pull
	o, err := w.tryLines(k, j, c, wish)
	if to = append(to, o); err != nil || wish != "" {
		return to, err
	}
	other := o.otherPull()
	if other == "" || !o.Feasible && o.excludedAnyway() {
		return to, nil
	}
	o, err = w.tryLines(k, j, c, other)
	if err == nil && !o.Feasible {
		w.tried.giveBack([]*option{o}, nil)
		return to, nil // the first says already why that kind does not serve, or needs no rival
	}
	return append(to, o), err
}

// excludedAnyway reports whether something else than its hardware excludes a candidate.
func (o *option) excludedAnyway() bool {
	facts := o.facts
	facts.Hardware, facts.OutOfReach = nil, ""
	return !joint.Weigh(&facts).Feasible
}

// otherPull is the kind of pull parts that is worth trying beside the one that was chosen: draw bolts where screws were
// taken; screws in a miter. Where bolts were taken in a butt, screws have failed.
func (o *option) otherPull() catalogue.FastenerKind {
	switch {
	case o.layout == nil:
		return ""
	case !o.Joint.RunsThrough():
		return catalogue.PocketScrew
	case o.pullKind().Form() == catalogue.Pocketed:
		return catalogue.DrawBolt
	}
	return ""
}

// pullKind is the kind of the pull parts nearest to the held point; empty: none fit.
func (o *option) pullKind() catalogue.FastenerKind {
	if len(o.Hardware.Pull.Groups) == 0 {
		return ""
	}
	return o.Hardware.Pull.Groups[0].Kind
}

// bestPulls keeps of each way the option with the better kind of pull parts, and notes in it what the other would have
// come to. Of the way of the option before, when there is one, it keeps the one with the same kind.
func bestPulls(options []*option, before *option) []*option {
	kept := options[:0]
	for _, o := range options {
		last := len(kept) - 1
		if last < 0 || kept[last].Joint != o.Joint {
			kept = append(kept, o)
			continue
		}
		best, other := kept[last], o
		if before != nil && o.Joint == before.Joint && o.Feasible && best.Feasible {
			if o.pullKind() == before.pullKind() {
				best, other = o, best
			}
		} else if o.Feasible && (!best.Feasible || o.beats(best)) {
			best, other = o, best
		}
		if other.Feasible {
			best.OtherPull = PullKind{Kind: other.pullKind(), Score: other.Score, CostDifference: other.Cost.Minus(best.Cost)}
		}
		kept[last] = best
	}
	return kept
}
