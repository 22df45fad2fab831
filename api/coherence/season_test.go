package coherence_test

import (
	"fmt"
	"math"
)

// Allowances of trade.md 5 and 7, which the demo shop has not changed.
const (
	wallAllowance  = inch / 16     // added to the humid change at the wall
	wallGapLimit   = 3 * inch / 8  // what covers a gap hides so much
	alongGrain     = 0.00005       // per percent
	sealantClass   = 0.25          // ±25 %: a joint is 4 × its movement wide
	visibleOpening = inch / 32     // plainly seen
	halfStrain     = 0.0000005 + 0 // half the last digit of a strain
)

// season holds moisture, strains, changes of width, gaps at walls and what the seams do against each other.
func (a *answer) season() {
	for i := range a.runs {
		r := &a.runs[i]
		r.line = r.fixedLine(a.nameOfLine(r))
		a.moisture(r)
		a.changes(r)
	}
	for i := range a.seams {
		a.seamSeason(&a.seams[i])
	}
	covered := false
	for i := range a.runs {
		a.wall(&a.runs[i])
		covered = covered || a.runs[i].get("wall_joint", "cover").text() != "none"
	}
	a.must(a.get("bill_of_materials"), covered == (a.billed("cover", "") > 0), "walls are covered: %v, by %v of the bill",
		covered, a.billed("cover", ""))
}

// nameOfLine is a run's one fixed line, which movement and base must name alike.
func (a *answer) nameOfLine(r *run) string {
	fixing := a.get("fixing", "runs").list()
	line := r.get("movement", "fixed_line").text()
	if len(fixing) > 0 {
		a.must(a.get("fixing", "runs"), len(fixing) == len(a.runs), "not every run is fixed")
		base := fixing[r.order].get("fixed_line").text()
		a.must(r.node, base == line, "moves from the %s and is fixed at the %s", line, base)
	}
	if asked, _ := a.order.body["top"].(map[string]any)["fixing"].(map[string]any); asked["fixed_line"] != nil &&
		len(fixing) > 0 {
		a.must(r.node, line == asked["fixed_line"], "is fixed at the %s, asked for was the %v", line, asked["fixed_line"])
	}
	return line
}

// moisture: dry is not wetter than humid, all of it is wood's, and the middle of the year is the default at making.
func (a *answer) moisture(r *run) {
	m := r.get("moisture")
	making, dry, humid := m.get("making").num(), m.get("dry").num(), m.get("humid").num()
	a.must(m, dry <= humid && dry > 0 && humid <= 30 && making > 0 && making <= 20, "%v, %v, %v %%", making, dry, humid)
	if asked, _ := a.order.body["moisture"].(map[string]any); asked["making"] == nil && asked["stock"] == nil && asked["seasonal"] == nil {
		a.near(m, "making", making, (dry+humid)/2, 0.011)
	}
}

// changes: trade.md 4. Inside 6–14 % the strain is the coefficient times the change; further out it is at least monotonic, and the
// change of a width is the strain times the width.
func (a *answer) changes(r *run) {
	m, wet := r.get("movement"), r.get("moisture")
	making, dry, humid := wet.get("making").num(), wet.get("dry").num(), wet.get("humid").num()
	for name, to := range map[string]float64{"dry": dry, "humid": humid} {
		strain := m.get(name + "_strain").num()
		a.near(m, "to_"+name, a.length(m.get("to_"+name)), strain*r.depth, a.least+r.depth*halfStrain)
		a.must(m, math.Abs(to-making) < 0.011 || strain*(to-making) >= 0, "%s_strain is %g from %g to %g %%", name, strain,
			making, to)
		inside := making >= 6 && making <= 14 && to >= 6 && to <= 14
		if c := m.get("coefficient"); inside && !c.null() {
			a.must(m, c.num() > 0.0005 && c.num() < 0.005, "a coefficient of %g", c.num())
			// moisture is printed to a hundredth
			a.near(m, name+"_strain", strain, c.num()*(to-making), halfStrain+0.01*c.num()+1e-6)
		}
	}
	if methods := m.get("methods").list(); len(methods) == 1 && methods[0].text() == "coefficient" {
		for _, x := range []float64{making, dry, humid} {
			a.must(wet, x > 5.99 && x < 14.01, "%g %% by the coefficient alone", x)
		}
	}
	// to the last digit, as people add up what they see
	a.near(m, "range", a.length(m.get("range")), a.length(m.get("to_humid"))-a.length(m.get("to_dry")), a.least*1e-3)
	a.near(m, "along_grain_range", a.length(m.get("along_grain_range")), r.length*alongGrain*(humid-dry),
		a.least+r.length*alongGrain*0.011)
}

