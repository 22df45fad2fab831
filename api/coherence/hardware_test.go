package coherence_test

import (
	"math"
	"slices"
	"strings"
)

// Allowances of trade.md 7, which the demo shop has not changed.
const (
	slotAllowance   = inch / 16 // slot longer than part and slip
	holeAllowance   = 0.5       // exit hole over thread and twice the slip
	holeAtLeast     = 1.5       // exit hole over thread
	bearsAtLeast    = 1.5       // wood under a head all round
	alignEnd        = 3 * inch  // first and last alignment part from the ends, at most
	alignSpacing    = 8 * inch
	pocketSpacing   = 8 * inch
	boltSpacing     = 12 * inch
	boltEnd         = 3 * inch
	threeBoltsFrom  = 24 * inch
	woodAbove       = inch / 4
	woodAround      = inch / 2 // round a part's footprint
	standardGravity = 9.80665
)

// hardware holds the parts in each seam against its slips, its pieces and the weight of its legs.
func (a *answer) hardware() {
	want := map[string]float64{}
	for i := range a.seams {
		s := &a.seams[i]
		h := s.chosen.get("hardware")
		a.must(h, h.get("feasible").flag(), "a chosen joint has no hardware that does")
		a.alignment(s, h.get("alignment"))
		pull := h.get("pull")
		a.pullGroup(s, pull)
		groups := []node{pull}
		if further := pull.get("further"); !further.null() {
			a.pullGroup(s, further)
			groups = append(groups, further)
		}
		a.partsApart(s, h.get("alignment"), groups)
		a.lifting(s, pull)
		want[h.get("alignment", "item").text()] += h.get("alignment", "count").num()
		for _, g := range groups {
			want[g.get("item").text()] += g.get("count").num()
		}
	}
	a.sameAsBill(want)
	a.fixings()
}

// sameAsBill: what stands in the seams is what is bought.
func (a *answer) sameAsBill(want map[string]float64) {
	for item, count := range want {
		a.near(a.get("bill_of_materials"), "the need of "+item, a.billed("alignment", item)+a.billed("pull", item), count,
			1e-9)
	}
	total := 0.0
	for _, count := range want {
		total += count
	}
	a.near(a.get("bill_of_materials"), "the need of parts for seams", a.billed("alignment", "")+a.billed("pull", ""),
		total, 1e-9)
}

// allowAt is what the last digits of strains, outlines and positions may make of a hole's size.
func (a *answer) allowAt(s *seam) float64 { return 4*a.least + 4*halfStrain*s.stopsOrDeeper() }

func (s *seam) stopsOrDeeper() float64 { return math.Max(s.first.depth, s.second.depth) }

