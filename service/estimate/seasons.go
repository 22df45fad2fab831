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

// usualHeart is how far the staves of a slab lie from the heart of their tree. Common practice.
const usualHeart = 100 * measure.Millimetre

// usualAir is the temperature at which wood is reckoned where nobody says one.
const usualAir = measure.Temperature(20)

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
		wrong.Add("", impossible("/width", "The width must be over 0 and at most "+w.phrase(LongestRun)+".", ""))
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

// air settles what the air of each month makes of wood, above and below.
func (y *yearOf) air() error {
	o := y.order
	switch {
	case (len(o.Months) > 0) == (o.Place != ""):
		return impossible("", "A year is given by twelve months or by a place.", `Send either "months" or "place".`)
	case o.Place != "":
		return y.atPlace()
	}
	var wrong fault.List
	warm := 0.0
	y.temperature = usualAir
	for k := range o.Months {
		m, err := y.settle(o.Months[k], fmt.Sprintf("EMC, month %d", k+1))
		if err == nil && o.Months[k].IsAir {
			warm += o.Months[k].Air.Temperature.Celsius()
		}
		wrong.Add(fmt.Sprintf("/months/%d", k), err)
		wrong.Add(fmt.Sprintf("/months/%d", k), tooWetToDiffuse(m))
		y.top[k] = float64(m)
	}
	if all := countAir(o.Months); all == len(o.Months) {
		y.temperature = min(max(measure.Celsius(warm/float64(all)), coldestRest), hottestRest)
	} else {
		y.assumeTemperature("/months")
	}
	y.under = y.top
	wrong.Add("", y.below())
	return wrong.Err()
}

func countAir(all []catalogue.Climate) (n int) {
	for i := range all {
		if all[i].IsAir {
			n++
		}
	}
	return n
}

func (y *yearOf) assumeTemperature(pointer string) {
	y.assume(
		pointer,
		usualAir.Celsius(),
		"°C, at which moisture is reckoned to move: the year names no temperature of each month",
	)
}

// atPlace takes the months of a place of the catalogue.
func (y *yearOf) atPlace() error {
	p, names := y.cat.PlaceNamed(y.order.Place), codes(y.cat.Places, func(p *catalogue.Place) string { return p.Code })
	if p == nil {
		return unknown("/place", "place", y.order.Place, names)
	}
	for k, m := range p.Months {
		y.top[k] = float64(m)
	}
	y.under, y.temperature = y.top, usualAir
	y.assumeTemperature("/place")
	y.cite(p.Source)
	y.warn(
		"outdoor_year",
		Info,
		"/place",
		"The published equilibria of "+p.Name+" are those of wood outdoors under cover. Heated and cooled rooms are drier in winter: give their twelve months for a top that stands indoors.",
	)
	if !p.Verified {
		y.warn(
			"place_remembered",
			Caution,
			"/place",
			"The months of "+p.Name+" were written down from memory of the table named as their source; check them before you rely on them.",
		)
	}
	return y.below()
}

// below takes another air at the underside.
func (y *yearOf) below() error {
	if y.order.Below == nil {
		return nil
	}
	m, err := y.settle(*y.order.Below, "EMC below")
	if err == nil {
		err = tooWetToDiffuse(m)
	}
	for k := range y.under {
		y.under[k] = float64(m)
	}
	return fault.At("/below", err)
}

func tooWetToDiffuse(m measure.Moisture) error {
	if m <= wettestRest {
		return nil
	}
	return impossible(
		"",
		fmt.Sprintf(
			"Wood comes to %.1f %% there, above fibre saturation: what water does then is not reckoned.",
			float64(m),
		),
		"",
	)
}

// made settles how wet the wood was when it was made, and by which laws it moves.
func (y *yearOf) made() (err error) {
	if y.order.Making != nil {
		if y.making, err = y.settle(*y.order.Making, "EMC, at making"); err != nil {
			return fault.At("/moisture/making", err)
		}
	} else {
		sum := 0.0
		for _, m := range y.top {
			sum += m / 12
		}
		y.making = measure.Moisture(sum)
		y.assume(
			"/moisture/making/content",
			measure.Round(sum, 2),
			"the mean of the year; measure the wood before you cut",
		)
	}
	var ok bool
	if y.laws, ok = wood.LawsOf(y.species, y.order.sawn()); !ok {
		return impossible(
			"/species",
			"No source in the catalogue gives the movement of "+y.species.Name+" sawn \""+string(y.order.sawn())+"\".",
			"Choose another way of sawing or another species.",
		)
	}
	y.noteRemembered(y.species, y.order.sawn())
	if y.laws.HasCoefficient() {
		y.cite(source.WoodCoefficients)
	}
	if y.laws.HasShrinkage() {
		y.cite(source.WoodShrinkageLong)
	}
	return nil
}

func (o *SeasonsOrder) sawn() catalogue.Sawn {
	if o.Sawn == "" {
		return catalogue.FlatSawn
	}
	return o.Sawn
}

