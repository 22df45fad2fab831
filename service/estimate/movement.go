package estimate

import (
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
)

// MovementOrder asks for the movement of one width.
type MovementOrder struct {
	Units    measure.System
	Species  string
	Sawn     catalogue.Sawn // default flat
	Width    measure.Length
	Length   measure.Length // along the grain; 0: not asked
	Moisture MoistureOrder
	Explain  bool
}

// MovementAnswer is the movement of one width.
type MovementAnswer struct {
	Units       measure.System
	Revision    int64
	Species     string
	Sawn        catalogue.Sawn
	Moisture    Moistures
	Movement    Movement
	Assumptions []Assumption
	Warnings    []Warning
	Sources     []source.Source
	Workings    []Working
}

// Comparison is the corners part of an estimate alone.
type Comparison struct {
	Units       measure.System
	Currency    string
	Revision    int64
	PricedAsOf  catalogue.Date
	Assumptions []Assumption
	Corners     []CornerResult
	Warnings    []Warning
	Cautions    []string
	Sources     []source.Source
	Workings    []Working

	Conditioning *Conditioning

	stops bool // a piece does not pass the way to its place
}

// Move works out the movement of one width. Faults carry pointers into the request.
func Move(order MovementOrder, cat *catalogue.Snapshot) (*MovementAnswer, error) {
	w := &work{order: Order{Units: order.Units, Explain: order.Explain}, cat: cat, set: &cat.Settings, units: order.Units,
		bench: new(bench)}
	r := run{Run: Run{Name: "A", Length: order.Length, Depth: order.Width, Species: order.Species, Sawn: order.Sawn}}
	if r.Sawn == "" {
		r.Sawn = catalogue.FlatSawn
		w.assume("/sawn", string(catalogue.FlatSawn), "flat-sawn moves most: the safe side")
	}
	var wrong fault.List
	if r.species = cat.SpeciesByCode(order.Species); r.species == nil {
		wrong.Add("", unknown("/species", "species", order.Species,
			codes(cat.Species, func(s *catalogue.Species) string { return s.Code })))
	}
	if !(order.Width > 0 && order.Width <= LongestRun) {
		wrong.Add("", impossible("/width", "The width must be over 0 and at most "+w.phraseDown(LongestRun)+".", ""))
	}
	wet, err := w.moistures(order.Moisture)
	wrong.Add("/moisture", err)
	if err := wrong.Err(); err != nil {
		return nil, err
	}
	r.wet = wet
	w.warnOutside(wet)
	if err := w.moveRun(&r); err != nil {
		return nil, err
	}
	w.cite(source.CommonPractice)
	for i := range w.warnings {
		w.warnings[i].Pointer = strings.TrimPrefix(w.warnings[i].Pointer, "/top") // here the species stands at the top
	}
	return &MovementAnswer{Units: order.Units, Revision: cat.Revision, Species: order.Species, Sawn: r.Sawn, Moisture: wet,
		Movement:    r.move,
		Assumptions: w.assumptions, Warnings: w.warnings, Sources: w.sources(), Workings: w.workings}, nil
}
