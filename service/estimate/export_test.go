package estimate

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/hardware"
	"seamwright/service/plan"
)

// HoldShapes chooses an order's corners and holds all that was remembered of pieces against what each comes to in a layout that is
// drawn by itself. It returns how much was compared, and what differs.
func HoldShapes(m *Maker, order Order) (pieces, fixings, ends int, wrong string) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, 0, 0, ""
	}
	w.ctx = context.Background()
	_, _ = w.chooseCorners() // a top that is refused remembers its pieces as well
	for _, known := range w.layouts.known {
		if known.err != nil {
			continue
		}
		joints := make([]plan.Joint, len(w.corners))
		for k := range joints {
			joints[k] = known.layout.Seams[k].Joint
		}
		l, err := plan.Lay(w.top, joints, w.profile, w.set.MasonsMargin)
		if err != nil {
			return pieces, fixings, ends, "a layout by itself is refused: " + err.Error()
		}
		for i := range w.runs {
			n := known.layout.Drawn(i)
			if n >= len(w.shapes.list) || !w.shapes.list[n].known {
				continue
			}
			got, want := *w.shapes.list[n], w.reckonShape(i, l, nil)
			for _, f := range got.fixings {
				parts := make([]*option, len(w.corners))
				for k := range parts {
					parts[k] = new(option)
				}
				if i > 0 {
					parts[i-1].reach = f.reach[0]
				}
				if i < len(parts) {
					parts[i].reach = f.reach[1]
				}
				if count := w.countOn(i, l, parts); count != f.count {
					return pieces, fixings, ends, fmt.Sprintf("run %d: %d fixings, by itself %d", i, f.count, count)
				}
				fixings++
			}
			for end, near := range got.near {
				if near == nobodyAsked {
					continue
				}
				if line := w.baseLine(i, l); (near == tooFar) != (line.Gap(end) > w.set.SeamHold+noiseOfSums) {
					return pieces, fixings, ends, fmt.Sprintf("run %d: what carries end %d", i, end)
				}
				ends++
			}
			want.size, want.near, want.fixings = got.size, got.near, got.fixings
			if !reflect.DeepEqual(got, want) {
				return pieces, fixings, ends, fmt.Sprintf("run %d: %+v, by itself %+v", i, got, want)
			}
			pieces++
		}
	}
	return pieces, fixings, ends, ""
}

// HoldTrials chooses an order's corners and holds all that was remembered of candidates, and of what chains cost with them, against what
// comes of trying and reckoning them anew. It returns how much was compared, and what differs.
func HoldTrials(m *Maker, order Order) (candidates, costs int, wrong string) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, 0, ""
	}
	w.ctx = context.Background()
	_, _ = w.chooseCorners()
	known, wholes := slices.Clone(w.trials.list[:w.trials.used]), slices.Clone(w.whole.known)
	for _, t := range known {
		joints := make([]plan.Joint, len(w.corners))
		for k := range joints {
			joints[k] = t.made.layout.Seams[k].Joint
		}
		w.trials.used, w.tried.recent, w.sketching = 0, [2]*option{}, t.inSketch
		w.trials.list, w.passable = nil, nil
		if t.toPass {
			w.passable = w.longestToPass()
		}
		got, err := w.try(t.corner, t.joint, t.lines[0], t.lines[1], joints, t.pull)
		if err != nil {
			return candidates, costs, err.Error()
		}
		again, want := *got, t.made
		again.trial, want.trial = 0, 0
		again.facts.Hardware, want.facts.Hardware = nil, nil // it points at the candidate's own
		if !reflect.DeepEqual(again, want) {
			return candidates, costs, fmt.Sprintf("corner %d, %v: %s", t.corner, t.joint, differ(want, again))
		}
		candidates++
	}
	for _, c := range wholes {
		parts := make([]*option, len(w.corners))
		for k := range parts {
			o, as := known[c.made.at[k].trial-1].made, c.made.at[k]
			o.Movement.FirstLine, o.Movement.SecondLine = lineOfNumber[as.lines[0]], lineOfNumber[as.lines[1]]
			if o.Remedy = NoRemedy; as.remedy > 0 {
				o.Remedy = remedies[as.remedy-1]
			}
			parts[k] = &o
		}
		k := max(0, int(c.made.corner))
		o := parts[k]
		o.layout = c.made.layout
		w.whole.clear()
		w.sketching = c.made.sketching
		if err := w.costOption(&chosen{options: parts}, k, o); err != nil {
			return candidates, costs, err.Error()
		}
		if o.Cost != c.cost || o.LabourHours != c.hours || c.made.corner >= 0 && (o.Remedy != c.remedy || !reflect.DeepEqual(o.Remedies, c.remedies)) {
			return candidates, costs, fmt.Sprintf("corner %d: %s and %v, again %s and %v", k, c.cost, c.remedies, o.Cost, o.Remedies)
		}
		costs++
	}
	return candidates, costs, ""
}

// Forgetful makes a maker that tries and reckons anew what it has tried before.
func Forgetful(cat *catalogue.Snapshot) *Maker {
	m := NewMaker(cat)
	m.newOther()
	m.bench.trials.off, m.other.bench.trials.off = true, true
	return m
}

var lineOfNumber = [...]hardware.Hold{hardware.HoldAuto, hardware.HoldFront, hardware.HoldCentre, hardware.HoldBack}

// differ is from where on two things are written otherwise.
func differ(a, b any) string {
	x, y := fmt.Sprintf("%+v", a), fmt.Sprintf("%+v", b)
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return x[max(0, i-60):min(i+60, len(x))] + " is not " + y[max(0, i-60):min(i+60, len(y))]
		}
	}
	return "in what is not written"
}

// HoldClear holds what is told of an order's cut-outs by their places along the runs against the whole look at each, in every layout and at
// every corner. It returns how many were told clear by their places, how many not, and what differs.
func HoldClear(m *Maker, order Order) (clear, looked int, wrong string) {
	w, err := m.resolve(order)
	if err != nil {
		return 0, 0, ""
	}
	for _, j := range ways {
		w.joints = w.joints[:0]
		for k := range w.corners {
			w.joints = append(w.joints, w.jointAt(k, j))
		}
		l, err := w.layouts.lay(w)
		if err != nil {
			continue
		}
		for k := range w.corners {
			for i := range w.cutouts {
				c := &w.cutouts[i]
				switch {
				case c.run != k && c.run != k+1:
				case !w.wellClear(c, k, l):
					looked++
				case w.tooNear(c, &l.Seams[k], l) != "":
					return clear, looked, fmt.Sprintf("cut-out %d at corner %d with %s: %s", i, k, j.Kind, w.tooNear(c, &l.Seams[k], l))
				default:
					clear++
				}
			}
		}
	}
	return clear, looked, ""
}

// Searches is how often was looked for what a base lacks, for the order that a maker was at last.
func Searches(m *Maker) int { return len(m.bench.bends.sought) }
