package api_test

import (
	"bytes"
	"encoding/json"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/store/storetest"
)

type tree = map[string]any

// choicesOf reads what the form offers, by list.
func choicesOf(t testing.TB, c *client, units string) map[string][]string {
	t.Helper()
	a := c.get(t, "/v1/order-form?units="+units)
	require.Equal(t, http.StatusOK, a.status, string(a.body))
	var form struct {
		Choices map[string][]struct{ Value, Title string }
	}
	require.NoError(t, json.Unmarshal(a.body, &form))
	out := map[string][]string{}
	for name, list := range form.Choices {
		for _, one := range list {
			require.NotEmpty(t, one.Title)
			out[name] = append(out[name], one.Value)
		}
		require.NotEmpty(t, out[name], name)
	}
	return out
}

// schemaOf compiles the schema that the form serves.
func schemaOf(t testing.TB, c *client, units string) *jsonschema.Schema {
	t.Helper()
	var form struct{ Schema json.RawMessage }
	require.NoError(t, json.Unmarshal(c.get(t, "/v1/order-form?units="+units).body, &form))
	document, err := jsonschema.UnmarshalJSON(bytes.NewReader(form.Schema))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	require.NoError(t, compiler.AddResource("form.json", document))
	schema, err := compiler.Compile("form.json")
	require.NoError(t, err)
	return schema
}

func text(t testing.TB, value any) string {
	t.Helper()
	raw, err := json.Marshal(value)
	require.NoError(t, err)
	return string(raw)
}

// deskOf is a good request in inches or millimetres.
func deskOf(units, shape string) tree {
	long, deep := 96.0, 25.5
	if units == "mm" {
		long, deep = 2400, 640
	}
	sides := []any{}
	for range map[string]int{"straight": 1, "l": 2, "u": 3}[shape] {
		sides = append(sides, tree{"long": long, "deep": deep})
	}
	thickness := map[string]string{"in": "1-1/2", "mm": "38"}[units]
	return tree{"units": units, "shape": shape, "sides": sides, "wood": "maple_sugar", "thickness": thickness}
}

func TestEveryChoiceOfTheOrderFormCanBeEstimated(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, units := range []string{"in", "mm"} {
		choices := choicesOf(t, c, units)
		schema := schemaOf(t, c, units)
		pick := func(list string, i int) string { return choices[list][i%len(choices[list])] }
		tried := 0
		for _, shape := range choices["shapes"] {
			for i := range choices["woods"] {
				for k := range choices["thicknesses"] {
					for m := range choices["front_edges"] {
						for n := range max(len(choices["finishes"]), len(choices["rooms"])) {
							if n > 0 && (k+m+n)%4 != 0 {
								continue // every pair of choices comes up all the same
							}
							wanted := deskOf(units, shape)
							wanted["wood"], wanted["thickness"], wanted["front_edge"] = pick("woods", i), pick("thicknesses", k),
								pick("front_edges", m)
							wanted["finish"], wanted["room"], wanted["turns"] = pick("finishes", n+i), pick("rooms", n+k+m),
								pick("turns", i+k+m)
							a := c.post(t, "/v1/order-form/estimates", text(t, wanted))
							require.Equal(t, http.StatusOK, a.status, "%v: %s", wanted, a.body)
							value, err := jsonschema.UnmarshalJSON(strings.NewReader(text(t, wanted)))
							require.NoError(t, err)
							require.NoError(t, schema.Validate(value))
							tried++
						}
					}
				}
			}
		}
		require.Greater(t, tried, 300)
	}
}

func TestTheOrderFormIsCachedByItsTag(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	first := c.get(t, "/v1/order-form?units=in")
	tag := first.header.Get("ETag")
	require.Equal(t, http.StatusNotModified, c.get(t, "/v1/order-form?units=in", "If-None-Match", tag).status)
	require.Equal(t, http.StatusOK, c.get(t, "/v1/order-form?units=mm", "If-None-Match", tag).status,
		"other units are another answer")
	require.Equal(t, "private, no-cache", first.header.Get("Cache-Control"))
	require.Equal(t, http.StatusBadRequest, c.get(t, "/v1/order-form?units=feet").status)
}

