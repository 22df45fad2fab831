package coherence_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"seamwright/store/storetest"
)

// What walls ask agrees with what was told of them: the table with the offsets, the blank with the greatest depth, the gap
// with the wall joint, the scribed outline with the piece.
func TestWallsAgreeWithTheTopThatIsScribedToThem(t *testing.T) {
	cat := storetest.Demo(t)
	scribed, ends := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		if len(o.names) > 3 {
			return
		}
		i := rapid.IntRange(0, len(o.names)-1).Draw(t, "run")
		plain, refused := ask(t, o.body, cat)
		if refused != nil {
			return
		}
		var told []any
		var offsets []float64
		for k := range rapid.IntRange(2, 6).Draw(t, "stations") {
			at, _ := o.length(float64(k) * o.lengths[i] / 6)
			mm := within(t, "offset", 0, 12)
			off, _ := o.length(mm)
			told = append(told, map[string]any{"at": at, "offset": off})
			offsets = append(offsets, number(off))
		}
		body := copied(t, o.body)
		site, _ := body["site"].(map[string]any)
		if site == nil {
			site = map[string]any{}
		}
		body["site"] = site
		site["walls"] = []any{map[string]any{"run": o.names[i], "edge": "wall", "offsets": told}}
		n, refused := ask(t, body, cat)
		if refused != nil { // no wood on sale may be so wide or long
			return
		}
		scribed++
		run, before := n.get("runs").list()[i], plain.get("runs").list()[i]
		wall := run.get("walls").list()[0]
		most, least, deepest := math.Inf(-1), math.Inf(1), 0.0
		for k, s := range wall.get("stations").list() {
			if math.Abs(s.get("offset").num()-offsets[k]) > 1e-9 {
				t.Fatalf("station %d: told %v, answered %v", k, offsets[k], s.get("offset").v)
			}
			line := s.get("at").num()*math.Tan(wall.get("slope").num()*degree) - s.get("offset").num()
			most, least = max(most, line-s.get("remove").num()), min(least, line-s.get("remove").num())
			deepest = max(deepest, s.get("remove").num())
		}
		unit := 1.0
		if o.inches {
			unit = 1 / inch
		}
		greatest := wall.get("greatest").num()
		if most-least > 0.05*unit {
			t.Fatalf("wood that is removed does not leave the wall: %v", most-least)
		}
		if math.Abs(deepest-greatest) > 0.011*unit {
			t.Fatalf("greatest %v, deepest %v", greatest, deepest)
		}
		if panel := run.get("blank", "staves").int() == 0; panel {
			if run.get("blank", "width").num() < run.get("depth").num()+greatest-0.011*unit {
				t.Fatalf("a panel of %v is not wide enough", run.get("blank", "width").v)
			}
		} else if math.Abs(run.get("blank", "width").num()-before.get("blank", "width").num()-greatest) > 0.021*unit {
			t.Fatalf("the blank is wider by %v, not by %v", run.get("blank", "width").num()-before.get("blank", "width").num(), greatest)
		}
		gap := wall.get("gap")
		if gap.get("scribed").num() != run.get("wall_joint", "width").num() ||
			math.Abs(gap.get("most").num()-gap.get("least").num()-greatest) > 0.021*unit {
			t.Fatalf("gap %v beside a joint of %v", gap.v, run.get("wall_joint", "width").v)
		}
		metres := 0.0
		if greatest > 0 {
			metres = wall.get("length").num()
		}
		if math.Abs(wall.get("length").num()-run.get("piece", "wall_edge").num()) > 0.011*unit {
			t.Fatalf("the table is %v long, the wall edge %v", wall.get("length").v, run.get("piece", "wall_edge").v)
		}
		for k := max(i-1, 0); k <= min(i, len(o.names)-2); k++ { // pieces that go through to this wall
			c := n.get("corners").list()[k]
			other := map[string]int{"first": k, "second": k + 1}
			side, _ := c.get("through").v.(string)
			if at, ok := other[side]; ok && at != i && c.get("angle").num() < 180 {
				metres += throughEndAgrees(t, n.get("runs").list()[at], run, c.get("angle").num(), map[bool]string{true: "end", false: "start"}[at == k], unit)
				ends++
			}
		}
		minutes := minutesOf(n, "scribe_walls")
		if minutes.has("likely") != (greatest > 0) {
			t.Fatalf("scribing takes %v for a depth of %v", minutes.v, greatest)
		}
		if greatest > 0 {
			scribesMetres(t, minutes, metres/unit/1000)
		}
		if run.get("piece").has("scribed") != (greatest > 0) {
			t.Fatalf("scribed by %v without an outline, or not with one: %v", greatest, wall.v)
		}
	})
	if scribed < 10 || ends < 5 {
		t.Fatalf("%d tops were scribed, %d ends of pieces that go through: too few", scribed, ends)
	}
}

