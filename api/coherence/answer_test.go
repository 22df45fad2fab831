package coherence_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// answer is what was asked and what was answered, lengths in mm.
type answer struct {
	node
	order order
	mm    float64 // of one of the answer's units
	least float64 // half of a length's last digit, in mm: 0.00005 in or 0.005 mm
	runs  []run
	seams []seam
}

// run is one slab on the plan: where its wall runs and which way is into the room, from the order alone; its outline from the answer.
type run struct {
	node
	order         int
	start         spot // of its wall, in the order of the chain
	along, room   spot
	length, depth float64
	piece         outline
	line          float64 // distance of its fixed line from the wall
	dry, humid    float64 // strains
}

// seam is one corner's chosen candidate.
type seam struct {
	corner, chosen node
	joint          string
	first, second  *run
	through, stops *run // nil for a miter
	path           []spot
	theta          float64
	asked          string // where the order says something of it
}

func newAnswer(n node, o order) *answer {
	a := &answer{node: n, order: o, mm: 1, least: 0.005}
	if n.get("units").text() == "in" {
		a.mm, a.least = inch, 0.00005*inch
	}
	a.behindMoulding()
	a.layWalls()
	corners, straight := 0, 0
	for i, c := range n.get("corners").list() {
		s := a.seam(i, c)
		if s.theta == math.Pi {
			s.asked = fmt.Sprintf("/top/runs/%d/straight_seams/%d", corners, straight)
			straight++
		} else {
			s.asked = fmt.Sprintf("/top/corners/%d", corners)
			corners, straight = corners+1, 0
		}
		a.seams = append(a.seams, s)
	}
	return a
}

// behindMoulding makes the runs the slabs behind an applied moulding, which stands before the fronts and, unless they are left square,
// the free ends: trade.md 8, slab depth less the moulding.
func (a *answer) behindMoulding() {
	edge := a.get("top", "edge")
	if edge.get("moulding").null() {
		return
	}
	const thick = 3 * inch / 8 // the demo shop's
	a.near(edge, "moulding", a.length(edge.get("moulding")), thick, a.least+1e-9)
	o := &a.order
	o.depths, o.lengths = slices.Clone(o.depths), slices.Clone(o.lengths)
	for i := range o.depths {
		o.depths[i] -= thick
	}
	if !edge.get("square_ends").flag() {
		o.lengths[0] -= thick
		o.lengths[len(o.lengths)-1] -= thick
	}
	a.atLeast(edge, "the moulding that is bought (m)", a.billed("moulding", ""), a.visibleEdges(thick)/1000, 0.002)
}

// visibleEdges is the length of the front edges and the moulded ends, at the outer face of a moulding.
func (a *answer) visibleEdges(thick float64) float64 {
	o, sum := &a.order, 0.0
	for i := range o.lengths {
		sum += o.lengths[i]
		if i > 0 {
			sum -= frontCorner(o.depths[i], o.depths[i-1], o.angles[i-1])
		}
		if i < len(o.angles) {
			sum -= frontCorner(o.depths[i], o.depths[i+1], o.angles[i])
		}
	}
	if !a.get("top", "edge", "square_ends").flag() {
		sum += o.depths[0] + o.depths[len(o.depths)-1]
	}
	for _, h := range a.get("cutouts").list() {
		for _, side := range h.get("open_at").list() {
			corners := a.spots(h.get("outline"))
			switch side.text() {
			case "front":
				sum -= corners[0].distance(corners[1])
			case "start", "end":
				if h.has("making") {
					sum -= a.length(h.get("making", "depth"))
					continue
				}
				sum -= corners[1].distance(corners[2])
			}
		}
	}
	return sum
}

func (a *answer) length(n node) float64 { return n.num() * a.mm }

func (a *answer) lengths(n node) []float64 {
	n.t.Helper()
	out := n.nums()
	for i := range out {
		out[i] *= a.mm
	}
	return out
}

