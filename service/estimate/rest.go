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

// RestOrder asks how long wood must rest in some air.
type RestOrder struct {
	Units     measure.System
	Species   string
	Sawn      catalogue.Sawn // default flat
	Thickness measure.Length // of the boards as they rest
	Making    catalogue.Climate
	Air       catalogue.Air
	OneFace   bool             // the other lies on something that keeps moisture in
	Faces     string           // as it was said: both or one; empty: both
	Within    measure.Moisture // points; 0: the shop's
	Explain   bool
}

// RestAnswer is how long wood must rest.
type RestAnswer struct {
	Units       measure.System
	Revision    int64
	Species     string
	Sawn        catalogue.Sawn
	Thickness   measure.Length
	Making      measure.Moisture
	Equilibrium measure.Moisture // of the air
	Off         measure.Moisture // making less equilibrium; positive: too wet
	Within      measure.Moisture
	Slab        Slab
	Days        DayRange // until the mean is within so many points
	Ready       bool
	Text        string
	Grounds
}

// Slab is how moisture moves through a wood, and how sure that is.
type Slab struct {
	Diffusion diffusion.Diffusion
	Low, High diffusion.Diffusion // the range that is to be expected of the species
	Surface   diffusion.Transfer  // of a bare face in still air
	wood      diffusion.Wood
}

// DayRange is days with the range that is to be expected: few with wood that lets moisture through fast.
type DayRange struct{ Low, Likely, High float64 }

// Limits of what the rest of wood is reckoned for.
const (
	thinnest    = 1 * measure.Millimetre
	thickest    = 300 * measure.Millimetre
	wettestRest = measure.Moisture(30) // above it water runs, and does not diffuse
	coldestRest = 0.0                  // °C, of the diffusion's model
	hottestRest = 60.0
)

// Rest works out how long wood must rest in some air. Faults carry pointers into the request.
func Rest(order RestOrder, cat *catalogue.Snapshot) (*RestAnswer, error) {
	w := alone(order.Units, order.Explain, cat)
	a := &RestAnswer{
		Units:     order.Units,
		Revision:  cat.Revision,
		Species:   order.Species,
		Sawn:      w.sawnOr(order.Sawn),
		Thickness: order.Thickness,
		Within:    order.Within,
	}
	var wrong fault.List
	s, err := w.speciesNamed(order.Species)
	wrong.Add("", err)
	wrong.Add("", w.checkThickness(order.Thickness))
	a.Equilibrium, err = w.settle(catalogue.Climate{IsAir: true, Air: order.Air}, "EMC of the air")
	wrong.Add("/air", err)
	if err == nil {
		wrong.Add("/air", checkRestAir(order.Air.Temperature))
	}
	a.Making, err = w.settle(order.Making, "EMC, at making")
	wrong.Add("/moisture/making", err)
	if a.Making > wettestRest {
		wrong.Add(
			"",
			impossible(
				"/moisture/making",
				fmt.Sprintf(
					"At %.4g %% the wood is above fibre saturation: its water runs before it diffuses, and no days can be told.",
					float64(a.Making),
				),
				"Have it dried below 30 % first.",
			),
		)
	}
	if err := wrong.Err(); err != nil {
		return nil, err
	}
	if a.Within == 0 {
		a.Within = w.set.ReadyWithin
		w.assume("/within", float64(a.Within), "the shop's limit (setting ready_within)")
	}
	if order.Faces == "" {
		w.assume("/faces", "both", "stock rests in stickers, with air on both faces")
	}
	if a.Slab, err = w.slab(s, (a.Making+a.Equilibrium)/2, order.Air.Temperature); err != nil {
		return nil, err
	}
	a.Off = a.Making - a.Equilibrium
	a.Days, a.Ready = a.Slab.rest(order.Thickness, order.OneFace, a.Making, a.Equilibrium, a.Within)
	a.Text = w.restText(a)
	w.explainRest(a)
	a.Grounds = w.grounds()
	return a, nil
}

func (w *work) sawnOr(sawn catalogue.Sawn) catalogue.Sawn {
	if sawn != "" {
		return sawn
	}
	w.assume("/sawn", string(catalogue.FlatSawn), "flat-sawn moves most: the safe side")
	return catalogue.FlatSawn
}

func (w *work) checkThickness(l measure.Length) error {
	if l >= thinnest && l <= thickest {
		return nil
	}
	return impossible(
		"/thickness",
		fmt.Sprintf("Slabs from %s to %s can be reckoned.", w.phraseUp(thinnest), w.phraseDown(thickest)),
		"",
	)
}

// checkRestAir refuses air that the model of diffusion does not hold for.
func checkRestAir(t measure.Temperature) error {
	if c := t.Celsius(); c >= coldestRest && c <= hottestRest {
		return nil
	}
	return impossible(
		"/temperature",
		"How fast moisture moves through wood is reckoned from 0 to 60 °C (32 to 140 °F).",
		"",
	)
}

// slab is how moisture moves through a species at a moisture and a temperature.
func (w *work) slab(s *catalogue.Species, at measure.Moisture, t measure.Temperature) (Slab, error) {
	basic, ok := wood.Basic(s)
	if !ok {
		return Slab{}, impossible(
			"/species",
			"No source in the catalogue gives the specific gravity of "+s.Name+", which decides how fast moisture moves through it.",
			"Enter it, or choose another species.",
		)
	}
	w.cite(source.WoodEMC, source.WoodDensity, s.GravityGreen.Source)
	return w.slabThrough(basic, at, t), nil
}

