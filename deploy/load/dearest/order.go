package main

import (
	"math"
	"slices"
)

// order is the part of a request that is drawn, as the API reads it. Lengths are in inches.
type order struct {
	Units    string           `json:"units"`
	Top      top              `json:"top"`
	Site     map[string]any   `json:"site,omitempty"`
	Shop     map[string]any   `json:"shop,omitempty"`
	Base     []map[string]any `json:"base,omitempty"`
	Support  map[string]any   `json:"support,omitempty"`
	Loads    map[string]any   `json:"loads,omitempty"`
	Moisture map[string]any   `json:"moisture,omitempty"`
}

type top struct {
	Species      string            `json:"species"`
	Thickness    any               `json:"thickness"`
	Construction string            `json:"construction,omitempty"`
	Staves       string            `json:"staves,omitempty"`
	Build        string            `json:"build,omitempty"`
	Series       string            `json:"hardware_series,omitempty"`
	Sawn         string            `json:"sawn,omitempty"`
	Runs         []map[string]any  `json:"runs"`
	Corners      []map[string]any  `json:"corners,omitempty"`
	Edge         map[string]any    `json:"edge,omitempty"`
	Cutouts      []map[string]any  `json:"cutouts,omitempty"`
	Fixing       map[string]string `json:"fixing,omitempty"`
}

// What orders are drawn from.
var (
	species    = []string{"maple_sugar", "oak_white", "walnut_black", "cherry_black", "ash_white", "beech_european"}
	lengths    = []float64{5, 12, 30, 48, 60, 72, 96, 120, 144, 168, 188}
	depths     = []float64{4, 6, 12, 18, 24, 25.5, 36, 48, 84}
	angles     = []float64{45, 60, 90, 90, 120, 135, 150, 200, 225, 270, 300}
	thickness  = []float64{0.75, 1, 1.25, 1.5, 1.75, 2, 2.5}
	saws       = []string{"flat", "quarter", "rift", "mixed"}
	profiles   = []string{"square", "eased", "roundover", "chamfer", "ogee"}
	mostRuns   = 6
	mostHoles  = 40
	leastShare = 0.6 // of a changed length, at least
)

func one[T any](s *search, list []T) T { return list[s.draw.IntN(len(list))] }

// about is a number near another one, with more digits than anybody needs.
func (s *search) about(v float64) float64 {
	if s.draw.IntN(3) == 0 {
		return v
	}
	return math.Round(v*(leastShare+(1-leastShare)*1.5*s.draw.Float64())*1e4) / 1e4
}

func (s *search) drawRun() map[string]any {
	return map[string]any{"length": s.about(one(s, lengths)), "depth": s.about(one(s, depths))}
}

func (s *search) drawCorner() map[string]any { return map[string]any{"angle": one(s, angles)} }

// drawOrder is a new order, mostly a long chain.
func (s *search) drawOrder() order {
	n := max(1+s.draw.IntN(mostRuns), 1+s.draw.IntN(mostRuns))
	o := order{Units: "in"}
	o.Top = top{Species: one(s, species), Thickness: one(s, thickness), Sawn: one(s, saws)}
	o.Top.Edge = map[string]any{"profile": one(s, profiles)}
	for i := range n {
		o.Top.Runs = append(o.Top.Runs, s.drawRun())
		o.Top.Runs[i]["name"] = string(rune('A' + i))
		if i > 0 {
			o.Top.Corners = append(o.Top.Corners, s.drawCorner())
		}
	}
	return o
}

// clone is a copy that shares nothing.
func (o *order) clone() order {
	c := *o
	maps := func(list []map[string]any) []map[string]any {
		list = slices.Clone(list)
		for i, m := range list {
			list[i] = map[string]any{}
			for k, v := range m {
				list[i][k] = v
			}
		}
		return list
	}
	c.Top.Runs, c.Top.Corners, c.Top.Cutouts = maps(o.Top.Runs), maps(o.Top.Corners), maps(o.Top.Cutouts)
	c.Top.Edge = maps([]map[string]any{o.Top.Edge})[0]
	c.Site = maps([]map[string]any{o.Site})[0]
	c.Shop = maps([]map[string]any{o.Shop})[0]
	c.Base = maps(o.Base)
	return c
}

// change changes one thing of an order.
func (s *search) change(o *order) {
	run := one(s, o.Top.Runs)
	kinds := 19 // of changes, the last ones of the ground
	if s.plain {
		kinds = 14
	}
	switch s.draw.IntN(kinds) {
	case 14, 15, 16, 17, 18:
		s.changeGround(o, run)
	case 0, 1, 2:
		run["length"] = s.about(one(s, lengths))
	case 3, 4:
		run["depth"] = s.about(one(s, depths))
	case 5, 6:
		if len(o.Top.Corners) > 0 {
			o.Top.Corners[s.draw.IntN(len(o.Top.Corners))] = s.drawCorner()
		}
	case 7:
		o.Top.Species = one(s, species)
	case 8:
		o.Top.Sawn = one(s, saws)
	case 9:
		o.Top.Edge = map[string]any{"profile": one(s, profiles)}
	case 10:
		o.Top.Thickness = one(s, thickness)
	case 11:
		if n := len(o.Top.Runs); n < mostRuns {
			o.Top.Runs = append(o.Top.Runs, s.drawRun())
			o.Top.Runs[n]["name"] = string(rune('A' + n))
			o.Top.Corners = append(o.Top.Corners, s.drawCorner())
		}
	case 12:
		s.changeHoles(o, run)
	case 13:
		s.changeWish(o, run)
	}
}

// changeHoles adds a small hole or takes all away.
func (s *search) changeHoles(o *order, run map[string]any) {
	if len(o.Top.Cutouts) >= mostHoles || s.draw.IntN(4) == 0 {
		o.Top.Cutouts = nil
		return
	}
	for range 1 + s.draw.IntN(8) {
		if len(o.Top.Cutouts) < mostHoles {
			o.Top.Cutouts = append(o.Top.Cutouts, map[string]any{"run": run["name"], "kind": "cable", "length": 1.5,
				"depth":      1.5,
				"from_start": math.Round(1e3*s.draw.Float64()*100) / 1e3, "from_front": math.Round(1e3*s.draw.Float64()*20) / 1e3})
		}
	}
}

// changeWish changes what the caller asks for beside the sizes.
func (s *search) changeWish(o *order, run map[string]any) {
	switch s.draw.IntN(6) {
	case 0:
		if o.Site == nil {
			o.Site = map[string]any{}
		}
		o.Site["must_come_apart"] = s.draw.IntN(2) == 0
	case 1:
		o.Shop = map[string]any{"experience": one(s, []string{"first_time", "practised", "seasoned"})}
	case 2:
		run["species"] = one(s, species)
	case 3:
		run["sawn"] = one(s, saws)
	case 4:
		o.Top.Construction = one(s, []string{"edge_glued", "panel"})
	case 5:
		if len(o.Top.Corners) > 0 {
			o.Top.Corners[s.draw.IntN(len(o.Top.Corners))]["hold_at"] = one(s, []string{"front", "centre", "back"})
		}
	}
}
