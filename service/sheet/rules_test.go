package sheet_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/sheet"
	"seamwright/store/storetest/goldentest"
)

// cells are columns with their texts, as "column=text".
type cells []string

// row makes a row of a good one and what is changed in it. Columns that the good one does not name are false when they
// are truths.
func row(p *sheet.Part, good cells, changed ...string) sheet.Row {
	r := p.Empty()
	for i, c := range p.Columns {
		if c.Kind == sheet.Truth && c.For == "" {
			r.Cells[i] = "false"
		}
	}
	for _, c := range append(append(cells{}, good...), changed...) {
		column, text, _ := strings.Cut(c, "=")
		r.Set(column, text)
	}
	return r
}

var known = &sheet.Known{
	Species: []string{"oak", "ash"}, Roles: []string{"joiner"}, Systems: []string{"oil"}, Profiles: []string{"house"},
	Suppliers: []string{"yard"},
	After: map[string][]string{"cut": nil, "glue": {"cut"}, "sand": {"glue", "cut"}, "one": {"two"}, "two": {"three"},
		"three": {"one"}},
	Packs:      map[string][]string{"glue_1": {"0.5", "1"}, "screw": {"100"}},
	Currencies: []string{"USD"}, Settings: map[string]string{"currency": "USD", "basis": "margin", "rate": "35",
		"wood_above_recess": "6.35"},
}

// Good rows, one of each kind.
var (
	wood = cells{"code=oak", "name=Oak", "group=hardwood", "tangential=0.0037", "tangential_source=WH-13-5",
		"tangential_verified=true"}
	biscuit = cells{"code=b", "kind=biscuit", "name=B", "source=demo", "width_mm=56", "length_mm=23", "thickness_mm=4",
		"least_thickness_mm=19"}
	pocket = cells{"code=p", "kind=pocket_screw", "name=P", "source=demo", "length_mm=64", "thread_diameter_mm=4.8",
		"head_diameter_mm=12", "bore_diameter_mm=12", "penetration_mm=32", "least_thickness_mm=19", "may_mix_with_bolts=true"}
	bolt = cells{"code=d", "kind=draw_bolt", "name=D", "source=demo", "length_mm=150", "bolt_diameter_mm=8",
		"recess_diameter_mm=35", "recess_depth_mm=22", "recess_distance_mm=60", "bearing_diameter_mm=30",
		"least_thickness_mm=28.35", "working_load_n=1200"}
	slotted = cells{"code=s", "kind=slotted_screw", "name=S", "source=demo", "length_mm=40", "thread_diameter_mm=5",
		"head_diameter_mm=9", "penetration_mm=15", "least_thickness_mm=19"}
	insert = cells{"code=i", "kind=threaded_insert", "name=I", "source=demo", "length_mm=12", "thread_diameter_mm=6",
		"head_diameter_mm=18", "bore_diameter_mm=9", "penetration_mm=14", "least_thickness_mm=19"}
	clip   = cells{"code=c", "kind=slotted_clip", "name=C", "source=demo"}
	lumber = cells{"code=l", "kind=lumber", "name=L", "unit=board_foot", "source=demo", "packs=1", "species=oak",
		"rough_thickness_mm=50.8", "surfaced_thickness_mm=44.45", "grade=FAS", "clear_twelfths=10",
		"stock_lengths_mm=2438.4 3048", "working_width_mm=228.6"}
	glue = cells{"code=g", "kind=glue", "name=G", "unit=litre", "source=demo", "packs=1", "spread_m2=5",
		"clamp_hours=2"}
	sundry = cells{"code=x", "kind=sundry", "name=X", "unit=metre", "source=demo", "packs=1", "driver=top", "use=2",
		"by_use=true"}
	standard = cells{"code=polish", "name=Polish", "order=9", "role=joiner", "crew=1", "when=always", "driver=top",
		"setup_low=1", "setup_likely=2", "setup_high=3", "each_low=4", "each_likely=5", "each_high=6", "wait_hours=0",
		"source=demo"}
	climate = cells{"code=hut", "name=Hut", "dry_humidity=30", "dry_temperature_c=21", "humid_humidity=60",
		"humid_temperature_c=21", "source=demo"}
	price = cells{"item=glue_1", "size=0.5", "supplier=yard", "valid_from=2026-01-01", "amount=9.5", "currency=USD"}
)

