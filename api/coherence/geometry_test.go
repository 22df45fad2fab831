package coherence_test

import "math"

// geometry holds outlines, areas, lengths and angles against each other and against the order.
func (a *answer) geometry() {
	whole := outline(a.spots(a.get("outline")))
	total := a.area(a.get("area"))
	digit := a.area(node{a.t, "", 0.00005})
	a.near(a.get("area"), "the area (mm²)", total, whole.area(), digit+4*a.least*a.perimeter(whole))
	sum := 0.0
	for i := range a.runs {
		r := &a.runs[i]
		a.pieceOf(r, digit)
		sum += r.piece.area()
	}
	a.near(a.get("area"), "the area (mm²)", total, sum, float64(1+len(a.runs))*digit+4*a.least*a.perimeter(whole))
	a.near(a.get("area"), "the area (mm²)", total, a.areaByDepths(), digit+1)
	a.tiles(whole)
	for i := range a.seams {
		a.seamGeometry(&a.seams[i])
	}
	a.cutouts()
}

func (a *answer) perimeter(o outline) float64 {
	return pathLength(append(append([]spot{}, o...), o[0]))
}

// areaByDepths is the area of the whole top by trade.md 2: each run is a trapezoid between its wall and its front, cut off at the lines
// from every wall corner to where the fronts meet. However a corner is joined, the sum is the same.
func (a *answer) areaByDepths() float64 {
	sum := 0.0
	for i := range a.runs {
		r := &a.runs[i]
		front := r.length
		if i > 0 {
			front -= frontCorner(r.depth, a.runs[i-1].depth, a.order.angles[i-1])
		}
		if i < len(a.order.angles) {
			front -= frontCorner(r.depth, a.runs[i+1].depth, a.order.angles[i])
		}
		sum += r.depth * (r.length + front) / 2
	}
	return sum
}

func (a *answer) pieceOf(r *run, digit float64) {
	p := r.get("piece")
	a.near(p, "the area (mm²)", a.area(p.get("area")), r.piece.area(), digit+4*a.least*a.perimeter(r.piece))
	from, to := r.piece.span(r.along)
	a.near(p, "long_edge", a.length(p.get("long_edge")), to-from, 4*a.least)
	near, far := r.piece.span(r.room)
	wall := r.start.dot(r.room)
	a.near(p, "the wall edge's distance from the wall", near-wall, 0, 4*a.least)
	a.near(p, "the front edge's distance from the wall", far-wall, r.depth, 4*a.least)
	a.near(r.node, "depth", a.length(r.get("depth")), r.depth, a.least)
	for name, level := range map[string]float64{"wall_edge": 0, "front_edge": r.depth} {
		least, most := math.Inf(1), math.Inf(-1)
		for _, q := range r.piece {
			if math.Abs(r.fromWall(q)-level) < 8*a.least {
				least, most = math.Min(least, r.fromStart(q)), math.Max(most, r.fromStart(q))
			}
		}
		a.near(p, name, a.length(p.get(name)), most-least, 4*a.least)
	}
	edges := [2]float64{a.length(p.get("wall_edge")), a.length(p.get("front_edge"))}
	a.must(p, a.length(p.get("long_edge")) >= math.Max(edges[0], edges[1])-4*a.least,
		"the long edge is shorter than the wall or front edge")
	a.near(p, "short_edge", a.length(p.get("short_edge")), math.Min(edges[0], edges[1]), 4*a.least)
	a.endAngles(r)
}

// endAngles holds the angle of each end's cut at the wall against the outline.
func (a *answer) endAngles(r *run) {
	n := len(r.piece)
	for i, q := range r.piece {
		if math.Abs(r.fromWall(q)) > 8*a.least {
			continue
		}
		before, after := r.piece[(i+n-1)%n], r.piece[(i+1)%n]
		other := before
		if math.Abs(r.fromWall(before)) < 8*a.least {
			other = after
		}
		if math.Abs(r.fromWall(other)) < 8*a.least || other.distance(q) < 20 {
			continue // no cut but a corner of the wall edge, or too short to measure an angle on
		}
		name, inward := "start_angle", 1.0
		if math.Abs(r.fromStart(q)-a.end(r, 0)) > 16*a.least {
			name, inward = "end_angle", -1
		}
		cut := other.minus(q).unit()
		angle := math.Acos(math.Max(-1, math.Min(1, cut.dot(r.along)*inward))) / degree
		a.near(r.get("piece"), name, r.get("piece", name).num(), angle, 0.0001+8*a.least/other.distance(q)/degree)
	}
}

