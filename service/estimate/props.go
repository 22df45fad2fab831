package estimate

import (
	"cmp"
	"slices"

	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/support"
)

// addTo adds what run i's base lacks: first in its bays and past its ends, then under the overhangs before it, at last at the
// wall behind it.
func (w *work) addTo(i int, edge [2]measure.Length, l *plan.Layout) {
	from, to := measure.Length(0), w.runs[i].Length
	if l != nil {
		from, to = l.Span(i, w.runs[i].Depth/2)
	}
	slab := w.stripsOn(i)
	b := w.base
	of := sought{cat: w.cat, add: w.order.Support.Add, parts: b.parts[i], holes: b.holes[i], from: from, to: to, edge: edge, depth: w.runs[i].Depth,
		seams: w.seamsOf(i), thickness: w.slabThickness(), loads: b.loads, own: b.woods[i].own, spread: slab.Spread,
		along: strengthOf(&b.woods[i].along), across: strengthOf(&b.woods[i].across)}
	if w.recall(i, &of) {
		return
	}
	props, parts := len(b.props), len(b.parts[i])
	defer func() { w.bends.note(&of, b.props[props:], b.parts[i][parts:]) }()
	var line base.Line
	var strips []base.Way
	laid := -1 // how many parts stood there then
	failing := func(is func(*base.Way) bool) (out []base.Way) {
		if parts := w.base.parts[i]; len(parts) != laid {
			line, laid = w.lay(i, from, to, edge), len(parts)
			strips = line.StripsIn(&w.drawn, &slab)
		}
		for k := range strips {
			if way := &strips[k]; !way.Props && is(way) {
				if !w.holds(i, way) {
					out = append(out, *way)
				}
			}
		}
		return out
	}
	a := adding{w: w, i: i, slab: &slab, lay: func(parts []base.Part) base.Line {
		return w.drawn.Lay(parts, from, to, w.runs[i].Depth, w.seamsOf(i))
	}, edge: edge}
	if line := w.lay(i, from, to, edge); line.Hangs() {
		a.inBays(from, to, 0)
	}
	for _, way := range failing(func(s *base.Way) bool { return s.Direction == support.Along }) {
		a.inBays(way.From, way.To, w.greatest(i, &way))
	}
	for _, way := range failing(func(s *base.Way) bool { return s.Side == base.AtFront && s.Direction == support.Across }) {
		a.underFront(&way)
	}
	for _, way := range failing(func(s *base.Way) bool { return s.Side == base.AtWall }) {
		a.batten(&way)
	}
}

// adding is the search for what a run's base lacks.
type adding struct {
	w     *work
	i     int
	slab  *base.Slab
	lay   func([]base.Part) base.Line
	edge  [2]measure.Length
	with  []base.Part // what is tried, beside what stands there
	these []base.Part // what is tried
}

// holds reports whether the piece stands and every strip that the parts have to do with holds, and of those that do not whether more parts would help: what
// reaches past them across the grain stays as it is, however many there are.
func (a *adding) holds(parts []base.Part, concerns func(*base.Way) bool) (holds, hopeless bool) {
	drawn := &a.w.drawn
	defer drawn.Release(drawn.Mark())
	a.with = append(append(a.with[:0], a.w.base.parts[a.i]...), parts...)
	line := a.lay(a.with)
	if line.Hangs() || line.Tips() {
		return false, false
	}
	line.Edge = a.edge
	ways := line.StripsIn(drawn, a.slab)
	for k := range ways {
		if way := &ways[k]; concerns(way) && !a.w.holds(a.i, way) {
			return false, way.Direction == support.Across
		}
	}
	return true, false
}

// closest is as near to each other as brackets or legs are tried.
//
// Common practice.
const closest = 150 * measure.Millimetre

// kinds are what is tried, the first choice first: legs also where brackets will not do.
func (a *adding) kinds() []base.Kind {
	if a.w.order.Support.Add == AddLegs {
		return []base.Kind{base.Legs}
	}
	return []base.Kind{base.Bracket, base.Legs}
}

// try puts so many of an item between two ends, from the root to the tips, and takes them when all holds. What must stand beside a cut-out
// and is as near on either side of it is tried on both. It also reports whether it is hopeless with more of them.
func (a *adding) try(p Props, f *catalogue.Fastener, concerns func(*base.Way) bool, edgeToRoot measure.Length) (taken, hopeless bool) {
	taken, hopeless, either := a.tryOn(p, f, concerns, edgeToRoot, false)
	if !taken && either {
		taken, hopeless, _ = a.tryOn(p, f, concerns, edgeToRoot, true)
	}
	return taken, hopeless
}

// tryOn tries one side of the cut-outs; either reports whether the other is as near.
func (a *adding) tryOn(p Props, f *catalogue.Fastener, concerns func(*base.Way) bool, edgeToRoot measure.Length,
	otherSide bool) (taken, hopeless, either bool) {
	w := a.w
	at := base.Middles(p.From, p.To, p.Count, w.set.PropEnd)
	parts := slices.Grow(a.these[:0], len(at))[:len(at)]
	a.these = parts
	for k := range at {
		near, other, ok := base.Beside(at[k], f.Width/2, p.Front, p.Front+p.Reach, w.set.CutoutClear, w.base.holes[a.i], p.From+f.Width/2, p.To-f.Width/2)
		if !ok {
			return false, false, false
		}
		either = either || near != other
		if at[k] = near; otherSide {
			at[k] = other
		}
		parts[k] = base.Part{Kind: p.Kind, From: at[k] - f.Width/2, To: at[k] + f.Width/2, Front: p.Front, Depth: p.Reach, Place: -1,
			Supplied: true, Item: f.Code}
		if k > 0 {
			p.Spacing = max(p.Spacing, at[k]-at[k-1])
		}
	}
	p.Positions, p.Item, p.Name, p.Working = at, f.Code, f.Name, f.WorkingLoad
	if p.Load = w.borne(a.i, &p, edgeToRoot-p.Front, w.base.loads.Point); p.Load > p.Working || p.Spacing > w.set.PropSpacing+noiseOfSums {
		return false, false, either
	}
	if holds, hopeless := a.holds(parts, concerns); !holds {
		return false, hopeless, either
	}
	p.Text = w.propsText(&p)
	w.base.parts[a.i] = append(w.base.parts[a.i], parts...)
	w.supplied(p)
	return true, false, either
}