// throughEndAgrees: where a piece goes through to a wall that is not straight, its end lies along that wall for d/sin θ and has a table
// of its own, of what the wall's tells; it is in the piece's finished outline. What of it is scribed is returned.
func throughEndAgrees(t *rapid.T, piece, beside node, angle float64, edge string, unit float64) (scribed float64) {
	t.Helper()
	whole := beside.get("walls").list()[0]
	crooked := whole.get("greatest").num() > 0
	var end node
	var all []node
	if piece.has("walls") {
		all = piece.get("walls").list()
	}
	for _, w := range all {
		if w.has("wall_of") {
			if w.get("wall_of").text() != beside.get("name").text() || w.get("edge").text() != edge {
				t.Fatalf("an end at another wall: %v", w.v)
			}
			end = w
		}
	}
	if (end.v != nil) != crooked || piece.get("piece").has("scribed") != crooked {
		t.Fatalf("a wall that is crooked by %v and the end at it: %v", whole.get("greatest").v, end.v)
	}
	if !crooked {
		return 0
	}
	length := piece.get("depth").num() / math.Sin(angle*degree)
	stations := end.get("stations").list()
	if math.Abs(end.get("length").num()-length) > 0.02*unit || math.Abs(stations[len(stations)-1].get("at").num()-length) > 0.02*unit {
		t.Fatalf("an end of %v, its table to %v, for a depth at an angle that make %v", end.get("length").v, stations[len(stations)-1].get("at").v, length)
	}
	deepest, least := 0.0, math.Inf(1)
	for _, s := range stations {
		deepest, least = max(deepest, s.get("remove").num()), min(least, s.get("remove").num())
	}
	if least != 0 || math.Abs(deepest-end.get("greatest").num()) > 0.011*unit || deepest > whole.get("greatest").num()+0.011*unit {
		t.Fatalf("from %v to %v is removed, at most %v, of the wall %v", least, deepest, end.get("greatest").v, whole.get("greatest").v)
	}
	if end.get("gap", "scribed").num() != whole.get("gap", "scribed").num() || end.get("cover").text() != whole.get("cover").text() {
		t.Fatalf("one gap along the wall: %v and %v", end.v, whole.v)
	}
	if end.get("greatest").num() > 0 {
		return end.get("length").num()
	}
	return 0
}

// scribesMetres: of the demo's step (15 min and 12 a metre likely, 25 and 22 at most) the two figures tell by what the whole is
// multiplied and how many metres of the reference wood it stands for; hardness and thickness make of each metre some share
// of one to a few.
func scribesMetres(t *rapid.T, minutes node, metres float64) {
	t.Helper()
	likely, high := minutes.get("likely").num(), minutes.get("high").num()
	whole := (22*likely - 12*high) / (22*15 - 12*25)
	const digits = 0.06 // of whole: minutes are printed to a tenth
	if whole < 0.5-digits || whole > 3+digits {
		t.Fatalf("%v: the whole is multiplied by %v", minutes.v, whole)
	}
	least, most := (likely/(whole+digits)-15)/12, (likely/(whole-digits)-15)/12
	if most < 0.3*metres || least > 4*metres {
		t.Fatalf("%v m are scribed in the minutes of %v to %v", metres, least, most)
	}
}

// minutesOf are those of a step of the plan; of one that it lacks, nothing.
func minutesOf(n node, code string) node {
	for _, s := range n.get("labour", "steps").list() {
		if s.get("code").text() == code {
			return s.get("minutes")
		}
	}
	return node{}
}

func number(v any) float64 {
	x, _ := v.(float64)
	return x
}