// alignment: trade.md 7. Slots as long as the slip at their place asks, evenly spaced from near both ends, out of the profile.
func (a *answer) alignment(s *seam, n node) {
	at, widths := a.lengths(n.get("positions")), a.lengths(n.get("slot_widths"))
	texts := n.get("slot_widths_text").list()
	length := pathLength(s.path)
	a.must(n, len(at) == len(widths) && len(at)*n.get("rows").int() == n.get("count").int() && len(at) > 0,
		"%d places, %d rows, %d slots, %d parts", len(at), n.get("rows").int(), len(widths), n.get("count").int())
	thickness := a.length(a.get("top", "thickness"))
	rows := 1
	if thickness >= 2*inch {
		rows = 2
	}
	a.must(n, n.get("rows").int() == rows, "%d rows in a top of %.1f mm", n.get("rows").int(), thickness)
	a.must(n, n.get("kind").text() != "dowel", "a dowel in a seam that moves")
	a.must(n, a.length(n.get("part", "thickness")) < thickness/float64(rows)/1.5, "the part is too thick for the top")
	slotOf := func(i int) footprint {
		if n.get("kind").text() == "biscuit" {
			return plunged(widths[i]/2, a.length(n.get("part", "length"))/2)
		}
		return box(widths[i]/2, a.length(n.get("part", "length"))/2)
	}
	most := 0.0
	for i := range at {
		a.atLeast(n, "the slot's length", widths[i], a.length(n.get("part", "width"))+2*s.slip(at[i])+slotAllowance,
			a.allowAt(s))
		a.leastText(n, "slot_widths", widths[i], texts[i])
		most = math.Max(most, widths[i])
		if i > 0 {
			a.must(n, at[i] > at[i-1] && at[i]-at[i-1] <= alignSpacing+2*a.least, "parts are %.1f mm apart", at[i]-at[i-1])
		}
		a.inPieces(s, n, "a slot", at[i], slotOf(i))
	}
	a.near(n, "slot_width", a.length(n.get("slot_width")), most, 1e-9)
	a.least2(n, "slot_width")
	keep := a.length(s.chosen.get("geometry", "front_keep"))
	// At most 3 in from the ends; further only where a place a little nearer would not have the least wood, or reach under the profile.
	nearer := func(i int, by float64) bool {
		place := at[i] + by
		if p, _ := where(s.path, place); a.nearHole(s, p) {
			return false // parts stay as clear of cut-outs as seams do
		}
		return place-widths[i]/2 >= keep+woodAround && a.woodAround(s, s.first, place, slotOf(i)) >= woodAround &&
			a.woodAround(s, s.second, place, slotOf(i)) >= woodAround
	}
	last := len(at) - 1
	a.must(n, at[0] <= alignEnd+2*a.least || !nearer(0, -12), "the first part is %.1f mm from the front end", at[0])
	a.must(n, at[last] >= length-alignEnd-8*a.least || !nearer(last, 12), "the last part is %.1f mm from the wall end",
		length-at[last])
	a.must(n, at[0]-widths[0]/2 >= keep-4*a.least, "a slot reaches under the profile")
}

// pullGroup: holes and channels as wide as the slip at their place asks, heads that bear, washers with room to go.
func (a *answer) pullGroup(s *seam, n node) {
	at, part := a.lengths(n.get("positions")), n.get("part")
	length := pathLength(s.path)
	a.must(n, len(at) == n.get("count").int() && len(at) > 0, "%d places for %d parts", len(at), n.get("count").int())
	kind := n.get("kind").text()
	for i := range at {
		a.must(n, at[i] > 0 && at[i] < length, "a part beside the seam")
		if i > 0 && n.has("further") && n.get("further").null() {
			spacing := map[string]float64{"pocket_screw": pocketSpacing, "draw_bolt": boltSpacing}[kind]
			a.must(n, at[i] > at[i-1] && at[i]-at[i-1] <= spacing+4*a.least, "parts are %.1f mm apart", at[i]-at[i-1])
		}
	}
	switch kind {
	case "pocket_screw":
		a.must(n, s.joint != "miter" || !n.get("counts").flag(), "screws in the end grain of a miter are counted on")
		a.screws(s, n, part, at)
	case "draw_bolt":
		a.bolts(s, n, part, at)
		if n.has("further") && n.get("further").null() {
			least := 2
			if length >= threeBoltsFrom+4*a.least { // the path's last digits
				least = 3
			}
			a.must(n, len(at) >= least, "%d bolts in a seam of %.4f mm", len(at), length)
			a.must(n, at[0] >= boltEnd-2*a.least && length-at[len(at)-1] >= boltEnd-8*a.least, "a bolt %.1f mm from an end",
				math.Min(at[0], length-at[len(at)-1]))
		}
	default:
		a.must(n, false, "pulled by a %s", kind)
	}
}

