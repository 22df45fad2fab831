package options

import (
	"slices"

	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/plan"
)

// Option is a combination that can be made, with what it is judged by.
type Option struct {
	Species    string
	Wood       string
	Thickness  measure.Length
	Joint      plan.JointKind // made at every corner; empty: none, or not everywhere the same
	JointAsked plan.JointKind // at every corner; empty: not everywhere the same
	Joints     []plan.JointKind
	Finish     string // system; "none": bare wood
	FinishName string // empty: bare wood

	Total         money.Amount
	Movement      measure.Length // over the year, of the run that moves most
	Weight        measure.Mass   // of the whole top
	WholeWeight   string         // the same as papers tell it: see estimate.WholeMass
	WorkingDays   int            // 0: none are promised
	Strength      float64        // see strength, to 2 decimals; only when StrengthKnown
	StrengthKnown bool
	Hours         float64
	Warnings      []string // codes of those that are no mere information, each once

	Number      int   // place in the ranking, from 1
	Ranks       Ranks // by each criterion
	DominatedBy int   // number of the best ranked one that is in nothing worse and in something better; 0: none

	shown [criteria]float64 // what it is compared by, in the answer's units and decimals; less is better
	wish  int
}

// Wish is the place of the wish that it was, from 0.
func (o *Option) Wish() int { return o.wish }

// Of is the option as the one of a wish, by its place from 0.
func (o Option) Of(wish int) Option {
	o.wish = wish
	return o
}

// MaybeStrength is the strength, nil when it is not known.
func (o *Option) MaybeStrength() *float64 {
	if !o.StrengthKnown {
		return nil
	}
	return &o.Strength
}

// NewOption judges an estimate of a wish. The catalogue is the one that the estimate was made from.
func NewOption(w *Wish, e *estimate.Estimate, cat *catalogue.Snapshot) Option {
	o := Option{
		Species:     w.Order.Top.Species,
		Thickness:   e.Made.Thickness,
		Finish:      e.Made.Finish,
		FinishName:  e.Made.FinishName,
		Total:       e.Price.Total,
		Weight:      e.Mass,
		WholeWeight: e.WholeMass(),
		WorkingDays: e.Labour.WorkingDays,
		Hours:       e.Labour.Hours,
	}
	if s := cat.SpeciesByCode(o.Species); s != nil {
		o.Wood = s.Name
	}
	if e.Labour.NoPromise != "" {
		o.WorkingDays = 0
	}
	for i := range e.Runs {
		o.Movement = max(o.Movement, e.Runs[i].Movement.Range)
	}
	asked := make([]plan.JointKind, 0, len(e.Corners))
	for i := range e.Corners {
		if e.Corners[i].InLine == nil {
			o.Joints = append(o.Joints, e.Corners[i].Chosen.Kind)
			asked = append(asked, askedJoint(&w.Order, len(asked)))
		}
	}
	o.Joint, o.JointAsked = same(o.Joints), same(asked)
	o.Strength, o.StrengthKnown = strength(e, cat)
	o.Strength = measure.Round(o.Strength, 2)
	for i := range e.Warnings {
		if n := &e.Warnings[i]; n.Severity != estimate.Info && !slices.Contains(o.Warnings, n.Code) {
			o.Warnings = append(o.Warnings, n.Code)
		}
	}
	o.shown = o.compared(e.Units)
	return o
}

func askedJoint(order *estimate.Order, corner int) plan.JointKind {
	if kind := order.Top.Corners[corner].Joint; kind != "" {
		return kind
	}
	return estimate.AutoJoint
}

// same is what all entries are; empty when they differ, or when there is none.
func same(list []plan.JointKind) plan.JointKind {
	if len(list) == 0 || slices.ContainsFunc(list, func(k plan.JointKind) bool { return k != list[0] }) {
		return ""
	}
	return list[0]
}