// end is how far along its wall a run's wall edge begins (0) or ends (1).
func (a *answer) end(r *run, which int) float64 {
	least, most := math.Inf(1), math.Inf(-1)
	for _, q := range r.piece {
		if math.Abs(r.fromWall(q)) < 8*a.least {
			least, most = math.Min(least, r.fromStart(q)), math.Max(most, r.fromStart(q))
		}
	}
	return [2]float64{least, most}[which]
}

// tiles walks over a grid of places: each one of the top lies in exactly one piece, none beside the top in any.
func (a *answer) tiles(whole outline) {
	x0, x1 := whole.span(spot{1, 0})
	y0, y1 := whole.span(spot{0, 1})
	const steps = 17 // odd and no divisor of usual sizes
	for i := range steps {
		for j := range steps {
			p := spot{x0 + (x1-x0)*(float64(i)+0.37)/steps, y0 + (y1-y0)*(float64(j)+0.41)/steps}
			nearest := whole.edgeDistance(p, nil)
			in := 0
			for k := range a.runs {
				nearest = math.Min(nearest, a.runs[k].piece.edgeDistance(p, nil))
				if a.runs[k].piece.holds(p) {
					in++
				}
			}
			if nearest < 1 {
				continue
			}
			want := 0
			if whole.holds(p) {
				want = 1
			}
			a.must(a.get("outline"), in == want, "(%.1f, %.1f) mm lies in %d pieces and %d tops", p.x, p.y, in, want)
		}
	}
}

func (a *answer) seamGeometry(s *seam) {
	g := s.chosen.get("geometry")
	a.near(g, "seam_length", a.length(g.get("seam_length")), pathLength(s.path), 8*a.least)
	a.near(s.corner, "angle", s.corner.get("angle").num(), s.theta/degree, 0.0001)
	for i, name := range []string{"first", "second"} {
		r, cut := [2]*run{s.first, s.second}[i], g.get(name)
		for _, edge := range []string{"wall_edge", "front_edge"} {
			a.near(cut, edge, a.length(cut.get(edge)), a.length(r.get("piece", edge)), 2*a.least)
		}
		a.near(cut, "saw_setting", cut.get("saw_setting").num(), 90-cut.get("cut_angle").num(), 0.0002)
	}
	for _, p := range s.path {
		for _, r := range []*run{s.first, s.second} {
			a.near(g, "the seam's distance from the edge of "+r.get("name").text(), r.piece.edgeDistance(p, nil), 0, 6*a.least)
		}
	}
	d1, d2, sin := s.first.depth, s.second.depth, math.Abs(math.Sin(s.theta))
	switch s.joint {
	case "miter": // O–I, √(x₁² + d₁²)
		x := frontCorner(d1, d2, s.theta)
		a.near(g, "seam_length", a.length(g.get("seam_length")), math.Hypot(x, d1), 4*a.least)
		a.near(g, "the sum of the cuts", g.get("first", "cut_angle").num()+g.get("second", "cut_angle").num(), s.theta/degree,
			0.0003)
		eased := a.length(a.get("top", "edge", "size")) <= inch/16+a.least // trade.md 6: neutral
		a.must(g, eased || g.get("profile_mismatch").num()*a.mm <= 0.5+a.least,
			"a chosen miter's profiles miss each other by %v", g.get("profile_mismatch").v)
	case "butt":
		a.near(g, "seam_length", a.length(g.get("seam_length")), s.stops.depth/sin, 4*a.least)
	case "masons_miter":
		a.must(g, len(s.path) == 3 && s.theta < math.Pi, "a mason's miter bends once and stands at an inner corner")
	}
}

