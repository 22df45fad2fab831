package options

import (
	"fmt"
	"slices"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// Set is what became of all combinations.
type Set struct {
	Units       measure.System
	Reference   string
	Currency    string
	Revision    int64
	PricedAsOf  catalogue.Date
	By          Criterion
	Options     []Option     // ranked
	Impossible  []Impossible // as they were combined
	Assumptions []estimate.Assumption
	Cautions    []string
	Sources     []source.Source
}

// Impossible is a combination that cannot be made, as it was asked for.
type Impossible struct {
	Species   string
	Thickness measure.Length
	Joint     plan.JointKind // asked for at every corner; empty: not everywhere the same, or none
	Finish    string         // empty: the shop's usual one
	Reasons   []*fault.Fault // their pointers lead into the request for the set
}

// Made is what became of one combination: an estimate, or why there is none.
type Made struct {
	Estimate *estimate.Estimate
	Err      error
}

// Gather makes a set of what became of the wishes, in their order. Where none can be made it fails with the reasons of
// all, and with whatever is no fault of the request.
func Gather(wishes []Wish, made []Made, by Criterion, cat *catalogue.Snapshot) (*Set, error) {
	set := &Set{Units: wishes[0].Order.Units, Reference: wishes[0].Order.Reference, By: by}
	var reasons fault.List
	var first *estimate.Estimate
	for i := range wishes {
		if e := made[i].Estimate; made[i].Err == nil {
			o := NewOption(&wishes[i], e, cat)
			o.wish = i
			set.Options = append(set.Options, o)
			set.add(e, first == nil)
			if first == nil {
				first = e
			}
			continue
		}
		why := fault.All(made[i].Err)
		for _, f := range why {
			if f.Kind == fault.Internal || f.Kind == fault.Unavailable {
				return nil, made[i].Err
			}
		}
		one := wishes[i].impossible(why)
		set.Impossible = append(set.Impossible, one)
		reasons = append(reasons, one.Reasons...)
	}
	if first == nil {
		return nil, onceEach(reasons).Err()
	}
	set.Currency, set.Revision, set.PricedAsOf = first.Currency, first.Revision, first.PricedAsOf
	set.Assumptions = append(set.Assumptions, ownAssumptions...)
	Rank(set.Options, by)
	return set, nil
}

// ownAssumptions are what holds for every set.
var ownAssumptions = []estimate.Assumption{
	{
		Pointer: "/estimate/finish/coats",
		Value:   "usual",
		Why:     "a finish from the list gets as many coats as is usual for it; the request's number holds for its own finish",
	},
	{
		Pointer: "/rank_by",
		Value:   "shown",
		Why: "options are compared by the figures as they are shown, so that what looks equal is equal; " +
			"days that are not promised and a strength that is not known count as worst",
	},
}

// add takes over what an estimate says beside its figures: cautions and sources of all, assumptions that all share.
func (s *Set) add(e *estimate.Estimate, first bool) {
	if first {
		for _, a := range e.Assumptions {
			a.Pointer = "/estimate" + a.Pointer
			s.Assumptions = append(s.Assumptions, a)
		}
	} else {
		s.Assumptions = slices.DeleteFunc(s.Assumptions, func(a estimate.Assumption) bool {
			return !slices.ContainsFunc(e.Assumptions, func(b estimate.Assumption) bool {
				return "/estimate"+b.Pointer == a.Pointer && b.Value == a.Value && b.Why == a.Why
			})
		})
	}
	for _, text := range e.Cautions {
		if !slices.Contains(s.Cautions, text) {
			s.Cautions = append(s.Cautions, text)
		}
	}
	for _, one := range e.Sources {
		if !slices.Contains(s.Sources, one) {
			s.Sources = append(s.Sources, one)
		}
	}
}

// impossible says what a wish was and why it cannot be made.
func (w *Wish) impossible(why []*fault.Fault) Impossible {
	o := &w.Order
	asked := make([]plan.JointKind, len(o.Top.Corners))
	for i := range asked {
		asked[i] = askedJoint(o, i)
	}
	out := Impossible{Species: o.Top.Species, Thickness: o.Top.Thickness, Joint: same(asked), Finish: o.Finish.System}
	for _, f := range why {
		at := *f
		at.Pointer = w.pointer(f.Pointer)
		out.Reasons = append(out.Reasons, &at)
	}
	return out
}

// pointer leads from a place in the order to the one in the request that said it: an entry of a list, or the estimate.
func (w *Wish) pointer(at string) string {
	for k, v := range varied {
		if w.place[k] < 0 {
			continue
		}
		if at == v.pointer || k == 2 && strings.HasPrefix(at, v.pointer+"/") && strings.HasSuffix(at, "/joint") {
			return fmt.Sprintf("%s/%d", v.list, w.place[k])
		}
	}
	return "/estimate" + at
}

// onceEach leaves out what says the same of the same place again.
func onceEach(list fault.List) (out fault.List) {
	for _, f := range list {
		if !slices.ContainsFunc(out, func(g *fault.Fault) bool { return *g == *f }) {
			out = append(out, f)
		}
	}
	return out
}