// orderOf is the request for an estimate that a customer's request in millimetres must mean, written out by hand.
func orderOf(t testing.TB, wanted tree, cat *catalogue.Snapshot) string {
	t.Helper()
	names := []string{"A", "B", "C"}
	var runs, corners []any
	for i, side := range wanted["sides"].([]any) {
		runs = append(runs, tree{"name": names[i], "length": side.(tree)["long"], "depth": side.(tree)["deep"]})
		if i > 0 {
			corners = append(corners, tree{"angle": 90})
		}
	}
	finish, err := catalogue.Words(cat.Settings.FormFinishes)
	require.NoError(t, err)
	top := tree{"species": wanted["wood"], "thickness": 38.1, "runs": runs, "edge": tree{"profile": "roundover"},
		"cutouts": []any{tree{"run": "A", "kind": "sink", "length": 560, "depth": 400, "from_start": 800, "from_front": 120}}}
	if corners != nil {
		top["corners"] = corners
	}
	order := tree{"units": "mm", "top": top, "finish": tree{"system": finish[0].Code},
		"moisture": tree{"service": tree{"profile": cat.Settings.DefaultProfile}},
		"pricing":  tree{"round_total_to": cat.Settings.FormRoundTo.String()}}
	if below, told := wanted["base"]; told {
		list := []any{}
		for _, b := range below.([]any) {
			b := b.(tree)
			list = append(list, tree{"run": names[b["side"].(int)-1], "kind": b["kind"], "from": b["from"], "to": b["to"]})
		}
		order["base"] = list
	}
	return text(t, order)
}

