package estimate

import (
	"fmt"
	"math"
	"time"

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
		c.Text = fmt.Sprintf("The wood is within %s of %.1f %%, the middle of its service range: go on.", points(w.set.ReadyWithin), float64(c.Target))
		w.conditioning = c
		w.warnOutside(wet)
		return
	}
	c.Promise = off <= w.set.ReadyPromised+slackPoints
	c.Days = w.restDays(wet.Making, c.Target, c.Thickness)
	side := "over"
	if c.Off < 0 {
		side = "under"
	}
	c.Text = fmt.Sprintf("The wood is made at %.1f %%, %.1f points %s %.1f %%, the middle of its service range. Let the stock of %s rest in stickers%s: about %s (%d to %d) until it is within %s of it.",
		float64(wet.Making), float64(off), side, float64(c.Target), w.phrase(c.Thickness), w.restAir(&c), plural(c.Days.Likely, "day"), c.Days.Least, c.Days.Most, points(w.set.ReadyWithin))
	c.Text += " Thickness, species and air decide; readings tell when. All movement here is that of wood made up as wet as it was said to be: measure when it has rested and ask again."
	w.conditioning = c
	w.cite(source.Diffusion)
	first := Warning{Code: "wood_must_rest", Severity: Caution, Pointer: "/moisture/making", Text: c.Text}
	if !c.Promise {
		first.Code, first.Severity = "wood_not_ready", Serious
		first.Text += " No day can be promised with this wood, and no joint makes up for it."
	}
	w.warnings = append([]Warning{first}, w.warnings...)
	w.explain("days of rest", "τ·l²/D, E(τ) = 1 − limit/|M − target|", float64(c.Days.Likely), "days", source.Diffusion, Input{"moisture at making", measure.Round(float64(wet.Making), 4), "%"},
		Input{"target", measure.Round(float64(c.Target), 4), "%"}, Input{"thickness l", measure.Round(c.Thickness.Millimetres(), 4), "mm"}, Input{"diffusion D", w.set.WoodDiffusion, "1e-10 m²/s"})
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

// restDays is how long the wood rests until it is near enough to the target, with the range that the spread of the
// diffusion makes.
func (w *work) restDays(from, target measure.Moisture, thickness measure.Length) RestDays {
	days := func(factor float64) int {
		d := wood.Diffusion(w.set.WoodDiffusion * factor * 1e-10)
		return int(math.Ceil(wood.RestTime(from, target, w.set.ReadyWithin, thickness, d).Hours()/24 - 1e-9))
	}
	return RestDays{Least: days(w.set.WoodDiffusionSpread), Likely: days(1), Most: days(1 / w.set.WoodDiffusionSpread)}
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
	return fmt.Sprintf("No working days are promised: the wood is %.1f points from what it must have. The steps stand on the days that they would have after %s of rest; it may be %d to %d, and readings decide.",
		math.Abs(float64(c.Off)), plural(c.Days.Likely, "day"), c.Days.Least, c.Days.Most)
}
