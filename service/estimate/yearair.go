package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// usualAir is the temperature at which wood is reckoned where nobody says one.
const usualAir = measure.Temperature(20)

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
		wrong.Add(numbered("/months/", k), err)
		wrong.Add(numbered("/months/", k), tooWetToDiffuse(m))
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
