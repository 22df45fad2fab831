package coherence_test

import (
	"fmt"
	"math"
	"strings"
)

// The allowances of trade.md 8, which the demo shop has not changed.
const (
	endTrim      = 1 * inch
	widthAllowed = inch / 2
	staveRip     = 3 * inch / 8
	staveTrim    = 2 * inch
	kerf         = inch / 8
	thickAllowed = inch / 16
	boardFoot    = 144 * inch * inch * inch
	offcutIsKept = 24 * inch
	lightestWood = 250.0  // kg/m³; western redcedar is about 350
	heaviestWood = 1000.0 // hickory is about 800
)

// wood holds blanks, staves, cutting plans and what is bought against the pieces.
func (a *answer) wood() {
	for i := range a.runs {
		a.blank(&a.runs[i])
		a.builtUp(&a.runs[i])
		a.glueUp(&a.runs[i])
		a.weight(&a.runs[i])
	}
	a.near(a.get("weight"), "the weight (kg)", a.mass(a.get("weight")), a.sumOfWeights(),
		a.mass(node{a.t, "", 0.05})*float64(1+len(a.runs)))
	planned := map[string]int{}
	for _, l := range a.get("lumber").list() {
		a.lumber(l, planned)
	}
	for i := range a.runs {
		r := &a.runs[i]
		want := int(layers(r.get("blank")))
		if b := r.get("blank"); !b.get("stave_width").null() {
			want = b.get("staves").int() * int(parts(b))
			if b.has("build_up") {
				u := b.get("build_up")
				want += u.get("blocks_across").int() * len(u.get("block_lengths").list()) * int(layers(b)-1)
			}
		}
		name := r.get("name").text()
		a.must(a.get("lumber"), planned[name] == want, "%d strips or panels are cut for run %s, which needs %d",
			planned[name], name, want)
	}
}

func (a *answer) sumOfWeights() float64 {
	sum := 0.0
	for i := range a.runs {
		sum += a.mass(a.runs[i].get("piece", "weight"))
	}
	return sum
}

// layers is how many layers a blank is glued up from in its thickness.
func layers(blank node) float64 {
	if blank.has("layers") {
		return blank.get("layers").num()
	}
	return 1
}

// parts is how many pieces each stave of a blank is joined from, end to end.
func parts(blank node) float64 {
	if blank.has("end_joints") {
		return float64(len(blank.get("end_joints", "parts").list()))
	}
	return 1
}

// beyondWalls is by how much a piece reaches further where it goes through to a wall that draws back from its best line: at most as the
// wall's table says of the stretch beside the corner, d/sin θ long.
func (a *answer) beyondWalls(r *run) (sum float64) {
	for i := range a.seams {
		s := &a.seams[i]
		if s.through != r || s.theta >= math.Pi || !s.stops.has("walls") {
			continue
		}
		sin := math.Sin(s.theta)
		from, to := 0.0, r.depth/sin
		if s.stops == s.first {
			from, to = s.stops.length-r.depth/sin, s.stops.length
		}
		for _, wall := range s.stops.get("walls").list() {
			if wall.get("edge").text() != "wall" || wall.get("greatest").num() == 0 || !wall.get("scribe").flag() {
				continue
			}
			greatest, most := a.length(wall.get("greatest")), 0.0
			stations := wall.get("stations").list()
			at := func(k int) (x, extra float64) {
				return a.length(stations[k].get("at")), greatest - a.length(stations[k].get("remove"))
			}
			for k := range stations {
				x, extra := at(k)
				if x >= from && x <= to {
					most = max(most, extra)
				}
				for _, end := range []float64{from, to} {
					switch before, was := at(max(k-1, 0)); {
					case k == 0 && end < x, k == len(stations)-1 && end > x:
						most = max(most, extra)
					case end >= before && end <= x && x > before:
						most = max(most, was+(extra-was)*(end-before)/(x-before))
					}
				}
			}
			sum += most / sin
		}
	}
	return sum
}