// search tries ever more of ever longer items.
func (a *adding) search(p Props, reach func(*catalogue.Fastener) measure.Length, concerns func(*base.Way) bool, root measure.Length) bool {
	items := a.w.fastenersCarrying(catalogue.SupportBracket)
	if p.Kind == base.Legs {
		items = a.w.fastenersCarrying(catalogue.SupportLeg)
	}
	for p.Count = 1; len(items) > 0 && (p.Count == 1 || (p.To-p.From)/measure.Length(p.Count) >= closest); p.Count++ {
		left := items[:0]
		for _, f := range items {
			p.Reach = reach(f)
			if p.Front = root - p.Reach; p.Kind == base.Legs {
				p.Front = a.w.set.PropShort
			}
			if p.Front < a.w.set.PropShort-noiseOfSums || p.Reach <= 0 {
				continue
			}
			if p.Kind == base.Legs {
				if p.Legs = p.Count; p.Reach > f.Width+noiseOfSums {
					p.Legs = 2 * p.Count
				}
			}
			taken, hopeless := a.try(p, f, concerns, root)
			if taken {
				return true
			}
			if !hopeless {
				left = append(left, f)
			}
		}
		items = left
	}
	return false
}

// inBays puts brackets or legs into the open bays between two places, where so much holds without, until what is there holds: what stands
// in one may carry the next, so that the widest comes first.
func (a *adding) inBays(from, to, without measure.Length) {
	line := a.lay(a.w.base.parts[a.i])
	bays := line.Bays(from, to)
	slices.SortStableFunc(bays, func(a, b base.Part) int { return cmp.Compare(b.To-b.From, a.To-a.From) })
	for k := range bays {
		if holds, _ := a.holds(nil, inBay(&bays[k])); !holds {
			a.inBay(&bays[k], without)
		}
	}
}

// inBay are the strips that what stands in a bay has to do with.
func inBay(bay *base.Part) func(*base.Way) bool {
	return func(s *base.Way) bool {
		return !s.Props && s.To > bay.From+noiseOfSums && s.From < bay.To-noiseOfSums && (s.Direction == support.Along ||
			s.From >= bay.From-noiseOfSums && s.To <= bay.To+noiseOfSums)
	}
}

// inBay puts brackets from the wall, or pairs of legs, into an open bay or under an end that hangs over.
func (a *adding) inBay(bay *base.Part, without measure.Length) {
	depth := a.w.runs[a.i].Depth
	p := Props{Run: a.w.runs[a.i].Name, From: bay.From, To: bay.To, Added: true, Place: -1, Without: without}
	for _, p.Kind = range a.kinds() {
		if a.search(p, func(f *catalogue.Fastener) measure.Length {
			if p.Kind == base.Legs {
				return depth - 2*a.w.set.PropShort
			}
			return f.Length
		}, inBay(bay), depth) {
			return
		}
	}
}

// underFront puts brackets or legs under an overhang before what carries.
func (a *adding) underFront(way *base.Way) {
	overhang := way.Lengths[0]
	line := a.lay(a.w.base.parts[a.i])
	line.Edge = a.edge
	from, to := line.FrontEdge(way.From, way.To)
	if to-from <= noiseOfSums {
		return
	}
	for k := range line.Parts { // before brackets in a bay nothing stands
		if q := &line.Parts[k]; q.Kind == base.Bracket && q.From < way.To-noiseOfSums && q.To > way.From+noiseOfSums {
			return
		}
	}
	p := Props{Run: a.w.runs[a.i].Name, From: from, To: to, Added: true, Place: -1, Without: a.w.greatest(a.i, way)}
	for _, p.Kind = range a.kinds() {
		if a.search(p, func(f *catalogue.Fastener) measure.Length {
			if p.Kind == base.Legs {
				return min(f.Width, overhang-a.w.set.PropShort)
			}
			return f.Length
		}, func(s *base.Way) bool {
			return s.Props && s.To > from+noiseOfSums && s.From < to-noiseOfSums
		}, overhang) {
			return
		}
	}
}

// batten carries the wall edge behind what carries the front.
func (a *adding) batten(way *base.Way) {
	w := a.w
	p := Props{Run: w.runs[a.i].Name, Kind: base.Batten, Count: 1, From: way.From, To: way.To, Reach: w.set.BaseRail, Added: true, Place: -1,
		Front: w.runs[a.i].Depth - w.set.BaseRail, Without: w.greatest(a.i, way)}
	p.Text = w.propsText(&p)
	w.base.parts[a.i] = append(w.base.parts[a.i], base.Part{Kind: base.Batten, From: p.From, To: p.To, Front: p.Front, Depth: p.Reach,
		Place: -1, Supplied: true})
	w.supplied(p)
}