func TestRefusalsOfTheOrderFormAreInTheCustomersWords(t *testing.T) {
	t.Parallel()
	marked := markedCatalogue(t)
	config := healthy(t)
	config.Snapshot = func() *catalogue.Snapshot { return marked }
	c := newClient(t, config)
	with := func(change func(tree)) string {
		wanted := deskOf("in", "l")
		change(wanted)
		return text(t, wanted)
	}
	side := func(i int, name string, value any) func(tree) {
		return func(w tree) { w["sides"].([]any)[i].(tree)[name] = value }
	}
	below := func(list ...any) func(tree) { return func(w tree) { w["base"] = list } }
	opening := func(o tree) func(tree) { return func(w tree) { w["openings"] = []any{o} } }
	for name, test := range map[string]struct {
		body    string
		status  int
		pointer string
	}{
		"too long":          {with(side(0, "long", 121)), 400, "/sides/0/long"},
		"too short":         {with(side(0, "long", 11)), 400, "/sides/0/long"},
		"too deep":          {with(side(1, "deep", 37)), 400, "/sides/1/deep"},
		"as text":           {with(side(1, "deep", "25")), 400, "/sides/1/deep"},
		"wood not on offer": {with(func(w tree) { w["wood"] = "teak" }), 400, "/wood"},
		"no such thickness": {with(func(w tree) { w["thickness"] = "3" }), 400, "/thickness"},
		"no such finish":    {with(func(w tree) { w["finish"] = "gilded" }), 400, "/finish"},
		"empty finish":      {with(func(w tree) { w["finish"] = "" }), 400, "/finish"},
		"one side of an L":  {with(func(w tree) { w["sides"] = w["sides"].([]any)[:1] }), 400, "/sides"},
		"two corners of an L": {with(func(w tree) { w["corners"] = []any{tree{"angle": 90}, tree{"angle": 90}} }), 400,
			"/corners"},
		"a corner too sharp": {with(func(w tree) { w["corners"] = []any{tree{"angle": 59}} }), 400, "/corners/0/angle"},
		"a trade word":       {with(func(w tree) { w["edge"] = tree{} }), 400, "/edge"},
		"an opening in no side": {with(opening(tree{"for": "sink", "side": 3, "long": 20, "deep": 18, "from_left": 10})),
			400, "/openings/0/side"},
		"deeper than long": {with(func(w tree) { side(0, "long", 20)(w); side(0, "deep", 25)(w) }), 422,
			"/sides/0/deep"},
		"short for its corner": {with(side(1, "long", 25.5)), 422, "/sides/1/long"},
		"an opening at the end": {with(opening(tree{"for": "sink", "side": 1, "long": 30, "deep": 18, "from_left": 90})),
			422, "/openings/0/from_left"},
		"an opening too deep": {with(opening(tree{"for": "hob", "side": 1, "long": 30, "deep": 26, "from_left": 20})), 422,
			"/openings/0/deep"},
		"an opening in the seam": {with(opening(tree{"for": "hob", "side": 1, "long": 30, "deep": 18, "from_left": 62})), 422,
			"/openings/0"},
		"below no side":           {with(below(tree{"side": 3, "kind": "open", "from": 0, "to": 20})), 400, "/base/0/side"},
		"a bracket is the shop's": {with(below(tree{"side": 1, "kind": "bracket", "from": 0, "to": 20})), 400, "/base/0/kind"},
		"below beyond the side":   {with(below(tree{"side": 1, "kind": "cabinet", "from": 0, "to": 97})), 422, "/base/0/to"},
		"below backwards":         {with(below(tree{"side": 1, "kind": "cabinet", "from": 20, "to": 20})), 422, "/base/0/to"},
		"one below another": {with(below(tree{"side": 1, "kind": "cabinet", "from": 0, "to": 30},
			tree{"side": 1, "kind": "open", "from": 29, "to": 60})), 422, "/base/1/from"},
		"nothing carries it": {with(below(tree{"side": 1, "kind": "appliance", "from": 0, "to": 96})), 422, "/base/0"},
		"a cabinet ends below an opening": {with(func(w tree) {
			opening(tree{"for": "sink", "side": 1, "long": 20, "deep": 18, "from_left": 10})(w)
			below(tree{"side": 1, "kind": "cabinet", "from": 0, "to": 20})(w)
		}), 422, "/base/0"},
	} {
		a := c.post(t, "/v1/order-form/estimates", test.body)
		require.Equal(t, test.status, a.status, "%s: %s", name, a.body)
		p := a.problem(t)
		var at []string
		for _, v := range p.Errors {
			at = append(at, v.Pointer)
			require.NotRegexp(t, tooTrade, v.Detail, name)
		}
		require.Contains(t, at, test.pointer, "%s: %s", name, a.body)
		require.NotContains(t, string(a.body), mark, name)
	}
}

// The plan says for each side where its wall is, from the left end, and where an opening lies, for both ways to turn and every shape.
func TestThePlanShowsWallsFrontAndOpenings(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	for _, shape := range []string{"straight", "l", "u"} {
		for _, turns := range []string{"left", "right"} {
			wanted := deskOf("in", shape)
			wanted["turns"] = turns
			wanted["openings"] = []any{tree{"for": "sink", "side": 1, "long": 20, "deep": 14, "from_left": 30, "from_front": 4}}
			a := c.post(t, "/v1/order-form/estimates", text(t, wanted))
			require.Equal(t, http.StatusOK, a.status, string(a.body))
			var got struct {
				Plan struct {
					Sides []struct {
						Wall       [2][2]float64
						Long, Deep string
					}
					Front    [][2]float64
					Openings []struct {
						For     string
						Side    int
						Outline [4][2]float64
					}
				}
			}
			require.NoError(t, json.Unmarshal(a.body, &got))
			sides := wanted["sides"].([]any)
			require.Len(t, got.Plan.Sides, len(sides))
			require.Len(t, got.Plan.Front, len(sides)+1)
			for i, s := range got.Plan.Sides {
				long := sides[i].(tree)["long"].(float64)
				require.InDelta(t, long, math.Hypot(s.Wall[1][0]-s.Wall[0][0], s.Wall[1][1]-s.Wall[0][1]), 0.001)
				require.Equal(t, measure.Length(long*25.4).Text(measure.Inches), s.Long)
			}
			require.Len(t, got.Plan.Openings, 1)
			o, wall := got.Plan.Openings[0], got.Plan.Sides[0].Wall
			require.Equal(t, 1, o.Side)
			along := func(p [2]float64) float64 {
				return ((p[0]-wall[0][0])*(wall[1][0]-wall[0][0]) +
					(p[1]-wall[0][1])*(wall[1][1]-wall[0][1])) / math.Hypot(wall[1][0]-wall[0][0], wall[1][1]-wall[0][1])
			}
			from, to := math.Inf(1), math.Inf(-1)
			for _, p := range o.Outline {
				from, to = math.Min(from, along(p)), math.Max(to, along(p))
			}
			require.InDelta(t, 30, from, 0.001, "from the left end, %s %s", shape, turns)
			require.InDelta(t, 50, to, 0.001)
		}
	}
}

