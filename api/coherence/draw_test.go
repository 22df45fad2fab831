package coherence_test

import (
	"fmt"
	"math"

	"pgregory.net/rapid"
)

const (
	inch = 25.4 // mm, by definition
	// nearStraight: trade.md 2, 170° to 190° is a straight extension and no corner.
	degree = math.Pi / 180
)

// order is a request as it is sent, and beside it what it means: lengths in mm whatever its units.
type order struct {
	body    map[string]any
	inches  bool
	names   []string
	lengths []float64 // along the wall
	depths  []float64
	angles  []float64 // radians
	hand    string

	thickness float64
}

// length writes mm in the order's units: to a sixteenth of an inch or a whole millimetre, and gives back what was written.
func (o *order) length(mm float64) (written any, exact float64) {
	if o.inches {
		sixteenths := math.Round(mm / inch * 16)
		return sixteenths / 16, sixteenths / 16 * inch
	}
	return math.Round(mm), math.Round(mm)
}

func sample[T any](t *rapid.T, name string, of ...T) T { return rapid.SampledFrom(of).Draw(t, name) }

func within(t *rapid.T, name string, low, high float64) float64 {
	return rapid.Float64Range(low, high).Draw(t, name)
}

// once in so many draws.
func once(t *rapid.T, name string, in int) bool { return rapid.IntRange(1, in).Draw(t, name) == in }

func drawAngle(t *rapid.T) float64 {
	switch rapid.IntRange(0, 9).Draw(t, "angle's kind") {
	case 0, 1, 2, 3:
		return 90
	case 4, 5, 6:
		return math.Round(within(t, "angle", 70, 150)*100) / 100
	case 7:
		return math.Round(within(t, "angle", 45, 170)*100) / 100
	case 8:
		return 135
	}
	return math.Round(within(t, "angle", 190, 315)*100) / 100
}

// frontCorner is how far along a run's wall the front edges meet: trade.md 2, x₁ = (d₂ + d₁ cos θ)/sin θ.
// Of two pieces in line it is square to the corner.
func frontCorner(own, other, theta float64) float64 {
	if theta == math.Pi {
		return 0
	}
	return (other + own*math.Cos(theta)) / math.Sin(theta)
}

var (
	drawnSpecies = []string{"maple_sugar", "oak_white", "oak_red", "walnut_black", "cherry_black", "ash_white",
		"birch_yellow", "beech_american", "hickory", "mahogany", "oak_european", "beech_european", "iroko",
		"teak", "sapele", "poplar_yellow", "pine_ponderosa", "cedar_western_red", "douglas_fir", "alder_red"}
	// soldThin are sold up to 8/4, which surfaces to 1-3/4 in.
	soldThin      = map[string]bool{"hickory": true, "beech_american": true, "alder_red": true, "cedar_western_red": true}
	drawnClimates = []string{"heated_house", "well_regulated_house", "dry_winter_house", "damp_coast", "dry_southwest",
		"interior_most_areas", "interior_damp_coast"}
	drawnProfiles = []string{"square", "eased", "chamfer", "roundover", "bullnose", "cove", "ogee"}
)

// drawOrder draws an order that a shop might get: whatever the spec allows beside measures that can mostly be made.
func drawOrder(t *rapid.T) order {
	o := order{inches: rapid.Bool().Draw(t, "inches"), hand: sample(t, "hand", "", "right", "left")}
	top := map[string]any{"species": sample(t, "species", drawnSpecies...)}
	panel := once(t, "panel", 12)
	thickness := sample(t, "thickness", 0.75, 1, 1, 1.25, 1.25, 1.5, 1.5, 1.5, 1.5, 1.75, 2, 2.25) * inch
	if panel {
		top["construction"], top["species"] = "panel", sample(t, "panel's species", "maple_sugar", "oak_white",
			"walnut_black")
		thickness = sample(t, "panel's thickness", 1, 1.5, 1.75) * inch
	}
	if soldThin[top["species"].(string)] {
		thickness = min(thickness, 1.5*inch)
	}
	if !panel && once(t, "layers", 6) {
		top["build"] = "laminated"
		if thickness > 1.4*inch {
			thickness = 3 * inch
			delete(top, "build") // there is no board for it
			if build := sample(t, "build", "", "", "laminated", "built_up"); build != "" {
				top["build"] = build
			}
		}
	}
	o.thickness = thickness
	top["thickness"] = fmt.Sprintf("%.2f mm", thickness)
	if sawn := sample(t, "sawn", "", "", "flat", "quarter", "rift", "mixed"); sawn != "" {
		top["sawn"] = sawn
	}
	if o.hand != "" {
		top["hand"] = o.hand
	}
	top["straight_joints"] = "forbid" // a test of their own has runs made of pieces
	o.drawRuns(t, top, panel)
	o.drawCorners(t, top)
	o.drawEdge(t, top, thickness)
	o.drawCutouts(t, top)
	o.drawFixing(t, top)
	o.body = map[string]any{"units": "mm", "top": top, "pricing": map[string]any{"as_of": "2026-11-01"}}
	if o.inches {
		o.body["units"] = "in"
	}
	o.drawMoisture(t)
	o.drawShop(t)
	return o
}

