package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// plain chooses as the package's rules are written down, without anything that spares work: nothing is remembered,
// nothing is ruled out before it is tried, every edge is looked at for every part. The Chooser must come to the same
// plans.
type plain struct {
	*Chooser
}

// ChoosePlainly is Choose by the plain way.
func ChoosePlainly(seam Seam, wish Wish, cat *catalogue.Snapshot) (Plan, error) {
	if err := refuse(&seam, wish); err != nil {
		return Plan{}, err
	}
	c := plain{NewChooser(cat)}
	c.seam, c.wish, c.units = seam, wish, seam.Units
	c.gather(&c.seam, wish, cat)
	return c.choose(), nil
}

func (c *plain) choose() Plan {
	screws := c.wish.Pull == catalogue.PocketScrew || c.wish.Pull == "" && c.seam.Joint != plan.Miter
	if c.seam.Joint == plan.MasonsMiter && c.wish.HoldAt != HoldAuto && c.wish.HoldAt != HoldFront {
		c.failed(ShortMovement, try{what: heldElsewhere})
		return c.nothing()
	}
	if len(c.alignment) == 0 {
		c.unfit(alignmentName(c.wish.Alignment))
		return c.nothing()
	}
	if screws {
		if len(c.screws) == 0 {
			c.unfit("pocket screw")
		}
		for _, s := range c.screws {
			if f := c.firstHeld(attempt{screw: s}); f != nil {
				return c.write(f)
			}
		}
	}
	if c.wish.Pull == catalogue.PocketScrew {
		return c.nothing()
	}
	if len(c.bolts) == 0 {
		c.unfit("draw bolt")
	}
	for _, long := range []bool{false, true} {
		var best *found
		for _, b := range c.bolts {
			if best = c.firstHeld(attempt{bolt: b, long: long}); best != nil {
				break
			}
		}
		if screws {
			best = c.mixes(best, long)
		}
		if best != nil {
			return c.write(best)
		}
	}
	return c.nothing()
}

func (c *plain) nothing() (p Plan) {
	c.infeasible(&p)
	return p
}

func (c *plain) write(f *found) (p Plan) {
	c.plan(&p, f)
	p.Pull.Note = c.Note(&p.Pull, &c.seam)
	return p
}

// firstHeld lays out an attempt at the first place to hold it that works.
func (c *plain) firstHeld(o attempt) *found {
	if o.long && !c.longHelps(o.bolt) {
		return nil
	}
	for _, o.hold = range c.holds(nil) {
		if l := c.layOut(o); l != nil {
			return &found{o, l}
		}
	}
	return nil
}

// mixes lays out every mix, until one saves a bolt.
func (c *plain) mixes(best *found, long bool) *found {
	tries := len(c.tries)
	for _, s := range c.screws {
		if !s.MayMixWithBolt {
			continue
		}
		for _, b := range c.bolts {
			mix := c.firstHeld(attempt{screw: s, bolt: b, long: long})
			if mix == nil {
				continue
			}
			bolts := 0
			for _, x := range mix.pulls {
				if !c.screwReaches(&mix.attempt, x) {
					bolts++
				}
			}
			if bolts > 0 && bolts < len(mix.pulls) && (best == nil || bolts < len(best.pulls)) {
				return mix
			}
			break
		}
	}
	if best != nil {
		c.tries = c.tries[:tries]
	}
	return best
}

// layOut is fit.
func (c *plain) layOut(o attempt) *shelved {
	if !(c.seam.SlipRate >= 0 && c.seam.SlipRate < 0.5) {
		c.failed(ShortMovement, try{what: slipsTooMuch})
		return nil
	}
	c.barred, c.bars, c.ruled = nil, nil, ruled{}
	for _, f := range []*catalogue.Fastener{o.screw, o.bolt} {
		if f != nil {
			long := f.Kind == catalogue.DrawBolt && o.long
			bars := plainBars(&c.seam, f, long, c.set)
			c.barred = append(c.barred, barred{f, long, false, bars}, barred{f, long, true, bars})
		}
	}
	var r placing
	wood := c.rules(&r, o)
	reach := c.reach(o)
	if r.outOfReach(reach) {
		c.tooFar(o, &r)
		return nil
	}
	r.pullFrom, r.pullTo = max(wood.from, r.held-reach), min(wood.to, r.held+reach)
	r.pullBars = r.barsWithin(nil, wood.from, wood.to)
	window := r.pullWindow
	for _, most := range []measure.Length{max(r.pullEnd, r.length/3), window} {
		if most > window {
			continue
		}
		r.outermost(most, &wood)
		for _, f := range c.alignment {
			c.state(&r, f)
			l := layout{work: &coverage{}}
			if r.roomy() && (plainRoom{&r}.evenly(&l) || r.cover(&l, nil) && r.search(&l)) {
				return &shelved{layout: l, align: f}
			}
		}
	}
	c.noRoom(o, &wood)
	return nil
}

