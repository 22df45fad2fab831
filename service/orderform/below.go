package orderform

import (
	"fmt"
	"strconv"

	"seamwright/service/base"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Below is what stands below a stretch of a side. Under a side of which something is told, the rest is open.
type Below struct {
	Side     int // from 1
	Kind     string
	From, To measure.Length // from the side's left end, as one who stands before it sees it
}

// belowFits refuses, as Impossible, a stretch that ends before it begins or beyond its side, two that lie over each other, and a
// cabinet whose end lies below an opening, where it would hold no wood.
func (f *Form) belowFits(r *Request) (wrong fault.List) {
	for i := range r.Below {
		b := &r.Below[i]
		if b.Side < 1 || b.Side > len(r.Sides) {
			continue // Check says so
		}
		side, long := strconv.Itoa(b.Side), r.Sides[b.Side-1].Long
		refuse := func(field, detail string) {
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: fmt.Sprintf("/base/%d%s", i, field), Detail: detail})
		}
		if b.To <= b.From+slack {
			refuse("/to", f.say("It must end further to the right than it begins, and it begins at %s.", f.phrase(b.From)))
			continue
		}
		if b.To > long+slack {
			refuse("/to", f.say("It would end at %s, and side %s is %s long.", f.phrase(b.To), side, f.phrase(long)))
		}
		for k := range r.Below[:i] {
			if o := &r.Below[k]; o.Side == b.Side && b.From < o.To-slack && o.From < b.To-slack {
				refuse("/from", f.say("There stands something already: number %s reaches from %s to %s.", strconv.Itoa(k+1),
					f.phrase(o.From), f.phrase(o.To)))
				break
			}
		}
		if n := r.openingOverEnd(b); n > 0 {
			refuse("", f.say("Opening %s lies over an end of this cabinet, which would hold no wood there. Move one of them.", strconv.Itoa(n)))
		}
	}
	return wrong
}

// openingOverEnd is the number of an opening over an end of a cabinet beside which no other stands; 0: none is.
func (r *Request) openingOverEnd(b *Below) int {
	if b.Kind != string(base.Cabinet) {
		return 0
	}
	for n := range r.Openings {
		o := &r.Openings[n]
		for _, end := range [...]measure.Length{b.From, b.To} {
			if o.Side == b.Side && end > o.FromLeft+slack && end < o.FromLeft+o.Long-slack && !r.goesOn(b, end) {
				return n + 1
			}
		}
	}
	return 0
}

// goesOn reports whether another cabinet stands at an end of one.
func (r *Request) goesOn(b *Below, end measure.Length) bool {
	for k := range r.Below {
		o := &r.Below[k]
		if o != b && o.Side == b.Side && o.Kind == b.Kind && o.From <= end+slack && o.To >= end-slack {
			return true
		}
	}
	return false
}

// baseOf says what stands below as the order of an estimate does: along each run from its start, which is a side's right end when
// the top turns left.
func (f *Form) baseOf(r *Request, length func(measure.Length) float64) []any {
	list := make([]any, len(r.Below))
	for i, b := range r.Below {
		from, to := b.From, b.To
		if r.TurnsLeft {
			long := r.Sides[b.Side-1].Long
			from, to = long-b.To, long-b.From
		}
		list[i] = map[string]any{"run": runName(b.Side - 1), "kind": b.Kind, "from": length(max(from, 0)), "to": length(to)}
	}
	return list
}

// belowOf draws what stands below: each stretch as deep as its side.
func belowOf(r *Request, sides []SideDrawn, pieces [][]plan.Point) (out []BelowDrawn) {
	for _, b := range r.Below {
		wall, side := sides[b.Side-1].Wall, &r.Sides[b.Side-1]
		dx, dy := float64((wall[1].X-wall[0].X)/side.Long), float64((wall[1].Y-wall[0].Y)/side.Long)
		middle, turn := plan.Centroid(pieces[b.Side-1]), measure.Length(1)
		if float64(middle.Y-wall[0].Y)*dx < float64(middle.X-wall[0].X)*dy { // the room is on the wall's other hand
			turn = -1
		}
		at := func(along, deep measure.Length) plan.Point {
			deep *= turn
			return plan.Point{X: wall[0].X + along*measure.Length(dx) - deep*measure.Length(dy),
				Y: wall[0].Y + along*measure.Length(dy) + deep*measure.Length(dx)}
		}
		deep := side.Deep
		out = append(out, BelowDrawn{b.Kind, b.Side, []plan.Point{at(b.From, 0), at(b.To, 0), at(b.To, deep), at(b.From, deep)}})
	}
	return out
}

// carried says what the price includes to carry the top, and warns of what even that does not carry.
func (f *Form) carried(est *estimate.Estimate) (includes, caution string) {
	if est.Base == nil {
		return "", ""
	}
	for i := range est.Base.Props {
		if est.Base.Props[i].Added {
			includes = f.say("What carries the top where nothing stands below it: brackets, legs or a batten at the wall.")
		}
	}
	if !est.Base.Holds {
		caution = f.say("Over what stands below, this top would sag more than it should. We look at it with you before anything is made.")
	}
	return includes, caution
}
