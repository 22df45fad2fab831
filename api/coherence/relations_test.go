package coherence_test

import (
	"encoding/json"
	"flag"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/store/storetest"
)

// some draws an eighth of the usual number of orders: each is asked for twice.
func some(t *testing.T, property func(*rapid.T)) {
	t.Helper()
	part(t, 8, property)
}

// part draws so many times fewer orders than usual, for a property that makes more of each: what bounds the tests is how many tops are
// made, not how many orders are drawn.
func part(t *testing.T, of int, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks")
	before := checks.Value.String()
	n, err := strconv.Atoi(before)
	require.NoError(t, err)
	require.NoError(t, checks.Value.Set(strconv.Itoa(max(1, n/of))))
	defer func() { require.NoError(t, checks.Value.Set(before)) }()
	rapid.Check(t, property)
}

// copied is a body that can be changed without changing the first.
func copied(t tester, body map[string]any) map[string]any {
	t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		t.Fatalf("no JSON: %v", err)
	}
	var out map[string]any
	if err := json.Unmarshal(raw, &out); err != nil {
		t.Fatalf("no JSON: %v", err)
	}
	return out
}

func object(of map[string]any, key string) map[string]any {
	if of[key] == nil {
		of[key] = map[string]any{}
	}
	return of[key].(map[string]any)
}

// pair answers an order and the same one changed. Where one is refused the other one must be, too, if the change is none in kind.
func pair(t *rapid.T, cat *catalogue.Snapshot, o order, same bool,
	change func(body map[string]any)) (first, second *answer) {
	body := copied(t, o.body)
	change(body)
	a, refused := ask(t, o.body, cat)
	b, refusedToo := ask(t, body, cat)
	if same && (refused == nil) != (refusedToo == nil) {
		t.Fatalf("refused: %v, and changed: %v", refused, refusedToo)
	}
	if refused != nil || refusedToo != nil {
		return nil, nil
	}
	changed := o
	changed.body = body
	return newAnswer(a, o), &answer{node: b, order: changed}
}

// The units are how an answer is written, never what it says.
func TestInchesAndMillimetresSayTheSame(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := drawOrder(t)
		withUnits(o.body, o.inches)
		a, b := pair(t, cat, o, true, func(body map[string]any) {
			body["units"] = map[bool]string{true: "mm", false: "in"}[o.inches]
			moisture, _ := body["moisture"].(map[string]any)
			_ = moisture // temperatures carry their own unit in drawn orders
		})
		if a == nil {
			return
		}
		b.mm = inch
		if o.inches {
			b.mm = 1
		}
		sameMoney(t, a, b)
		for i, r := range a.get("runs").list() {
			other := b.get("runs").list()[i]
			for _, path := range [][]string{{"piece", "long_edge"}, {"piece", "front_edge"}, {"movement", "wall_gap"},
				{"movement", "to_humid"}, {"blank", "width"}, {"blank", "length"}} {
				a.near(r, strings.Join(path, "/"), r.get(path...).num()*a.mm, other.get(path...).num()*b.mm, 0.0063)
			}
		}
	})
}

// withUnits writes every length of a body with its unit, so that it means the same in either system.
func withUnits(v any, inches bool) {
	switch v := v.(type) {
	case map[string]any:
		for key, x := range v {
			switch key {
			case "length", "depth", "from_front", "from_start", "from_end", "corner_radius", "from", "to", "horizontal", "height", "travel":
				mm := x.(float64)
				if inches {
					mm *= inch
				}
				v[key] = strconv.FormatFloat(mm, 'f', 6, 64) + " mm"
			default:
				withUnits(x, inches)
			}
		}
	case []any:
		for _, x := range v {
			withUnits(x, inches)
		}
	}
}

// sameMoney: every line of price and bill, every step and every joint.
func sameMoney(t *rapid.T, a, b *answer) {
	for _, part := range []string{"materials", "hardware", "consumables", "labour", "total"} {
		require.Equal(t, a.get("price", part).v, b.get("price", part).v, part)
	}
	for i, c := range a.get("corners").list() {
		other := b.get("corners").list()[i]
		require.Equal(t, c.get("chosen").v, other.get("chosen").v)
		require.Equal(t, c.get("through").v, other.get("through").v)
	}
	require.Len(t, b.get("bill_of_materials").list(), len(a.get("bill_of_materials").list()))
	for i, l := range a.get("bill_of_materials").list() {
		other := b.get("bill_of_materials").list()[i]
		for _, key := range []string{"item", "need", "buy", "amount"} {
			require.Equal(t, l.get(key).v, other.get(key).v)
		}
	}
}

