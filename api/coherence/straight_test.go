package coherence_test

import (
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/store/storetest"
)

// parted is an order with a straight seam in one of its runs: what is sent, and what it means, piece by piece.
func (o order) parted(i int, written any, at float64) order {
	body := maps.Clone(o.body)
	top := maps.Clone(object(body, "top"))
	runs := slices.Clone(top["runs"].([]any))
	run := maps.Clone(runs[i].(map[string]any))
	delete(top, "straight_joints")
	run["straight_seams"] = []any{map[string]any{"at": written}}
	runs[i], top["runs"], body["top"] = run, runs, top
	o.body = body
	o.names = slices.Replace(slices.Clone(o.names), i, i+1, o.names[i]+"1", o.names[i]+"2")
	o.lengths = slices.Replace(slices.Clone(o.lengths), i, i+1, at, o.lengths[i]-at)
	o.depths = slices.Insert(slices.Clone(o.depths), i, o.depths[i])
	o.angles = slices.Insert(slices.Clone(o.angles), i, math.Pi)
	return o
}

// Where a run is made of pieces, all parts of the answer agree as ever, each piece being a run of its own.
func TestThePartsOfAnAnswerWithStraightSeamsAgree(t *testing.T) {
	cat := storetest.Demo(t)
	answered, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		whole := drawOrder(t)
		i := rapid.IntRange(0, len(whole.names)-1).Draw(t, "run with a seam")
		least := max(100, whole.depths[i]) + 1
		if whole.lengths[i] < 2*least {
			return
		}
		all++
		written, at := whole.length(least + within(t, "seam", 0, 1)*(whole.lengths[i]-2*least))
		o := whole.parted(i, written, at)
		n, refused := ask(t, o.body, cat)
		if refused != nil {
			return
		}
		answered++
		if len(n.get("runs").list()) != len(o.names) {
			return // another run was too long for the wood on sale, and is made of pieces as well
		}
		a := newAnswer(n, o)
		a.agrees()
		a.pieces(whole.names[i], i, at)
	})
	require.Greater(t, 2*answered, all, "too many were refused: %d of %d were answered", answered, all)
}

// pieces holds the two pieces of a run, and their seam, against what was asked.
func (a *answer) pieces(name string, i int, at float64) {
	length := a.order.lengths[i] + a.order.lengths[i+1]
	for k, ends := range [][2]float64{{0, at}, {at, length}} {
		part := a.runs[i+k].get("part_of")
		a.must(part, part.get("run").text() == name && part.get("number").num() == float64(k+1) && part.get("count").num() == 2, "it is piece %d of run %s", k+1, name)
		a.near(part, "from", a.length(part.get("from")), ends[0], a.least+1e-6)
		if a.get("top", "edge", "moulding").null() { // else the end stands behind a moulding
			a.near(part, "to", a.length(part.get("to")), ends[1], a.least+1e-6)
		}
		a.near(a.runs[i+k].node, "its fixed line", a.runs[i+k].line, a.runs[i].line, 1e-9)
		a.near(a.runs[i+k].node, "its wall gap", a.length(a.runs[i+k].get("movement", "wall_gap")), a.length(a.runs[i].get("movement", "wall_gap")), 2*a.least)
	}
	s := &a.seams[i]
	in := s.corner.get("straight_seam")
	a.must(in, in.get("run").text() == name && in.get("reason").text() == "named" && s.corner.get("chosen").text() == "straight", "it is a seam of run %s", name)
	a.near(in, "at", a.length(in.get("at")), at, a.least+1e-6)
	for _, season := range []string{"dry", "humid"} {
		m := s.chosen.get("movement", season)
		a.must(m, m.get("max_slip").num() == 0 && m.get("max_opening").num() == 0, "both pieces move alike")
	}
	for _, step := range a.get("labour", "steps").list() {
		a.must(step, step.get("code").text() != "site_template" || len(a.seams) > 1, "a straight seam has no angle to carry")
	}
	need := 0.0
	for _, l := range a.get("bill_of_materials").list() {
		if l.get("item").text() == "sundry_template_hardboard" {
			need = l.get("need").num()
		}
	}
	a.must(a.get("bill_of_materials"), need == math.Ceil(float64(len(a.seams)-1)/2), "%g sheets for the templates of %d corners", need, len(a.seams)-1)
}
