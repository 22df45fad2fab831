package estimate

import (
	"fmt"
	"math"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
)

// StockOrder is what is known of the stock that the top is made of.
type StockOrder struct {
	Readings []measure.Moisture // of a meter, in several boards
	Air      *catalogue.Air     // that it rests in; nil: air that takes it to where it must be
}

// Stock is what becomes of the stock.
type Stock struct {
	Verdict         Verdict
	Least, Greatest measure.Moisture // of the readings; both the moisture at making where there are none
	Equilibrium     measure.Moisture // to which the air takes it
	Days            DayRange         // until the board that is furthest off is near enough; all 0 unless it rests
}

// Verdict is what to do with stock.
type Verdict string

// The verdicts.
const (
	AcceptStock Verdict = "accept"
	RestStock   Verdict = "rest"
	RefuseStock Verdict = "refuse"
)

// meanReading is the mean of the readings; they are held against what can be worked at all.
func (w *work) meanReading(s *StockOrder) (measure.Moisture, error) {
	sum := measure.Moisture(0)
	for i, m := range s.Readings {
		if m > w.set.ReadyRefused+slackPoints {
			return 0, impossible(
				numbered("/stock/readings/", i),
				fmt.Sprintf("A board holds %.1f %%: above %.0f %% no top can be made of it.",
					float64(m), float64(w.set.ReadyRefused)),
				"Sort it out, or have it dried, and measure again.",
			)
		}
		sum += m
	}
	return sum / measure.Moisture(len(s.Readings)), nil
}

// conditionStock works out whether stock that was measured board by board, or rests in air that is known, can be made
// up: by the board that is furthest off, and the slowest of its woods.
func (w *work) conditionStock(s *StockOrder) error {
	wet := w.runs[0].wet
	c := Conditioning{Target: (wet.Dry + wet.Humid) / 2, Promise: true, Thickness: w.stockThickness()}
	c.Off = wet.Making - c.Target
	k := Stock{Least: wet.Making, Greatest: wet.Making, Equilibrium: c.Target}
	for i, m := range s.Readings {
		if i == 0 {
			k.Least, k.Greatest = m, m
		}
		k.Least, k.Greatest = min(k.Least, m), max(k.Greatest, m)
	}
	air := restTemperature
	if s.Air != nil {
		m, err := w.settle(catalogue.Climate{IsAir: true, Air: *s.Air}, "EMC of the air of the stock")
		if err == nil {
			err = checkRestAir(s.Air.Temperature)
		}
		if err != nil {
			return err
		}
		k.Equilibrium, air = m, s.Air.Temperature
	}
	worst := k.Greatest
	if c.Target-k.Least > k.Greatest-c.Target {
		worst = k.Least
	}
	off := measure.Moisture(math.Abs(float64(worst - c.Target)))
	c.Ready, k.Verdict = off <= w.set.ReadyWithin+slackPoints, AcceptStock
	c.Promise = off <= w.set.ReadyPromised+slackPoints
	if !c.Ready {
		k.Verdict = RestStock
		way := restWay{from: worst, to: k.Equilibrium, target: c.Target}
		if _, ok := way.share(w.set.ReadyWithin); ok {
			k.Days, _ = w.restDays(way, air, c.Thickness)
		} else {
			k.Verdict, c.Promise = RefuseStock, false
		}
	}
	c.Days = k.Days.whole()
	c.Stock, c.Text = &k, w.stockText(&c, &k, worst)
	w.conditioning = c
	w.warnStock(&c)
	return nil
}

func (w *work) stockText(c *Conditioning, k *Stock, worst measure.Moisture) string {
	held := fmt.Sprintf("%.1f %%", float64(k.Least))
	if k.Greatest-k.Least > 0.05 {
		held = fmt.Sprintf("%.1f to %.1f %%", float64(k.Least), float64(k.Greatest))
	}
	at := fmt.Sprintf(
		"The stock holds %s, and must come within %s of %.1f %%, the middle of its service range.",
		held,
		points(w.set.ReadyWithin),
		float64(c.Target),
	)
	switch k.Verdict {
	case AcceptStock:
		return at + " It is there: go on."
	case RefuseStock:
		return at + fmt.Sprintf(
			" In this air it settles at %.1f %% and never gets there: take other stock, or let it rest in other air.",
			float64(k.Equilibrium),
		)
	case RestStock:
	}
	state := "wet"
	if worst < c.Target {
		state = "dry"
	}
	return at + fmt.Sprintf(
		" The board at %.1f %% is there after about %s in stickers, perhaps %s to %s, as it settles towards %.1f %%. Readings tell when. All movement here is that of wood made up as %s as it was measured: measure when it has rested and ask again.",
		float64(worst),
		dayPhrase(k.Days.Likely),
		dayNumber(k.Days.Low),
		dayPhrase(k.Days.High),
		float64(k.Equilibrium),
		state,
	)
}

func (w *work) warnStock(c *Conditioning) {
	if c.Ready {
		w.warnOutside(w.runs[0].wet)
		return
	}
	first := Warning{Code: "wood_must_rest", Severity: Caution, Pointer: "/moisture/stock", Text: c.Text}
	if !c.Promise {
		first.Code, first.Severity = "wood_not_ready", Serious
		first.Text += " No day can be promised with this wood, and no joint makes up for it."
	}
	w.warnings = append([]Warning{first}, w.warnings...)
}
