package orderform

import (
	"math"
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/money"
	"seamwright/service/options"
)

// Bounds of a comparison: what is worked out for one, and what is shown of it.
const (
	MostTried = 5
	MostShown = 3
)

// Compared is one way to have the customer's top, beside the others.
type Compared struct {
	Value, Title string // as the form offers it
	Yours        bool   // it is the one that was asked for
	Exact        bool
	Total        money.Amount // of an exact price
	From, To     money.Amount
	Moves        string // by how much it moves over the year, at most about
	WorkingDays  int    // 0: none are promised
}

// Others are the customer's top as it was asked for, and after it the same in the other woods, or the nearest other
// thicknesses, on offer: MostTried at most. None where the shop compares nothing.
func (f *Form) Others(r *Request) []Request {
	c := f.chosen(r)
	list := []Request{*r}
	switch f.Compares {
	case "wood":
		list[0].Wood = c.wood.Word
		for _, w := range f.Woods {
			if w.Word != c.wood.Word {
				list = append(list, *r)
				list[len(list)-1].Wood = w.Word
			}
		}
	case "thickness":
		list[0].Thickness = c.thickness.Word
		others := slices.Clone(f.Thicknesses)
		off := func(t Thickness) float64 { return math.Abs(float64(t.exact - c.thickness.exact)) }
		slices.SortStableFunc(others, func(a, b Thickness) int {
			switch {
			case off(a) < off(b):
				return -1
			case off(a) > off(b):
				return 1
			}
			return 0
		})
		for _, t := range others {
			if t.Word != c.thickness.Word {
				list = append(list, *r)
				list[len(list)-1].Thickness = t.Word
			}
		}
	default:
		return nil
	}
	return list[:min(len(list), MostTried)]
}

// Tried is one of the others, worked out; nil where it cannot be made.
type Tried struct {
	Order    estimate.Order
	Estimate *estimate.Estimate
}

// Compare shows, by price, the top that was asked for and two of the others. Of woods they are the cheapest and the one
// that moves least, none that is in nothing better than another one and in something worse (options.Rank). Thicknesses
// are chosen by their looks, which no figure tells: the two nearest are shown, whatever they cost. The first of those that
// were tried is the one that was asked for; without it nothing is compared.
func (f *Form) Compare(wanted []Request, tried []Tried, cat *catalogue.Snapshot) []Compared {
	if len(tried) == 0 || tried[0].Estimate == nil {
		return nil
	}
	var list []options.Option
	var of []int
	for i := range tried {
		if e := tried[i].Estimate; e != nil {
			list = append(list, options.NewOption(&options.Wish{Order: tried[i].Order}, e, cat).Of(i))
		}
	}
	options.Rank(list, options.ByPrice)
	show := map[int]bool{0: true}
	if f.Compares == "thickness" {
		for i := range tried {
			show[i] = show[i] || tried[i].Estimate != nil && len(show) < MostShown
		}
	}
	for _, by := range []options.Criterion{options.ByPrice, options.ByMovement, options.ByPrice} {
		if best := next(list, by, show); best >= 0 && len(show) < MostShown {
			show[best] = true
		}
	}
	for i := range list {
		if show[list[i].Wish()] {
			of = append(of, list[i].Wish())
		}
	}
	out := make([]Compared, len(of))
	for k, i := range of {
		out[k] = f.compared(&wanted[i], tried[i].Estimate, i == 0)
	}
	return out
}

// next is the wish that is best by a criterion of those that nothing dominates and that are not shown yet; -1 for none.
func next(list []options.Option, by options.Criterion, shown map[int]bool) int {
	best, place := -1, len(list)+1
	for i := range list {
		if o := &list[i]; o.DominatedBy == 0 && !shown[o.Wish()] && o.Ranks[by] < place {
			best, place = o.Wish(), o.Ranks[by]
		}
	}
	return best
}

func (f *Form) compared(r *Request, est *estimate.Estimate, yours bool) Compared {
	c := f.chosen(r)
	o := Compared{Value: c.wood.Word, Title: c.wood.Title, Yours: yours, Exact: f.Exact, Moves: f.phrase(f.moves(est)),
		Total: est.Price.Total.RoundToStep(f.roundTo), WorkingDays: est.Labour.WorkingDays}
	if f.Compares == "thickness" {
		o.Value, o.Title = c.thickness.Word, c.thickness.Title
	}
	o.From, o.To = f.priced(o.Total)
	return o
}
