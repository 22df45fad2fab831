package base

import (
	"math"
	"slices"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// InFront reports whether a bracket or a leg stands under the overhang before a part that carries.
func InFront(p *Part, parts []Part) bool {
	if p.Kind != Bracket && p.Kind != Legs {
		return false
	}
	for i := range parts {
		q := &parts[i]
		if q.Kind.Carries() && q.Kind != Bracket && q.From < p.To-noise && q.To > p.From+noise && p.Front+p.Depth <= q.Front+noise &&
			q.Place != p.Place {
			return true
		}
	}
	return false
}

// inBay reports whether legs stand in a bay that was told to be open.
func inBay(p *Part, parts []Part) bool {
	for i := range parts {
		if q := &parts[i]; q.Kind == Open && q.From < p.To-noise && q.To > p.From+noise {
			return true
		}
	}
	return false
}

// propsUnder are the props under a stretch of the front overhang.
func (l *telling) propsUnder(from, to measure.Length) []Part {
	if len(l.Props) == 0 {
		return nil
	}
	out := l.partsFor(len(l.Props))
	for _, p := range l.Props {
		if p.middle() > from-noise && p.middle() < to+noise {
			out = append(out, p)
		}
	}
	return out
}

// FrontEdge is the stretch of a part's front overhang that has a front edge over it: at an inside corner the neighbour's slab
// lies there.
func (l *Line) FrontEdge(from, to measure.Length) (measure.Length, measure.Length) {
	if l.Edge[1] <= l.Edge[0] {
		return from, to
	}
	return max(from, l.Edge[0]), min(to, l.Edge[1])
}

// propped are the strips of an overhang that lies on props: what reaches beyond their tips across the grain, the spans from
// one to the next along the grain, and what reaches past the first and the last. The slab's stiff direction carries between
// the props what its weak one could not carry to the base.
func (l *telling) propped(out []Way, p *Part, props []Part) []Way {
	from, to := l.FrontEdge(p.From, p.To)
	tip := measure.Length(0)
	var store [12]measure.Length
	points := store[:0]
	for i := range props {
		tip, points = max(tip, props[i].Front), append(points, props[i].middle())
	}
	place := props[0].Place
	add := func(w Way, far, spread float64, most measure.Length) {
		w.Props, w.Place = true, place
		w.wide(far, spread, most)
		out = append(out, w)
	}
	if tip > noise {
		add(Way{Strip: Strip{Support: support.Overhang, Direction: support.Across, Side: AtFront, From: from, To: to,
			Lengths: l.lengthsOf(tip), Back: l.Rail / 2}}, 1, l.Spread, to-from)
	}
	last := len(points) - 1
	left := l.left(from, to, p.Front)
	back := [2]measure.Length{props[0].To - props[0].From, props[last].To - props[last].From}
	if last > 0 {
		w := Way{Strip: Strip{Support: support.Span, Direction: support.Along, From: points[0], To: points[last]}}
		w.Lengths, l.lengths = room(l.lengths, last)
		for i := range last {
			w.Lengths = append(w.Lengths, points[i+1]-points[i])
		}
		if last > 1 {
			w.Support = support.Spans
		}
		back = [2]measure.Length{w.Lengths[0], w.Lengths[last-1]}
		add(w, 0.5, 1/l.Spread, left)
	}
	for end, length := range [2]measure.Length{points[0] - from, to - points[last]} {
		if length <= noise {
			continue
		}
		w := Way{Strip: Strip{Support: support.Overhang, Direction: support.Along, Side: AtStart, From: from, To: points[0],
			Lengths: l.lengthsOf(length), Back: back[end]}}
		if end == 1 {
			w.Side, w.From, w.To = AtEnd, points[last], to
		}
		add(w, 1, 1/l.Spread, left)
	}
	return out
}

// Middles are so many places between two ends, evenly, the outermost so far from the ends, or as far as between two of them
// where that is nearer. One alone stands in the middle.
func Middles(from, to measure.Length, count int, end measure.Length) []measure.Length {
	whole := to - from
	if count == 1 {
		return []measure.Length{from + whole/2}
	}
	end = min(end, whole/measure.Length(count+1))
	out := make([]measure.Length, count)
	for k := range out {
		out[k] = from + end + (whole-2*end)*measure.Length(k)/measure.Length(count-1)
	}
	return out
}

// Tributary is the most of the length from one end to the other that one of some places bears: half of what lies to its
// neighbours, or all that lies to an end.
func Tributary(from, to measure.Length, at []measure.Length) measure.Length {
	most := measure.Length(0)
	for k := range at {
		before, after := at[k]-from, to-at[k]
		if k > 0 {
			before = (at[k] - at[k-1]) / 2
		}
		if k+1 < len(at) {
			after = (at[k+1] - at[k]) / 2
		}
		most = max(most, before+after)
	}
	return most
}

// ArmLoad is what a bracket's arm of a length R bears at its tip when it holds a slab up that reaches L from its root, over a
// width b, under a uniform load w, with a load P at the slab's edge: the force at the tip that has the same moment at the root,
//
//	F = (w·b·L²/2 + P·L)/R
//
// It is the safe side: the base bears a part of the slab near the root, and neighbours a part of P.
//
// Source: statics, the moment of a cantilever (American Wood Council, Beam Design Formulas with Shear and Moment Diagrams, 2007).
func ArmLoad(w measure.Pressure, b, l measure.Length, p measure.Force, r measure.Length) measure.Force {
	moment := w.Megapascals()*float64(b)*float64(l)*float64(l)/2 + float64(p)*float64(l) // N·mm
	return measure.Force(moment / float64(r))
}

// PostLoad is what a leg bears that holds a slab up over an area b·L, with a load P upon it: F = w·b·L + P, as if it stood alone.
//
// Source: statics.
func PostLoad(w measure.Pressure, b, l measure.Length, p measure.Force) measure.Force {
	return measure.Force(w.Megapascals()*float64(b)*float64(l)) + p
}

// Beside moves a place along a run as little as it takes for what stands there, half as wide as half, to be clear of cut-outs that
// lie over it somewhere from front to back. Other is a place that is as far on the other side, or the same. It reports whether it stays
// between two ends.
func Beside(at, half, front, back, clear measure.Length, holes []Hole, from, to measure.Length) (best, other measure.Length, found bool) {
	hits := func(at measure.Length) bool {
		return slices.ContainsFunc(holes, func(h Hole) bool {
			return h.Front < back-noise && h.Front+h.Depth > front+noise && at+half > h.From-clear+noise && at-half < h.To+clear-noise
		})
	}
	if !hits(at) {
		return at, at, at >= from-noise && at <= to+noise
	}
	least := measure.Length(math.Inf(1))
	for i := range holes {
		for _, there := range [2]measure.Length{holes[i].From - clear - half, holes[i].To + clear + half} {
			d := measure.Length(math.Abs(float64(there - at)))
			switch {
			case d > least+noise || hits(there) || there < from-noise || there > to+noise:
			case d >= least-noise:
				other = there
			default:
				best, other, least, found = there, there, d, true
			}
		}
	}
	return best, other, found
}
