package coherence_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamwright/store/storetest"
)

// stripWide is how wide the strips under a built-up edge are at least, which the demo shop has not changed.
const stripWide = 3 * inch

// hollow is a place below a slab with a built-up edge, with the share of the thickness that lacks there.
type hollow struct {
	from, to, front, back float64
	outline               outline
}

// hollowsIn are the hollows of a run's piece.
func (a *answer) hollowsIn(r *run) (out []hollow) {
	if !r.get("piece").has("hollows") {
		return nil
	}
	for _, n := range r.get("piece", "hollows").list() {
		h := hollow{from: a.length(n.get("from")), to: a.length(n.get("to")), front: a.length(n.get("from_front")), back: a.length(n.get("to_back"))}
		at := func(along, front float64) spot {
			return r.start.plus(r.along.times(along)).plus(r.room.times(r.depth - front))
		}
		h.outline = outline{at(h.from, h.front), at(h.to, h.front), at(h.to, h.back), at(h.from, h.back)}
		out = append(out, h)
	}
	return out
}

// lacking is the share of the thickness that lies under the slab alone.
func (a *answer) lacking() float64 {
	return 1 - a.length(a.get("top", "layer_thickness"))/a.length(a.get("top", "thickness"))
}

// over reports whether a hole lies over a hollow with all of its edge, within what coordinates are rounded to.
func (a *answer) over(o outline, hollows []hollow) bool {
	for _, h := range hollows {
		all := true
		for _, p := range o {
			all = all && (h.outline.holds(p) || h.outline.edgeDistance(p, nil) < 4*a.least)
		}
		if all {
			return true
		}
	}
	return false
}

// woodOf is the volume of a piece, its cut-outs and what is hollow below taken off, in mm³.
func (a *answer) woodOf(r *run) float64 {
	thick := a.length(a.get("top", "thickness"))
	hollows := a.hollowsIn(r)
	volume := r.piece.area() * thick
	under := 0.0
	if len(hollows) > 0 {
		under = thick * a.lacking()
	}
	for _, h := range hollows {
		volume -= (h.to - h.from) * (h.back - h.front) * under
	}
	for _, o := range a.holesIn(r) {
		volume -= o.area() * thick
		if a.over(o, hollows) {
			volume += o.area() * under
		}
	}
	return volume
}

// builtUp holds what lies under a slab against its blank and its piece: strips and blocks fill what is not hollow, everything that
// stands in the wood from below has it, and more is bought than is built.
func (a *answer) builtUp(r *run) {
	b, p := r.get("blank"), r.get("piece")
	top := a.get("top")
	built := top.has("build") && top.get("build").text() == "built_up"
	a.must(b, built == b.has("build_up"), "a built-up edge has strips, and nothing else has")
	laminated := top.has("layers") && top.get("construction").text() != "panel"
	a.must(a.node, !a.has("builds") || laminated, "there is no other build to hold it against")
	a.must(a.node, !laminated || a.has("builds") != a.leftOut("/top/build"), "what is laminated is held against what else would do, or it is said that this was left out")
	if !built {
		a.must(p, !p.has("hollows"), "hollow without a built-up edge")
		return
	}
	u, n := b.get("build_up"), layers(b)
	front, wall, each := a.length(u.get("front_strip")), a.length(u.get("wall_strip")), a.length(b.get("stave_finished"))
	across, strips := u.get("blocks_across").num(), u.get("strip_staves").num()
	width := a.length(b.get("width"))
	whole := func(width, each float64) float64 { return math.Ceil(width / each) }
	least := (n - 1) * (whole(front-2*a.least, each+a.least) + whole(wall-2*a.least, each+a.least))
	most := (n - 1) * (whole(front+2*a.least, each-a.least) + whole(wall+2*a.least, each-a.least))
	a.must(u, least <= strips && strips <= most, "%g staves for strips of %.2f and %.2f mm, of %.2f", strips, front, wall, each)
	a.atLeast(u, "the blocks side by side", across*each, width-front-wall, (2+across)*a.least)
	if width-front-wall > 2*a.least {
		a.must(u, across > 0, "nothing between the strips")
	}
	lengths, hollows := a.lengths(u.get("block_lengths")), a.hollowsIn(r)
	a.must(u, len(lengths) == len(hollows)+1, "%d fields of blocks beside %d hollows", len(lengths), len(hollows))
	sum, last := 0.0, math.Inf(-1)
	for _, length := range lengths {
		sum += length
	}
	for _, h := range hollows {
		a.atLeast(p, "a hollow", h.to-h.from, stripWide, 4*a.least)
		a.atLeast(p, "the strip at the front", h.front, stripWide, 2*a.least)
		a.atLeast(p, "the strip at the wall", r.depth-h.back, stripWide, 4*a.least)
		a.must(p, h.from > last, "hollows overlap")
		last = h.to
		sum += h.to - h.from
		for _, q := range h.outline {
			a.must(p, r.piece.holds(q), "a hollow reaches out of its piece")
			a.atLeast(p, "the wood at the end of a hollow", r.piece.edgeDistance(q, nil), math.Min(stripWide, h.front), 1)
		}
		for _, o := range a.holesIn(r) {
			for i, q := range o {
				inside := h.outline.holds(q) && h.outline.edgeDistance(q, nil) > 4*a.least
				a.must(p, !inside || a.over(o, hollows), "corner %d of a cut-out is cut into a hollow, and another is not", i)
			}
		}
	}
	if len(hollows) > 0 {
		a.near(u, "blocks and hollows, one behind the other", sum-float64(len(lengths))*endTrim, a.length(p.get("long_edge")), float64(4+2*len(lengths))*a.least+0.01*float64(len(lengths)))
	}
	a.atLeast(b, "the wood that is bought (mm³)", b.get("board_feet").num()*boardFoot, a.woodOf(r), 0.006*boardFoot)
	var fixed []node
	if a.get("fixing").has("runs") {
		fixed = a.get("fixing", "runs").list()
	}
	for _, f := range fixed {
		if f.get("run").text() != r.get("name").text() {
			continue
		}
		for _, q := range f.get("places").list() {
			along, from := a.length(q.get("along")), a.length(q.get("from_front"))
			for _, h := range hollows {
				a.must(q, along < h.from || along > h.to || from < h.front+2*a.least || from > h.back-2*a.least, "a fixing stands under a hollow")
			}
		}
	}
	for i := range a.seams {
		s := &a.seams[i]
		if s.first != r && s.second != r {
			continue
		}
		reach := 0.0
		groups := []node{s.chosen.get("hardware", "pull")}
		if further := groups[0].get("further"); !further.null() {
			groups = append(groups, further)
		}
		for _, g := range groups {
			if part := g.get("part"); part.has("recess_distance") && !part.get("recess_distance").null() {
				reach = math.Max(reach, a.length(part.get("recess_distance"))+a.length(part.get("recess_diameter"))/2)
			}
		}
		for _, h := range hollows {
			for _, q := range h.outline {
				for j := 1; j < len(s.path); j++ {
					a.atLeast(p, "the wood between a seam and a hollow", q.toSegment(s.path[j-1], s.path[j]), reach, 1)
				}
			}
		}
	}
}