func (a *answer) spots(n node) []spot {
	n.t.Helper()
	var out []spot
	for _, p := range n.list() {
		xy := p.nums()
		out = append(out, spot{xy[0] * a.mm, xy[1] * a.mm})
	}
	return out
}

// area is in mm².
func (a *answer) area(n node) float64 {
	if a.mm == 1 {
		return n.num() * 1e6
	}
	return n.num() * 144 * inch * inch
}

// kilograms; a pound is 0.45359237 kg by definition.
func (a *answer) mass(n node) float64 {
	if a.mm == 1 {
		return n.num()
	}
	return n.num() * 0.45359237
}

// force is in newtons; a pound-force is 4.4482216152605 N by definition of the pound and of standard gravity.
func (a *answer) force(n node) float64 {
	if a.mm == 1 {
		return n.num()
	}
	return n.num() * 4.4482216152605
}

// layWalls lays the chain of walls on the plan by trade.md 2: O of the first corner at the origin, x along the first run's wall towards
// its free end, y into the room, the second run's wall along (cos θ, sin θ); hand left is the mirror image.
func (a *answer) layWalls() {
	o := &a.order
	mirror := 1.0
	if o.hand == "left" {
		mirror = -1
	}
	heading := math.Pi // of the walk along the walls, in the order of the chain
	at := spot{o.lengths[0], 0}
	for i := 0; i < len(o.angles) && o.angles[i] == math.Pi; i++ {
		at.x += o.lengths[i+1] // pieces of the first run, end to end
	}
	for i, n := range a.get("runs").list() {
		if i > 0 {
			heading -= math.Pi - o.angles[i-1]
		}
		r := run{node: n, order: i, length: o.lengths[i], depth: o.depths[i],
			start: spot{at.x * mirror, at.y}, along: spot{math.Cos(heading) * mirror, math.Sin(heading)}}
		// The room lies to the right of the walk from the first run's free end: −π turned by −90° is +y.
		r.room = spot{math.Cos(heading-math.Pi/2) * mirror, math.Sin(heading - math.Pi/2)}
		at = at.plus(spot{math.Cos(heading), math.Sin(heading)}.times(o.lengths[i]))
		r.piece = a.spots(n.get("piece", "outline"))
		move := n.get("movement")
		r.dry, r.humid = move.get("dry_strain").num(), move.get("humid_strain").num()
		a.runs = append(a.runs, r)
	}
}

func (a *answer) seam(i int, corner node) seam {
	s := seam{corner: corner, joint: corner.get("chosen").text(), first: &a.runs[i], second: &a.runs[i+1],
		theta: a.order.angles[i]}
	through := corner.get("through").v
	switch through {
	case "first":
		s.through, s.stops = s.first, s.second
	case "second":
		s.through, s.stops = s.second, s.first
	}
	for _, c := range corner.get("candidates").list() {
		if c.get("joint").text() == s.joint && c.get("through").v == through && c.get("feasible").flag() &&
			a.takenPull(corner, c) {
			s.chosen = c
		}
	}
	if s.chosen.v == nil {
		corner.t.Fatalf("%s: the joint chosen, %s, stands among no feasible candidates", corner.at, s.joint)
	}
	s.path = a.spots(s.chosen.get("geometry", "seam_path"))
	if s.joint == "straight" {
		s.joint = "miter" // of 180°: all that holds of a miter holds of it
	}
	return s
}

// takenPull tells which of several candidates of one joint was taken: the first one whose cost differs by nothing.
func (a *answer) takenPull(corner, candidate node) bool {
	return candidate.get("cost_difference").cents() == 0
}

// where is the place at a distance along a path, and the path's direction there.
func where(path []spot, s float64) (at, along spot) {
	for i := 1; i < len(path); i++ {
		d := path[i].distance(path[i-1])
		along = path[i].minus(path[i-1]).times(1 / d)
		if s <= d || i == len(path)-1 {
			return path[i-1].plus(along.times(s)), along
		}
		s -= d
	}
	return path[0], along
}