func TestTheLeftEndOfASideIsTheCustomersLeft(t *testing.T) {
	t.Parallel()
	c := newClient(t, healthy(t))
	// the corner is at the right end of side 1 when the top turns right, at its left end when it turns left
	for turns, good := range map[string]float64{"right": 4, "left": 62} {
		for _, from := range []float64{4, 62} {
			wanted := deskOf("in", "l")
			wanted["turns"], wanted["openings"] = turns,
				[]any{tree{"for": "sink", "side": 1, "long": 30, "deep": 18, "from_left": from}}
			status := map[bool]int{true: http.StatusOK, false: http.StatusUnprocessableEntity}[from == good]
			a := c.post(t, "/v1/order-form/estimates", text(t, wanted))
			require.Equal(t, status, a.status, "%s %v: %s", turns, from, a.body)
		}
	}
}

// customerRequests are requests of every sort, good and bad.
func customerRequests(units string, choices map[string][]string) *rapid.Generator[tree] {
	scale := map[string]float64{"in": 1, "mm": 25}[units]
	measure := func(rt *rapid.T, low, high int, name string) float64 {
		return float64(rapid.IntRange(low*4, high*4).Draw(rt, name)) / 4 * scale
	}
	return rapid.Custom(func(rt *rapid.T) tree {
		flawed := rapid.IntRange(0, 2).Draw(rt, "flawed") == 0 // else everything is on offer, whether it can be made or not
		word := func(list, name string) string {
			words := choices[list]
			if flawed {
				words = append(slices.Clone(words), "x")
			}
			return rapid.SampledFrom(words).Draw(rt, name)
		}
		long, deep := func() float64 { return measure(rt, 60, 120, "long") },
			func() float64 { return measure(rt, 12, 32, "deep") }
		if flawed || rapid.Bool().Draw(rt, "extreme") {
			slack := map[bool]int{true: 1, false: 0}[flawed]
			long, deep = func() float64 { return measure(rt, 13-slack*2, 120+slack, "long") },
				func() float64 { return measure(rt, 9-slack*2, 36+slack, "deep") }
		}
		w := tree{"units": units, "shape": rapid.SampledFrom([]string{"straight", "l", "l", "u", "u"}).Draw(rt, "shape"),
			"wood": word("woods", "wood"), "thickness": word("thicknesses", "thickness")}
		sides := []any{}
		n := map[string]int{"straight": 1, "l": 2, "u": 3}[w["shape"].(string)]
		if flawed && rapid.IntRange(0, 4).Draw(rt, "odd sides") == 0 {
			n = rapid.IntRange(0, 4).Draw(rt, "sides")
		}
		for range n {
			sides = append(sides, tree{"long": long(), "deep": deep()})
		}
		w["sides"] = sides
		if rapid.Bool().Draw(rt, "words") {
			w["front_edge"], w["finish"], w["room"], w["turns"] = word("front_edges", "edge"), word("finishes", "finish"),
				word("rooms", "room"), rapid.SampledFrom([]string{"left", "right"}).Draw(rt, "turns")
		}
		if rapid.IntRange(0, 2).Draw(rt, "angled") == 0 {
			corners, count, off := []any{}, n-1, 0
			if flawed {
				count, off = rapid.IntRange(0, 2).Draw(rt, "corners"), 1
			}
			for range count {
				corners = append(corners, tree{"angle": rapid.IntRange(60-off, 150+off).Draw(rt, "angle")})
			}
			w["corners"] = corners
		}
		if rapid.IntRange(0, 2).Draw(rt, "holed") == 0 {
			list := []any{}
			for range rapid.IntRange(1, 3).Draw(rt, "openings") {
				o := tree{"for": word("openings", "for"), "side": rapid.IntRange(map[bool]int{true: 0, false: 1}[flawed],
					max(n, 1)).Draw(rt, "side"), "long": measure(rt, 1, 40, "hole long"),
					"deep": measure(rt, 1, 30, "hole deep"), "from_left": measure(rt, 0, 100, "left")}
				if rapid.Bool().Draw(rt, "fronted") {
					o["from_front"] = measure(rt, 0, 10, "front")
				}
				list = append(list, o)
			}
			w["openings"] = list
		}
		if rapid.IntRange(0, 2).Draw(rt, "based") == 0 {
			list := []any{}
			for range rapid.IntRange(1, 3).Draw(rt, "stretches") {
				list = append(list, tree{"kind": word("base", "kind"), "side": rapid.IntRange(map[bool]int{true: 0, false: 1}[flawed],
					max(n, 1)).Draw(rt, "side"), "from": measure(rt, 0, 100, "from"), "to": measure(rt, 1, 120, "to")})
			}
			w["base"] = list
		}
		return w
	})
}