func (o *order) drawRuns(t *rapid.T, top map[string]any, panel bool) {
	turned := 0.0 // degrees, since the first run
	n := sample(t, "runs", 1, 2, 2, 2, 2, 2, 3, 3, 4, 5, 6)
	for i := range n {
		deepest := 760.0
		if n > 3 {
			deepest = 620
		}
		_, depth := o.length(math.Exp(within(t, "log depth", math.Log(220), math.Log(deepest))))
		if i > 0 && rapid.Bool().Draw(t, "as deep as the one before") {
			depth = o.depths[i-1]
		}
		o.depths = append(o.depths, depth)
		if i > 0 {
			angle := drawAngle(t)
			if turned+180-angle > 200 || turned+180-angle < -200 {
				angle = 360 - angle // else the chain runs into itself
			}
			turned += 180 - angle
			o.angles = append(o.angles, angle*degree)
		}
	}
	longest := 2400.0
	if panel {
		longest = 1400
	} else if n < 3 && once(t, "longer than the boards", 12) {
		longest = 9000
	}
	var runs []any
	for i := range n {
		room := 0.0
		if i > 0 {
			room += max(frontCorner(o.depths[i], o.depths[i-1], o.angles[i-1]), o.depths[i-1])
		}
		if i < n-1 {
			room += max(frontCorner(o.depths[i], o.depths[i+1], o.angles[i]), o.depths[i+1])
		}
		room = max(room, o.depths[i])
		written, length := o.length(room + math.Exp(within(t, "log length", math.Log(400), math.Log(longest))))
		depth, _ := o.length(o.depths[i])
		name := string(rune('A' + i))
		run := map[string]any{"length": written, "depth": depth}
		if once(t, "own wood", 6) && !panel {
			if own := sample(t, "own species", drawnSpecies...); !soldThin[own] || o.thickness <= 1.5*inch {
				run["species"] = own
			}
		}
		if once(t, "own name", 4) {
			name = fmt.Sprintf("run %d", i+1)
			run["name"] = name
		}
		o.names, o.lengths = append(o.names, name), append(o.lengths, length)
		runs = append(runs, run)
	}
	top["runs"] = runs
}

func (o *order) drawCorners(t *rapid.T, top map[string]any) {
	var corners []any
	for i := range o.angles {
		c := map[string]any{"angle": math.Round(o.angles[i]/degree*100) / 100}
		o.angles[i] = c["angle"].(float64) * degree
		set := func(key string, values ...string) {
			if v := sample(t, key, values...); v != "" {
				c[key] = v
			}
		}
		joints := []string{"", "", "", "", "auto", "butt"}
		if o.angles[i] < math.Pi {
			joints = append(joints, "masons_miter")
		}
		if o.depths[i] == o.depths[i+1] {
			joints = append(joints, "miter")
		}
		set("joint", joints...)
		if c["joint"] == "butt" || c["joint"] == "masons_miter" {
			set("through", "", "", "first", "second")
		}
		set("hold_at", "", "", "", "", "", "auto", "front", "centre", "back")
		set("pull", "", "", "", "", "", "", "draw_bolt", "pocket_screw")
		set("alignment", "", "", "", "", "biscuit", "loose_tenon")
		set("look", "", "", "", "mitred", "straight")
		set("carry", "", "", "", "site_template", "scribe", "none")
		if once(t, "restrained is said", 4) {
			c["restrained"] = rapid.Bool().Draw(t, "restrained")
		}
		corners = append(corners, c)
	}
	if corners != nil {
		top["corners"] = corners
	}
}

