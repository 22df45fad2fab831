package coherence_test

// What a litre of each finish covers, coat by coat (m²): figures of the demo shop, which it has not changed.
var coverage = map[string]float64{"hardwax_oil": 24, "tung_oil": 14, "film_varnish": 12, "water_based_lacquer": 10, "mineral_oil_wax": 16}

// supplies holds what is used up against what it is used for: finish, parts in packs and metres of edge, seam and wall, by the demo
// shop's figures.
func (a *answer) supplies() {
	bill := a.get("bill_of_materials")
	need := map[string]float64{}
	for _, l := range bill.list() {
		need[l.get("item").text()] = l.get("need").num()
	}
	hold := func(item string, want, allow float64) {
		a.t.Helper()
		a.near(bill, "the need of "+item, need[item], want, allow)
	}
	pieces, seams, alignment := float64(len(a.runs)), 0.0, 0.0
	for i := range a.seams {
		seams += pathLength(a.seams[i].path) / 1000
		alignment += a.seams[i].chosen.get("hardware", "alignment", "count").num()
	}
	hold("sundry_corner_guard", 4*pieces, 1e-9)
	hold("sundry_moving_blanket_hire", 2*pieces, 1e-9)
	hold("sundry_seam_tape", 4*seams, 0.002+0.0002*seams)
	hold("sundry_seam_wax", 0.02*seams, 0.0006)
	hold("sundry_slot_wax", 0.001*alignment, 0.0006)
	clips := 0.0
	if a.get("fixing", "kind").text() == "slotted_clips" {
		clips = a.get("fixing", "count").num()
	}
	hold("sundry_clip_screw", clips, 1e-9)
	a.finishNeed(hold)
	strip := 0.0
	for i := range a.runs {
		if a.runs[i].get("wall_joint", "cover").text() == "cover_strip" {
			strip += a.runs[i].length / 1000
		}
	}
	hold("sundry_cover_strip", 1.1*strip, 0.0011)
	for _, l := range bill.list() {
		if l.get("item").text() == "sundry_silicone" {
			a.must(l, a.sealed() > 0, "sealant for no wall that is sealed")
		}
	}
	a.must(bill, (a.sealed() > 0) == (need["sundry_silicone"] > 0), "%d walls are sealed with %v cartridges", a.sealed(), need["sundry_silicone"])
}

// sealed is how many runs' walls are sealed.
func (a *answer) sealed() (n int) {
	for i := range a.runs {
		if a.runs[i].get("wall_joint", "cover").text() == "sealant" {
			n++
		}
	}
	return n
}

// finishNeed: faces and edges of all pieces, coat by coat. Cut edges of openings, hollows below and what is left open at an edge come
// to it or off, so that tops with them are held within what these can make.
func (a *answer) finishNeed(hold func(item string, want, allow float64)) {
	f := a.get("top", "finish")
	system := f.get("system").text()
	if system == "none" {
		a.must(f, a.billed("finish", "") == 0, "finish for bare wood")
		return
	}
	faces := map[string]float64{"both": 2, "top": 1}[f.get("faces").text()]
	thickness, coated, holes := a.length(a.get("top", "thickness")), 0.0, 0.0
	for i := range a.runs {
		p := a.runs[i].piece
		coated += faces*p.area() + a.perimeter(p)*thickness
		for _, h := range a.holesIn(&a.runs[i]) {
			coated -= faces * h.area()
			holes += (a.perimeter(h)) * thickness
		}
		if a.runs[i].get("blank").has("build_up") {
			holes += p.area() // what is hollow below has more to coat or less
		}
	}
	coats := f.get("coats").num() / coverage[system] / 1e6
	hold("finish_"+system, coated*coats, 0.0006+(holes+0.0005*coated)*coats)
}