// slabThrough is how moisture moves through wood of a basic specific gravity: by the model, times what the shop knows of
// its own wood.
func (w *work) slabThrough(basic float64, at measure.Moisture, t measure.Temperature) Slab {
	through := diffusion.Wood{Gravity: wood.Gravity(basic, at), Moisture: at, Temperature: t}
	d, spread := diffusion.Across(through)*diffusion.Diffusion(w.set.WoodDiffusion), w.set.WoodDiffusionSpread
	slab := Slab{
		d,
		d / diffusion.Diffusion(spread),
		d * diffusion.Diffusion(spread),
		diffusion.Pass(through, at, at, diffusion.AirFilm),
		through,
	}
	w.cite(source.WoodDiffusion, source.CommonPractice)
	w.assume("/species", measure.Round(diffusion.SquareMillimetresPerDay(d), 4), fmt.Sprintf(
		"mm² a day: no table gives the diffusion of most woods, so it follows from density (%.2f), moisture (%.1f %%) and temperature (%.0f °C) alike for all ways of sawing%s; it may be %g times less or more (setting wood_diffusion_spread)",
		through.Gravity,
		float64(at),
		t.Celsius(),
		w.ownFactor(),
		spread,
	))
	w.explain(
		"diffusion across the grain",
		"f·1.5·√v·D_b·D_v / ((1 − v)·(√v·D_b + (1 − √v)·D_v))",
		diffusion.SquareMillimetresPerDay(d),
		"mm²/day",
		source.WoodDiffusion,
		Input{
			"specific gravity",
			measure.Round(through.Gravity, 4),
			"",
		},
		Input{"moisture", measure.Round(float64(at), 4), "%"},
		Input{"temperature", measure.Round(t.Celsius(), 2), "°C"},
		Input{"the shop's factor f", w.set.WoodDiffusion, ""},
	)
	return slab
}

// ownFactor says that the shop found its wood faster or slower than the model; empty where it did not.
func (w *work) ownFactor() string {
	if w.set.WoodDiffusion == 1 {
		return ""
	}
	return fmt.Sprintf(", times %g (setting wood_diffusion)", w.set.WoodDiffusion)
}

// rest is how long it takes until the mean moisture is within so many points of an equilibrium; ready says that it is.
func (s *Slab) rest(
	thickness measure.Length,
	oneFace bool,
	from, to, within measure.Moisture,
) (days DayRange, ready bool) {
	off := measure.Moisture(math.Abs(float64(from - to)))
	if off <= within+slackPoints {
		return DayRange{}, true
	}
	return s.days(thickness, oneFace, 1-float64(within/off)), false
}

// days is how long a slab takes for a share of its whole change.
func (s *Slab) days(thickness measure.Length, oneFace bool, share float64) DayRange {
	of := func(d diffusion.Diffusion) float64 {
		return diffusion.Rest{Thickness: thickness, OneFace: oneFace, Diffusion: d, Surface: s.Surface}.Days(share)
	}
	return DayRange{Low: of(s.High), Likely: of(s.Diffusion), High: of(s.Low)}
}

func (w *work) restText(a *RestAnswer) string {
	w.cite(source.Diffusion)
	if a.Ready {
		return fmt.Sprintf(
			"The wood is within %s of %.1f %%, where this air takes it: go on.",
			points(a.Within),
			float64(a.Equilibrium),
		)
	}
	side := "wetter"
	if a.Off < 0 {
		side = "drier"
	}
	return fmt.Sprintf(
		"The wood holds %.1f %%, %.1f points %s than this air makes it. Stock of %s is within %s of %.1f %% after about %s, perhaps %s to %s. Species and stack decide: let readings in the middle of several boards tell.",
		float64(
			a.Making,
		),
		math.Abs(float64(a.Off)),
		side,
		w.phrase(a.Thickness),
		points(a.Within),
		float64(a.Equilibrium),
		dayPhrase(a.Days.Likely),
		dayNumber(a.Days.Low),
		dayPhrase(a.Days.High),
	)
}

// dayNumber is a number of days for a sentence: whole from ten on, rounded up as those are that the plan of work waits.
func dayNumber(days float64) string {
	if days < 9.95 {
		return fmt.Sprintf("%.1f", days)
	}
	return fmt.Sprintf("%.0f", math.Ceil(days-1e-9))
}

func dayPhrase(days float64) string { return dayNumber(days) + " days" }

// restFormula is how the days of rest follow from a step of the air.
const restFormula = "t: 1 − Σ 2·L²·exp(−β²·D·t/a²)/(β²·(β² + L² + L)) = 1 − within/|M − M_e|, β·tan β = L = a·S/D"

func (w *work) explainRest(a *RestAnswer) {
	w.explain(
		"days of rest",
		restFormula,
		a.Days.Likely,
		"days",
		source.Diffusion,
		Input{
			"moisture at making M",
			measure.Round(float64(a.Making), 4),
			"%",
		},
		Input{"equilibrium M_e", measure.Round(float64(a.Equilibrium), 4), "%"},
		Input{
			"thickness",
			measure.Round(a.Thickness.Millimetres(), 4),
			"mm",
		},
		Input{"diffusion D", diffusion.SquareMillimetresPerDay(a.Slab.Diffusion), "mm²/day"},
		Input{"surface S", a.Slab.Surface.MillimetresPerDay(), "mm/day"},
		Input{"within", float64(a.Within), "points"},
	)
}
