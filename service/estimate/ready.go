package estimate

import (
	"fmt"
	"math"
	"time"

	"seamwright/service/catalogue"
	"seamwright/service/diffusion"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// Conditioning says whether the wood is ready to be made up, and how long it must rest first.
type Conditioning struct {
	Target    measure.Moisture // the middle of the service range
	Off       measure.Moisture // moisture at making less the target; positive: too wet
	Ready     bool             // near enough to go on
	Promise   bool             // working days can be promised
	Thickness measure.Length   // of the stock as it rests
	Days      RestDays         // of rest; all 0 for wood that is ready
	Humidity  measure.Humidity // of air at restTemperature that takes the wood there; 0: ready, or no air does
	Text      string
	Stock     *Stock // where the order tells of it
}

// RestDays is how long wood rests, in whole days: what the labour plan reckons with, and the range that is to be
// expected.
type RestDays struct{ Least, Likely, Most int }

// restTemperature is that of the air wood is said to rest in.
const restTemperature = measure.Temperature(21)

const slackPoints = 1e-9 // a moisture computed to be at a limit is at it

// refuseWet refuses wood that is too wet to be worked at all.
func (w *work) refuseWet(making measure.Moisture) error {
	if making <= w.set.ReadyRefused+slackPoints {
		return nil
	}
	return impossible("/making", fmt.Sprintf("The wood holds %.1f %% of moisture: above %.0f %% no top can be made of it, nor its days and movement told.", float64(making), float64(w.set.ReadyRefused)),
		"Have it dried: in stickers in moving air under a roof, or in a kiln. Measure again in several boards, and ask for the estimate with that reading.")
}

// condition works out whether the wood is ready. What it finds is about the wood, whatever the joints: its warning
// stands first.
func (w *work) condition() {
	wet := w.runs[0].wet // the same for all runs
	c := Conditioning{Target: (wet.Dry + wet.Humid) / 2, Promise: true, Thickness: w.stockThickness()}
	c.Off = wet.Making - c.Target
	off := measure.Moisture(math.Abs(float64(c.Off)))
	if c.Ready = off <= w.set.ReadyWithin+slackPoints; c.Ready {
		c.Text = fmt.Sprintf("The wood is within %s of %.1f %%, the middle of its service range: go on.",
			points(w.set.ReadyWithin), float64(c.Target))
		w.conditioning = c
		w.warnOutside(wet)
		return
	}
	c.Promise = off <= w.set.ReadyPromised+slackPoints
	days, slab := w.restDays(restWay{from: wet.Making, to: c.Target, target: c.Target}, restTemperature, c.Thickness)
	c.Days = days.whole()
	side, state := "over", "wet"
	if c.Off < 0 {
		side, state = "under", "dry"
	}
	c.Text = fmt.Sprintf("The wood is made at %.1f %%, %.1f points %s %.1f %%, the middle of its service range. Let the stock of %s rest in stickers%s: about %s (%d to %d) until it is within %s of it.",
		float64(wet.Making), float64(off), side, float64(c.Target), w.phrase(c.Thickness), w.restAir(&c),
		plural(c.Days.Likely, "day"), c.Days.Least, c.Days.Most, points(w.set.ReadyWithin))
	c.Text += " Thickness, species and air decide; readings tell when. All movement here is that of wood made up as " + state + " as it was said to be: measure when it has rested and ask again."
	w.conditioning = c
	w.cite(source.Diffusion)
	first := Warning{Code: "wood_must_rest", Severity: Caution, Pointer: "/moisture/making", Text: c.Text}
	if !c.Promise {
		first.Code, first.Severity = "wood_not_ready", Serious
		first.Text += " No day can be promised with this wood, and no joint makes up for it."
	}
	w.warnings = append([]Warning{first}, w.warnings...)
	w.explain("days of rest", restFormula, days.Likely, "days", source.Diffusion,
		Input{"moisture at making M", measure.Round(float64(wet.Making), 4), "%"},
		Input{"target M_e", measure.Round(float64(c.Target), 4), "%"},
		Input{"thickness", measure.Round(c.Thickness.Millimetres(), 4), "mm"},
		Input{"diffusion D", measure.Round(diffusion.SquareMillimetresPerDay(slab.Diffusion), 4), "mm²/day"},
		Input{"surface S", measure.Round(slab.Surface.MillimetresPerDay(), 4), "mm/day"},
		Input{"within", float64(w.set.ReadyWithin), "points"})
}

// points are percentage points in words.
func points(m measure.Moisture) string {
	if m == 1 {
		return "1 point"
	}
	return fmt.Sprintf("%g points", float64(m))
}

// restAir says in what air the wood comes to rest, and notes it.
func (w *work) restAir(c *Conditioning) string {
	humidity, ok := wood.AirFor(c.Target, restTemperature)
	if !ok {
		return ""
	}
	c.Humidity = humidity
	at := fmt.Sprintf("%.0f °C", restTemperature.Celsius())
	if w.units == measure.Inches {
		at = fmt.Sprintf("%.0f °F", restTemperature.Fahrenheit())
	}
	return fmt.Sprintf(", air on all sides at about %.0f %% of relative humidity and %s", float64(humidity), at)
}

// restWay is the way of wood that rests: from a moisture towards the one to which its air takes it, until it is near
// enough to the one that it must have.
type restWay struct{ from, to, target measure.Moisture }

// share is how much of the whole way must be gone; ok is false where it never comes near enough. Wood that is near
// enough has no way.
func (r restWay) share(within measure.Moisture) (share float64, ok bool) {
	near := r.target + measure.Moisture(math.Copysign(float64(within), float64(r.from-r.target)))
	s := float64((r.from - near) / (r.from - r.to))
	return s, r.from != r.to && s > 0 && s < 1
}

// restDays is how long stock rests on its way, with air on both faces, in the slowest of the top's woods; it is the
// same reckoning as that of a wood that is asked for alone (Slab.rest).
func (w *work) restDays(way restWay, air measure.Temperature, thickness measure.Length) (most DayRange, slowest Slab) {
	share, _ := way.share(w.set.ReadyWithin)
	for i := range w.runs {
		slab := w.slabOf(w.runs[i].species, min((way.from+way.to)/2, wettestRest), air)
		if d := slab.days(thickness, false, share); d.Likely > most.Likely {
			most, slowest = d, slab
		}
	}
	w.cite(source.Diffusion, source.WoodDiffusion)
	return most, slowest
}

// slabOf is how moisture moves through a wood of the top; where no source gives its density, through one as dense as
// its weight is reckoned with.
func (w *work) slabOf(s *catalogue.Species, at measure.Moisture, t measure.Temperature) Slab {
	own := alone(w.units, false, w.cat)
	if slab, err := own.slab(s, at, t); err == nil {
		w.cite(own.used...)
		return slab
	}
	return own.slabThrough(wood.BasicFrom12(usualDensity/wood.Density(1, 12)), at, t)
}

// whole are the days of a range that a plan has, rounded up.
func (d DayRange) whole() RestDays {
	up := func(x float64) int { return int(math.Ceil(x - 1e-9)) }
	return RestDays{Least: up(d.Low), Likely: up(d.Likely), Most: up(d.High)}
}

// stockThickness is the greatest thickness of the boards or panels as they rest.
func (w *work) stockThickness() measure.Length {
	var most measure.Length
	for i := range w.runs {
		if w.panels[i] != nil {
			most = max(most, w.panels[i].Thickness)
		} else if w.stocks[i] != nil {
			most = max(most, w.stocks[i].Material.Lumber.RoughThickness)
		}
	}
	return most
}

// rest is the wait that the wood's moisture asks for.
func (c *Conditioning) rest() time.Duration { return time.Duration(c.Days.Likely) * 24 * time.Hour }

// noPromise says why no working days are promised; empty when they are.
func (w *work) noPromise() string {
	c := &w.conditioning
	if c.Promise {
		return ""
	}
	if c.Stock != nil && c.Stock.Verdict == RefuseStock {
		return fmt.Sprintf("No working days are promised: in the air that it rests in the stock settles at %.1f %% and never comes near enough to %.1f %%.",
			float64(c.Stock.Equilibrium), float64(c.Target))
	}
	return fmt.Sprintf("No working days are promised: the wood is %.1f points from what it must have. The steps stand on the days that they would have after %s of rest; it may be %d to %d, and readings decide.",
		math.Abs(float64(c.Off)), plural(c.Days.Likely, "day"), c.Days.Least, c.Days.Most)
}