// wall: the gap behind a run holds its humid change from the fixed line, the swing of a free miter and the allowance; what covers it
// can do so.
func (a *answer) wall(r *run) {
	m := r.get("movement")
	gap := a.length(m.get("wall_gap"))
	// The wall edge goes towards the wall by the strain times its distance from the fixed line.
	humid := math.Max(0, r.humid*r.line)
	swing := a.length(m.get("swing"))
	least, most := a.swingOf(r)
	a.must(m, swing >= least-2*a.least && swing <= most+2*a.least,
		"swing is %.3f mm, by the turn of its corner %.3f to %.3f", swing, least, most)
	a.near(m, "wall_gap", gap, humid+swing+wallAllowance, 3*a.least+r.depth*halfStrain)
	a.least2(m, "wall_gap")
	if swing > 0 && !a.saidToSwing(r) {
		a.must(m, gap <= wallGapLimit+2*a.least, "a free miter's leg needs a gap of %.2f mm, which nothing covers", gap)
	}
	j := r.get("wall_joint")
	width, closes, opens := a.length(j.get("width")), a.length(j.get("closes")), a.length(j.get("opens"))
	a.least2(j, "width")
	a.atLeast(j, "closes", closes, humid, 2*a.least+r.depth*halfStrain)
	a.atLeast(j, "opens", opens, math.Max(0, -r.dry*r.line), 2*a.least+r.depth*halfStrain)
	switch cover := j.get("cover").text(); cover {
	case "sealant":
		a.atLeast(j, "the width of a sealed joint", width, math.Max(closes, opens)/sealantClass, 6*a.least)
		a.atLeast(j, "width", width, gap, 2*a.least)
	case "cover_strip":
		a.atLeast(j, "width", width, gap, 2*a.least)
	case "none":
	default:
		a.must(j, false, "covered by %q", cover)
	}
	a.must(j, j.get("text").text() != "", "says nothing")
}

// halfTurn is half of the last digit of a corner's turn.
const halfTurn = 0.00005 * degree

// swingOf is between which lengths the swing of a run's far end towards its wall must lie: its share of a corner's turn, in the season
// that turns it so, at a far end that is reckoned along the front or from tip to tip. A leg may be of several pieces, which swing as
// one.
func (a *answer) swingOf(r *run) (least, most float64) {
	near, far := 0.0, 0.0
	for i := range a.runs {
		if q := &a.runs[i]; a.oneLeg(r, q) {
			near += math.Min(a.length(q.get("piece", "front_edge")), a.length(q.get("piece", "wall_edge")))
			far += 1.001 * a.length(q.get("piece", "long_edge"))
		}
	}
	for i := range a.seams {
		s := &a.seams[i]
		for k := range 2 {
			turn := s.turns(k) * a.shareOf(s, r)
			digits := far * halfTurn * a.shareOf(s, r)
			least, most = math.Max(least, near*math.Tan(turn)-digits), math.Max(most, far*math.Tan(turn)+digits)
		}
	}
	return least, most
}

// oneLeg tells whether two runs are pieces of one, or the same.
func (a *answer) oneLeg(r, q *run) bool {
	for k := min(r.order, q.order); k < max(r.order, q.order); k++ {
		if a.order.angles[k] != math.Pi {
			return false
		}
	}
	return true
}

// shareOf is how much of a corner's turn a run takes: half when both are end legs, all when the other run lies between two corners.
func (a *answer) shareOf(s *seam, r *run) float64 {
	if !a.oneLeg(s.first, r) && !a.oneLeg(s.second, r) || !s.swings() {
		return 0
	}
	ends := func(r *run) bool { // its leg, which may be of several pieces
		first, last := r.order, r.order
		for first > 0 && a.order.angles[first-1] == math.Pi {
			first--
		}
		for last < len(a.runs)-1 && a.order.angles[last] == math.Pi {
			last++
		}
		return first == 0 || last == len(a.runs)-1
	}
	switch {
	case ends(s.first) == ends(s.second):
		return 0.5 // where both lie between two corners, the order has said that they swing
	case ends(r):
		return 1
	}
	return 0
}

// turns is by how much the corner's angle changes in a season (0 dry, 1 humid), in radians; legs go towards their walls when it grows.
func (s *seam) turns(season int) float64 {
	return s.chosen.get("movement", [2]string{"dry", "humid"}[season], "angle_change").num() * degree
}