func (a *answer) screws(s *seam, n, part node, at []float64) {
	holes, texts := a.lengths(n.get("hole_diameters")), n.get("hole_diameters_text").list()
	a.must(n, len(holes) == len(at), "%d holes for %d screws", len(holes), len(at))
	thread, head, bore := a.length(part.get("thread_diameter")), a.length(part.get("head_diameter")),
		a.length(part.get("bore_diameter"))
	if part.has("washer_diameter") {
		if washer := a.length(part.get("washer_diameter")); washer > head && washer <= bore+2*a.least {
			head = washer
		}
	}
	a.must(part, head <= bore+2*a.least, "the head of %.2f mm does not enter its pocket of %.2f", head, bore)
	widest := 0.0
	for i := range holes {
		a.atLeast(n, "the exit hole", holes[i], thread+math.Max(2*s.slip(at[i])+holeAllowance, holeAtLeast), a.allowAt(s))
		a.leastText(n, "hole_diameters", holes[i], texts[i])
		a.atLeast(n, "the wood under the head", (head-holes[i])/2, bearsAtLeast, 3*a.least)
		widest = math.Max(widest, holes[i])
		a.pocketInPiece(s, n, at[i], bore)
	}
	a.near(n, "hole_diameter", a.length(n.get("hole_diameter")), widest, 1e-9)
	a.least2(n, "hole_diameter")
	a.near(n, "bearing", a.length(n.get("bearing")), (head-widest)/2, 4*a.least)
}

func (a *answer) bolts(s *seam, n, part node, at []float64) {
	channels, texts := a.lengths(n.get("channel_widths")), n.get("channel_widths_text").list()
	a.must(n, len(channels) == len(at), "%d channels for %d bolts", len(channels), len(at))
	bolt, round, washer := a.length(part.get("bolt_diameter")), a.length(part.get("recess_diameter")),
		a.length(part.get("bearing_diameter"))
	longs, longTexts, longest := a.lengths(n.get("recess_lengths")), n.get("recess_lengths_text").list(), round
	if n.get("recess_length").null() {
		a.must(n, len(longs) == 0, "%d lengths of round recesses", len(longs))
		for range channels {
			longs = append(longs, round)
		}
	} else {
		longest = a.length(n.get("recess_length"))
		a.must(n, len(longs) == len(channels), "%d lengths for %d recesses", len(longs), len(channels))
		a.near(n, "recess_length", longest, slices.Max(longs), 1e-9)
		a.least2(n, "recess_length")
		for i := range longs {
			a.leastText(n, "recess_lengths", longs[i], longTexts[i])
		}
	}
	a.near(n, "travel", a.length(n.get("travel")), (longest-washer)/2, 3*a.least)
	widest := 0.0
	for i := range channels {
		slip := s.slip(at[i])
		a.atLeast(n, "the channel", channels[i], bolt+math.Max(2*slip+holeAllowance, holeAtLeast), a.allowAt(s))
		a.leastText(n, "channel_widths", channels[i], texts[i])
		// The two pieces slide on each other by the slip; from a centred start each recess lets its washer go by half of what it is longer.
		a.atLeast(n, "a recess's length", longs[i], round, 2*a.least)
		a.atLeast(n, "the washers' travel in both recesses", longs[i]-washer, slip, a.allowAt(s))
		widest = math.Max(widest, channels[i])
		a.inPieces(s, n, "a recess", at[i], recess(a.length(part.get("recess_distance")), round/2, (longs[i]-round)/2))
		a.inPieces(s, n, "a channel", at[i], box(channels[i]/2, a.length(part.get("recess_distance"))))
	}
	a.near(n, "channel_width", a.length(n.get("channel_width")), widest, 1e-9)
	a.least2(n, "channel_width")
	a.atLeast(n, "the wood above a recess", a.length(a.get("top", "thickness"))-a.length(part.get("recess_depth")),
		woodAbove, 3*a.least)
}

// partsApart: no alignment part within reach of a pull part.
func (a *answer) partsApart(s *seam, alignment node, groups []node) {
	slots, widths := a.lengths(alignment.get("positions")), a.lengths(alignment.get("slot_widths"))
	for _, g := range groups {
		half := 0.0
		if g.get("kind").text() == "draw_bolt" {
			half = a.length(g.get("part", "recess_diameter")) / 2
		} else {
			half = a.length(g.get("part", "bore_diameter")) / 2
		}
		for _, p := range a.lengths(g.get("positions")) {
			for i, q := range slots {
				a.must(g, math.Abs(p-q) >= half+widths[i]/2-4*a.least, "the part at %.1f mm runs into the slot at %.1f", p, q)
			}
		}
	}
}

