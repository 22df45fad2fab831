package base

import (
	"math"
	"slices"

	"seamwright/service/measure"
	"seamwright/service/support"
)

// Side is where a strip lies.
type Side string

// The sides; spans have none.
const (
	AtFront Side = "front" // past the base's front
	AtWall  Side = "wall"  // past its back
	AtStart Side = "start" // past what carries the piece first
	AtEnd   Side = "end"   // past what carries it last
)

// Strip is a stretch of the slab that carries itself: a span, several in a row, or an overhang.
type Strip struct {
	Support   support.Kind
	Direction support.Direction
	Side      Side             // of an overhang
	From, To  measure.Length   // along the run
	Lengths   []measure.Length // of the overhang or the span; of all spans
	Width     measure.Length   // that shares the load
	Back      measure.Length   // of an overhang: to what holds it down behind
	Place     int              // of the order's list: what it is about; −1: what nobody told of
	Props     bool             // it lies on brackets or legs under an overhang
}

// Way is a strip that can be made longer and shorter.
type Way struct {
	Strip
	Instead *Way // the other way of a cabinet's slab, which carries if it is the stiffer

	spread, far float64        // the width is foot + the longest length × far × spread
	most        measure.Length // and no more than this
}

// Scaled is a strip with all its lengths times a scale, on the width that goes with them. The lengths are put into a list that is there.
func (p *Way) Scaled(scale float64, into []measure.Length) Way {
	s := *p
	s.Lengths = into[:0]
	longest := measure.Length(0)
	for _, l := range p.Lengths {
		s.Lengths = append(s.Lengths, l*measure.Length(scale))
		longest = max(longest, l*measure.Length(scale))
	}
	s.Width = p.WidthFor(longest)
	return s
}

// WidthFor is the width that shares the load of a strip with a longest length.
func (p *Way) WidthFor(longest measure.Length) measure.Length {
	return share(longest*measure.Length(p.far), p.spread, p.most)
}

// Respread gives a strip the width that shares its load in another wood; see Slab.Spread.
func (p *Way) Respread(spread float64) {
	if p.spread = spread; p.Direction == support.Along {
		p.spread = 1 / spread
	}
	p.Width = p.WidthFor(slices.Max(p.Lengths))
	if p.Instead != nil {
		p.Instead.Respread(spread)
	}
}

// wide gives a strip the width that shares its load.
func (p *Way) wide(far, spread float64, most measure.Length) {
	p.far, p.spread, p.most = far, spread, most
	p.Width = p.WidthFor(slices.Max(p.Lengths))
}

// Hole is a cut-out: along the run, and from its front edge.
type Hole struct{ From, To, Front, Depth measure.Length }

// Slab is what the strips of a piece depend on beside its line.
type Slab struct {
	// Spread is how much wider than far a load spreads across the grain's strips: the fourth root of the stiffness along the grain
	// over the one across it.
	Spread float64
	Rail   measure.Length // width of a base's rails; the middle of one holds a slab down
	Hold   measure.Length // as near to a seam as what carries must be
	Holes  []Hole
}

// Spread is the fourth root of the stiffness along over the one across. A plate whose stiffness differs in two directions
// bends as an even one that is drawn out by this root, so a load reaches so much further along the grain than across it.
//
// Source: M. T. Huber's plate of two stiffnesses (remembered); the twist of the plate is left out.
func Spread(along, across measure.Pressure) float64 {
	return math.Sqrt(math.Sqrt(float64(along / across)))
}

// share is the width that shares a load that stands at a distance from its support at the free edge of a slab, the worst
// place: what it stands on, and as far to one side as to the support (45°) in an even plate; more where the slab is stiffer
// sideways.
//
// Common practice.
func share(far measure.Length, spread float64, most measure.Length) measure.Length {
	return min(foot+far*measure.Length(spread), most)
}

// foot is how wide a load stands that people bring: a hand, a knee, the foot of an appliance.
//
// Common practice.
const foot = 100 * measure.Millimetre