// The mirror image of a top is the same top, its plan turned over.
func TestTheMirrorImageSaysTheSame(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := drawOrder(t)
		a, b := pair(t, cat, o, true, func(body map[string]any) {
			object(body, "top")["hand"] = map[bool]string{true: "right", false: "left"}[o.hand == "left"]
		})
		if a == nil {
			return
		}
		sameMoney(t, a, b)
		b.mm = a.mm
		for i, r := range a.get("runs").list() {
			other := b.get("runs").list()[i]
			require.Equal(t, r.get("movement").v, other.get("movement").v)
			require.Equal(t, r.get("blank").v, other.get("blank").v)
			x0, x1 := outline(a.spots(r.get("piece", "outline"))).span(spot{1, 0})
			y0, y1 := outline(b.spots(other.get("piece", "outline"))).span(spot{1, 0})
			require.InDelta(t, x0, -y1, 1e-6)
			require.InDelta(t, x1, -y0, 1e-6)
		}
	})
}

// Names of runs are names and nothing else: the answer is the same but for them.
func TestNamesOfRunsChangeNothingElse(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := drawOrder(t)
		named := func(body map[string]any, letter string) {
			names := map[string]string{}
			for i, r := range object(body, "top")["runs"].([]any) {
				names[o.names[i]] = letter + strconv.Itoa(i) + "zz"
				r.(map[string]any)["name"] = names[o.names[i]]
			}
			if cutouts, some := object(body, "top")["cutouts"].([]any); some {
				for _, c := range cutouts {
					c := c.(map[string]any)
					c["run"] = names[c["run"].(string)]
				}
			}
		}
		first, second := copied(t, o.body), copied(t, o.body)
		named(first, "Qq")
		named(second, "Jj")
		a, refused := ask(t, first, cat)
		b, refusedToo := ask(t, second, cat)
		require.Equal(t, refused == nil, refusedToo == nil)
		if refused != nil {
			return
		}
		x, err := json.Marshal(a.v)
		require.NoError(t, err)
		y, err := json.Marshal(b.v)
		require.NoError(t, err)
		require.JSONEq(t, strings.ReplaceAll(string(x), "Qq", "Jj"), string(y))
	})
}

// decided is an order whose joints, lines and hardware are named, so that a change of size cannot change what is made.
func decided(t *rapid.T) order {
	o := drawOrder(t)
	top := o.body["top"].(map[string]any)
	if corners, some := top["corners"].([]any); some {
		for _, c := range corners {
			c := c.(map[string]any)
			c["joint"], c["pull"] = sample(t, "named joint", "butt", "masons_miter", "miter"), "draw_bolt"
			delete(c, "through")
			if c["joint"] != "miter" {
				c["through"] = sample(t, "named through", "first", "second")
			}
		}
	}
	return o
}

// sameJoints tells whether both answers make the same joints with the same kinds of parts.
func sameJoints(a, b *answer) bool {
	others := b.get("corners").list()
	for i, c := range a.get("corners").list() {
		if c.get("chosen").v != others[i].get("chosen").v || c.get("through").v != others[i].get("through").v {
			return false
		}
	}
	return true
}

// scaled makes a run longer or deeper by a share.
func scaled(body map[string]any, run int, key string, by float64) {
	r := object(body, "top")["runs"].([]any)[run].(map[string]any)
	r[key] = math.Round(r[key].(float64)*by*16) / 16
}

// A wider run moves more, a thicker top weighs more.
func TestWiderMovesMoreAndThickerWeighsMore(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := decided(t)
		run := rapid.IntRange(0, len(o.names)-1).Draw(t, "the changed run")
		a, b := pair(t, cat, o, false, func(body map[string]any) { scaled(body, run, "depth", 1.08) })
		if a != nil {
			range1, range2 := a.get("runs").list()[run].get("movement", "range").num(),
				b.get("runs").list()[run].get("movement", "range").num()
			require.GreaterOrEqual(t, range2, range1)
		}
		a, b = pair(t, cat, o, false, func(body map[string]any) {
			thickness, err := strconv.ParseFloat(strings.TrimSuffix(object(body, "top")["thickness"].(string), " mm"), 64)
			require.NoError(t, err)
			object(body, "top")["thickness"] = strconv.FormatFloat(thickness+inch/8, 'f', 2, 64) + " mm"
		})
		if a != nil {
			require.Greater(t, b.get("weight").num(), a.get("weight").num())
		}
	})
}