// state is slots.
func (c *plain) state(r *placing, f *catalogue.Fastener) {
	r.halfSlot, r.halfCut = (f.Width+c.set.SlotAllowance)/2, CutterSlot(f, c.set.BiscuitCutter)/2
	half := max(r.halfSlot, r.halfCut)
	r.slotWalls = nil
	for _, b := range plainBars(&c.seam, f, false, c.set) {
		r.slotWalls = append(r.slotWalls, Interval{b.from + half, b.to - half})
	}
	r.slotFrom, r.slotTo = r.slotLimits()
	r.slotWalls = r.wallsWithin(nil)
	r.alignFirst = max(c.set.AlignmentEnd, min(r.slotFrom, r.alignSpacing))
	r.alignLast = min(r.length-c.set.AlignmentEnd, max(r.slotTo, r.length-r.alignSpacing))
}

// plainBars are the bars of every edge, with each footprint.
func plainBars(seam *Seam, f *catalogue.Fastener, long bool, s *catalogue.Settings) []bar {
	prints := formOf(f).prints(nil, f, long, seam, s)
	var all []bar
	for i := range prints {
		p := &prints[i]
		for k := range seam.Sides[p.Side].Edges {
			e := &seam.Sides[p.Side].Edges[k]
			from, to, ok := p.stretch(e, max(p.Radius+e.Clear, noise))
			if ok && to > 0 && from < seam.Length && !covered(all, from, to, p.Play) {
				all = append(all, bar{from, to, p.Play, p.Name, p.Side, e})
			}
		}
	}
	return all
}

// stretch works out where a footprint is nearer to an edge than reach.
func (p *Footprint) stretch(e *Edge, reach measure.Length) (from, to measure.Length, ok bool) {
	from, to = measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
	for i := range p.Count {
		r := &p.Rows[i]
		if lo, hi, near := plainCapsule(e.From, e.To, reach, r.In); near {
			from, to = min(from, lo-r.Half), max(to, hi+r.Half)
		}
	}
	for _, end := range [2]Place{e.From, e.To} {
		for i := range p.Count {
			a, b := p.Rows[i], p.Rows[min(i+1, p.Count-1)]
			if _, half, near := plainCapsule(Place{a.Half, a.In}, Place{b.Half, b.In}, reach, end.In); near {
				from, to = min(from, end.Along-half), max(to, end.Along+half)
			}
		}
	}
	return from, to, from < to
}

// plainCapsule is the stretch of the line In = in whose points are nearer than reach to the segment a–b.
func plainCapsule(a, b Place, reach, in measure.Length) (from, to measure.Length, ok bool) {
	if lo, hi := min(a.In, b.In), max(a.In, b.In); in <= lo-reach || in >= hi+reach {
		return 0, 0, false
	}
	from, to = measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
	for _, p := range [2]Place{a, b} {
		if d := in - p.In; d < reach && d > -reach {
			half := measure.Length(math.Sqrt(float64(reach*reach - d*d)))
			from, to = min(from, p.Along-half), max(to, p.Along+half)
		}
	}
	dx, dy := float64(b.Along-a.Along), float64(b.In-a.In)
	if dy == 0 {
		return from, to, from < to
	}
	long := dx*dx + dy*dy
	middle := float64(a.Along) + float64(in-a.In)*dx/dy
	off := float64(reach) * math.Sqrt(long) / math.Abs(dy)
	// where the line enters and leaves the band beside the segment
	for _, x := range [2]float64{middle - off, middle + off} {
		if u := ((x-float64(a.Along))*dx + float64(in-a.In)*dy) / long; u >= 0 && u <= 1 {
			from, to = min(from, measure.Length(x)), max(to, measure.Length(x))
		}
	}
	return from, to, from < to
}
