package shelf

import (
	"slices"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/sheet"
)

// writing writes things of a part, as the list of its columns says.
func writing[T any](part *sheet.Part) func(*wire.Writer, *T, view) {
	objects := objectsOf(part)
	return func(w *wire.Writer, thing *T, look view) {
		w.Open()
		for _, shown := range objects {
			name := shown[0].Object
			switch {
			case name == "":
			case shown[0].Held.Field(thing) == nil: // it is of another kind
				w.Null(name)
				continue
			default:
				w.OpenAt(name)
			}
			for i := range shown {
				writeShown(w, &shown[i], thing, look)
			}
			if name != "" {
				w.Close()
			}
		}
		w.Close()
	}
}

// objectsOf lists what answers show of a part: each object in it whole, where its first value stands.
func objectsOf(part *sheet.Part) (objects [][]sheet.Shown) {
	for _, s := range part.Answer() {
		at := slices.IndexFunc(objects, func(o []sheet.Shown) bool { return o[0].Object == s.Object && s.Object != "" })
		if at < 0 {
			objects = append(objects, []sheet.Shown{s})
		} else {
			objects[at] = append(objects[at], s)
		}
	}
	return objects
}

func writeShown(w *wire.Writer, s *sheet.Shown, thing any, look view) {
	switch {
	case s.Column != nil:
		writeCell(w, s.Name, s.Column, s.Held.Field(thing), look)
	case s.Name == "units":
		w.Text(s.Name, w.Units.String())
	case s.Name == "currency":
		w.Text(s.Name, look.currency)
	}
}

// writeCell writes the field of a column; what may be empty and is has null, but for texts of more than a word.
func writeCell(w *wire.Writer, name string, c *sheet.Column, field any, look view) {
	null := c.Empty && c.Kind != sheet.Text
	switch v := field.(type) {
	case *string:
		if null {
			w.TextOrNull(name, *v)
		} else {
			w.Text(name, *v)
		}
	case *bool:
		w.Bool(name, *v)
	case *int:
		w.Int(name, int64(*v))
	case *float64:
		writeNumber(w, name, *v, c.Places, null)
	case *measure.Length:
		if null {
			w.LengthOrNull(name, *v)
		} else {
			w.Length(name, *v)
		}
	case *[]measure.Length:
		w.Lengths(name, *v)
	case *measure.Area:
		w.Area(name, *v)
	case *measure.Force:
		writeNumber(w, name, v.Number(w.Units), 1, null)
	case *measure.Fraction:
		w.Number(name, float64(v.Percent()), 2)
	case *money.Rate:
		w.Rate(name, *v)
	case *money.UnitPrice:
		w.Hourly(name, *v)
	case *[]string:
		w.Texts(name, *v)
	case *[]catalogue.Pack:
		writePacks(w, name, *v, look)
	case *measure.Temperature:
		writeTemperature(w, name, *v)
	case sheet.If:
		writeKnown(w, name, c, v, look)
	}
}

func writeNumber(w *wire.Writer, name string, x float64, places int, null bool) {
	if null {
		w.NumberOrNull(name, x, places)
	} else {
		w.Number(name, x, places)
	}
}

// writeKnown writes null for what is not known; a number that is known may be zero.
func writeKnown(w *wire.Writer, name string, c *sheet.Column, v sheet.If, look view) {
	_, temperature := v.Value.(*measure.Temperature)
	if *v.There == v.Is {
		given := *c
		given.Empty = false
		writeCell(w, name, &given, v.Value, look)
		return
	}
	w.Null(name)
	if temperature {
		w.Null(temperatureUnit)
	}
}

// temperatureUnit stands beside a temperature.
const temperatureUnit = "temperature_unit"

// writeTemperature goes with the units: F with inches and C with millimetres.
func writeTemperature(w *wire.Writer, name string, t measure.Temperature) {
	if w.Units == measure.Inches {
		w.Number(name, t.Fahrenheit(), 2)
		w.Text(temperatureUnit, "F")
	} else {
		w.Number(name, t.Celsius(), 2)
		w.Text(temperatureUnit, "C")
	}
}

// writePacks writes the packs with the prices of the day.
func writePacks(w *wire.Writer, name string, packs []catalogue.Pack, look view) {
	wire.All(w, name, packs, func(w *wire.Writer, p *catalogue.Pack) {
		w.Open()
		w.Quantity("size", p.Size)
		if price, there := p.PriceAsOf(look.today); there {
			w.OpenAt("price")
			w.Text("supplier", price.Supplier)
			w.Date("valid_from", price.ValidFrom)
			w.UnitPrice("amount", price.Amount)
			w.Close()
		} else {
			w.Null("price")
		}
		w.Close()
	})
}
