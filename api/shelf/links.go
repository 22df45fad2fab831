package shelf

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/sheet"
)

// linksOf joins the cells of a part's rows with the values of its bodies; the first is named by the path.
func linksOf(part *sheet.Part) []link {
	links := make([]link, 0, len(part.Columns))
	for i := 1; i < len(part.Columns); i++ {
		c := &part.Columns[i]
		l := link{cell: c.Name, unseen: c.Held[0].Field == nil}
		for _, h := range c.Held {
			l.paths = append(l.paths, h.Path)
		}
		var field any
		if !l.unseen {
			field = c.Held[0].Field(part.New())
		}
		l.as = conversionOf(c, field)
		links = append(links, l)
	}
	return links
}

// conversionOf reads the cells of a column, whose field is of that kind; without one they are text.
func conversionOf(c *sheet.Column, field any) conversion {
	if known, ok := field.(sheet.If); ok {
		field = known.Value
	}
	switch field.(type) {
	case *bool:
		if c.For != "" {
			return asTruthOfKind
		}
		return asTruth
	case *int, *float64, *money.Rate:
		return asPlain(c.Places)
	case *measure.Length:
		return asLength
	case *[]measure.Length:
		return asLengths
	case *measure.Area:
		return asArea
	case *measure.Force:
		return asForce
	case *measure.Fraction:
		return asTwelfths
	case *measure.Temperature:
		object, _, _ := strings.Cut(c.Held[0].Path, ".")
		return asTemperature(object)
	case *[]string:
		return asTexts
	case *[]catalogue.Pack:
		return asPacks
	case *string, *money.UnitPrice:
	}
	return asText
}

// asPacks takes packs; only their sizes are kept.
var asPacks = conversion{func(f *entry, value any, _ string) (string, error) {
	list, _ := value.([]any)
	words := make([]string, len(list))
	for i := range list {
		pack, _ := list[i].(map[string]any)
		words[i] = packSize(pack)
	}
	return strings.Join(words, " "), nil
}}

// packSize is the size of a pack as plain digits.
func packSize(pack map[string]any) string {
	size, _ := pack["size"].(json.Number)
	if x, err := size.Float64(); err == nil && strings.ContainsAny(string(size), "eE") {
		return plainNumber(x)
	}
	return string(size)
}

// asTruthOfKind is empty where the thing is of another kind.
var asTruthOfKind = conversion{func(_ *entry, value any, _ string) (string, error) {
	if truth, there := value.(bool); there {
		return strconv.FormatBool(truth), nil
	}
	return "", nil
}}

// asTwelfths takes a share of clear wood in percent; grading rules count in twelfths of the surface.
var asTwelfths = conversion{func(_ *entry, value any, _ string) (string, error) {
	sent, there := value.(json.Number)
	if !there {
		return "", nil
	}
	x, err := sent.Float64()
	if err != nil {
		return "", err
	}
	n := math.Round(x * 12 / 100)
	if math.Abs(n*100/12-x) > 0.01 {
		return "", errors.New("is counted in twelfths of the surface: clear_yield must be a twelfth in percent, such as 66.67 or 83.33")
	}
	return plainNumber(n), nil
}}

// asTemperature takes a temperature in the season's own unit; kept are degrees Celsius.
func asTemperature(season string) conversion {
	fahrenheit := func(f *entry) bool { return f.at(season+".temperature_unit") == "F" }
	return asNumber(
		func(f *entry, cell float64) float64 {
			if fahrenheit(f) {
				return measure.Round(measure.Celsius(cell).Fahrenheit(), 2)
			}
			return measure.Round(cell, 2)
		},
		func(f *entry, sent float64) float64 {
			if fahrenheit(f) {
				return measure.Fahrenheit(sent).Celsius()
			}
			return sent
		})
}