func (a *answer) blank(r *run) {
	b, p := r.get("blank"), r.get("piece")
	a.near(b, "length", a.length(b.get("length")), a.length(p.get("long_edge"))+2*endTrim+a.beyondWalls(r), 6*a.least)
	allowed := float64(widthAllowed)
	if b.get("stave_width").null() {
		allowed = 0 // a ready-made panel comes with straight edges
	}
	a.atLeast(b, "width", a.length(b.get("width")), r.depth+allowed, 3*a.least)
	a.near(b, "thickness", a.length(b.get("thickness")), a.length(a.get("top", "thickness")), 2*a.least)
	if b.get("stave_width").null() {
		a.must(b, a.get("top", "construction").text() == "panel", "a glued slab without staves")
		return
	}
	staves, ripped, cut := b.get("staves").num(), a.length(b.get("stave_width")), a.length(b.get("stave_length"))
	n := layers(b)
	a.atLeast(b, "staves side by side", a.side(b)*(ripped-staveRip), a.length(b.get("width")), staves*a.least+2*a.least)
	a.must(b, b.has("build_up") || math.Mod(staves, n) == 0, "each of %g layers has as many staves", n)
	layer := a.length(b.get("thickness"))
	if n > 1 {
		layer = a.length(b.get("layer_thickness"))
		a.near(b, "the layers on each other", n*layer, a.length(b.get("thickness")), 2*n*a.least)
		a.must(b, a.get("top", "layers").num() == n, "the top's layers are its blanks'")
	}
	a.near(b, "stave_length", cut, a.length(b.get("length"))+staveTrim, 3*a.least)
	rough := a.length(b.get("rough_thickness"))
	a.atLeast(b, "rough_thickness", rough, layer+thickAllowed, 2*a.least)
	total := cut
	if b.has("end_joints") {
		total = 0
		for _, part := range a.lengths(b.get("end_joints", "parts")) {
			total += part
		}
		a.near(b, "the parts of a stave, less the fingers", total-(parts(b)-1)*10, cut, 6*a.least)
		a.must(b, b.get("end_joints", "count").num() == staves*(parts(b)-1), "joints of all staves")
		for i, place := range a.lengths(b.get("end_joints", "places")) {
			for _, other := range a.lengths(b.get("end_joints", "places"))[i:] {
				a.atLeast(b, "the joints of neighbours", math.Abs(a.length(p.get("long_edge"))-place-other), 0.09*cut, 8*a.least)
			}
		}
	}
	blocks := 0.0
	if b.has("build_up") {
		u := b.get("build_up")
		for _, length := range a.lengths(u.get("block_lengths")) {
			blocks += length * u.get("blocks_across").num() * (n - 1)
		}
	}
	a.near(b, "board_feet", b.get("board_feet").num(), rough*ripped*(staves*total+blocks)/boardFoot,
		0.006+0.0005*b.get("board_feet").num())
}

// side is how many staves of a blank lie side by side.
func (a *answer) side(b node) float64 {
	if b.has("build_up") {
		return b.get("staves").num() - b.get("build_up", "strip_staves").num()
	}
	return b.get("staves").num() / layers(b)
}

// weight: a piece's wood, its cut-outs off, has a density that wood can have, and the same in all pieces of one wood.
func (a *answer) weight(r *run) {
	density := a.density(r)
	a.must(r.get("piece"), density > lightestWood && density < heaviestWood, "weighs %.0f kg/m³", density)
	for k := range a.runs[:r.order] {
		other := &a.runs[k]
		if other.get("species").text() == r.get("species").text() {
			half := a.mass(node{a.t, "", 0.05})
			allow := half/a.mass(r.get("piece", "weight")) + half/a.mass(other.get("piece", "weight")) + 0.0005
			a.near(r.get("piece"), "the density (kg/m³)", density, a.density(other), 1.1*density*allow)
		}
	}
}

func (a *answer) density(r *run) float64 {
	return a.mass(r.get("piece", "weight")) / (a.woodOf(r) * 1e-9)
}