func setting(key, value string) cells { return cells{"key=" + key, "value=" + value} }

// What each rule finds, by the columns that are wrong.
func TestRulesOfRows(t *testing.T) {
	t.Parallel()
	var said strings.Builder
	for _, c := range []struct {
		part    *sheet.Part
		good    cells
		changed string // texts divided by semicolons
		wrong   string // columns
	}{
		{sheet.Species, wood, "", ""},
		{sheet.Species, wood, "tangential_source=", "tangential_source"},
		{sheet.Species, wood, "tangential=", "tangential tangential_verified"},
		{sheet.Species, wood, "radial_verified=true", "radial_verified"},
		{sheet.Species, wood, "tangential_source=hearsay", "tangential_source"},
		{sheet.Species, wood, "tangential=0.02", "tangential"},
		{sheet.Species, wood, "tangential=0", "tangential"},
		{sheet.Species, wood, "group=softwod", "group"},
		{sheet.Species, wood, "code=Oak;name=", "code name"},

		{sheet.Fasteners, biscuit, "", ""},
		{sheet.Fasteners, biscuit, "width_mm=", "width_mm"},
		{sheet.Fasteners, biscuit, "recess_depth_mm=5", "recess_depth_mm"},
		{sheet.Fasteners, biscuit, "may_mix_with_bolts=true", "may_mix_with_bolts"},
		{sheet.Fasteners, biscuit, "greatest_thickness_mm=19", "greatest_thickness_mm"},
		{sheet.Fasteners, biscuit, "greatest_thickness_mm=19.1", ""},
		{sheet.Fasteners, biscuit, "thickness_mm=19", "thickness_mm"},
		{sheet.Fasteners, biscuit, "thickness_mm=18.9", ""},
		{sheet.Fasteners, pocket, "", ""},
		// as long as the screw, and through the top
		{sheet.Fasteners, pocket, "penetration_mm=64", "penetration_mm penetration_mm"},
		{sheet.Fasteners, pocket, "penetration_mm=36.7", ""},                // sin 15° · 36.7 = 9.499: half of 19 is 9.5
		{sheet.Fasteners, pocket, "penetration_mm=36.71", "penetration_mm"}, // 9.501
		{sheet.Fasteners, pocket, "thread_diameter_mm=12", "thread_diameter_mm"},
		{sheet.Fasteners, pocket, "bore_diameter_mm=11.9", "bore_diameter_mm"},
		{sheet.Fasteners, pocket, "washer_diameter_mm=12", ""},
		{sheet.Fasteners, pocket, "washer_diameter_mm=12.1", "washer_diameter_mm"},
		{sheet.Fasteners, bolt, "", ""},
		{sheet.Fasteners, bolt, "least_thickness_mm=28.34", "least_thickness_mm"},
		{sheet.Fasteners, bolt, "bearing_diameter_mm=8", "bolt_diameter_mm"},
		{sheet.Fasteners, bolt, "recess_diameter_mm=30", ""},
		{sheet.Fasteners, bolt, "recess_diameter_mm=29.9", "recess_diameter_mm"},
		{sheet.Fasteners, bolt, "recess_distance_mm=17.5", "recess_distance_mm"},
		{sheet.Fasteners, bolt, "recess_distance_mm=75", ""},
		{sheet.Fasteners, bolt, "recess_distance_mm=75.1", "length_mm"},
		{sheet.Fasteners, insert, "", ""},
		{sheet.Fasteners, insert, "bore_diameter_mm=", "bore_diameter_mm"},
		{sheet.Fasteners, insert, "bore_diameter_mm=6", "thread_diameter_mm"},
		{sheet.Fasteners, insert, "head_diameter_mm=6", "thread_diameter_mm"},
		{sheet.Fasteners, insert, "length_mm=14", ""},
		{sheet.Fasteners, insert, "length_mm=14.1", "length_mm"},
		{sheet.Fasteners, insert, "penetration_mm=19", "penetration_mm"},
		{sheet.Fasteners, insert, "penetration_mm=18.9", ""},
		{sheet.Fasteners, insert, "washer_diameter_mm=18.1", "washer_diameter_mm"},
		{sheet.Fasteners, insert, "working_load_n=500", "working_load_n"},
		{sheet.Fasteners, slotted, "", ""},
		{sheet.Fasteners, slotted, "penetration_mm=19", "penetration_mm"},
		{sheet.Fasteners, slotted, "penetration_mm=18.9", ""},
		{sheet.Fasteners, clip, "", ""},
		{sheet.Fasteners, clip, "source=hearsay", "source"},
		{sheet.Fasteners, clip, "bore_diameter_mm=3", "bore_diameter_mm"},

		{sheet.Materials, lumber, "", ""},
		{sheet.Materials, lumber, "species=elm", "species"},
		{sheet.Materials, lumber, "surfaced_thickness_mm=50.8", "surfaced_thickness_mm"},
		{sheet.Materials, lumber, "unit=each", "unit"},
		{sheet.Materials, lumber, "grade=", "grade"},
		{sheet.Materials, lumber, "spread_m2=5", "spread_m2"},
		{sheet.Materials, lumber, "stock_lengths_mm=3048 2438.4", "stock_lengths_mm"},
		{sheet.Materials, lumber, "clear_twelfths=13", "clear_twelfths"},
		{sheet.Materials, glue, "", ""},
		{sheet.Materials, glue, "species=oak", "species"},
		{sheet.Materials, glue, "spread_m2=", "spread_m2"},
		{sheet.Materials, sundry, "", ""},
		{sheet.Materials, sundry, "with_finish=oil", ""},
		{sheet.Materials, sundry, "with_finish=wax", "with_finish"},
		{sheet.Materials, sundry, "driver=tops", "driver"},

		{sheet.LabourStandards, standard, "", ""},
		{sheet.LabourStandards, standard, "setup_low=2.1", "setup_low"},
		{sheet.LabourStandards, standard, "setup_likely=3.1", "setup_likely"},
		{sheet.LabourStandards, standard, "each_low=5.1", "each_low"},
		{sheet.LabourStandards, standard, "each_likely=6.1", "each_likely"},
		{sheet.LabourStandards, standard, "setup_low=0;setup_likely=0;setup_high=0;each_low=0;each_likely=0;each_high=0", "each_high"},
		{sheet.LabourStandards, standard, "setup_low=0;setup_likely=0;setup_high=0", ""},
		{sheet.LabourStandards, standard, "setup_high=6", ""},
		{sheet.LabourStandards, standard, "role=joinr", "role"},
		{sheet.LabourStandards, standard, "after=cut sand", ""},
		{sheet.LabourStandards, standard, "after=cut plane", "after"},
		{sheet.LabourStandards, standard, "code=one;after=two", "after"},

		{sheet.ClimateProfiles, climate, "", ""},
		{sheet.ClimateProfiles, climate, "dry_temperature_c=", "dry_moisture"},
		{sheet.ClimateProfiles, climate, "dry_moisture=6", "dry_moisture"},
		{sheet.ClimateProfiles, climate, "dry_temperature_c=;dry_humidity=;dry_moisture=6", ""},
		{sheet.ClimateProfiles, climate, "dry_temperature_c=;dry_humidity=;dry_moisture=12", "dry_humidity"},
		{sheet.ClimateProfiles, climate, "humid_humidity=29", "dry_humidity"},
		{sheet.ClimateProfiles, climate, "dry_temperature_c=-30", "dry_temperature_c"},

		{sheet.Settings, setting("tax", "20"), "", ""},
		{sheet.Settings, setting("tax", "200"), "", "value"},
		{sheet.Settings, setting("taxes", "20"), "", "value"},
		{sheet.Settings, setting("currency", "USD"), "", ""},
		{sheet.Settings, setting("currency", "EUR"), "", "value"},
		{sheet.Settings, setting("currency", "usd"), "", "value value"},
		{sheet.Settings, setting("default_climate", "house"), "", ""},
		{sheet.Settings, setting("default_climate", "hous"), "", "value"},

		{sheet.Prices, price, "", ""},
		{sheet.Prices, price, "size=2", "size"},
		{sheet.Prices, price, "item=glue_2", "item"},
		{sheet.Prices, price, "supplier=yrd", "supplier"},
		{sheet.Prices, price, "currency=EUR", "currency"},
		{sheet.Prices, price, "valid_from=1999-12-31", "valid_from"},
		{sheet.Prices, price, "valid_from=2000-01-01", ""},
		{sheet.Prices, price, "valid_from=2199-12-31", ""},
		{sheet.Prices, price, "valid_from=2200-01-01", "valid_from"},
		{sheet.Prices, price, "amount=-1", "amount"},
	} {
		r := row(c.part, c.good)
		if c.changed != "" {
			r = row(c.part, c.good, strings.Split(c.changed, ";")...)
		}
		var columns []string
		fmt.Fprintf(&said, "%s %s, %s\n", c.part.One, r.Key(), c.changed)
		for _, w := range r.Check(known) {
			columns = append(columns, w.Column)
			fmt.Fprintf(&said, "\t%s: %s\n", w.Column, w.Detail)
		}
		require.Equal(t, c.wrong, strings.Join(columns, " "), "%s %v %s", c.part.Name, r.Cells, c.changed)
	}
	goldentest.Hold(t, "testdata/rules.txt", said.String())
}

