package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/spell"
	"seamwright/service/wood"
)

// Known is what a row may refer to, as it will be when all rows of an edit are in.
type Known struct {
	Species, Roles, Systems, Profiles, Suppliers []string
	After                                        map[string][]string // by labour standard in use: what it follows
	Packs                                        map[string][]string // by item in use: sizes on sale
	Currencies                                   []string            // of the prices there are
	Settings                                     map[string]string
}

// Check returns what is wrong with a row: with each cell by itself, with the cells together, and with what they refer
// to.
func (r Row) Check(known *Known) []Wrong {
	k := checker{row: r, known: known}
	for i, c := range r.Part.Columns {
		if _, err := c.Read(r.Cells[i]); err != nil {
			k.add(c.Name, "%s", Sentence(c.Name, err))
		}
	}
	k.source()
	switch r.Part {
	case Species:
		k.species()
	case Fasteners:
		k.fastener()
	case Materials:
		k.material()
	case LabourStandards:
		k.standard()
	case ClimateProfiles:
		k.climate()
	case Settings:
		k.setting()
	case Prices:
		k.price()
	}
	return k.wrong
}

// checker gathers what is wrong with one row.
type checker struct {
	row   Row
	known *Known
	wrong []Wrong
}

func (k *checker) get(column string) string     { return k.row.Get(column) }
func (k *checker) number(column string) float64 { return parse(k.row.Get(column)) }

func (k *checker) add(column, format string, args ...any) {
	k.wrong = append(k.wrong, Wrong{Column: column, Detail: ended(fmt.Sprintf(format, args...))})
}

// refer checks that a code is known.
func (k *checker) refer(column, what string, codes []string) {
	k.referTo(column, k.get(column), what, codes)
}

func (k *checker) referTo(column, code, what string, codes []string) {
	if !slices.Contains(codes, code) {
		k.add(column, "There is no %s %q in use%s", what, code, near(code, codes))
	}
}

