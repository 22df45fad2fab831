package estimate

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/diffusion"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// SeasonsOrder asks what the months of a year do to a slab.
type SeasonsOrder struct {
	Units     measure.System
	Species   string
	Sawn      catalogue.Sawn // default flat
	Width     measure.Length
	Thickness measure.Length
	Making    *catalogue.Climate  // nil: the year's mean
	Months    []catalogue.Climate // twelve, or none
	Place     string              // of the catalogue, instead of months
	Below     *catalogue.Climate  // air at the underside, all year; nil: as above
	Finish    FinishOrder
	Excluding *float64 // percent that the finish keeps out in the published test; nil: as the catalogue says
	Rings     Rings
	Stave     measure.Length // 0: the shop's
	Heart     measure.Length // from the slab to the heart of the tree; 0: usual
	Explain   bool
}

// Rings says how the staves of a slab are turned.
type Rings string

// The ways.
const (
	RingsAlternate Rings = "alternating"
	RingsBarkUp    Rings = "bark_up"
	RingsHeartUp   Rings = "heart_up"
)

// SeasonsAnswer is a year of a slab that has forgotten how it was made.
type SeasonsAnswer struct {
	Units     measure.System
	Revision  int64
	Species   string
	Sawn      catalogue.Sawn
	Width     measure.Length
	Thickness measure.Length
	Making    measure.Moisture
	Slab      Slab
	Surface   [2]diffusion.Transfer // of the top and of the underside
	Year      SlabYear
	Low, High SlabYear // with wood that is slow, and fast
	Bound     Swing    // if the wood followed the air at once
	Text      string
	Grounds
}

// SlabYear is a year with what it does to the slab's width and shape.
type SlabYear struct {
	Months  [12]SlabMonth
	Lag     float64 // days
	Damping float64
	Swing   Swing
	Cup     measure.Length // the greatest, to either side
}

// SlabMonth is one month, in its middle.
type SlabMonth struct {
	Equilibrium measure.Moisture // of the air above
	Mean        measure.Moisture
	Change      measure.Length // of the width since making; positive is swelling
	Cup         measure.Length // edges over the middle; negative: the middle stands up
	Ripple      measure.Length // of each stave, by its rings
}

// Swing is the least and the greatest change of width since making.
type Swing struct{ Least, Greatest measure.Length }

// Range is what lies between.
func (s Swing) Range() measure.Length { return s.Greatest - s.Least }

// Seasons works out what a year does to a slab. Faults carry pointers into the request.
func Seasons(order SeasonsOrder, cat *catalogue.Snapshot) (*SeasonsAnswer, error) {
	w := alone(order.Units, order.Explain, cat)
	a := &SeasonsAnswer{Units: order.Units, Revision: cat.Revision, Species: order.Species, Sawn: w.sawnOr(order.Sawn),
		Width: order.Width, Thickness: order.Thickness}
	y := yearOf{work: w, order: &order}
	var wrong fault.List
	var err error
	y.species, err = w.speciesNamed(order.Species)
	wrong.Add("", err)
	wrong.Add("", w.checkThickness(order.Thickness))
	if !(order.Width > 0 && order.Width <= LongestRun) {
		wrong.Add("", impossible("/width", "The width must be over 0 and at most "+w.phraseDown(LongestRun)+".", ""))
	}
	wrong.Add("", y.air())
	w.order.Finish = order.Finish
	wrong.Add("", w.resolveFinish())
	if err := wrong.Err(); err != nil {
		return nil, err
	}
	if err := y.made(); err != nil {
		return nil, err
	}
	if err := y.through(a); err != nil {
		return nil, err
	}
	a.Text = y.text(a)
	y.explainYear(a)
	a.Grounds = w.grounds()
	return a, nil
}

// yearOf is the work on a year.
type yearOf struct {
	*work
	order       *SeasonsOrder
	species     *catalogue.Species
	laws        wood.Laws
	top, under  diffusion.Months
	temperature measure.Temperature
	making      measure.Moisture
}

// warnBelow warns of heat or steam at the underside.
func (y *yearOf) warnBelow(a *SeasonsAnswer) {
	if y.order.Below == nil {
		return
	}
	y.warn("heat_or_steam_below", Serious, "/below", fmt.Sprintf(
		"The air below takes the underside to %.1f %%, whatever the room does: the slab there cups by up to %s, and its finish below is tried hardest. Shield it with a vapour-tight sheet and an air gap, let warm air out to the front, and finish the underside and every cut edge. What the appliance's maker asks for goes before.",
		y.under[0],
		y.phraseUp(magnitude(a.Year.Cup)),
	))
}

func (y *yearOf) text(a *SeasonsAnswer) string {
	s := fmt.Sprintf(
		"The mean of the slab makes %.0f %% of the air's yearly swing, about %.0f days after it. Its width of %s changes by %s over the year, where wood that followed the air at once would change by %s.",
		100*a.Year.Damping,
		a.Year.Lag,
		y.phrase(a.Width),
		y.phrase(a.Year.Swing.Range()),
		y.phrase(a.Bound.Range()),
	)
	if a.Surface[0] != a.Surface[1] {
		s += fmt.Sprintf(
			" Finished on the top alone it cups by up to %s; finished on both faces alike it would not.",
			y.phraseUp(magnitude(a.Year.Cup)),
		)
	}
	return s
}

func (y *yearOf) explainYear(a *SeasonsAnswer) {
	inputs := []Input{
		{"thickness", measure.Round(a.Thickness.Millimetres(), 4), "mm"},
		{"diffusion D", diffusion.SquareMillimetresPerDay(a.Slab.Diffusion), "mm²/day"},
		{
			"surface S of the top",
			a.Surface[0].MillimetresPerDay(),
			"mm/day",
		},
		{"surface S of the underside", a.Surface[1].MillimetresPerDay(), "mm/day"},
	}
	y.explain(
		"damping of the year's wave",
		"|(A + B)·(1 − e^{−q·l})/(q·l)|, q = √(i·ω/D), A and B from both faces",
		a.Year.Damping,
		"",
		source.Diffusion,
		inputs...)
	y.explain(
		"lag of the year's wave",
		"−arg((A + B)·(1 − e^{−q·l})/(q·l))·365.25/2π",
		a.Year.Lag,
		"days",
		source.Diffusion,
		inputs...)
	y.explain(
		"greatest cup",
		"κ·w²/8, κ = 12/l³·∫ ε·(x − l/2) dx",
		math.Abs(a.Year.Cup.In(y.units)),
		y.units.String(),
		source.PlaneTrigonometry,
		append(inputs, Input{"width w", measure.Round(a.Width.In(y.units), 4), y.units.String()})...)
}