// cutouts hold the holes against the order, their runs' pieces and the seams.
func (a *answer) cutouts() {
	asked, _ := a.order.body["top"].(map[string]any)["cutouts"].([]any)
	holes := a.get("cutouts").list()
	a.must(a.get("cutouts"), len(holes) == len(asked), "%d cut-outs were asked for", len(asked))
	for _, h := range holes {
		o := outline(a.spots(h.get("outline")))
		a.near(h, "the area (mm²)", a.area(h.get("area")), o.area(),
			a.area(node{a.t, "", 0.00005})+4*a.least*a.perimeter(o)+a.curved(h)*a.perimeter(o))
		r := a.runNamed(h.get("run").text())
		for _, p := range o {
			if d := r.piece.edgeDistance(p, nil); d > 4*a.least {
				a.must(h, r.piece.holds(p), "the hole reaches out of its piece at (%.1f, %.1f)", p.x, p.y)
			}
		}
		for i := range a.seams {
			s := &a.seams[i]
			if s.first != r && s.second != r {
				continue
			}
			least := math.Inf(1)
			for k := 1; k < len(s.path); k++ {
				for j := range o {
					least = math.Min(least, segmentsDistance(s.path[k-1], s.path[k], o[j], o[(j+1)%len(o)]))
				}
			}
			a.atLeast(h, "the distance from the seam", least, 3*inch, 8*a.least) // trade.md 2: 3 in
		}
		if h.has("making") {
			a.making(h, o, r)
		}
	}
}

// curved is how far a cut-out's outline may lie within its curve, in millimetres: nothing for a plain rectangle.
func (a *answer) curved(h node) float64 {
	if h.has("making") {
		return 0.1
	}
	return 0
}

// making holds how a cut-out is made against its outline, its area and the wood that is left beside it.
func (a *answer) making(h node, o outline, r *run) {
	m := h.get("making")
	long, deep := a.length(m.get("length")), a.length(m.get("depth"))
	radius := 0.0
	if n := m.get("corner_radius"); !n.null() {
		radius = a.length(n)
	}
	open := map[string]bool{}
	for _, s := range h.get("open_at").list() {
		open[s.text()] = true
	}
	area, edge := long*deep*math.Pi/4, 0.0
	if m.get("shape").text() == "rectangle" {
		area = long * deep
		ring := []string{"front", "end", "wall", "start"}
		for i, side := range ring {
			if !open[side] {
				edge += []float64{long, deep}[i%2]
			}
			if !open[side] && !open[ring[(i+1)%4]] {
				area, edge = area-(1-math.Pi/4)*radius*radius, edge-(2-math.Pi/2)*radius
			}
		}
	} else {
		const steps = 20000 // the ellipse's length, chord by chord
		for i := range steps {
			t, u := 2*math.Pi*float64(i)/steps, 2*math.Pi*float64(i+1)/steps
			edge += math.Hypot(long/2*(math.Cos(u)-math.Cos(t)), deep/2*(math.Sin(u)-math.Sin(t)))
		}
	}
	a.near(h, "the area of the shape (mm²)", a.area(h.get("area")), area, a.area(node{a.t, "", 0.00005})+4*a.least*(long+deep))
	a.near(m, "the cut edge", a.length(m.get("edge_length")), edge, 8*a.least+0.0005*edge)
	if m.get("mount").text() == "under" {
		a.near(m, "the edge that shows", a.length(m.get("shown_edge_length")), edge, 8*a.least+0.0005*edge)
	} else {
		a.must(m, m.get("shown_edge_length").null(), "no cut edge shows")
	}
	a.must(h, m.get("mount").text() != "apron" || open["front"], "an apron stands in an open front")
	wall := map[string]float64{"front": math.Inf(1), "wall": math.Inf(1)}
	for _, p := range o {
		across := (p.x-r.start.x)*r.room.x + (p.y-r.start.y)*r.room.y
		wall["wall"], wall["front"] = math.Min(wall["wall"], across), math.Min(wall["front"], r.depth-across)
	}
	for _, rail := range m.get("rails").list() {
		a.near(rail, "the rail's width", a.length(rail.get("width")), wall[rail.get("side").text()], 8*a.least+0.1)
		own, lifted := rail.get("own_stress").num(), rail.get("lifted_stress").num()
		a.must(rail, lifted >= 0 && own >= 0, "stresses are sizes")
		if n := rail.get("allowed_stress"); !n.null() {
			a.must(rail, rail.get("holds").flag() == (math.Max(own, lifted) <= n.num()+0.1), "it holds what is allowed")
		}
	}
}

func (a *answer) runNamed(name string) *run {
	for i := range a.runs {
		if a.runs[i].get("name").text() == name {
			return &a.runs[i]
		}
	}
	a.t.Fatalf("no run is named %q", name)
	return nil
}

// holesIn are the outlines of the cut-outs of a run.
func (a *answer) holesIn(r *run) []outline {
	var out []outline
	for _, h := range a.get("cutouts").list() {
		if h.get("run").text() == r.get("name").text() {
			out = append(out, a.spots(h.get("outline")))
		}
	}
	return out
}
