package coherence_test

import (
	"math"
	"strings"
)

// lifting: the moment of each leg carried unsupported, people by each leg's weight, and the warning exactly when the seam holds less.
func (a *answer) lifting(s *seam, pull node) {
	capacity, moment := a.force(pull.get("capacity")), a.force(pull.get("moment_force"))
	legs := pull.get("legs").list()
	a.must(pull, len(legs) == 2, "%d legs", len(legs))
	most, people := 0.0, 0
	for i, r := range []*run{s.first, s.second} {
		leg := legs[i]
		a.must(leg, leg.get("run").v == r.get("name").v, "is the leg of run %v", r.get("name").v)
		kg := a.mass(leg.get("weight"))
		a.near(leg, "weight (kg)", kg, a.mass(r.get("piece", "weight")), a.mass(node{a.t, "", 0.11}))
		least, upto := a.people(kg)
		a.must(leg, leg.get("people").int() >= least && leg.get("people").int() <= upto, "%d people for %.1f kg",
			leg.get("people").int(), kg)
		arm := a.length(leg.get("arm"))
		a.near(leg, "arm", arm, a.armOf(s, r), 0.4)
		force := a.force(leg.get("moment_force"))
		want := kg * standardGravity * arm / (a.length(a.get("top", "thickness")) / 2)
		a.near(leg, "moment_force", force, want,
			want*0.01+a.mass(node{a.t, "", 0.06})*standardGravity*arm*2/a.length(a.get("top", "thickness"))+0.5)
		most, people = math.Max(most, force), max(people, leg.get("people").int())
	}
	a.near(pull, "moment_force", moment, most, 0.1+1e-6*most)
	a.must(pull, pull.get("people").int() == people, "%d people, the legs need %d", pull.get("people").int(), people)
	warned := false
	for _, w := range a.get("warnings").list() {
		if w.get("code").text() == "support_when_carried" && aboutCorner(w, s) {
			warned = true
		}
	}
	if math.Abs(moment-capacity) < a.force(node{a.t, "", 0.11}) {
		return // printed alike: either may be the larger
	}
	a.must(pull, warned == (moment > capacity),
		"the moment asks for %.0f N, the seam holds %.0f N, and the warning about carrying is %v", moment, capacity, warned)
}

func aboutCorner(warning node, s *seam) bool {
	pointer := warning.get("pointer").text()
	return pointer == s.asked || strings.HasPrefix(pointer, s.asked+"/")
}

// armOf is how far the centre of gravity of a leg, its cut-outs taken out, lies from the seam's line.
func (a *answer) armOf(s *seam, r *run) float64 {
	area, sum := 0.0, spot{}
	add := func(o outline, sign float64) {
		for i, p := range o {
			q := o[(i+1)%len(o)]
			c := math.Abs(sign) * p.cross(q) / 2
			if (sign > 0) != (signed(o) > 0) {
				c = -c
			}
			area += c
			sum = sum.plus(p.plus(q).times(c / 3))
		}
	}
	add(r.piece, 1)
	hollows := a.hollowsIn(r)
	for _, h := range hollows { // an opening by its share of the thickness
		add(h.outline, -a.lacking())
	}
	for _, h := range a.holesIn(r) {
		if a.over(h, hollows) {
			add(h, a.lacking()-1)
		} else {
			add(h, -1)
		}
	}
	centre := sum.times(1 / area)
	return centre.toSegment(s.path[0], s.path[len(s.path)-1])
}

func signed(o outline) float64 {
	sum := 0.0
	for i, p := range o {
		sum += p.cross(o[(i+1)%len(o)])
	}
	return sum
}