func (o *order) drawEdge(t *rapid.T, top map[string]any, thickness float64) {
	if once(t, "no edge said", 5) {
		return
	}
	edge := map[string]any{"profile": sample(t, "profile", drawnProfiles...)}
	if p := edge["profile"]; p != "square" && p != "eased" && p != "bullnose" &&
		rapid.Bool().Draw(t, "profile's size said") {
		edge["size"] = fmt.Sprintf("%.1f mm", within(t, "profile's size", 2, thickness/2.2))
	}
	if remedy := sample(t, "remedy", "", "", "radius", "carved", "coped"); remedy != "" {
		edge["inside_corner"] = remedy
	}
	if once(t, "square ends", 5) {
		edge["square_ends"] = true
	}
	top["edge"] = edge
}

func (o *order) drawCutouts(t *rapid.T, top map[string]any) {
	var cutouts []any
	holed := map[int]bool{} // one in a run: more might overlap
	for range rapid.IntRange(0, 5).Draw(t, "cut-outs, less three") - 3 {
		i := rapid.IntRange(0, len(o.names)-1).Draw(t, "cut-out's run")
		if holed[i] {
			continue
		}
		holed[i] = true
		length, depth := within(t, "cut-out's length", 60, 560), within(t, "cut-out's depth", 40, 0.7*o.depths[i])
		front := within(t, "from front", 0, 0.9)*(o.depths[i]-depth) + 2
		if once(t, "at the front edge", 5) {
			front = 0
		}
		c := map[string]any{"run": o.names[i], "kind": sample(t, "cut-out's kind", "sink", "hob", "tap", "grommet")}
		c["length"], _ = o.length(length)
		c["depth"], _ = o.length(depth)
		c["from_front"], _ = o.length(front)
		at := within(t, "cut-out's place", 0.2, 0.8) * max(0, o.lengths[i]-length)
		c[sample(t, "cut-out from", "from_start", "from_end")], _ = o.length(at)
		if once(t, "a cut-out that says how it is made", 3) {
			drawMaking(t, o, c)
		}
		cutouts = append(cutouts, c)
	}
	if cutouts != nil {
		top["cutouts"] = cutouts
	}
}

// drawMaking says of a cut-out how it is made.
func drawMaking(t *rapid.T, o *order, c map[string]any) {
	c["shape"] = sample(t, "shape", "rectangle", "rectangle", "round", "oval")
	c["mount"] = sample(t, "mount", "top", "under", "apron")
	switch {
	case c["shape"] == "round":
		c["depth"] = c["length"]
	case c["shape"] == "rectangle" && once(t, "a radius is named", 2):
		c["corner_radius"], _ = o.length(within(t, "corner radius", 12, 40))
	}
	if c["mount"] == "apron" {
		return
	}
	if once(t, "it is turned", 3) {
		c["turned"] = rapid.IntRange(-180, 180).Draw(t, "degrees")
	}
}

func (o *order) drawFixing(t *rapid.T, top map[string]any) {
	fixing := map[string]any{}
	if kind := sample(t, "fixing", "", "", "", "slotted_clips", "slotted_screws", "threaded_inserts", "none"); kind != "" {
		fixing["kind"] = kind
	}
	if line := sample(t, "fixed line", "", "", "", "", "front", "centre", "back"); line != "" {
		fixing["fixed_line"] = line
	}
	if len(fixing) > 0 {
		top["fixing"] = fixing
	}
}

