package coherence_test

import "math"

// Shop figures of the glue-up, which the demo shop has not changed.
const (
	planerWidth = 20 * inch
	openMinutes = 8.0
	clampForce  = 6.7 // kN
	clampSet    = 0.3 // minutes
)

// glueUp holds the plan of a slab's glue-up against its blank.
func (a *answer) glueUp(r *run) {
	b := r.get("blank")
	ready := b.get("stave_width").null()
	a.must(r.node, ready == !r.has("glue_up"), "a ready-made panel is not glued up, and a slab is")
	if ready {
		return
	}
	g := r.get("glue_up")
	staves, width, each := 0, 0.0, a.length(b.get("stave_finished"))
	for _, s := range g.get("sections").list() {
		n := s.get("staves").int()
		staves += n
		width += a.length(s.get("width"))
		a.near(s, "width", a.length(s.get("width")), float64(n)*each, float64(n+1)*a.least)
		a.must(s, a.length(s.get("width")) <= planerWidth+2*a.least || n == 1, "wider than the planer")
	}
	n := int(layers(b))
	a.must(g, float64(staves) == a.side(b), "%d staves side by side in %d layers, of %d", staves, n, b.get("staves").int())
	a.near(g, "the sections' width", width, a.length(b.get("width")), float64(staves+1)*a.least)
	joints := staves*n - n + n/2
	if staves == 1 {
		joints = 0
	}
	if b.has("build_up") { // those of the slab and within its strips; blocks are pressed with the slab
		u := b.get("build_up")
		joints = staves - 1 + u.get("strip_staves").int() - 2*(n-1)
		if u.get("blocks_across").int() == 0 {
			joints += n - 1
		}
	}
	a.must(g, g.get("joints").int() == joints, "%d joints, of %d staves in %d layers", g.get("joints").int(), staves, n)
	a.must(g, g.get("count").int()*g.get("joints_at_once").int() >= joints, "too few glue-ups")
	a.atLeast(g, "the hours in clamps", g.get("clamp_hours").num(), g.get("count").num(), 0.01) // an hour each
	if joints == 0 {
		return
	}
	a.near(g, "clamp_minutes", g.get("clamp_minutes").num(), clampSet*g.get("clamps").num(), 0.051)
	a.near(g, "clamp_spacing", a.length(g.get("clamp_spacing"))*g.get("clamps").num(), a.length(b.get("length")),
		(1+g.get("clamps").num())*a.least)
	if g.get("joints_at_once").int() > 1 {
		a.must(g, g.get("spread_minutes").num() <= openMinutes+0.05, "spread longer than the glue stays open")
	}
}

// glue: what the plans take is what is bought, and the labour plan waits for all of them.
func (a *answer) glue() {
	litres, hours := 0.0, 0.0
	for i := range a.runs {
		if a.runs[i].has("glue_up") {
			litres += a.runs[i].get("glue_up", "litres").num()
			hours += a.runs[i].get("glue_up", "clamp_hours").num()
		}
	}
	bought := 0.0
	for _, l := range a.get("bill_of_materials").list() {
		if l.get("kind").text() == "glue" {
			bought = l.get("need").num() // each pack's line tells the whole need
		}
	}
	a.near(a.get("bill_of_materials"), "the glue (litres)", bought, litres, 0.0006*float64(1+len(a.runs)))
	for _, s := range a.get("labour", "steps").list() {
		if s.get("code").text() == "glue_up" {
			a.must(s, s.get("wait_hours").num() >= math.Max(12, hours)-0.01, "waits %v hours for %v in clamps",
				s.get("wait_hours").num(), hours)
		}
	}
}