// fixings: as many places as are bought, each in wood, its slot as long as the wood goes there.
func (a *answer) fixings() {
	f := a.get("fixing")
	if f.get("kind").text() == "none" {
		a.must(f, f.get("count").int() == 0 && a.billed("fixing", "") == 0, "fixings for a top that is not fixed")
		return
	}
	a.near(f, "count", f.get("count").num(), a.billed("fixing", f.get("item").text()), 1e-9)
	rows, count := 0, 0
	for i, n := range f.get("runs").list() {
		r := &a.runs[i]
		a.must(n, n.get("run").v == r.get("name").v, "is the fixing of run %v", r.get("name").v)
		for _, row := range n.get("rows").list() {
			rows += n.get("along").int()
			if !row.get("slot_length").null() {
				a.least2(row, "slot_length")
			}
		}
		for _, p := range n.get("places").list() {
			count++
			a.place(r, p)
		}
		a.rowsOf(r, n)
	}
	a.must(f, count == f.get("count").int(), "%d places for %d fixings", count, f.get("count").int())
}

// rowsOf: the row nearest to the fixed line of a run moves least, as the note says; where its leg swings, or where it is fixed at a line
// on which no row stands, the note says that instead.
func (a *answer) rowsOf(r *run, n node) {
	note := a.get("fixing", "note").text()
	own, apart := false, true
	for _, p := range n.get("places").list() {
		own = own || !p.get("slot_along").null()
	}
	a.must(n, !own || strings.Contains(note, "Legs that swing"), "its leg swings, and the note does not say so")
	nearest, least := math.Inf(1), math.Inf(1)
	for _, row := range n.get("rows").list() {
		off := math.Abs(r.depth - a.length(row.get("from_front")) - r.line)
		apart = apart && off > 1
		if row.get("slot_length").null() {
			return
		}
		if slot := a.length(row.get("slot_length")); off < nearest-0.01 {
			nearest, least = off, slot
		} else if off > nearest+0.01 && !own {
			a.atLeast(row, "the slot of a row further from the fixed line", slot, least, 2*a.least)
		}
	}
	if apart && n.get("fixed_line").text() == "centre" {
		a.must(n, strings.Contains(note, "fixed at its centre and has no row there"), "nothing is said of a centre without a row")
	}
}

func (a *answer) place(r *run, p node) {
	along, front := a.length(p.get("along")), a.length(p.get("from_front"))
	at := r.start.plus(r.along.times(along)).plus(r.room.times(r.depth - front))
	a.must(p, r.piece.holds(at), "stands outside of run %v, at %.1f along and %.1f from the front", r.get("name").v, along,
		front)
	for _, h := range a.holesIn(r) {
		a.must(p, !h.holds(at), "stands in a cut-out")
	}
	// Either way by the strain times the distance from the fixed line, and with a leg that swings towards or away from the wall.
	y := r.fromWall(at) - r.line
	across := [2]float64{r.dry * y, r.humid * y}
	still := math.Max(math.Abs(across[0]), math.Abs(across[1]))
	least := math.Inf(1)
	for i := range a.seams {
		s := &a.seams[i]
		beside, tip := s.second, 0.0 // the piece of the same leg that is at the corner
		if a.oneLeg(s.first, r) {
			beside = s.first
		}
		share := a.shareOf(s, beside)
		if share == 0 || s.theta == math.Pi || !a.oneLeg(beside, r) {
			continue
		}
		from, to := beside.piece.span(r.along)
		tip = from
		if s.first == beside {
			tip = to
		}
		// About a place of the seam, or the tip of the slab there.
		for _, corner := range []float64{r.fromStart(s.path[0]), r.fromStart(s.path[len(s.path)-1]),
			tip - r.start.dot(r.along)} {
			x, most := math.Abs(r.fromStart(at)-corner), 0.0
			for k := range 2 {
				most = math.Max(most, math.Abs(across[k]-x*math.Tan(s.turns(k)*share)))
			}
			least = math.Min(least, most)
		}
	}
	if math.IsInf(least, 1) {
		least = still
	}
	a.atLeast(p, "slot_across", a.length(p.get("slot_across")), 2*least, 4*a.least+2*math.Abs(y)*halfStrain)
}
