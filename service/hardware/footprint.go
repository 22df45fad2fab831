package hardware

import (
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Place is a point of a piece in the seam's own coordinates: along the seam from its front end, and from the seam into
// the piece.
type Place struct{ Along, In measure.Length }

// Edge is a stretch of a piece's outline, or of a cut-out in it. Seen from From towards To, wood lies on the left where
// the piece is drawn with the seam from left to right and the piece above it.
type Edge struct {
	From, To Place
	Clear    measure.Length // wood between this edge and any part, at least
}

// Footprint is what one part takes of one piece, seen from above, in a part's own coordinates: the hull of Rows, each a
// stretch across the part's axis at a distance from the seam, grown by Radius all round. Beyond that, it is longer
// along the seam by what the part slides there over Play, at either side.
type Footprint struct {
	Name   string // what is cut, for a sentence
	Side   int    // of Seam.Sides
	Rows   [3]FootprintRow
	Count  int // of the rows
	Radius measure.Length
	Play   measure.Length // slip that does not make it longer; infinite: it never grows
}

// FootprintRow is a stretch of a footprint, Half to either side of the part's axis.
type FootprintRow struct{ Half, In measure.Length }

// plungeClear is how much deeper than half a biscuit its slot is plunged. Common practice.
const plungeClear = measure.Millimetre / 2

// CutterSlot is how long a slot a cutter of diameter D leaves along the seam when it is plunged h deep for a biscuit:
// 2·√(h·(D − h)), a chord of its circle, and D when it is plunged deeper than its middle. h is half of the biscuit's
// width across the seam and 1/2 mm. Zero for what is no biscuit.
//
// Source: plane geometry; the depth is common practice.
func CutterSlot(f *catalogue.Fastener, cutter measure.Length) measure.Length {
	if cutter <= 0 || !f.Kind.Traits().Plunged {
		return 0
	}
	h := min(plunge(f), cutter/2)
	return 2 * measure.Length(math.Sqrt(float64(h)*float64(cutter-h)))
}

// plunge is how deep the slot of an alignment part reaches into either piece.
func plunge(f *catalogue.Fastener) measure.Length {
	if f.Kind.Traits().Plunged {
		return f.Length/2 + plungeClear
	}
	return f.Length / 2
}

// never is the play of a footprint that does not grow.
var never = measure.Length(math.Inf(1))

func box(name string, side int, half, in, play measure.Length) Footprint {
	return Footprint{Name: name, Side: side, Rows: [3]FootprintRow{{half, 0}, {half, in}}, Count: 2, Play: play}
}

// slotFootprint is the slot of an alignment part in the piece of a side. A biscuit's is a segment of the cutter's
// circle; three of its tangents stand for the arc, at most 1 mm outside it.
func slotFootprint(f *catalogue.Fastener, side int, s *catalogue.Settings) Footprint {
	half, cut, deep := (f.Width+s.SlotAllowance)/2, CutterSlot(f, s.BiscuitCutter)/2, plunge(f)
	longer := max(half, cut)
	p := box("slot", side, longer, deep, longer-half)
	if r := s.BiscuitCutter / 2; cut > 0 && deep < r {
		swing := math.Acos(float64((r - deep) / r))
		out := float64(r) / math.Cos(swing/4)
		more := longer - cut
		p.Rows = [3]FootprintRow{{longer, 0}, {more + measure.Length(out*math.Sin(swing*3/4)),
			measure.Length(out*math.Cos(swing*3/4)) - (r - deep)},
			{more + measure.Length(out*math.Sin(swing/4)), deep}}
		p.Count = 3
	}
	return p
}

// slotFootprints appends the slots of an alignment part in both pieces.
func slotFootprints(to []Footprint, f *catalogue.Fastener, _ bool, _ *Seam, s *catalogue.Settings) []Footprint {
	return append(to, slotFootprint(f, 0, s), slotFootprint(f, 1, s))
}

// blocks returns between which places the axis of a part's footprint, when it does not grow, may not stand because of
// an edge. The distance between two convex shapes of which one moves straight on falls, then rises: so it is one
// stretch. At its ends the two are just clear of each other, and a corner of one is then nearest to the other: the
// stretch is the hull of where each corner alone would be too near. What was found at the seam's own line, where every
// part and most edges begin, is remembered.
//
// Source: plane geometry.
func (q *imprint) blocks(e *Edge, m *edged) (from, to measure.Length, ok bool) {
	reach := q.Radius + e.Clear
	if reach <= 0 {
		reach = noise
	}
	if q.clearOf(e, reach) {
		return 0, 0, false
	}
	from, to = measure.Length(math.Inf(1)), measure.Length(math.Inf(-1))
	for k := range q.Count {
		r := &q.Rows[k]
		var lo, hi measure.Length
		var near bool
		if r.In == 0 && reach == e.Clear {
			lo, hi, near = m.atSeam(reach)
		} else {
			lo, hi, near = m.capsule(reach, r.In)
		}
		if near {
			from, to = min(from, lo-r.Half), max(to, hi+r.Half)
		}
	}
	for _, end := range [2]Place{e.From, e.To} {
		half := measure.Length(-1)
		switch {
		case end.In == 0:
			half = q.halfAtSeam(reach)
		case end.In < q.Rows[q.Count-1].In+reach && end.In > q.Rows[0].In-reach:
			half = q.halfAt(end.In, reach)
		}
		if half >= 0 {
			from, to = min(from, end.Along-half), max(to, end.Along+half)
		}
	}
	return from, to, from < to
}

// clearOf rules out edges that lie deeper in the piece than a footprint reaches, or behind it, wherever it stands.
func (p *Footprint) clearOf(e *Edge, reach measure.Length) bool {
	return min(e.From.In, e.To.In) > p.Rows[p.Count-1].In+reach+noise || max(e.From.In, e.To.In) < p.Rows[0].In-reach-noise
}

// side is the i-th side of a footprint, from one row to the next; behind the last row there is none.
func (p *Footprint) side(i int) segment {
	a, b := p.Rows[i], p.Rows[min(i+1, p.Count-1)]
	return segmentOf(Place{a.Half, a.In}, Place{b.Half, b.In})
}

// halfAt is how far to either side of its axis a footprint grown by a reach extends at a distance from the seam;
// negative where it does not.
func (q *imprint) halfAt(in, reach measure.Length) measure.Length {
	most := measure.Length(-1)
	for i := range q.Count {
		if _, hi, near := q.sides[i].capsule(reach, in); near {
			most = max(most, hi)
		}
	}
	return most
}

// segment is a stretch of a straight line from a to b, with what its capsules need.
type segment struct {
	a, b   Place
	dx, dy float64
	square float64 // of its length
	length float64
}

func segmentOf(a, b Place) segment {
	s := segment{a: a, b: b, dx: float64(b.Along - a.Along), dy: float64(b.In - a.In)}
	s.square = s.dx*s.dx + s.dy*s.dy
	s.length = math.Sqrt(s.square)
	return s
}

// capsule is the stretch of the line In = in whose points are nearer than reach to the segment.
func (s *segment) capsule(reach, in measure.Length) (from, to measure.Length, ok bool) {
	a, b := s.a, s.b
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
	if s.dy == 0 {
		return from, to, from < to
	}
	middle := float64(a.Along) + float64(in-a.In)*s.dx/s.dy
	off := float64(reach) * s.length / math.Abs(s.dy)
	// where the line enters and leaves the band beside the segment
	for _, x := range [2]float64{middle - off, middle + off} {
		if u := (x-float64(a.Along))*s.dx + float64(in-a.In)*s.dy; u >= 0 && u <= s.square {
			from, to = min(from, measure.Length(x)), max(to, measure.Length(x))
		}
	}
	return from, to, from < to
}

// wood is how much wood a footprint, standing at a place and longer by more at either side, leaves to an edge; negative
// when it breaks out.
//
// Source: plane geometry.
func (p *Footprint) wood(e *Edge, at, more measure.Length) measure.Length {
	least := measure.Length(math.Inf(1))
	dx, dy := float64(e.To.Along-e.From.Along), float64(e.To.In-e.From.In)
	long := math.Hypot(dx, dy)
	for i := range p.Count {
		for _, half := range [2]measure.Length{-p.Rows[i].Half - more, p.Rows[i].Half + more} {
			x, y := float64(at+half-e.From.Along), float64(p.Rows[i].In-e.From.In)
			u := max(0, min(1, (x*dx+y*dy)/(long*long)))
			d := math.Hypot(x-u*dx, y-u*dy)
			if dx*y-dy*x < 0 { // beyond the edge
				d = -d
			}
			least = min(least, measure.Length(d)-p.Radius)
		}
	}
	return least
}