// saidToSwing tells whether the order says of a corner of a run that its legs can swing.
func (a *answer) saidToSwing(r *run) bool {
	corners, _ := a.order.body["top"].(map[string]any)["corners"].([]any)
	for i := range a.seams {
		s := &a.seams[i]
		if a.oneLeg(s.first, s.second) {
			continue // a straight seam is no corner of the order's
		}
		if c := corners[0].(map[string]any); (a.oneLeg(s.first, r) || a.oneLeg(s.second, r)) && c["restrained"] == false {
			return true
		}
		corners = corners[1:]
	}
	return false
}

func (s *seam) swings() bool {
	return !s.chosen.get("movement", "restrained").flag()
}

// seamSeason: slip and opening at the seam's far end from strains, cut and fixed lines, by the displacements of the two sides there.
func (a *answer) seamSeason(s *seam) {
	m := s.chosen.get("movement")
	for _, season := range []string{"dry", "humid"} {
		x := m.get(season)
		slip, opening, change := a.length(x.get("max_slip")), a.length(x.get("max_opening")), x.get("angle_change").num()
		strains := [2]float64{s.first.dry, s.second.dry}
		if season == "humid" {
			strains = [2]float64{s.first.humid, s.second.humid}
		}
		if s.joint == "miter" {
			a.miterSeason(s, x, strains, slip, opening, change)
			continue
		}
		e := strains[1]
		if s.stops == s.first {
			e = strains[0]
		}
		far := a.length(m.get("far"))
		sin := math.Abs(math.Sin(s.theta))
		// From the fixed line to the further edge of the stopping run.
		across := math.Max(s.stops.line, s.stops.depth-s.stops.line)
		a.near(m, "far", far, across/sin, 3*a.least)
		allow := 2*a.least + far*halfStrain
		a.near(x, "|max_slip|", math.Abs(slip), math.Abs(e*across*sin), allow)
		a.must(x, math.Abs(slip) < 2*a.least || (slip > 0) == (e > 0), "the slip %g has not the sign of the strain %g", slip,
			e)
		a.near(x, "|max_opening|", math.Abs(opening), math.Abs(e*across*math.Cos(s.theta)), allow)
	}
	if s.joint != "miter" {
		hold := m.get("hold_at").text()
		a.near(m, "the held point's distance from the stopping run's wall", s.stops.fixedLine(hold), s.stops.line, 1e-6)
	}
	a.must(m, m.get("hold_at").v == s.chosen.get("hardware", "hold_at").v,
		"the seam is held at the %v and its hardware at the %v", m.get("hold_at").v, s.chosen.get("hardware", "hold_at").v)
}

// miterSeason: trade.md 5. Held at the front; the bound when the corner's angle cannot change, else the angle's change.
func (a *answer) miterSeason(s *seam, x node, e [2]float64, slip, opening, change float64) {
	g := s.chosen.get("geometry")
	a1, a2 := g.get("first", "cut_angle").num()*degree, g.get("second", "cut_angle").num()*degree
	length := pathLength(s.path)
	turn := (e[0]*math.Sin(2*a1) + e[1]*math.Sin(2*a2)) / 2
	allow := 2*a.least + length*2*halfStrain
	if s.first.line == s.first.depth && s.second.line == s.second.depth {
		a.near(x, "|max_slip|", math.Abs(slip), math.Abs(length*(e[0]*sq(math.Sin(a1))-e[1]*sq(math.Sin(a2)))), allow)
		a.near(x, "max_opening", opening, length*turn, allow)
		a.near(x, "angle_change", change, turn/degree, 0.0001+2*halfStrain/degree)
	}
	for i, name := range []string{"first_shift", "second_shift"} {
		leg := [2]*run{s.first, s.second}[i]
		far, pieces := a.legFar(leg)
		a.near(x, name, a.length(x.get(name)), far*math.Tan(turn), (1+pieces)*a.least+far*4*halfStrain)
	}
}

// legFar is how far a leg reaches, which may be of several pieces, and of how many it is.
func (a *answer) legFar(r *run) (far, pieces float64) {
	for i := range a.runs {
		if q := &a.runs[i]; a.oneLeg(r, q) {
			far, pieces = far+a.length(q.get("piece", "long_edge")), pieces+1
		}
	}
	return far, pieces
}

func sq(x float64) float64 { return x * x }

// least2 holds the text of a size that is a least against its number: rounded up, and by no more than a 32nd or half a millimetre
// (a 16th or a millimetre for a gap at a wall).
func (a *answer) least2(n node, name string) {
	n.t.Helper()
	a.leastText(n, name, a.length(n.get(name)), n.get(name+"_text"))
}

func (a *answer) leastText(n node, name string, length float64, text node) {
	n.t.Helper()
	made := a.made(text)
	a.must(n, made >= length-a.least && made <= length+1.01, "%s is %.4f mm and its text %q, which is %.4f mm", name,
		length, fmt.Sprint(text.v), made)
}
