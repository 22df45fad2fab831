package hardware

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// longHelps reports whether elongated recesses let a bolt stand further from the held point than round ones.
func (c *Chooser) longHelps(bolt *catalogue.Fastener) bool {
	return c.boltReach(attempt{bolt: bolt, long: true}) > c.boltReach(attempt{bolt: bolt})
}

// placing states the rules for the attempt's pull parts. Where screws and bolts are mixed the stricter of the two holds
// for both, so that each may stand at any of the positions.
func (c *Chooser) placing(r *placing, o attempt) {
	s, seam := c.set, &c.seam
	*r = placing{
		length: seam.Length, front: max(seam.FrontKeep, s.PartClear), back: seam.Length - s.PartClear, clear: s.PartClear,
		held: o.hold.Point(seam.Length), rate: seam.SlipRate, blocked: seam.Blocked,
		alignSpacing: s.AlignmentSpacing, leastPulls: fewPulls, long: o.long,
	}
	if f := o.screw; f != nil {
		r.pullEnd, r.pullSpacing, r.halfPull = s.PocketEnd, s.PocketSpacing, f.BoreDiameter/2
	}
	if f := o.bolt; f != nil {
		r.pullEnd = max(r.pullEnd, s.BoltEnd)
		r.halfPull = max(r.halfPull, f.RecessDiameter/2, f.BearingDiameter/2, Hole(f.BoltDiameter, 0, s)/2)
		r.halfChannel = (f.BoltDiameter + s.HoleAllowance) / 2
		if o.screw == nil || s.BoltSpacing < r.pullSpacing {
			r.pullSpacing = s.BoltSpacing
		}
		if seam.Length >= s.BoltThreeFrom {
			r.leastPulls = manyBolts
		}
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

// reach is how far from the held point the attempt's parts may stand; of a mix, the further-reaching.
func (c *Chooser) reach(o attempt) measure.Length {
	out := measure.Length(-1)
	if o.screw != nil {
		out = max(out, c.screwReach(o.screw))
	}
	if o.bolt != nil {
		out = max(out, c.boltReach(o))
	}
	return out
}

// boltReach is how far from the held point a bolt may stand so that its washer still bears and, in round recesses, can
// travel.
func (c *Chooser) boltReach(o attempt) measure.Length {
	out := reach(o.bolt.BoltDiameter, o.bolt.BearingDiameter, c.seam.SlipRate, c.set)
	if !o.long && c.seam.SlipRate > 0 {
		out = min(out, 2*Travel(o.bolt.RecessDiameter, o.bolt.BearingDiameter)/measure.Length(c.seam.SlipRate))
	}
	return out
}

func (c *Chooser) screwReach(f *catalogue.Fastener) measure.Length {
	return reach(f.ThreadDiameter, headOf(f), c.seam.SlipRate, c.set)
}