// through sends the year through the slab, three times: with the wood as it is expected, slow and fast.
func (y *yearOf) through(a *SeasonsAnswer) (err error) {
	a.Making = y.making
	low, high := y.top[0], y.top[0]
	for _, m := range y.top {
		low, high = min(low, m), max(high, m)
	}
	if a.Slab, err = y.slab(y.species, measure.Moisture((low+high)/2), y.temperature); err != nil {
		return err
	}
	coat := y.coating()
	pass := func(z diffusion.Resistance) diffusion.Transfer {
		return diffusion.Pass(a.Slab.wood, measure.Moisture(low), measure.Moisture(high), z)
	}
	a.Surface = [2]diffusion.Transfer{pass(diffusion.AirFilm + coat), pass(diffusion.AirFilm)}
	if y.work.order.Finish.Faces == BothFaces {
		a.Surface[1] = a.Surface[0]
	}
	y.cite(source.Diffusion)
	ring := y.rings()
	of := func(d diffusion.Diffusion) SlabYear { return y.reckon(a, d, ring) }
	a.Year, a.Low, a.High = of(a.Slab.Diffusion), of(a.Slab.Low), of(a.Slab.High)
	y.warnBelow(a)
	a.Bound = Swing{y.change(measure.Moisture(low)), y.change(measure.Moisture(high))}
	return nil
}

// change is that of the width since making.
func (y *yearOf) change(to measure.Moisture) measure.Length {
	return y.order.Width * measure.Length(y.laws.Strain(y.making, to))
}

// reckon is a year with one diffusion.
func (y *yearOf) reckon(
	a *SeasonsAnswer,
	d diffusion.Diffusion,
	ring func(measure.Moisture) (cup, ripple measure.Length),
) (out SlabYear) {
	slab := diffusion.Slab{Thickness: a.Thickness, Diffusion: d, Top: a.Surface[0], Under: a.Surface[1]}
	year := slab.Year(y.top, y.under)
	out.Lag, out.Damping = year.Lag, year.Damping
	for k := range out.Months {
		m := measure.Moisture(year.Mean[k])
		change := y.change(m)
		cup, ripple := ring(m)
		cup += diffusion.Sagitta(y.curvature(m, year.Slope[k]), a.Width)
		out.Months[k] = SlabMonth{measure.Moisture(y.top[k]), m, change, cup, ripple}
		if k == 0 {
			out.Swing = Swing{change, change}
		}
		out.Swing = Swing{min(out.Swing.Least, change), max(out.Swing.Greatest, change)}
		if magnitude(cup) > magnitude(out.Cup) {
			out.Cup = cup
		}
	}
	return out
}

// curvature is that of a free slab whose moisture has a slope over the thickness, points a metre: 12/l³·∫ ε·(x − l/2) dx
// with the strain as straight as the moisture, per metre.
func (y *yearOf) curvature(at measure.Moisture, slope float64) float64 {
	return y.laws.Strain(at-0.5, at+0.5) * slope
}

// coating is the resistance of the finish, with all its coats.
func (y *yearOf) coating() diffusion.Resistance {
	if y.finish == nil {
		return 0
	}
	f, percent := y.finish.Finish, 0.0
	switch {
	case y.order.Excluding != nil:
		percent = *y.order.Excluding
	case f.Excluding > 0:
		percent = f.Excluding
		y.cite(source.FinishExcluding)
		y.assume(
			"/finish/excluding",
			percent,
			"percent of the moisture that its usual coats keep out over 14 days of the published test (catalogue)",
		)
	default:
		y.assume(
			"/finish/excluding",
			0.0,
			"no source in the catalogue says what this finish keeps out: the wood follows the air as bare wood does, which is the most it moves; penetrating oils that were tested kept out 0 to 2 % over 14 days",
		)
	}
	z := diffusion.Coating(percent, excludingDays)
	if usual := f.Coats; usual > 0 && y.order.Excluding == nil {
		z *= diffusion.Resistance(float64(y.coats) / float64(usual))
	}
	return z
}

// excludingDays is how long the published test lasts whose figures the catalogue keeps.
const excludingDays = 14

// rings is what the growth rings of the staves do at a moisture: a stave whose heart lies d away bends by
// κ = 2·(ε_T − ε_R)/d, towards the heart when it swells. Staves that are turned alike bend the whole slab, staves that
// alternate only themselves.
//
// Source: plane trigonometry of rings round a heart.
func (y *yearOf) rings() func(measure.Moisture) (cup, ripple measure.Length) {
	none := func(measure.Moisture) (measure.Length, measure.Length) { return 0, 0 }
	flat, knownFlat := wood.LawsOf(y.species, catalogue.FlatSawn)
	quarter, knownQuarter := wood.LawsOf(y.species, catalogue.QuarterSawn)
	if s := y.order.sawn(); s != catalogue.FlatSawn && s != catalogue.MixedSawn || !knownFlat || !knownQuarter {
		return none
	}
	heart, stave, turned := y.order.Heart, y.order.Stave, y.order.Rings
	if heart == 0 {
		heart = usualHeart
		y.assume(
			"/heart_distance",
			heart,
			"usual distance of a flat-sawn board from the heart of its tree (common practice): staves from further out cup less",
		)
	}
	if stave == 0 {
		stave = y.set.StaveWidth
		y.assume("/stave_width", stave, "the shop's widest stave (setting stave_width)")
	}
	if turned == "" {
		turned = RingsAlternate
		y.assume(
			"/rings",
			string(turned),
			"staves turned by turns bend against each other: the slab stays flat but for a ripple",
		)
	}
	y.cite(source.PlaneTrigonometry)
	side := map[Rings]measure.Length{RingsBarkUp: -1, RingsHeartUp: 1}[turned] // 0: they alternate
	return func(m measure.Moisture) (cup, ripple measure.Length) {
		kappa := 2 * (flat.Strain(y.making, m) - quarter.Strain(y.making, m)) / heart.Metres()
		return side * diffusion.Sagitta(
				kappa,
				y.order.Width,
			), magnitude(
				diffusion.Sagitta(kappa, min(stave, y.order.Width)),
			)
	}
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