// A circle among other steps is theirs: it is not gone round for ever, and not this step's fault.
func TestACircleOfOthers(t *testing.T) {
	t.Parallel()
	k := *known
	k.After = map[string][]string{"polish": {"one"}, "one": {"two"}, "two": {"one"}}
	require.Empty(t, row(sheet.LabourStandards, standard, "after=one").Check(&k))
	k.After["two"] = []string{"one", "polish"}
	require.Equal(t, "The step would follow itself: polish after one after two after polish.",
		row(sheet.LabourStandards, standard, "after=one").Check(&k)[0].Detail)
}

// A margin of 100 % or more is refused whichever of the two settings comes last.
func TestAMarginUnder100(t *testing.T) {
	t.Parallel()
	for rate, wrong := range map[string]bool{"99.99": false, "100": true, "120": true} {
		for basis, counts := range map[string]bool{"margin": true, "markup": false} {
			k := *known
			k.Settings = map[string]string{"basis": basis, "rate": rate}
			for _, key := range []string{"basis", "rate"} {
				value := k.Settings[key]
				require.Equal(t, wrong && counts, len(row(sheet.Settings, setting(key, value)).Check(&k)) > 0, "%s %s", basis, rate)
			}
		}
	}
}

// Every part and column on one page.
func TestColumnsOnOnePage(t *testing.T) {
	t.Parallel()
	kinds := []string{"code", "text", "choice", "number", "decimal", "whole", "truth", "day", "numbers", "sizes", "codes"}
	var b strings.Builder
	for _, p := range sheet.Parts() {
		fmt.Fprintf(&b, "%s (%s), %d keys, versioned %v\n", p.Name, p.One, p.Keys, p.Versioned)
		for _, c := range p.Columns {
			fmt.Fprintf(&b, "\t%s\t%s", c.Name, kinds[c.Kind])
			if c.High != 0 || c.Low != 0 {
				fmt.Fprintf(&b, " %s%v to %v%s", map[bool]string{true: "over "}[c.Open], c.Low, c.High,
					map[bool]string{true: " excluded"}[c.Under])
			}
			if c.Places > 0 {
				fmt.Fprintf(&b, " places %d", c.Places)
			}
			fmt.Fprintf(&b, " longest %d most %d empty %v for %q %s", c.Longest, c.Most, c.Empty, c.For,
				strings.Join(c.Choices, " "))
			for _, h := range c.Held {
				fmt.Fprintf(&b, "\t%s.%s %s", h.Table, h.In, h.Path)
			}
			b.WriteByte('\n')
		}
	}
	goldentest.Hold(t, "testdata/columns.txt", b.String())
}

// A wood that is said to move more across its rays than along its rings is odd.
func TestOddRows(t *testing.T) {
	t.Parallel()
	for changed, odd := range map[string]string{
		"radial=0.0017": "", "radial=0.0037": "", "radial=0.0038": "tangential",
		"shrinkage_tangential=4;shrinkage_radial=5": "shrinkage_tangential", "shrinkage_radial=5": "",
		"ratio_radial=0.05;ratio_tangential=0.1": "ratio_radial", "ratio_radial=0.1;ratio_tangential=0.05": "",
	} {
		var columns []string
		for _, w := range row(sheet.Species, wood, strings.Split(changed, ";")...).Warnings() {
			columns = append(columns, w.Column)
		}
		require.Equal(t, odd, strings.Join(columns, " "), changed)
	}
	require.Empty(t, row(sheet.Prices, price).Warnings())
}
