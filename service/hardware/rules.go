package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// longHelps reports whether elongated recesses let a bolt stand further from the held point than round ones.
func (c *Chooser) longHelps(bolt *catalogue.Fastener) bool {
	return c.partReach(bolt, true) > c.partReach(bolt, false)
}

// placing states the rules for the attempt's pull parts. Where screws and bolts are mixed the stricter of the two holds
// for both, so that each may stand at any of the positions.
func (c *Chooser) placing(r *placing, o attempt) {
	s, seam := c.set, &c.seam
	*r = placing{
		length: seam.Length, front: max(seam.FrontKeep, s.PartClear), back: seam.Length - s.PartClear, clear: s.PartClear,
		held: o.hold.Point(seam.Length), rate: seam.SlipRate, blocked: seam.Blocked,
		alignSpacing: s.AlignmentSpacing, long: o.long,
	}
	for _, f := range o.parts() {
		if f == nil {
			continue
		}
		by := formOf(f).pull
		r.pullEnd, r.halfPull = max(r.pullEnd, by.end(s)), max(r.halfPull, by.half(f, s))
		r.halfChannel = max(r.halfChannel, by.channel(f, s))
		if spacing := by.spacing(s); f == o.first() || spacing < r.pullSpacing {
			r.pullSpacing = spacing
		}
		r.leastPulls = max(r.leastPulls, by.many(seam.Length, s))
	}
	r.pullWindow = max(r.pullEnd, r.pullSpacing/2)
	r.pullFrom = max(r.pullEnd, r.front+r.halfPull)
	r.pullTo = min(r.length-r.pullEnd, r.back-r.halfPull)
}

// bar states where the wood bars the attempt's pull parts.
func (c *Chooser) bar(r *placing, o attempt, all bool) {
	switch {
	case o.bolt == nil:
		r.pullBars = c.barsOf(o.screw, false, all)
	case o.screw == nil:
		r.pullBars = c.barsOf(o.bolt, o.long, all)
	default:
		c.mixed = append(append(c.mixed[:0], c.barsOf(o.screw, false, all)...), c.barsOf(o.bolt, o.long, all)...)
		r.pullBars = c.mixed
	}
}

// parts are the attempt's pull parts; nil for what it has none of.
func (o *attempt) parts() [2]*catalogue.Fastener { return [2]*catalogue.Fastener{o.screw, o.bolt} }

// first is the one nearer to the held point.
func (o *attempt) first() *catalogue.Fastener {
	if o.screw != nil {
		return o.screw
	}
	return o.bolt
}

// reach is how far from the held point the attempt's parts may stand; of a mix, the further-reaching.
func (c *Chooser) reach(o attempt) measure.Length {
	out := measure.Length(-1)
	for _, f := range o.parts() {
		if f != nil {
			out = max(out, c.partReach(f, o.long))
		}
	}
	return out
}

// partReach is how far from the held point a pull part may stand so that what bears still does and, where it is not
// elongated, its recess lets it travel.
func (c *Chooser) partReach(f *catalogue.Fastener, long bool) measure.Length {
	by := formOf(f).pull
	out := reach(by.shank(f), by.head(f), c.seam.SlipRate, c.set)
	if !long && by.travel != nil && c.seam.SlipRate > 0 {
		out = min(out, 2*by.travel(f)/measure.Length(c.seam.SlipRate))
	}
	return out
}