func (o *order) drawMoisture(t *rapid.T) {
	m := map[string]any{}
	middle := 8.0
	tenth := func(x float64) float64 { return math.Round(x*10) / 10 }
	switch rapid.IntRange(0, 4).Draw(t, "service") {
	case 0: // left out: the shop's default
	case 1:
		m["service"] = map[string]any{"profile": sample(t, "profile of the climate", drawnClimates...)}
	case 2, 3:
		dry, swing := within(t, "dry", 5, 10), within(t, "swing", 0.2, 4)
		middle = dry + swing/2
		m["service"] = map[string]any{"dry": map[string]any{"content": tenth(dry)},
			"humid": map[string]any{"content": tenth(dry + swing)}}
	case 4:
		dry := math.Round(within(t, "dry air", 25, 45))
		m["service"] = map[string]any{"dry": map[string]any{"humidity": dry, "temperature": 20, "temperature_unit": "C"},
			"humid": map[string]any{"humidity": dry + math.Round(within(t, "more humid", 2, 20)), "temperature": 70,
				"temperature_unit": "F"}}
	}
	switch rapid.IntRange(0, 5).Draw(t, "making") {
	case 0, 1: // left out: the middle of the service year
	case 2, 3, 4:
		m["making"] = map[string]any{"content": tenth(middle + within(t, "off the middle", -1.5, 1.5))}
	case 5:
		m["making"] = map[string]any{"content": tenth(middle + within(t, "far off the middle", -4, 6))}
	}
	switch rapid.IntRange(0, 9).Draw(t, "stock or year") {
	case 0: // boards that were measured, in the air of a shop that may take them there
		delete(m, "making")
		readings := make([]any, rapid.IntRange(1, 4).Draw(t, "boards measured"))
		for i := range readings {
			readings[i] = tenth(middle + within(t, "reading", -2, 3))
		}
		stock := map[string]any{"readings": readings}
		if rapid.Bool().Draw(t, "air of the stock") {
			stock["air"] = map[string]any{"humidity": math.Round(within(t, "humidity of the stock", 25, 60)), "temperature": 19,
				"temperature_unit": "C"}
		}
		m["stock"] = stock
	case 1: // the year of slabs that stay behind the air
		m["seasonal"] = map[string]any{}
	}
	if len(m) > 0 {
		o.body["moisture"] = m
	}
}

func (o *order) drawShop(t *rapid.T) {
	put := func(object, key string, values ...any) {
		v := sample(t, object+" "+key, values...)
		if v == nil {
			return
		}
		if o.body[object] == nil {
			o.body[object] = map[string]any{}
		}
		o.body[object].(map[string]any)[key] = v
	}
	put("finish", "system", nil, nil, "hardwax_oil", "film_varnish", "mineral_oil_wax", "tung_oil", "water_based_lacquer",
		"none")
	put("finish", "coats", nil, nil, 1, 2, 4)
	put("finish", "faces", nil, nil, "both", "top")
	put("shop", "seam_cut", nil, nil, "track_saw", "circular_saw", "router", "panel_saw", "hand_saw")
	put("shop", "experience", nil, nil, "first_time", "practised", "seasoned")
	put("site", "must_come_apart", nil, nil, nil, true, false)
	put("site", "assembled_by", nil, nil, nil, "shop", "customer")
	put("pricing", "tax", nil, 0, 7.5, 19)
	if o.body["pricing"] == nil || o.body["pricing"].(map[string]any)["tax"] == nil {
		put("pricing", "tax_region", nil, nil, "invented_abroad", "invented_north", "invented_south")
	}
	put("pricing", "deposit", nil, nil, 30)
	put("pricing", "round_total_to", nil, nil, nil, "5.00", "0.5")
	put("pricing", "discounts", nil, nil, []any{map[string]any{"reason": "second top", "percent": 7.25}},
		[]any{map[string]any{"reason": "season", "percent": 3}, map[string]any{"reason": "a scratch", "amount": "12.34"}})
	put("pricing", "lines", nil, nil, []any{map[string]any{"text": "Delivery", "net": "120"}},
		[]any{map[string]any{"text": "Delivery", "net": "85.55", "cost": "60.10", "tax": 7}, map[string]any{"text": "Site work", "net": "99.99", "cost": "0"},
			map[string]any{"text": "Splashback", "net": "240.5", "cost": "300.05", "tax": 19}})
	if rapid.Bool().Draw(t, "own rate") {
		pricing := o.body["pricing"].(map[string]any)
		pricing["basis"], pricing["rate"] = sample(t, "basis", "margin", "markup"), sample(t, "rate", 10, 33.5, 60)
	}
}