// lumber: every strip fits its board with a kerf between pieces, boards are bought at least as planned, and they hold what the grade's
// yield asks.
func (a *answer) lumber(l node, planned map[string]int) {
	strips := map[float64]int{}
	for _, s := range l.get("strips").list() {
		used, count := 0.0, s.get("count").int()
		pieces := s.get("pieces").list()
		for _, p := range pieces {
			name := p.get("run").text()
			planned[name] += count
			r := a.runNamed(name)
			used += a.length(p.get("length"))
			want := a.length(r.get("blank", "length"))
			if !r.get("blank", "stave_length").null() {
				want = a.length(r.get("blank", "stave_length"))
			}
			if b := r.get("blank"); b.has("end_joints") {
				for _, part := range a.lengths(b.get("end_joints", "parts")) {
					if math.Abs(part-a.length(p.get("length"))) < math.Abs(want-a.length(p.get("length"))) {
						want = part
					}
				}
			}
			if b := r.get("blank"); b.has("build_up") {
				for _, block := range a.lengths(b.get("build_up", "block_lengths")) {
					if math.Abs(block-a.length(p.get("length"))) < math.Abs(want-a.length(p.get("length"))) {
						want = block
					}
				}
			}
			a.near(p, "the length", a.length(p.get("length")), want, 2*a.least)
		}
		used += kerf * float64(len(pieces)-1)
		left := a.length(s.get("length")) - used
		allow := float64(2+len(pieces)) * a.least
		a.atLeast(s, "the strip", left, 0, allow)
		// The cut that takes a piece off needs its kerf, too, where wood is left over.
		a.must(s, math.Abs(a.length(s.get("leftover"))-left) <= allow ||
			math.Abs(a.length(s.get("leftover"))-math.Max(0, left-kerf)) <= allow,
			"leftover is %v, the strip leaves %.2f mm", s.get("leftover").v, left)
		strips[math.Round(a.length(s.get("length"))*10)] += count
	}
	perBoard := l.get("strips_per_board").int()
	width, strip := a.length(l.get("board_width")), a.length(l.get("strip_width"))
	a.near(l, "the kerf", a.length(l.get("kerf")), kerf, 2*a.least)
	a.atLeast(l, "the board", width, float64(perBoard)*strip+float64(perBoard-1)*kerf, float64(perBoard+1)*a.least)
	if !l.get("net_board_feet").null() {
		a.must(l, width < float64(perBoard+1)*strip+float64(perBoard)*kerf+float64(perBoard+2)*a.least,
			"a board of %.2f mm gives more than %d strips of %.2f mm", width, perBoard, strip)
		widest := 0.0
		for _, s := range l.get("strips").list() {
			for _, p := range s.get("pieces").list() {
				widest = math.Max(widest, a.length(a.runNamed(p.get("run").text()).get("blank", "stave_width")))
			}
		}
		a.near(l, "the strips' width", strip, widest, 2*a.least)
	}
	boards := 0
	for _, b := range l.get("boards").list() {
		need := strips[math.Round(a.length(b.get("length"))*10)]
		a.must(b, b.get("planned").int()*perBoard >= need, "%d boards of %d strips hold no %d", b.get("planned").int(),
			perBoard, need)
		a.must(b, b.get("buy").int() >= b.get("planned").int(), "fewer are bought than planned")
		delete(strips, math.Round(a.length(b.get("length"))*10))
		boards += b.get("buy").int()
		if l.get("unit").text() == "each" { // panels
			a.must(b, a.panelsBilled(b.get("material").text()) >= b.get("buy").int(), "fewer panels of that length are on the bill")
		} else {
			a.must(b, b.get("material").text() == l.get("material").text(), "a board of another wood")
		}
	}
	a.must(l, len(strips) == 0, "strips are cut from boards that are not listed: %v", strips)
	a.must(l, boards > 0, "nothing is bought")
	a.must(l, l.get("lower_bound").cents() <= l.get("cost").cents(), "the bound is over the cost")
	for _, o := range a.lengths(l.get("offcuts")) {
		a.atLeast(l.get("offcuts"), "a kept offcut", o, offcutIsKept, a.least)
	}
	a.boardFeet(l)
}

