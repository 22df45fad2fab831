package coherence_test

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

// What is said of a seam's gap agrees with the seam on the plan, with itself, and with what labour costs when the corner is
// carried to the wood otherwise; and asking for it changes nothing else.
func TestTolerancesAgreeWithTheSeamAndTheLabour(t *testing.T) {
	cat := storetest.Demo(t)
	all, told, priced := 0, 0, 0
	some(t, func(t *rapid.T) {
		o := drawOrder(t)
		all++
		plain, refused := ask(t, o.body, cat)
		if refused != nil || len(o.angles) == 0 {
			return
		}
		asked := copied(t, o.body)
		object(asked, "site")["tolerances"] = true
		n, refused := ask(t, asked, cat)
		if refused != nil {
			t.Fatalf("refused for asking: %v", refused)
		}
		a := newAnswer(n, o)
		for i := range a.seams {
			a.tolerances(&a.seams[i])
			told++
		}
		if len(o.angles) == 1 && once(t, "held against labour", 2) {
			priced++
			a.carriedOtherwise(asked, cat)
		}
		for _, c := range n.get("corners").list() {
			delete(c.v.(map[string]any), "tolerances")
		}
		ours, theirs := n.v.(map[string]any), plain.v.(map[string]any)
		for name := range theirs {
			if name != "assumptions" && !reflect.DeepEqual(ours[name], theirs[name]) {
				t.Fatalf("asking for tolerances changes %s", name)
			}
		}
	})
	// Under the race detector too few are drawn for a share of them to say much.
	if told == 0 || all >= 100 && (4*told < all || 20*priced < all) {
		t.Fatalf("of %d tops %d seams, %d held against labour: the draws show too little", all, told, priced)
	}
}

// The demo shop's limits, in mm and degrees: common practice.
var limits = map[string]float64{"walls": 0.5, "base": 0.1, "template": inch / 32, "scribe": inch / 64, "guide": 0.254, "skim": 0.127}

// tolerances holds what is said of one seam's gap.
func (a *answer) tolerances(s *seam) {
	x := s.corner.get("tolerances")
	visible, recut := a.length(x.get("limit")), x.get("recut_cost").decimal()
	a.near(x, "limit", visible, inch/32, a.least)
	last := len(s.path) - 1
	lever := func(end, back int) float64 { // how far along the seam its end lies from the corner of the walls
		along := s.path[end].minus(s.path[back])
		return math.Abs(s.path[end].minus(s.second.start).dot(along)) / s.path[end].distance(s.path[back])
	}
	ends := map[string]float64{"front": lever(0, 1), "wall": lever(last, last-1)}
	least, carry := math.Inf(1), s.chosen.get("carry").text()
	for _, w := range x.get("ways").list() {
		squares, sums := map[string]float64{}, map[string]float64{}
		most, dominant := 0.0, ""
		for _, e := range w.get("errors").list() {
			kind := e.get("error").text()
			for _, at := range []string{"front", "wall", "drawn"} {
				d := a.length(e.get(at))
				if kind == "known_angle" {
					continue
				}
				squares[at] += d * d
				sums[at] += d
				if lever, angle := ends[at], kind == "walls" || kind == "base"; angle && at != "drawn" {
					a.near(e, kind, d, lever*limits[kind]*degree, 2*a.least+1e-6*lever)
				}
			}
			if d := e.get("drawn").num(); d > most+1e-9 {
				most, dominant = d, kind
			}
			faces := 1.0
			switch {
			case kind == "skim", kind != "scribe" && s.joint != "butt":
				faces = 2
			}
			if limit := limits[kind]; limit > 0 && kind != "walls" && kind != "base" && !(kind == "guide" && a.order.handSaw()) {
				a.near(e, kind, a.length(e.get("front")), limit*math.Sqrt(faces), 2*a.least)
				a.near(e, kind, a.length(e.get("wall")), limit*math.Sqrt(faces), 2*a.least)
			}
		}
		a.must(w, dominant == w.get("dominant").text(), "another error dominates: %s", dominant)
		for _, at := range []string{"front", "wall", "drawn"} {
			band := w.get(at)
			known := math.Abs(a.length(band.get("known")))
			expected, worst := a.length(band.get("expected")), a.length(band.get("worst"))
			a.near(band, "expected", expected, known+math.Sqrt(squares[at]), 8*a.least)
			a.must(band, worst >= expected-2*a.least && worst >= known+sums[at]-10*a.least, "the worst is not the worst")
		}
		if w.get("way").text() == "nominal_angle" {
			gap := a.length(s.chosen.get("geometry", "nominal_error_gap"))
			off := math.Abs(s.theta/degree - s.chosen.get("geometry", "nominal_angle").num())
			if s.joint != "masons_miter" && off <= 10 {
				a.near(w, "known", math.Abs(a.length(w.get("drawn", "known"))), gap, 4*a.least)
			}
		}
		known, expected := math.Abs(a.length(w.get("drawn", "known"))), a.length(w.get("drawn", "expected"))
		deviation := (expected - known) / 2
		tail := func(limit float64) float64 { return math.Erfc(limit/deviation/math.Sqrt2) / 2 }
		chance := 100 * (tail(visible-known) + tail(visible+known))
		a.near(w, "recut_chance", w.get("recut_chance").num(), chance, 0.01+100*2*a.least/deviation)
		a.near(w, "likely_recut", w.get("likely_recut").decimal(), recut*w.get("recut_chance").num()/100, 0.006+recut*0.00006)
		a.near(w, "total", w.get("total").decimal(), w.get("labour").decimal()+w.get("likely_recut").decimal(), 1e-6)
		least = min(least, w.get("total").decimal())
		if w.get("way").text() == x.get("recommended").text() {
			defer func() { a.near(w, "the recommended total", w.get("total").decimal(), least, 1e-6) }()
		}
	}
	if reckoned := x.get("reckoned").text(); reckoned != carry && !(carry == "none" && reckoned == "nominal_angle") {
		a.must(x, false, "reckoned by %s, carried by %s", reckoned, carry)
	}
}

func (o *order) handSaw() bool {
	shop, _ := o.body["shop"].(map[string]any)
	return shop["seam_cut"] == "hand_saw"
}

// carriedOtherwise orders the same corner, its joint fixed, carried to the wood in each way: labour differs by what was said.
func (a *answer) carriedOtherwise(asked map[string]any, cat *catalogue.Snapshot) {
	body := copied(a.t, asked)
	corner := body["top"].(map[string]any)["corners"].([]any)[0].(map[string]any)
	corner["joint"] = a.seams[0].joint
	if through := a.get("corners").list()[0].get("through"); !through.null() {
		corner["through"] = through.text()
	}
	if pull := a.seams[0].chosen.get("hardware", "pull"); !pull.null() {
		corner["pull"] = pull.get("kind").text()
	}
	labour, minutes := map[string]float64{}, map[string]float64{}
	var x node
	for _, carry := range []string{"none", "site_template", "scribe"} {
		corner["carry"] = carry
		n, refused := ask(a.t, body, cat)
		if refused != nil {
			return
		}
		labour[carry], minutes[carry] = n.get("price", "labour").decimal(), 60*n.get("labour", "hours").num()
		x = n.get("corners").list()[0].get("tolerances")
	}
	for _, w := range x.get("ways").list() {
		if carry := w.get("way").text(); labour[carry] > 0 {
			a.near(w, "labour", w.get("labour").decimal(), labour[carry]-labour["none"], 0.006)
			a.near(w, "minutes", w.get("minutes").num(), minutes[carry]-minutes["none"], 0.7) // hours have two decimals
		}
	}
}