// ended puts a full stop behind what has none and is no question.
func ended(text string) string {
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// near asks about the words that are spelled most like one; empty when none is near.
func near(word string, known []string) string {
	if len(word) > longestCode {
		return ""
	}
	list := spell.Closest(strings.ToLower(word), known, 2)
	if len(list) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(list, " or ") + "?"
}

// source checks the column source, where a part has one.
func (k *checker) source() {
	if k.row.Part.Column("source") != nil {
		k.sourced("source")
	}
}

func (k *checker) sourced(column string) {
	id := k.get(column)
	if id == "" || source.Known(source.ID(id)) {
		return
	}
	var ids []string
	for _, s := range source.Select(func(source.ID) bool { return true }) {
		ids = append(ids, string(s.ID))
	}
	k.add(column, "%q is not in the list of sources; known are %s.", short(id), strings.Join(ids, ", "))
}

// species: every value names its source, and nothing is verified that is not there.
func (k *checker) species() {
	for _, p := range Properties() {
		value, from := k.get(p.Name), k.get(p.Name+"_source")
		switch {
		case value != "" && from == "":
			k.add(p.Name+"_source", "A value needs the source that it was read in.")
		case value == "" && from != "":
			k.add(p.Name, "There is a source but no value. Leave both empty when no source gives it.")
		}
		if value == "" && k.get(p.Name+"_verified") == "true" {
			k.add(p.Name+"_verified", "There is no value that could be verified.")
		}
		k.sourced(p.Name + "_source")
	}
	for _, told := range []string{"dust", "law"} {
		if (k.get(told) == "") != (k.get(told+"_source") == "") {
			k.add(told+"_source", "A note and its source go together.")
		}
		k.sourced(told + "_source")
	}
}

// material: each kind has its unit and its columns.
func (k *checker) material() {
	kind := k.get("kind")
	units := map[string][]string{"lumber": {"board_foot", "cubic_metre"}, "panel": {"each"}, "glue": {"litre"}, "finish": {"litre"},
		"sundry": {"each", "litre", "metre"}}[kind]
	if unit := k.get("unit"); !slices.Contains(units, unit) {
		k.add("unit", "Is %s; the kind %s is counted in %s.", unit, kind, strings.Join(units, " or "))
	}
	for i, c := range k.row.Part.Columns {
		switch {
		case c.For != "" && c.For != kind && k.row.Cells[i] != "":
			k.add(c.Name, "Only %s has this; the kind is %s.", c.For, kind)
		case c.For == kind && !c.Empty && k.row.Cells[i] == "":
			k.add(c.Name, "Must not be empty for the kind %s.", kind)
		}
	}
	switch {
	case kind == "lumber" || kind == "panel":
		k.refer("species", "species", k.known.Species)
	case k.get("species") != "":
		k.add("species", "Only lumber and panels are of a species; the kind is %s.", kind)
	}
	if surfaced := k.number("surfaced_thickness_mm"); surfaced > 0 && surfaced >= k.number("rough_thickness_mm") {
		k.add("surfaced_thickness_mm", "Must be less than the rough thickness: surfacing takes wood.")
	}
	if measured := k.number("measured_width_mm"); measured > 0 && measured < k.number("working_width_mm") {
		k.add("measured_width_mm", "Must not be less than the working width: edging takes wood.")
	}
	if k.get("with_finish") != "" {
		k.refer("with_finish", "finish of the system", k.known.Systems)
	}
}

// standard: minutes in order, who does it, and what it follows.
func (k *checker) standard() {
	for _, spread := range []string{"setup", "each"} {
		low, likely, high := k.number(spread+"_low"), k.number(spread+"_likely"), k.number(spread+"_high")
		if low > likely {
			k.add(spread+"_low", "Must not be more than the likely minutes.")
		}
		if likely > high {
			k.add(spread+"_likely", "Must not be more than the high minutes.")
		}
	}
	if k.number("setup_high")+k.number("each_high") == 0 {
		k.add("each_high", "The step takes no time at all; give minutes for setup or each.")
	}
	k.refer("role", "labour role", k.known.Roles)
	codes := make([]string, 0, len(k.known.After))
	for code := range k.known.After {
		codes = append(codes, code)
	}
	slices.Sort(codes)
	for _, code := range strings.Fields(k.get("after")) {
		k.referTo("after", code, "labour standard", codes)
	}
	if way := Circle(k.known.After, k.get("code")); way != nil {
		k.add("after", "The step would follow itself: %s.", strings.Join(way, " after "))
	}
}

// Circle returns a way from a step over what it follows back to itself, nil when there is none. After has what each
// step follows.
func Circle(after map[string][]string, code string) []string {
	seen := map[string]bool{}
	var back func(at string) []string
	back = func(at string) []string {
		for _, next := range after[at] {
			if next == code {
				return []string{at, code}
			}
			if seen[next] {
				continue
			}
			seen[next] = true
			if way := back(next); way != nil {
				return append([]string{at}, way...)
			}
		}
		return nil
	}
	return back(code)
}

// climate: each season is air or moisture, and the dry one is not the wetter.
func (k *checker) climate() {
	dry, knownDry := k.season("dry")
	humid, knownHumid := k.season("humid")
	if knownDry && knownHumid && dry > humid {
		k.add("dry_humidity", "The dry season is the wetter one: wood comes to %.1f %% in it and to %.1f %% in the humid one.", float64(dry), float64(humid))
	}
}

// season returns the moisture that wood comes to in a season.
func (k *checker) season(name string) (measure.Moisture, bool) {
	humidity, temperature, moisture := k.get(name+"_humidity"), k.get(name+"_temperature_c"), k.get(name+"_moisture")
	if (humidity != "") != (temperature != "") || (humidity != "") == (moisture != "") {
		k.add(name+"_moisture", "Give the %s season either humidity and temperature or a moisture content.", name)
		return 0, false
	}
	if moisture != "" {
		return measure.Moisture(parse(moisture)), true
	}
	settled, err := wood.EMC(measure.Humidity(parse(humidity)), measure.Celsius(parse(temperature)))
	if err != nil {
		k.add(name+"_temperature_c", "No moisture content can be told for this air: %s.", err)
	}
	return settled, err == nil
}

var currencyForm = regexp.MustCompile(`^[A-Z]{3}$`)

// setting: the text is one that the setting takes, and fits the others.
func (k *checker) setting() {
	key, value := k.get("key"), k.get("value")
	if err := catalogue.CheckSetting(key, value); err != nil {
		k.add("value", "%s.", strings.ToUpper(err.Error()[:1])+err.Error()[1:])
		return
	}
	switch key {
	case "currency":
		if !currencyForm.MatchString(value) {
			k.add("value", "%q is not a currency of ISO 4217, three capital letters such as USD.", short(value))
		}
		for _, used := range k.known.Currencies {
			if used != value {
				k.add("value", "There are prices in %s; the catalogue has one currency.", used)
			}
		}
	case "default_climate":
		k.refer("value", "climate profile", k.known.Profiles)
	case "basis", "rate":
		if k.known.Settings["basis"] == "margin" && parse(k.known.Settings["rate"]) >= 100 {
			k.add("value", "A margin on the price must be under 100 percent; the basis is margin and the rate %s.",
				k.known.Settings["rate"])
		}
	}
}

// price: of a pack on sale, in the catalogue's currency.
func (k *checker) price() {
	items := make([]string, 0, len(k.known.Packs))
	item := k.get("item")
	sizes, there := k.known.Packs[item]
	if !there {
		for code := range k.known.Packs {
			items = append(items, code)
		}
		slices.Sort(items)
		k.refer("item", "item", items)
	} else if !slices.Contains(sizes, k.get("size")) {
		k.add("size", "%s is not sold in packs of %s; its packs: %s.", item, k.get("size"), strings.Join(sizes, ", "))
	}
	k.refer("supplier", "supplier", k.known.Suppliers)
	if currency := k.known.Settings["currency"]; k.get("currency") != currency {
		k.add("currency", "Must be %s, the catalogue's currency.", currency)
	}
	if day := k.get("valid_from"); day < "2000-01-01" || day > "2199-12-31" {
		k.add("valid_from", "Must be from 2000-01-01 to 2199-12-31.")
	}
}