// StripsIn are all spans and overhangs of a piece on its line, told in a memory: first those across the grain in the order of what
// carries, then those along it.
func (l *Line) StripsIn(m *Memory, s *Slab) []Way {
	n := len(l.Parts)
	m.ways = withRoom(m.ways, 3*n+2)
	t := telling{l, s, m, m.waysFor(n)}
	return t.along(t.within(t.across(m.waysFor(2*n + 2))))
}

// telling is the telling of a line's strips.
type telling struct {
	*Line
	*Slab
	*Memory
	others []Way // of cabinets' slabs
}

// within are the spans over wide carriers, from rail to rail across the grain or from side to side along it: on four edges a
// slab sags less than either. One with a cut-out lies on the rails in front of and behind it.
func (l *telling) within(out []Way) []Way {
	for i := range l.Parts {
		p := &l.Parts[i]
		if !p.Kind.Carries() || p.narrow() || l.holed(p) || p.Depth <= 2*l.Rail {
			continue
		}
		one := Way{Strip: Strip{Support: support.Span, Direction: support.Across, From: p.From, To: p.To, Place: p.Place,
			Lengths: l.lengthsOf(p.Depth - 2*l.Rail)}}
		one.wide(0.5, l.Spread, p.To-p.From)
		l.others = append(l.others, one)
		other := &l.others[len(l.others)-1]
		other.Direction, other.Lengths = support.Along, l.lengthsOf(p.To-p.From)
		other.wide(0.5, 1/l.Spread, p.Depth)
		one.Instead = other
		out = append(out, one)
	}
	return out
}

func (s *Slab) holed(p *Part) bool {
	for i := range s.Holes {
		if h := &s.Holes[i]; h.To > p.From+noise && h.From < p.To-noise {
			return true
		}
	}
	return false
}

// across are the overhangs past the front and the back of what carries the piece, and the spans of cabinets. Neighbours that
// stand alike are one.
func (l *telling) across(out []Way) []Way {
	for i := 0; i < len(l.Parts); i++ {
		p := l.Parts[i]
		if !p.Kind.Carries() {
			continue
		}
		for i+1 < len(l.Parts) && l.Parts[i+1].Kind == p.Kind && p.Kind != Bracket &&
			l.Parts[i+1].Front.Near(p.Front) && l.Parts[i+1].Depth.Near(p.Depth) {
			i++
			p.To = l.Parts[i].To
		}
		past := func(side Side, length measure.Length) {
			if length > noise {
				one := Way{Strip: Strip{Support: support.Overhang, Direction: support.Across, Side: side, From: p.From, To: p.To,
					Lengths: l.lengthsOf(length), Back: l.Rail / 2, Place: p.Place}}
				one.wide(1, l.Spread, l.To-l.From)
				out = append(out, one)
			}
		}
		if props := l.propsUnder(p.From, p.To); len(props) > 0 && p.Kind != Bracket {
			out = l.propped(out, &p, props)
		} else {
			past(AtFront, p.Front)
		}
		if !l.battenUnder(p.From, p.To) {
			past(AtWall, l.Depth-p.Front-p.Depth)
		}
	}
	return out
}

