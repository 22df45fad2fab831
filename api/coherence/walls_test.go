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
	scribed := 0
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
		edge, through := wall.get("length").num(), 0.0 // with the ends of pieces that go through to this wall
		for k := max(i-1, 0); k <= min(i, len(o.names)-2); k++ {
			c := n.get("corners").list()[k]
			other := map[string]int{"first": k, "second": k + 1}
			side, _ := c.get("through").v.(string)
			if at, ok := other[side]; ok && at != i && c.get("angle").num() < 180 {
				through += n.get("runs").list()[at].get("depth").num() / math.Sin(c.get("angle").num()*degree)
			}
		}
		if math.Abs(edge-run.get("piece", "wall_edge").num()-through) > 0.02*unit {
			t.Fatalf("the table is %v long, the wall edge %v and what goes through to it %v", edge, run.get("piece", "wall_edge").v, through)
		}
		minutes := minutesOf(n, "scribe_walls")
		if minutes.has("likely") != (greatest > 0) {
			t.Fatalf("scribing takes %v for a depth of %v", minutes.v, greatest)
		}
		if greatest > 0 {
			scribesMetres(t, minutes, edge/unit/1000)
		}
		if run.get("piece").has("scribed") != (greatest > 0) {
			t.Fatalf("scribed by %v without an outline, or not with one: %v", greatest, wall.v)
		}
	})
	if scribed < 10 {
		t.Fatalf("%d tops were scribed: too few", scribed)
	}
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