// seasons sets both states of the service year and the making as moisture contents.
func seasons(body map[string]any, making, dry, humid float64) {
	body["moisture"] = map[string]any{"making": map[string]any{"content": making},
		"service": map[string]any{"dry": map[string]any{"content": dry}, "humid": map[string]any{"content": humid}}}
}

// A calmer house never asks for more: no wider gap at a wall, no longer slot, no more movement.
func TestACalmerClimateNeverAsksForMore(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := decided(t)
		object(object(o.body, "top"), "fixing")["fixed_line"] = "front"
		if corners, some := object(o.body, "top")["corners"].([]any); some {
			for _, c := range corners {
				// a calmer house may let legs swing that a wilder one does not, and swinging takes room
				c.(map[string]any)["restrained"] = true
			}
		}
		making := math.Round(within(t, "calm making", 6, 12)*10) / 10
		out, in := math.Round(within(t, "drier", 0, 2.5)*10)/10, math.Round(within(t, "wetter", 0, 2.5)*10)/10
		seasons(o.body, making, making-out, making+in)
		share := within(t, "calmer", 0, 1)
		a, b := pair(t, cat, o, false, func(body map[string]any) { seasons(body, making, making-out*share, making+in*share) })
		if a == nil {
			return
		}
		for i, r := range a.get("runs").list() {
			m, calm := r.get("movement"), b.get("runs").list()[i].get("movement")
			require.LessOrEqual(t, calm.get("range").num(), m.get("range").num())
			require.LessOrEqual(t, calm.get("wall_gap").num(), m.get("wall_gap").num())
		}
	})
}

// The wood that a wetter service year adds moves the top more.
func TestAWetterServiceYearMovesMore(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := decided(t)
		making := math.Round(within(t, "making", 6, 10)*10) / 10
		seasons(o.body, making, making-1, making+1)
		a, b := pair(t, cat, o, false, func(body map[string]any) { seasons(body, making, making-1, making+2) })
		if a == nil {
			return
		}
		for i, r := range a.get("runs").list() {
			require.Greater(t, b.get("runs").list()[i].get("movement", "humid_strain").num(),
				r.get("movement", "humid_strain").num())
		}
	})
}

// More coats never take less finish.
func TestMoreCoatsNeverTakeLessFinish(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := drawOrder(t)
		object(o.body, "finish")["system"] = sample(t, "a finish", "hardwax_oil", "film_varnish", "tung_oil")
		coats := rapid.IntRange(1, 4).Draw(t, "coats")
		object(o.body, "finish")["coats"] = coats
		a, b := pair(t, cat, o, true, func(body map[string]any) { object(body, "finish")["coats"] = coats + 1 })
		if a != nil {
			require.Greater(t, b.billed("finish", ""), a.billed("finish", ""))
		}
	})
}

// blanksGrow tells whether no blank got smaller: where a through run is made deeper, the run that stops against it gets shorter.
func blanksGrow(a, b *answer) bool {
	for i, r := range a.get("runs").list() {
		x, y := r.get("blank"), b.get("runs").list()[i].get("blank")
		for _, key := range []string{"length", "width"} {
			if y.get(key).num() < x.get(key).num() {
				return false
			}
		}
	}
	return true
}

// A longer or deeper top with the same joints is never cheaper.
func TestALongerOrDeeperTopIsNeverCheaper(t *testing.T) {
	cat := storetest.Demo(t)
	some(t, func(t *rapid.T) {
		o := decided(t)
		delete(o.body["top"].(map[string]any), "cutouts")
		run, key := rapid.IntRange(0, len(o.names)-1).Draw(t, "the larger run"), sample(t, "larger in", "length", "depth")
		a, b := pair(t, cat, o, false,
			func(body map[string]any) { scaled(body, run, key, within(t, "larger by", 1.02, 1.2)) })
		if a == nil || !sameJoints(a, b) || !blanksGrow(a, b) {
			return
		}
		require.GreaterOrEqual(t, b.get("price", "materials").cents(), a.get("price", "materials").cents(), "the wood")
		if key == "length" { // a deeper run may leave less front edge to profile beside an inner corner
			require.GreaterOrEqual(t, b.get("price", "cost").cents(), a.get("price", "cost").cents(), "all of it")
		}
	})
}
