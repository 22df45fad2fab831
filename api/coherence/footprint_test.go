package coherence_test

import (
	"math"
)

// footprint is what a part cuts out of a piece: corners of its hull, x along the seam from the part's place, y into the piece.
type footprint []spot

// box is a slot, channel or pocket: so wide to either side, so deep from the seam.
func box(half, deep float64) footprint {
	return footprint{{-half, 0.5}, {half, 0.5}, {-half, deep}, {half, deep}}
}

// recess is a round hole at a distance from the seam, drawn out along it.
func recess(distance, radius, stretch float64) footprint {
	var out footprint
	for i := range 24 {
		angle := float64(i) * 15 * degree
		q := spot{radius * math.Cos(angle), distance + radius*math.Sin(angle)}
		q.x += math.Copysign(stretch, q.x)
		out = append(out, q)
	}
	return out
}

// cutterRadius is that of a biscuit cutter of 100 mm. Common practice.
const cutterRadius = 50

// plunged is a biscuit's slot: a segment of the cutter's circle, drawn out to the slot's length.
func plunged(half, deep float64) footprint {
	chord := math.Sqrt(sq(cutterRadius) - sq(cutterRadius-deep))
	more := math.Max(0, half-chord)
	var out footprint
	for i := range 9 {
		v := 0.5 + (deep-0.5)*float64(i)/8
		u := more + math.Sqrt(math.Max(0, sq(cutterRadius)-sq(cutterRadius-deep+v)))
		out = append(out, spot{-u, v}, spot{u, v})
	}
	return out
}

// inPieces looks at a part's footprint in both pieces: all of it lies in wood, with the least wood between it and every edge but the
// seam's own.
func (a *answer) inPieces(s *seam, n node, what string, at float64, f footprint) {
	for _, r := range []*run{s.first, s.second} {
		a.inPiece(s, r, n, what, at, f)
	}
}

func (a *answer) inPiece(s *seam, r *run, n node, what string, at float64, f footprint) {
	a.atLeast(n, "the wood around "+what+" of "+r.get("name").text(), a.woodAround(s, r, at, f), woodAround, 0.3)
}

// woodAround is how much wood is left between a footprint and the edges of a piece; negative where it breaks out.
func (a *answer) woodAround(s *seam, r *run, at float64, f footprint) float64 {
	p, along := where(s.path, at)
	in := spot{-along.y, along.x}
	if !r.piece.holds(p.plus(in)) {
		in = in.times(-1)
	}
	least := math.Inf(1)
	for _, q := range f {
		corner := p.plus(along.times(q.x)).plus(in.times(q.y))
		d := r.piece.edgeDistance(corner, func(c, d spot) bool { return a.onSeam(s, c, d) })
		if !r.piece.holds(corner) {
			d = -d
		}
		least = math.Min(least, d)
	}
	return least
}

// nearHole tells whether a place on a seam is so near a cut-out that a part there might be.
func (a *answer) nearHole(s *seam, p spot) bool {
	for _, r := range []*run{s.first, s.second} {
		for _, h := range a.holesIn(r) {
			if h.edgeDistance(p, nil) < 10*inch {
				return true
			}
		}
	}
	return false
}

// onSeam tells whether an edge of a piece lies on the line of the seam: it is the seam, or a through run's front going on beside it.
func (a *answer) onSeam(s *seam, c, d spot) bool {
	for i := 1; i < len(s.path); i++ {
		along := s.path[i].minus(s.path[i-1]).unit()
		// What the last digits of the seam's ends make of its direction grows with the distance.
		off := func(p spot) float64 {
			from := p.minus(s.path[i])
			return math.Abs(from.cross(along)) / (1 + from.size()/s.path[i].distance(s.path[i-1]))
		}
		if off(c) < 4*a.least && off(d) < 4*a.least {
			return true
		}
	}
	return false
}

// pocketLean is a screw pocket's lean to the face; its exit lies at half the thickness. Common practice, as the spec says.
const pocketLean = 15 * degree

// pocketInPiece: the pocket runs from the exit hole in the seam back into the end-grain piece until it breaks out of the lower face.
func (a *answer) pocketInPiece(s *seam, n node, at, bore float64) {
	mouth := a.length(a.get("top", "thickness")) / 2 / math.Tan(pocketLean)
	pieces := []*run{s.stops}
	if s.stops == nil {
		pieces = []*run{s.first, s.second} // of a miter, either can be bored
	}
	for _, r := range pieces {
		a.inPiece(s, r, n, "a pocket", at, box(bore/2, mouth))
	}
}