func (a *answer) boardFeet(l node) {
	item := l.get("material").text()
	if l.get("net_board_feet").null() {
		return // panels
	}
	net := 0.0
	for i := range a.runs {
		r := &a.runs[i]
		if item == a.lumberOf(r) {
			net += r.get("blank", "board_feet").num()
		}
	}
	a.near(l, "net_board_feet", l.get("net_board_feet").num(), net, 0.01*float64(len(a.runs)+1))
	yield, bought := l.get("yield_board_feet").num(), l.get("buy_board_feet").num()
	a.atLeast(l, "yield_board_feet", yield, net, 0.02) // no grade is all clear
	a.atLeast(l, "buy_board_feet", bought, yield, 0.011)
	a.atLeast(l, "buy_board_feet", bought, l.get("plan_board_feet").num(), 0.011)
	inUnit, half := 1.0, 0.011 // of what the bill counts it by, and what its last digit is worth
	switch l.get("unit").text() {
	case "cubic_metre":
		inUnit, half = boardFoot/1e9, 0.00011
	default:
		a.must(l, l.get("unit").text() == "board_foot", "sold by the %s", l.get("unit").text())
	}
	a.near(l, "what the bill buys", a.bought(item), bought*inUnit, half)
	a.must(l, a.amountOf(item) == l.get("cost").cents(), "the bill asks %d cents for it, the plan %s", a.amountOf(item),
		l.get("cost").text())
	length := 0.0
	for _, b := range l.get("boards").list() {
		length += a.length(b.get("length")) * b.get("buy").num()
	}
	width := bought * boardFoot / length / a.roughOf(item)
	a.must(l, width > 2*inch && width < 16*inch, "the boards bought would be %.0f mm wide", width)
	if measured := l.get("measured_width"); !measured.null() {
		// unedged: measured and paid wider than it is used, and the yield asks for as much more
		a.near(l, "the width of the boards bought", width, a.length(measured), 0.02*width)
		used := a.length(l.get("board_width")) / a.length(measured)
		a.must(l, used < 1, "edging takes no wood")
		a.atLeast(l, "yield_board_feet", yield, net/used, 0.05)
	} else {
		a.near(l, "the width of the boards bought", width, a.length(l.get("board_width")), 0.02*width)
	}
}

func (a *answer) lumberOf(r *run) string {
	for _, l := range a.get("lumber").list() { // boards by the cubic metre are called by their millimetres
		code := l.get("material").text()
		if !l.get("unit").null() && l.get("unit").text() == "cubic_metre" && strings.TrimSuffix(code, "_unedged") ==
			fmt.Sprintf("lumber_%s_%.0f", r.get("species").text(), a.length(r.get("blank", "rough_thickness"))) {
			return code
		}
	}
	quarters := a.length(r.get("blank", "rough_thickness")) / inch * 4
	return fmt.Sprintf("lumber_%s_%.0f_4", r.get("species").text(), quarters)
}

func (a *answer) roughOf(item string) float64 {
	for i := range a.runs {
		if r := &a.runs[i]; !r.get("blank", "rough_thickness").null() && a.lumberOf(r) == item {
			return a.length(r.get("blank", "rough_thickness"))
		}
	}
	a.t.Fatalf("no run is cut from %s", item)
	return 0
}

func (a *answer) bought(item string) float64 {
	sum := 0.0
	for _, l := range a.get("bill_of_materials").list() {
		if l.get("item").text() == item {
			sum += l.get("buy").num()
		}
	}
	return sum
}

func (a *answer) amountOf(item string) int64 {
	var sum int64
	for _, l := range a.get("bill_of_materials").list() {
		if l.get("item").text() == item {
			sum += l.get("amount").cents()
		}
	}
	return sum
}

// panelsBilled is how many panels of a length the bill has.
func (a *answer) panelsBilled(item string) (n int) {
	for _, b := range a.get("bill_of_materials").list() {
		if b.get("item").text() == item {
			n += b.get("buy").int()
		}
	}
	return n
}
