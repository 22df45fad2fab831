// Package options sets the same top side by side in several species, thicknesses, joints and finishes: which
// combinations there are, what each is worth, and which of them no one should take. It is pure; whoever calls it makes
// the estimates.
package options

import (
	"fmt"
	"slices"

	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/plan"
)

// Most is how many combinations are compared at once.
const Most = 200

// Lists are what is to be varied; an empty list leaves the order as it is.
type Lists struct {
	Species     []string
	Thicknesses []measure.Length
	Joints      []plan.JointKind // at every corner; may hold estimate.AutoJoint
	Finishes    []string         // systems; "none" is bare wood
}

// Wish is one combination: the order, and which entries of the lists it has.
type Wish struct {
	Order estimate.Order
	place [4]int // in Lists; -1: as the order has it
}

// The lists' names in a request, and what of the order each varies.
var varied = [4]struct{ list, pointer string }{
	{
		"/species",
		"/top/species",
	},
	{"/thicknesses", "/top/thickness"},
	{"/joints", "/top/corners"},
	{"/finishes", "/finish/system"},
}

// Combine makes every combination of the lists, the last list varying fastest. Faults point into the lists: an entry
// that
// stands there twice, a list that could change nothing, and more combinations than Most.
func Combine(order *estimate.Order, l *Lists) ([]Wish, error) {
	if err := l.check(order); err != nil {
		return nil, err
	}
	sizes := [4]int{len(l.Species), len(l.Thicknesses), len(l.Joints), len(l.Finishes)}
	count := 1
	for _, n := range sizes {
		count *= max(n, 1)
	}
	if count > Most {
		return nil, &fault.Fault{
			Kind:   fault.Impossible,
			Detail: fmt.Sprintf("The lists make %d combinations; at most %d are compared at once.", count, Most),
			Fix:    "Shorten the lists, or send several sets.",
		}
	}
	wishes := make([]Wish, count)
	for i := range wishes {
		w := &wishes[i]
		rest := i
		for k := len(sizes) - 1; k >= 0; k-- {
			if w.place[k] = -1; sizes[k] > 0 {
				w.place[k], rest = rest%sizes[k], rest/sizes[k]
			}
		}
		w.Order = l.put(order, w.place)
	}
	return wishes, nil
}

// put is the order with the entries of the lists. It shares no list that it changes with the order.
func (l *Lists) put(order *estimate.Order, at [4]int) estimate.Order {
	o := *order
	if at[0] >= 0 {
		o.Top.Species = l.Species[at[0]]
	}
	if at[1] >= 0 {
		o.Top.Thickness = l.Thicknesses[at[1]]
	}
	if at[2] >= 0 {
		o.Top.Corners = slices.Clone(order.Top.Corners)
		for i := range o.Top.Corners {
			o.Top.Corners[i].Joint = l.Joints[at[2]]
		}
	}
	if at[3] >= 0 && l.Finishes[at[3]] != order.Finish.System {
		o.Finish.System, o.Finish.Coats = l.Finishes[at[3]], 0 // as many coats as is usual for it
	}
	return o
}

func (l *Lists) check(order *estimate.Order) error {
	var found fault.List
	repeated(&found, "/species", l.Species)
	repeated(&found, "/thicknesses", l.Thicknesses)
	repeated(&found, "/joints", l.Joints)
	repeated(&found, "/finishes", l.Finishes)
	if len(found) > 0 {
		return found.Err()
	}
	if len(l.Joints) > 0 && len(order.Top.Corners) == 0 {
		found = append(
			found,
			&fault.Fault{
				Kind:    fault.Impossible,
				Pointer: "/joints",
				Detail:  "This top has no corner, so there is no joint to vary.",
				Fix:     "Leave joints out.",
			},
		)
	}
	own := func(r estimate.Run) bool { return r.Species == "" }
	if len(l.Species) > 0 && len(order.Top.Runs) > 0 && !slices.ContainsFunc(order.Top.Runs, own) {
		found = append(
			found,
			&fault.Fault{
				Kind:    fault.Impossible,
				Pointer: "/species",
				Detail:  "Every run names a species of its own, so that another one of the top would change nothing.",
				Fix:     "Leave the species of the runs out.",
			},
		)
	}
	return found.Err()
}

// repeated notes entries that stood in the list before.
func repeated[T comparable](found *fault.List, list string, entries []T) {
	for i, e := range entries {
		if first := slices.Index(entries, e); first < i {
			*found = append(
				*found,
				&fault.Fault{
					Kind:    fault.Invalid,
					Pointer: fmt.Sprintf("%s/%d", list, i),
					Detail:  fmt.Sprintf("The same stands in the list before, as number %d.", first+1),
				},
			)
		}
	}
}
