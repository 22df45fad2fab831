package hardware

import (
	"math"

	"seamwright/service/plan"
)

// mostRemembered is how many choices are remembered, some tens of tops. With more the oldest makes room.
const mostRemembered = 256

// remembered are choices that were made, for the top at hand and for those before it: a shop's tops are alike in depth, wood
// and edge, and so are their seams, whatever the lengths of the runs. Each top spends on a choice what it took when it was made, so
// that neither plans nor what they took depend on what was chosen before.
type remembered struct {
	places map[alike]int // in all
	all    []choice
	oldest int
	top    int // at hand
}

// choice is what was chosen for a seam.
type choice struct {
	alike
	seam  Seam // its lists are its own
	plan  Plan
	spent int  // cells that the search looked at
	exact bool // the effort was enough for it
	top   int  // that it was chosen or recalled for last
}

// alike is what seams that ask for the same hardware have in common. Others may have it too.
type alike struct {
	joint plan.JointKind
	wish  Wish
	sizes uint64
}

// alikeOf draws the sizes of a seam together.
func alikeOf(s *Seam, wish Wish) alike {
	h := mixed(mixed(mixed(mixed(0, s.Length), s.Thickness), s.FrontKeep), s.SlipRate)
	for _, b := range s.Blocked {
		h = mixed(mixed(h, b.From), b.To)
	}
	for i := range s.Sides {
		for k := range s.Sides[i].Edges {
			e := &s.Sides[i].Edges[k]
			h = mixed(mixed(mixed(mixed(h, e.From.Along), e.From.In), e.To.Along), e.To.In)
		}
	}
	return alike{s.Joint, wish, h}
}

// mixed adds a number to others that are drawn together. The factor is 2⁶⁴ divided by the golden ratio, after Knuth, The Art of
// Computer Programming, vol. 3, section 6.4.
func mixed[F ~float64](h uint64, v F) uint64 {
	h = (h ^ math.Float64bits(float64(v))) * 0x9E3779B97F4A7C15
	return h ^ h>>32
}

// begin begins with another top.
func (r *remembered) begin() { r.top++ }

// forget drops all choices.
func (r *remembered) forget() {
	clear(r.places)
	drop(&r.all)
	r.oldest = 0
}

// recall returns what was chosen for such a seam, and what it takes of the top's effort; nil when nothing was, or more than is left.
func (r *remembered) recall(of *alike, s *Seam, left int) (c *choice, takes int) {
	at, ok := r.places[*of]
	if !ok {
		return nil, 0
	}
	switch c = &r.all[at]; {
	case !c.seam.SameButLegs(s):
		return nil, 0
	case c.top == r.top:
		return c, 0
	case !c.exact || c.spent > left:
		return nil, 0
	}
	c.top = r.top
	return c, c.spent
}

// note remembers a choice.
func (r *remembered) note(of *alike, s *Seam, p *Plan, spent int, exact bool) {
	if r.places == nil {
		r.places = make(map[alike]int)
	}
	at, known := r.places[*of]
	switch {
	case known:
	case len(r.all) < mostRemembered:
		at = len(r.all)
		r.all = append(r.all, choice{})
	default:
		at, r.oldest = r.oldest, (r.oldest+1)%mostRemembered
		delete(r.places, r.all[at].alike)
	}
	r.places[*of] = at
	c := &r.all[at]
	lists := c.seam
	*c = choice{alike: *of, seam: *s, plan: *p, spent: spent, exact: exact, top: r.top}
	c.seam.keep(s, &lists)
}

// keep makes a copy's lists its own, in the memory of lists that are not needed any more.
func (s *Seam) keep(of, lists *Seam) {
	s.Blocked = append(lists.Blocked[:0], of.Blocked...)
	for i := range s.Sides {
		s.Sides[i].Edges = append(lists.Sides[i].Edges[:0], of.Sides[i].Edges...)
	}
}
