package estimate

import (
	"seamwright/service/catalogue"
	"seamwright/service/diffusion"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// usualHeart is how far the staves of a slab lie from the heart of their tree. Common practice.
const usualHeart = 100 * measure.Millimetre

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