// along are the spans from what carries the piece to what carries it next, and the overhangs past the first and the last of
// them. Over narrow carriers the slab runs through, so that their spans are one beam.
func (l *telling) along(out []Way) []Way {
	begin := len(out)
	carriers := l.partsFor(len(l.Parts))
	for i := range l.Parts {
		if l.Parts[i].Kind.Carries() {
			carriers = append(carriers, l.Parts[i])
		}
	}
	if len(carriers) == 0 {
		if l.Seam[0] && l.Seam[1] {
			out = append(out, l.span([]measure.Length{l.From, l.To}))
		}
		return out
	}
	first, last := &carriers[0], &carriers[len(carriers)-1]
	var store [12]measure.Length
	points := store[:0] // of the beam at hand
	if l.Seam[0] && l.Gap(0) > l.Hold+noise {
		points = append(points, l.From, near(first, false))
	}
	done := func() {
		if len(points) > 1 {
			out = append(out, l.span(points))
		}
		points = points[:0]
	}
	for i := range carriers {
		c := &carriers[i]
		if !c.narrow() {
			done()
		}
		if i+1 == len(carriers) {
			break
		}
		next := &carriers[i+1]
		if next.From-c.To <= noise {
			done()
			continue
		}
		if len(points) == 0 {
			points = append(points, near(c, true))
		}
		points = append(points, near(next, false))
	}
	if l.Seam[1] && l.Gap(1) > l.Hold+noise {
		if len(points) == 0 {
			points = append(points, near(last, true))
		}
		points = append(points, l.To)
	}
	done()
	for end, c := range [2]*Part{first, last} {
		if l.Gap(end) > noise && !l.Seam[end] {
			out = append(out, l.pastEnd(end, c, out[begin:]))
		}
	}
	return out
}

// near is where a carrier holds towards its end, or towards its start.
func near(p *Part, end bool) measure.Length {
	switch {
	case p.narrow():
		return p.middle()
	case end:
		return p.To
	}
	return p.From
}

// span is a beam over points.
func (l *telling) span(points []measure.Length) Way {
	p := Way{Strip: Strip{Support: support.Span, Direction: support.Along, From: points[0], To: points[len(points)-1]}}
	p.Lengths, l.lengths = room(l.lengths, len(points)-1)
	for i := 1; i < len(points); i++ {
		p.Lengths = append(p.Lengths, points[i]-points[i-1])
	}
	if len(p.Lengths) > 1 {
		p.Support = support.Spans
	}
	p.Place = l.place(p.From, p.To)
	p.wide(0.5, 1/l.Spread, l.left(p.From, p.To, l.Depth))
	return p
}

// pastEnd is the overhang past the first or the last carrier: held down by the next support where the slab turns over a narrow
// one, else by the fixings in a wide one.
func (l *telling) pastEnd(end int, c *Part, spans []Way) Way {
	at := near(c, end == 1)
	p := Way{Strip: Strip{Support: support.Overhang, Direction: support.Along, Side: AtStart, From: l.From, To: at, Back: l.Rail / 2}}
	if end == 1 {
		p.Side, p.From, p.To = AtEnd, at, l.To
	}
	p.Lengths, p.Place = l.lengthsOf(p.To-p.From), l.place(p.From, p.To)
	if c.narrow() {
		p.Back = c.To - c.From // nothing else holds it down
		for i := range spans {
			b := &spans[i]
			switch {
			case b.Direction != support.Along || b.Support == support.Overhang:
			case end == 0 && b.From == at:
				p.Back = b.Lengths[0]
			case end == 1 && b.To == at:
				p.Back = b.Lengths[len(b.Lengths)-1]
			}
		}
	}
	p.wide(1, 1/l.Spread, l.left(p.From, p.To, l.Depth))
	return p
}

// place is the part of the order's list that a stretch is about: the bay in it, else what carries beside it.
func (l *Line) place(from, to measure.Length) int {
	place := -1
	for i := range l.Parts {
		p := &l.Parts[i]
		if p.Place < 0 || p.To <= from+noise || p.From >= to-noise {
			continue
		}
		if !p.Kind.Carries() {
			return p.Place
		}
		place = p.Place
	}
	return place
}

// left is the narrowest wood that a strip along the grain has: the slab, or what is left beside a cut-out that it passes.
func (s *Slab) left(from, to, depth measure.Length) measure.Length {
	width := depth
	for i := range s.Holes {
		h := &s.Holes[i]
		if h.To <= from+noise || h.From >= to-noise {
			continue
		}
		for _, rail := range [2]measure.Length{h.Front, depth - h.Front - h.Depth} {
			if rail > noise {
				width = min(width, rail)
			}
		}
	}
	return width
}