// Layers all over and a built-up edge of the same top: the same movement, less wood, weight and glue, and each tells what the other costs.
func TestABuiltUpEdgeBesideLayersAllOver(t *testing.T) {
	cat := storetest.Demo(t)
	compared, told, all := 0, 0, 0
	part(t, 4, func(t *rapid.T) { // each is asked for three times, and made in the other build as well
		o := drawOrder(t)
		top := object(o.body, "top")
		if top["construction"] == "panel" {
			return
		}
		top["thickness"], top["build"] = "76.20 mm", "laminated"
		a, refused := ask(t, o.body, cat)
		if refused != nil {
			return
		}
		all++
		top["build"] = "built_up"
		b, refused := ask(t, o.body, cat)
		if refused != nil {
			if a.has("builds") { // else there was too much to reckon
				require.NotEmpty(t, a.get("builds").list()[0].get("fault").text(), "the other way says why it cannot be made")
			}
			return
		}
		compared++
		x := newAnswer(b, o)
		x.agrees()
		require.Less(t, b.get("weight").num(), a.get("weight").num())
		for i, r := range b.get("runs").list() {
			other := a.get("runs").list()[i]
			if r.has("seasonal") { // the thinner slab follows the air sooner
				require.GreaterOrEqual(t, r.get("movement", "range").num(), other.get("movement", "range").num())
			} else {
				require.Equal(t, other.get("movement", "range").v, r.get("movement", "range").v, "grain the same way")
			}
			require.Equal(t, other.get("blank", "rough_thickness").v, r.get("blank", "rough_thickness").v)
		}
		for _, two := range [][2]node{{a, b}, {b, a}} {
			if !two[0].has("builds") {
				continue
			}
			told++
			way := two[0].get("builds").list()[0]
			require.Equal(t, two[1].get("price", "total").cents()-two[0].get("price", "total").cents(), way.get("total_difference").cents())
			require.Equal(t, two[1].get("price", "cost").cents()-two[0].get("price", "cost").cents(), way.get("cost_difference").cents())
		}
		delete(top, "build")
		c, refused := ask(t, o.body, cat)
		require.Nil(t, refused)
		if !c.get("top").has("layers") || !c.has("builds") {
			return // of this wood there are boards as thick, or there was too much to reckon
		}
		require.Equal(t, min(a.get("price", "total").cents(), b.get("price", "total").cents()), c.get("price", "total").cents(), "the cheaper is taken")
	})
	require.Greater(t, 2*compared, all, "too few were compared: %d of %d", compared, all)
	require.Greater(t, told, compared, "most answers tell what the other build costs")
}

// leftOut tells whether a comparison of which so much would have to be reckoned is said to be left out.
func (a *answer) leftOut(pointer string) bool {
	for _, w := range a.get("warnings").list() {
		if w.get("code").text() == "comparison_left_out" && w.get("pointer").text() == pointer {
			return true
		}
	}
	return false
}
