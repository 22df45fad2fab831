package quote

import (
	"seamwright/service/money"
)

// Difference explains how one revision's money became another's.
type Difference struct {
	Bill   []Moved // lines of the bill that differ, those of the later revision first, in its order
	Labour []Moved // steps that differ
	Build  []Step  // every line of the build-up, in order
}

// Moved is a line that differs. Before and After differ by exactly ByQuantity plus ByRate.
type Moved struct {
	Code       string
	Name       string
	Before     money.Amount // zero: the line is new
	After      money.Amount // zero: the line is gone
	RateBefore money.UnitPrice
	RateAfter  money.UnitPrice
	ByQuantity money.Amount // what the other quantity costs, at the rate before
	ByRate     money.Amount // what the other rate costs, for the quantity after
}

// Step is a line of the build-up, before and after.
type Step struct {
	Name          string
	Before, After money.Amount
}

// Change is what the step moved by.
func (s Step) Change() money.Amount { return s.After.Minus(s.Before) }

// Explain compares the figures of two revisions, line by line.
func Explain(before, after *Figures) Difference {
	d := Difference{Bill: movedLines(before.Bill, after.Bill), Labour: movedLines(before.Labour, after.Labour)}
	for _, s := range after.Build {
		d.Build = append(d.Build, Step{s.Name, before.Find(s.Name), s.Amount})
	}
	return d
}

func movedLines(before, after []Line) (moved []Moved) {
	was := make(map[string]*Line, len(before))
	for i := range before {
		was[before[i].Code] = &before[i]
	}
	for i := range after {
		now := &after[i]
		old := was[now.Code]
		delete(was, now.Code)
		if old == nil {
			moved = append(moved, Moved{Code: now.Code, Name: now.Name, After: now.Amount, RateAfter: now.Rate,
				ByQuantity: now.Amount})
		} else if old.Amount.Cmp(now.Amount) != 0 || old.Rate.Cmp(now.Rate) != 0 {
			moved = append(moved, split(old, now))
		}
	}
	for i := range before {
		if old := &before[i]; was[old.Code] == old {
			moved = append(moved, Moved{Code: old.Code, Name: old.Name, Before: old.Amount, RateBefore: old.Rate,
				ByQuantity: money.Amount{}.Minus(old.Amount)})
		}
	}
	return moved
}

// split parts a line's difference into what the quantity and what the rate did:
//
//	after − before = (q₁·r₀ − q₀·r₀) + (q₁·r₁ − q₁·r₀)
//
// with q₁·r₀ rounded to the cent, so that the two parts add up exactly. Without a rate after, all of it is the rate's.
func split(old, now *Line) Moved {
	m := Moved{Code: now.Code, Name: now.Name, Before: old.Amount, After: now.Amount, RateBefore: old.Rate,
		RateAfter: now.Rate}
	between := old.Amount
	if r := now.Rate.Float(); r > 0 {
		between = money.RoundAmount(now.Amount.Float() * old.Rate.Float() / r)
	}
	m.ByQuantity, m.ByRate = between.Minus(old.Amount), now.Amount.Minus(between)
	return m
}
