package options

import (
	"cmp"
	"math"
	"slices"

	"seamwright/service/measure"
)

// Criterion is what options are ranked by.
type Criterion int

// The criteria: of all but strength less is better.
const (
	ByPrice Criterion = iota
	ByMovement
	ByWeight
	ByDays
	ByStrength
	criteria int = iota
)

// Words are the criteria as a request names them, in their order.
func Words() []string { return []string{"price", "movement", "weight", "days", "strength"} }

// CriterionOf is a word's criterion; price for none.
func CriterionOf(word string) Criterion { return Criterion(max(slices.Index(Words(), word), 0)) }

// Ranks are the places by each criterion, from 1; equals share the better one.
type Ranks [criteria]int

// compared is what an option is compared by. The figures are rounded as the answer shows them, so that what looks equal
// is
// equal; what is not known, or not promised, is worse than anything.
func (o *Option) compared(units measure.System) (x [criteria]float64) {
	x[ByPrice] = o.Total.Float()
	x[ByMovement] = o.Movement.Number(units)
	x[ByWeight] = o.Weight.Number(units)
	if x[ByDays] = float64(o.WorkingDays); o.WorkingDays == 0 {
		x[ByDays] = math.Inf(1)
	}
	if x[ByStrength] = math.Inf(1); o.StrengthKnown {
		x[ByStrength] = -o.Strength
	}
	return x
}

// Rank sorts options by a criterion, equals by the others in their order and then as they were combined, and fills in
// their
// numbers, their ranks and what dominates them.
func Rank(list []Option, by Criterion) {
	slices.SortStableFunc(list, func(a, b Option) int {
		if c := cmp.Compare(a.shown[by], b.shown[by]); c != 0 {
			return c
		}
		return slices.Compare(a.shown[:], b.shown[:])
	})
	for i := range list {
		list[i].Number, list[i].DominatedBy = i+1, 0
		for k := range list {
			if dominates(&list[k], &list[i]) {
				list[i].DominatedBy = k + 1
				break
			}
		}
		for c := range criteria {
			list[i].Ranks[c] = 1
			for k := range list {
				if list[k].shown[c] < list[i].shown[c] {
					list[i].Ranks[c]++
				}
			}
		}
	}
}

// dominates says whether a is in nothing worse than b and in something better.
func dominates(a, b *Option) bool {
	better := false
	for c := range criteria {
		if a.shown[c] > b.shown[c] {
			return false
		}
		better = better || a.shown[c] < b.shown[c]
	}
	return better
}
