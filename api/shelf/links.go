package shelf

import (
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"seamwright/service/measure"
	"seamwright/service/sheet"
)

func linksOf(as conversion, pairs ...string) []link {
	list := make([]link, 0, len(pairs)/2)
	for i := 0; i+1 < len(pairs); i += 2 {
		list = append(list, link{pairs[i], pairs[i+1], as})
	}
	return list
}

// place only says where in the body a cell is.
func place(path, cell string) link { return link{path: path, cell: cell} }

func joined(lists ...[]link) (out []link) {
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// speciesKeeping gives each property its four cells.
func speciesKeeping() keeping {
	links := joined([]link{place("code", "code")}, linksOf(asText, "name", "name", "botanical", "botanical", "group", "group"))
	for _, p := range sheet.Properties() {
		name := p.Name
		if name == "tangential" || name == "radial" {
			name += "_coefficient"
		}
		links = append(links, link{name + ".value", p.Name, asPlain(6)}, link{name + ".source", p.Name + "_source", asText},
			link{name + ".verified", p.Name + "_verified", asTruth}, link{name + ".note", p.Name + "_note", asText})
	}
	return keeping{part: sheet.Species, links: links}
}

// itemLinks are what fasteners and materials share.
func itemLinks() []link {
	return joined([]link{place("code", "code")}, linksOf(asText, "kind", "kind", "name", "name", "source", "source", "note", "note"),
		[]link{{"packs", "packs", asPacks}})
}

func fastenerKeeping() keeping {
	links := itemLinks()
	for _, cell := range sheet.Measures() {
		if name, length := strings.CutSuffix(cell, "_mm"); length {
			links = append(links, link{name, cell, asLength})
		}
	}
	return keeping{part: sheet.Fasteners, unseen: []string{"source", "note"},
		links: append(links, link{"working_load", "working_load_n", asForce}, link{"may_mix_with_bolts", "may_mix_with_bolts", asTruth})}
}

func materialKeeping() keeping {
	links := joined(itemLinks(), linksOf(asText, "unit", "unit", "lumber.grade", "grade", "finish.system", "system", "sundry.driver", "driver", "sundry.finish", "with_finish"),
		linksOf(asLength, "lumber.rough_thickness", "rough_thickness_mm", "lumber.surfaced_thickness", "surfaced_thickness_mm", "lumber.working_width", "working_width_mm",
			"panel.thickness", "panel_thickness_mm", "panel.width", "panel_width_mm", "panel.length", "panel_length_mm"),
		linksOf(asArea, "glue.spread", "spread_m2", "finish.coverage", "coverage_m2"),
		linksOf(asPlain(2), "glue.clamp_hours", "clamp_hours", "finish.dry_hours", "dry_hours", "finish.coats", "coats", "finish.cure_days", "cure_days"),
		[]link{{"lumber.species", "species", asSpecies}, {"lumber.clear_yield", "clear_twelfths", asTwelfths}, {"lumber.stock_lengths", "stock_lengths_mm", asLengths},
			{"finish.self_heats", "self_heats", asTruthOfKind}, {"sundry.use", "use", asPlain(6)}, {"sundry.by_use", "by_use", asTruthOfKind}})
	return keeping{part: sheet.Materials, unseen: []string{"source", "note"}, links: links}
}

func standardKeeping() keeping {
	return keeping{part: sheet.LabourStandards, unseen: []string{"source"}, links: joined(
		[]link{place("code", "code")},
		linksOf(asText, "name", "name", "role", "role", "when", "when", "driver", "driver", "note", "note", "source", "source"),
		linksOf(asPlain(0), "order", "order", "crew", "crew"),
		linksOf(asPlain(4), "setup.low", "setup_low", "setup.likely", "setup_likely", "setup.high", "setup_high",
			"each.low", "each_low", "each.likely", "each_likely", "each.high", "each_high"),
		linksOf(asPlain(2), "wait_hours", "wait_hours"), linksOf(asTexts, "after", "after"),
		linksOf(asTruth, "by_hardness", "by_hardness", "by_thickness", "by_thickness", "by_tool", "by_tool", "by_experience", "by_experience", "lifts", "lifts"),
		linksOf(asText, "gives", "gives"))}
}

func roleKeeping() keeping {
	return keeping{part: sheet.LabourRoles, unseen: []string{"source"},
		links: joined([]link{place("code", "code")}, linksOf(asText, "name", "name", "rate", "rate", "source", "source"))}
}

func climateKeeping() keeping {
	links := joined([]link{place("code", "code")}, linksOf(asText, "name", "name", "source", "source", "note", "note"))
	for _, season := range []string{"dry", "humid"} {
		links = append(links, link{season + ".humidity", season + "_humidity", asPlain(2)}, link{season + ".temperature", season + "_temperature_c", asTemperature(season)},
			link{season + ".content", season + "_moisture", asPlain(2)})
	}
	return keeping{part: sheet.ClimateProfiles, links: links}
}

func settingKeeping() keeping {
	return keeping{part: sheet.Settings, links: append(linksOf(asText, "value", "value"), place("key", "key"))}
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

// asSpecies takes the species of lumber or of a panel: they share a cell.
var asSpecies = conversion{func(f *entry, _ any, _ string) (string, error) {
	for _, path := range []string{"lumber.species", "panel.species"} {
		if text, there := f.at(path).(string); there {
			return text, nil
		}
	}
	return "", nil
}}

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
