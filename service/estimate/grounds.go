package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// Grounds are what an answer about a part of an estimate rests on.
type Grounds struct {
	Assumptions []Assumption
	Warnings    []Warning
	Sources     []source.Source
	Workings    []Working // only when asked for
}

func (w *work) grounds() Grounds { return Grounds{w.assumptions, w.warnings, w.sources(), w.workings} }

// alone is the work on a part that is asked by itself.
func alone(units measure.System, explain bool, cat *catalogue.Snapshot) *work {
	return &work{
		order: Order{Units: units, Explain: explain},
		cat:   cat,
		set:   &cat.Settings,
		units: units,
		bench: new(bench),
	}
}

// speciesNamed is the species of a code, or the fault that there is none.
func (w *work) speciesNamed(code string) (*catalogue.Species, error) {
	if s := w.cat.SpeciesByCode(code); s != nil {
		return s, nil
	}
	return nil, unknown(
		"/species",
		"species",
		code,
		codes(w.cat.Species, func(s *catalogue.Species) string { return s.Code }),
	)
}
