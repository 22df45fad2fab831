package hardware

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// Check reports every rule that a feasible plan breaks for a seam, or nil. It reads the rules afresh from the plan's
// positions and sizes and shares nothing with the search that placed them: what it knows of each form stands in checks, said again on
// purpose, so that a mistake in a row of forms is seen. The snapshot must be indexed. Lengths may be
// off by a thousandth of a millimetre.
func (p Plan) Check(seam Seam, cat *catalogue.Snapshot) error {
	if !p.Feasible {
		return errors.New("the plan is not feasible: " + p.Reason)
	}
	k := checker{seam: seam, set: cat.Settings, held: p.HoldAt.Point(seam.Length)}
	k.alignment(p.Alignment, cat.FastenerByCode(p.Alignment.Item))
	for _, g := range p.Pull.Groups {
		k.group(g, cat.FastenerByCode(g.Item))
	}
	k.pulls()
	k.apart()
	if seam.Joint.Turns() && p.HoldAt != HoldFront {
		k.broken("a mason's miter is held at %s", p.HoldAt)
	}
	return errors.Join(k.wrong...)
}

// tolerance of the checks.
const tolerance = measure.Length(1e-3)

// stand is a part where it stands: its centre, half of its room along the seam, and its kind.
type stand struct {
	at, half measure.Length
	kind     catalogue.FastenerKind
	part     *catalogue.Fastener
}

type checker struct {
	seam  Seam
	set   catalogue.Settings
	held  measure.Length
	all   []stand
	long  bool // draw bolts have elongated recesses
	wrong []error
}

func (k *checker) broken(format string, args ...any) {
	k.wrong = append(k.wrong, fmt.Errorf(format, args...))
}

func (k *checker) slip(at measure.Length) measure.Length {
	return measure.Length(k.seam.SlipRate * math.Abs(float64(at-k.held)))
}

// fits checks that an item is there and made for the thickness.
func (k *checker) fits(f *catalogue.Fastener, code string) bool {
	if f == nil {
		k.broken("the catalogue has no %q", code)
		return false
	}
	if t := k.seam.Thickness; t < f.LeastThickness || f.GreatestThickness > 0 && t > f.GreatestThickness {
		k.broken("%s does not fit a top of %v mm", code, t)
	}
	if by := checks[f.Kind.Form()]; by.room != nil {
		by.room(k, f)
	}
	return true
}

func (k *checker) alignment(a Alignment, f *catalogue.Fastener) {
	if !k.fits(f, a.Item) {
		return
	}
	s, n := k.set, len(a.Positions)
	wantRows := 1
	if k.seam.Thickness >= s.TwoRowsFrom {
		wantRows = 2
	}
	if n == 0 || len(a.SlotWidths) != n || a.Rows != wantRows || a.Count != n*a.Rows {
		k.broken("%d alignment parts with %d slots and %d positions in %d rows", a.Count, len(a.SlotWidths), n, a.Rows)
		return
	}
	k.alignmentEnd(f, a.Positions[0], 1)
	k.alignmentEnd(f, a.Positions[n-1], -1)
	widest := measure.Length(0)
	for i, at := range a.Positions {
		if i > 0 && at-a.Positions[i-1] > s.AlignmentSpacing+tolerance {
			k.broken("alignment parts %d and %d are too far apart", i, i+1)
		}
		if want := k.slot(f, at); math.Abs(float64(a.SlotWidths[i]-want)) > float64(tolerance) {
			k.broken("slot %d is %v mm wide instead of %v", i+1, a.SlotWidths[i], want)
		}
		widest = max(widest, a.SlotWidths[i])
		k.all = append(k.all, stand{at, a.SlotWidths[i] / 2, f.Kind, f})
		k.inWood(f, at)
	}
	if a.SlotWidth != widest {
		k.broken("the widest slot is not the widest")
	}
}

func (k *checker) group(g PullGroup, f *catalogue.Fastener) {
	if !k.fits(f, g.Item) {
		return
	}
	by := checks[g.Kind.Form()].pull
	if by == nil {
		k.broken("%s pulls nothing", g.Item)
		return
	}
	holes, shank, head := by.holes(&g), by.shank(f), by.head(f)
	if g.Count != len(g.Positions) || len(holes) != g.Count || g.Count == 0 {
		k.broken("%d parts of %s with %d holes and %d positions", g.Count, g.Item, len(holes), len(g.Positions))
		return
	}
	k.recesses(&g, f)
	least := measure.Length(math.Inf(1))
	for i, at := range g.Positions {
		want := max(shank+2*k.slip(at)+k.set.HoleAllowance, shank+k.set.HoleLeast)
		if math.Abs(float64(holes[i]-want)) > float64(tolerance) {
			k.broken("hole %d of %s is %v mm instead of %v", i+1, g.Item, holes[i], want)
		}
		bears := (head - holes[i]) / 2
		if bears < k.set.BearingLeast-tolerance {
			k.broken("%s bears on %v mm at %v", g.Item, bears, at)
		}
		least = min(least, bears)
		k.all = append(k.all, stand{at, by.half(k, f, at, holes[i]), g.Kind, f})
		k.inWood(f, at)
	}
	if math.Abs(float64(g.Bearing-least)) > float64(tolerance) {
		k.broken("%s bears on %v mm, not %v", g.Item, least, g.Bearing)
	}
}

