package shelf

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/sheet"
)

// unchangeable refuses values that an answer shows but a write cannot change, unless they are sent as they are:
// leaving such a value out is always right, and another one must not be passed over in silence.
func (f *entry) unchangeable(cat *catalogue.Snapshot, look view) {
	if sent, there := f.body["currency"]; there && sent != look.currency {
		f.refuse("/currency", fmt.Sprintf("Is %q in the whole catalogue; the setting currency changes it. Leave it out here.",
			look.currency))
	}
	switch f.part {
	case sheet.Fasteners, sheet.Materials:
		f.prices(cat, look)
	case sheet.Settings:
		f.settingDescription(cat)
	case sheet.ClimateProfiles:
		for _, season := range []string{"dry", "humid"} {
			if _, air := f.at(season + ".temperature").(json.Number); air && f.at(season+".temperature_unit") == nil {
				f.refuse("/"+season+"/temperature_unit", "Say whether the temperature is in F or C.")
			}
		}
	}
}

// prices: they come by price updates.
func (f *entry) prices(cat *catalogue.Snapshot, look view) {
	var packs []catalogue.Pack
	if m := cat.MaterialByCode(f.code); m != nil {
		packs = m.Packs
	} else if x := cat.FastenerByCode(f.code); x != nil {
		packs = x.Packs
	}
	list, _ := f.body["packs"].([]any)
	for i := range list {
		pack, _ := list[i].(map[string]any)
		if pack["price"] == nil {
			continue
		}
		at := slices.IndexFunc(packs, func(p catalogue.Pack) bool { return p.Size.String() == packSize(pack) })
		if at < 0 || !reflect.DeepEqual(pack["price"], priceShown(&packs[at], look)) {
			f.refuse(fmt.Sprintf("/packs/%d/price", i),
				"Prices are not changed here: they come by price updates. Leave the price out, or send the one that GET shows.")
		}
	}
}

// priceShown is the price of the day as a body has it.
func priceShown(p *catalogue.Pack, look view) any {
	price, there := p.PriceAsOf(look.today)
	if !there {
		return nil
	}
	return map[string]any{"supplier": price.Supplier, "valid_from": string(price.ValidFrom),
		"amount": price.Amount.String()}
}

// settingDescription: what the program says about a setting.
func (f *entry) settingDescription(cat *catalogue.Snapshot) {
	all, err := settingsNow(cat)
	if err != nil {
		f.faults.Add("", err)
		return
	}
	at := slices.IndexFunc(all, func(s settingNow) bool { return s.Key == f.code })
	if at < 0 {
		return // there is none: the edit says so
	}
	raw := wire.Encode(measure.Millimetres, func(w *wire.Writer) { writeSetting(w, &all[at], view{}) })
	var shown map[string]any
	if err := json.Unmarshal(raw, &shown); err != nil {
		f.faults.Add("", err)
		return
	}
	for name, sent := range f.body {
		if number, ok := sent.(json.Number); ok {
			if x, err := number.Float64(); err == nil {
				sent = x
			}
		}
		if _, known := shown[name]; known && name != "value" && name != "key" && !reflect.DeepEqual(sent, shown[name]) {
			f.refuse("/"+name, "Cannot be changed: it says how the program reads the setting. Leave it out.")
		}
	}
}