func pathLength(path []spot) float64 {
	sum := 0.0
	for i := 1; i < len(path); i++ {
		sum += path[i].distance(path[i-1])
	}
	return sum
}

// fromWall is how far a place lies from a run's wall, into the room.
func (r *run) fromWall(p spot) float64 { return p.minus(r.start).dot(r.room) }

// fromStart is how far a place lies along a run's wall from its start.
func (r *run) fromStart(p spot) float64 { return p.minus(r.start).dot(r.along) }

// shift is how far the wood of a run at a place moves with a strain, its fixed line staying put: trade.md 5, across the grain only.
func (r *run) shift(p spot, strain float64) spot {
	return r.room.times(strain * (r.fromWall(p) - r.line))
}

// strains are those of both seasons.
func (r *run) strains() [2]float64 { return [2]float64{r.dry, r.humid} }

// slip is how far, at most over the seasons, the two sides slide on each other along the seam at a distance from its front end.
func (s *seam) slip(at float64) float64 {
	if s.joint == "masons_miter" { // trade.md 5: w = s·|sin θ| from the front, over the short mitred part as well
		sin := math.Abs(math.Sin(s.theta))
		w := math.Abs(at*sin - (s.stops.depth - s.stops.line))
		return math.Max(math.Abs(s.stops.dry), math.Abs(s.stops.humid)) * w * sin
	}
	p, along := where(s.path, at)
	most := 0.0
	for k := range 2 {
		between := s.first.shift(p, s.first.strains()[k]).minus(s.second.shift(p, s.second.strains()[k]))
		most = math.Max(most, math.Abs(between.dot(along)))
	}
	return most
}

// fixedLine is the distance of a named line from a run's wall.
func (r *run) fixedLine(name string) float64 {
	switch name {
	case "front":
		return r.depth
	case "centre":
		return r.depth / 2
	case "back":
		return 0
	}
	r.t.Fatalf("%s: no line is called %q", r.at, name)
	return 0
}

// made reads a length as makers write it, such as 25-1/2, 7/32 or 648.5.
func (a *answer) made(n node) float64 {
	n.t.Helper()
	text := n.text()
	if a.mm == 1 {
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			n.t.Fatalf("%s is no length: %q", n.at, text)
		}
		return x
	}
	sum, sign := 0.0, 1.0
	if rest, ok := strings.CutPrefix(text, "-"); ok {
		text, sign = rest, -1
	}
	whole, fraction, both := strings.Cut(text, "-")
	if !both && strings.Contains(text, "/") {
		whole, fraction = "0", text
	}
	x, err := strconv.ParseFloat(whole, 64)
	if err != nil {
		n.t.Fatalf("%s is no length: %q", n.at, text)
	}
	sum = x
	if fraction != "" {
		above, below, _ := strings.Cut(fraction, "/")
		p, err1 := strconv.ParseFloat(above, 64)
		q, err2 := strconv.ParseFloat(below, 64)
		if err1 != nil || err2 != nil {
			n.t.Fatalf("%s is no length: %q", n.at, text)
		}
		sum += p / q
	}
	return sign * sum * inch
}

// near fails when two figures differ by more than what their last digits allow.
func (a *answer) near(n node, what string, got, want, allow float64) {
	if !(math.Abs(got-want) <= allow) {
		n.t.Helper()
		n.t.Errorf("%s: %s is %.5g, and by the rest of the answer %.5g (off %.3g, %.3g allowed)", n.at, what, got, want,
			got-want, allow)
	}
}

func (a *answer) atLeast(n node, what string, got, least, allow float64) {
	if !(got >= least-allow) {
		n.t.Helper()
		n.t.Errorf("%s: %s is %.5g, and by the rest of the answer it must be at least %.5g", n.at, what, got, least)
	}
}

func (a *answer) must(n node, ok bool, format string, args ...any) {
	if !ok {
		n.t.Helper()
		n.t.Errorf("%s: "+format, append([]any{n.at}, args...)...)
	}
}
