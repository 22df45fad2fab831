package main

import "math"

// What the ground is drawn from: what stands under a top, what it carries, its walls, the way to it, how it is built.
var (
	kinds    = []string{"cabinet", "open", "appliance", "legs", "bracket", "batten"}
	builds   = []string{"", "", "solid", "laminated", "built_up", "cross_laminated"}
	adding   = []string{"brackets", "legs", "none"}
	mostBase = 60
	thick    = []float64{2.5, 3, 3.5, 4, 5, 5.9} // above what boards are sold for
)

// changeGround changes one thing of an order's ground.
func (s *search) changeGround(o *order, run map[string]any) {
	length := run["length"].(float64)
	switch s.draw.IntN(13) {
	case 0, 1, 2, 3:
		s.changeBase(o, run)
	case 4:
		o.Support = map[string]any{"add": one(s, adding), "alternatives": s.draw.IntN(4) > 0}
	case 5:
		o.Loads = map[string]any{"use": one(s, []string{"worktop", "desk", "bar"})}
	case 6:
		o.Top.Thickness = one(s, thick)
	case 7:
		o.Top.Build = one(s, builds)
	case 8:
		s.changeSeams(run, length)
	case 9, 10:
		s.changeSite(o, run, length)
	case 11:
		o.Moisture = nil
		if s.draw.IntN(3) > 0 {
			o.Moisture = map[string]any{"seasonal": map[string]any{"rings": one(s, []string{"alternating", "bark_up", "heart_up"})}}
		}
	case 12:
		s.changeMaking(o)
	}
}

// changeBase adds what stands under a run, as a row of neighbours, or takes all of it away.
func (s *search) changeBase(o *order, run map[string]any) {
	if s.draw.IntN(6) == 0 {
		o.Base = nil
		return
	}
	length, at := run["length"].(float64), 0.0
	for range 1 + s.draw.IntN(8) {
		wide := s.about(one(s, []float64{1.5, 6, 12, 24, 36, 60, 90}))
		if len(o.Base) >= mostBase || at+1.5 >= length {
			return
		}
		to := math.Min(length, at+wide)
		part := map[string]any{"run": run["name"], "from": at, "to": to, "kind": one(s, kinds)}
		if s.draw.IntN(3) == 0 {
			part["from_front"] = s.about(one(s, []float64{0, 2, 6, 11}))
		}
		if s.draw.IntN(6) == 0 {
			part["supply"] = true
		}
		o.Base = append(o.Base, part)
		if at = to; s.draw.IntN(2) == 0 {
			at += s.about(one(s, []float64{6, 24, 48})) // nothing under it
		}
	}
}

// changeSeams divides a run, or leaves it whole.
func (s *search) changeSeams(run map[string]any, length float64) {
	delete(run, "straight_seams")
	n := s.draw.IntN(4)
	var seams []any
	for i := range n {
		seams = append(seams, map[string]any{"at": math.Round(length*float64(i+1)/float64(n+1)*100) / 100})
	}
	if n > 0 {
		run["straight_seams"] = seams
	}
}

// changeSite changes the site: a wall, the way, the lift, what is said of errors.
func (s *search) changeSite(o *order, run map[string]any, length float64) {
	if o.Site == nil {
		o.Site = map[string]any{}
	}
	switch s.draw.IntN(7) {
	case 0:
		o.Site["tolerances"] = s.draw.IntN(3) > 0
	case 1:
		o.Site["lift"] = map[string]any{}
	case 2:
		o.Site["way"] = s.drawWay()
	case 3, 4:
		s.drawWall(o.Site, run, length)
	case 5:
		delete(o.Site, "walls")
	case 6:
		o.Site["assembled_by"] = one(s, []string{"shop", "customer"})
	}
}

// drawWall adds a wall that is not straight, in as many offsets as there may be.
func (s *search) drawWall(site, run map[string]any, length float64) {
	walls, _ := site["walls"].([]any)
	if len(walls) >= 20 {
		return
	}
	n := one(s, []int{2, 8, 60, 200})
	var offsets []any
	for i := range n {
		offsets = append(offsets, map[string]any{"at": math.Round(1e4*length*float64(i)/float64(n-1)) / 1e4,
			"offset": math.Round(1e4*(s.draw.Float64()-0.5)*0.5) / 1e4})
	}
	site["walls"] = append(walls[:len(walls):len(walls)], map[string]any{"run": run["name"], "edge": "wall", "offsets": offsets})
}

// drawWay is a way of up to as many steps as there may be.
func (s *search) drawWay() []any {
	var way []any
	for range one(s, []int{1, 5, 20, 50}) {
		switch s.draw.IntN(3) {
		case 0:
			way = append(way, map[string]any{"kind": "door", "width": s.about(32), "height": s.about(84)})
		case 1:
			way = append(way, map[string]any{"kind": "turn", "first": s.about(60), "second": s.about(60),
				"height": s.about(100), "angle": one(s, []float64{45, 90, 120})})
		case 2:
			way = append(way, map[string]any{"kind": "lift", "width": s.about(60), "depth": s.about(80), "height": s.about(90),
				"door_width": s.about(36), "door_height": s.about(84)})
		}
	}
	return way
}

// changeMaking changes how a top is made: finish, fixings, corners' parts and wishes.
func (s *search) changeMaking(o *order) {
	switch s.draw.IntN(6) {
	case 0:
		o.Top.Fixing = map[string]string{"kind": one(s, []string{"slotted_clips", "slotted_screws", "figure_eights", "buttons"})}
	case 1:
		o.Top.Staves = one(s, []string{"", "full_length", "finger_jointed"})
	case 2:
		o.Top.Series = one(s, []string{"", "usual", "units", "metric", "imperial"})
	case 3:
		o.Top.Edge["inside_corner"] = one(s, []string{"radius", "carved", "coped"})
	case 4:
		delete(o.Top.Edge, "inside_corner")
	case 5:
		if len(o.Top.Corners) > 0 {
			o.Top.Corners[s.draw.IntN(len(o.Top.Corners))]["carry"] = one(s, []string{"site_template", "scribe", "none"})
		}
	}
}