// Any request gets an answer or a refusal, never a failure; the served schema accepts exactly what is not refused as
// malformed; and nothing of the shop comes out either way.
func TestTheServedSchemaAcceptsWhatThePostAcceptsAndNothingLeaks(t *testing.T) {
	t.Parallel()
	marked := markedCatalogue(t)
	config := healthy(t)
	config.Snapshot = func() *catalogue.Snapshot { return marked }
	c := newClient(t, config)
	seen := map[int]int{}
	for _, units := range []string{"in", "mm"} {
		schema, requests := schemaOf(t, c, units), customerRequests(units, choicesOf(t, c, units))
		rapid.Check(t, func(rt *rapid.T) {
			body := text(t, requests.Draw(rt, "request"))
			value, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
			require.NoError(rt, err)
			fits := schema.Validate(value) == nil
			// The identifier that an answer repeats is 26 random letters otherwise, and may spell anything.
			a := c.post(t, "/v1/order-form/estimates", body, "X-Request-ID", "form-7")
			seen[a.status]++
			require.Contains(rt, []int{200, 400, 422}, a.status, "%s: %s", body, a.body)
			require.Equal(rt, fits, a.status != http.StatusBadRequest, "%s: %s", body, a.body)
			require.NotContains(rt, string(a.body), mark, body)
			if a.status == http.StatusUnprocessableEntity {
				require.NotRegexp(rt, tooTrade, string(a.body), body)
			}
		})
	}
	require.Len(t, seen, 3, "all three kinds of answer: %v", seen)
	for status, n := range seen {
		require.Greater(t, n, 3, "%d", status)
	}
}

func TestARangeIsShownInsteadOfThePrice(t *testing.T) {
	t.Parallel()
	cat := *storetest.Demo(t)
	cat.Settings.FormPrice = "range"
	config := healthy(t)
	config.Snapshot = func() *catalogue.Snapshot { return &cat }
	c := newClient(t, config)
	price := c.post(t, "/v1/order-form/estimates", text(t, deskOf("in", "l"))).tree(t)["price"].(tree)
	require.Nil(t, price["total"])
	require.Nil(t, price["deposit"])
	require.NotEqual(t, price["from"], price["to"])
}

// snapshotOf serves one catalogue for ever.
func snapshotOf(cat *catalogue.Snapshot) func() *catalogue.Snapshot {
	return func() *catalogue.Snapshot { return cat }
}