// pulls checks the pull parts together: number, spacing, distance from the ends.
func (k *checker) pulls() {
	sort.Slice(k.all, func(i, j int) bool { return k.all[i].at < k.all[j].at })
	var parts []stand
	two := false
	for _, p := range k.all {
		if p.kind.Role() == catalogue.Pulls {
			parts = append(parts, p)
			two = two || checks[p.kind.Form()].pull.twoDo
		}
	}
	least := 2
	if !two && k.seam.Length >= k.set.BoltThreeFrom {
		least = 3
	}
	if len(parts) < least {
		k.broken("%d pull parts; at least %d are needed", len(parts), least)
		return
	}
	first, last := parts[0], parts[len(parts)-1]
	k.end(parts, first, first.at, 1)
	k.end(parts, last, k.seam.Length-last.at, -1)
	for i := 1; i < len(parts); i++ {
		if gap := parts[i].at - parts[i-1].at; gap > k.most(parts[i-1], parts[i])+tolerance {
			k.broken("pull parts at %v and %v mm are %v apart", parts[i-1].at, parts[i].at, gap)
		}
	}
}

// most is how far two neighbours may be apart: where one is a screw and one a bolt, by the stricter rule.
func (k *checker) most(a, b stand) measure.Length {
	_, one := k.rules(a)
	_, other := k.rules(b)
	return min(one, other)
}

// rules are a pull part's least distance from an end, and the most to its neighbour.
func (k *checker) rules(p stand) (end, spacing measure.Length) {
	return checks[p.kind.Form()].pull.rules(&k.set)
}

// end checks the distance of an outermost pull part from its end: not too small, nor over half a spacing, unless no
// part of the seam has wood for it anywhere nearer to the end.
func (k *checker) end(parts []stand, p stand, distance measure.Length, inwards measure.Length) {
	end, spacing := k.rules(p)
	for _, q := range parts {
		e, s := k.rules(q)
		end, spacing = max(end, e), min(spacing, s)
	}
	if distance < end-tolerance || distance > spacing+tolerance {
		k.broken("the pull part at %v mm stands %v from its end", p.at, distance)
	}
	if distance <= max(end, spacing/2)+tolerance {
		return
	}
	for back := measure.Length(1); back <= distance-end; back++ {
		if k.anyWood(parts, p.at-back*inwards) {
			k.broken("the pull part at %v mm stands %v from its end, although there is wood for it %v nearer", p.at, distance,
				back)
			return
		}
	}
}

// anyWood reports whether all kinds of the parts would have wood at a place.
func (k *checker) anyWood(parts []stand, at measure.Length) bool {
	for _, q := range parts {
		if k.lack(q.part, at) > 0 {
			return false
		}
	}
	return true
}

// alignmentEnd does the same for an outermost alignment part.
func (k *checker) alignmentEnd(f *catalogue.Fastener, at, inwards measure.Length) {
	distance := at
	if inwards < 0 {
		distance = k.seam.Length - at
	}
	if distance <= k.set.AlignmentEnd+tolerance {
		return
	}
	if distance > k.set.AlignmentSpacing+tolerance {
		k.broken("alignment parts end too far from the seam's ends")
	}
	for back := measure.Length(1); back < distance; back++ {
		x := at - back*inwards
		half := k.slot(f, x) / 2
		if x-half >= max(k.seam.FrontKeep, k.set.PartClear) && x+half <= k.seam.Length-k.set.PartClear && k.lack(f, x) <= 0 {
			k.broken("alignment parts end too far from the seam's ends: there is wood at %v mm", x)
			return
		}
	}
}

// apart checks that all parts are inside the seam, off the profile and blocked stretches, and clear of each other.
func (k *checker) apart() {
	for i, p := range k.all {
		from, to := p.at-p.half, p.at+p.half
		if from < max(k.seam.FrontKeep, k.set.PartClear)-tolerance || to > k.seam.Length-k.set.PartClear+tolerance {
			k.broken("the %s at %v mm reaches out of the seam or into the profile", p.kind, p.at)
		}
		for _, b := range k.seam.Blocked {
			if from < b.To-tolerance && to > b.From+tolerance {
				k.broken("the %s at %v mm stands in a blocked stretch", p.kind, p.at)
			}
		}
		for _, q := range k.all[i+1:] {
			if q.at-q.half < to+k.set.PartClear-tolerance {
				k.broken("the %s at %v mm and the %s at %v mm are too close", p.kind, p.at, q.kind, q.at)
			}
		}
	}
}
