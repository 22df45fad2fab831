package estimate

import (
	"fmt"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/source"
	"seamwright/service/wood"
)

// usualDensity stands in for a wood whose specific gravity no source gives: a heavy cabinet wood, kg/m³. Common
// practice.
const usualDensity = 750.0

// resolveMoisture works out the wood's states, the same for every run, and each run's movement.
func (w *work) resolveMoisture() error {
	wet, err := w.moistures(w.order.Moisture)
	if err != nil {
		return fault.At("/moisture", err)
	}
	var wrong fault.List
	wrong.Add("/moisture", w.refuseWet(wet.Making))
	for i := range w.runs {
		r := &w.runs[i]
		r.wet = wet
		if r.species == nil || w.order.Moisture.Seasonal != nil {
			continue // reported already, or moved when the year has gone through it
		}
		addOnce(&wrong, fault.At("/top", w.moveRun(r)))
	}
	return wrong.Err()
}

// moistures are the states that an order describes.
func (w *work) moistures(m MoistureOrder) (Moistures, error) {
	var wrong fault.List
	dry, humid, at, err := w.seasons(m)
	wrong.Add("", err)
	var out Moistures
	if err == nil {
		out.Dry, err = w.settle(dry, "EMC, dry season")
		wrong.Add(at.dry, err)
		out.Humid, err = w.settle(humid, "EMC, humid season")
		wrong.Add(at.humid, err)
	}
	switch {
	case m.Stock != nil && len(m.Stock.Readings) > 0:
		if m.Making != nil {
			wrong.Add("", impossible("/stock/readings", "Readings say how wet the wood is when made, and so does making.", "Give one of the two."))
		}
		out.Making, err = w.meanReading(m.Stock)
		wrong.Add("", err)
	case m.Making != nil:
		out.Making, err = w.settle(*m.Making, "EMC, at making")
		wrong.Add("/making", err)
	case len(wrong) == 0:
		out.Making = (out.Dry + out.Humid) / 2
		w.assume("/moisture/making/content", measure.Round(float64(out.Making), 2),
			"the middle of the service year; measure the wood before you cut")
	}
	if len(wrong) == 0 && out.Dry > out.Humid+1e-9 {
		wrong.Add("", impossible("/service", fmt.Sprintf("The dry season (%.2f %%) is wetter than the humid one (%.2f %%).",
			float64(out.Dry), float64(out.Humid)), "They seem to be swapped."))
	}
	if len(wrong) > 0 {
		return out, wrong.Err()
	}
	w.warnWet(out)
	return out, nil
}

// where the two seasons stand in the request.
type seasonPointers struct{ dry, humid string }

func (w *work) seasons(m MoistureOrder) (dry, humid catalogue.Climate, at seasonPointers, err error) {
	at = seasonPointers{"/service/dry", "/service/humid"}
	if m.Seasonal.ownYear() {
		dry, humid, err = w.serviceYear(&m)
		return dry, humid, seasonPointers{"/seasonal", "/seasonal"}, err
	}
	if m.Dry != nil && m.Humid != nil {
		return *m.Dry, *m.Humid, at, nil
	}
	if m.Dry != nil || m.Humid != nil {
		return dry, humid, at, impossible("/service", "A service year needs both its dry and its humid season.",
			"Give both, or name a climate profile.")
	}
	code := m.Profile
	if code == "" {
		code = w.set.DefaultProfile
		w.assume("/moisture/service/profile", code, "the shop's usual climate; ask how the house is heated and cooled")
	}
	p := w.cat.ClimateByCode(code)
	if p == nil {
		return dry, humid, at, unknown("/service/profile", "climate profile", code,
			codes(w.cat.ClimateProfiles, func(c *catalogue.ClimateProfile) string { return c.Code }))
	}
	w.cite(p.Source)
	return p.Dry, p.Humid, seasonPointers{"/service/profile", "/service/profile"}, nil
}

// settle is the moisture content that wood takes in a climate.
func (w *work) settle(c catalogue.Climate, name string) (measure.Moisture, error) {
	if !c.IsAir {
		if !(c.Moisture >= 0 && c.Moisture <= 60) {
			return 0, impossible("/content", fmt.Sprintf("A moisture content of %g %% cannot be worked; give 0 to 60 %%.",
				float64(c.Moisture)), "")
		}
		return c.Moisture, nil
	}
	m, err := wood.EMC(c.Air.Humidity, c.Air.Temperature)
	if err != nil {
		return 0, impossible("", upper(err.Error())+".", "")
	}
	w.cite(source.WoodEMC)
	w.explain(name, "EMC(h, T), two-hydrate sorption", float64(m), "%", source.WoodEMC,
		Input{"relative humidity", float64(c.Air.Humidity), "%"}, Input{"temperature",
			measure.Round(c.Air.Temperature.Fahrenheit(), 4), "°F"})
	return m, nil
}

// warnOutside warns of wood that its service year will only ever move one way.
func (w *work) warnOutside(m Moistures) {
	if m.Making > m.Humid+0.05 || m.Making < m.Dry-0.05 {
		w.warn("made_outside_service", Caution, "/moisture/making", fmt.Sprintf(
			"The wood is made at %.1f %%, outside its service year of %.1f–%.1f %%: it will only ever move one way from there. It is near enough to be worked; seam, holes and gaps are reckoned for it.",
			float64(m.Making), float64(m.Dry), float64(m.Humid)))
	}
}

func (w *work) warnWet(m Moistures) {
	if m.Making > 30 || m.Humid > 30 {
		w.warn("wet_wood", Serious, "/moisture",
			"Above fibre saturation (about 30 %) wood does not swell further, but it is far too wet to make a top of.")
	}
}

// moveRun works out a run's strains and what they come to.
func (w *work) moveRun(r *run) error {
	m := &r.move
	if err := w.method(r); err != nil {
		return err
	}
	m.DryStrain = r.laws.Strain(r.wet.Making, r.wet.Dry)
	m.HumidStrain = r.laws.Strain(r.wet.Making, r.wet.Humid)
	m.ToDry = r.Depth * measure.Length(m.DryStrain)
	m.ToHumid = r.Depth * measure.Length(m.HumidStrain)
	m.Range = m.ToHumid - m.ToDry
	m.AlongGrain = wood.AlongGrain(r.Length, min(r.wet.Humid, 30)-min(r.wet.Dry, 30))
	m.FixedLine, m.WallGap = hardware.HoldFront, max(0, m.ToHumid)+w.set.WallAllowance
	if basic, ok := wood.Basic(r.species); ok {
		r.density = wood.Density(wood.Gravity(basic, r.wet.Making), r.wet.Making)
		w.cite(source.WoodDensity, r.species.GravityGreen.Source)
	} else {
		r.density = usualDensity
		w.warnOnce("density_unknown", Caution, "/top/species",
			fmt.Sprintf("No source gives the specific gravity of %s: weights are reckoned with %g kg/m³.", r.species.Name,
				usualDensity))
	}
	w.explainRun(r)
	return nil
}

// method finds the laws of a run's wood and says by which of them its strains are computed: by the coefficient within
// 6–14 %, by total shrinkage outside, by both in parts across the border. When one of the two is unknown the other
// serves, with a warning.
func (w *work) method(r *run) error {
	s := r.species
	var ok bool
	if r.laws, ok = wood.LawsOf(s, r.Sawn); !ok {
		return impossible("/species", "No source in the catalogue gives the movement of "+s.Name+" sawn \""+string(r.Sawn)+
			"\".", "Choose another way of sawing or another species.")
	}
	w.noteRemembered(s, r.Sawn)
	wet := r.wet
	dryC, dryS := r.laws.Rules(wet.Making, wet.Dry)
	humidC, humidS := r.laws.Rules(wet.Making, wet.Humid)
	r.move.Method = ByCoefficient
	if dryC || humidC {
		r.move.Coefficient = r.laws.Coefficient()
		w.cite(source.WoodCoefficients)
	}
	if dryS || humidS {
		r.move.Method = ByShrinkage
		w.cite(source.WoodShrinkageLong, s.ShrinkageTangential.Source)
	}
	inside := wood.InCoefficientRange(wet.Making) && wood.InCoefficientRange(wet.Dry) && wood.InCoefficientRange(wet.Humid)
	switch {
	case !r.laws.HasCoefficient() && inside:
		w.warnOnce("no_coefficient", Info, "/top/species", "No source gives a change coefficient for "+s.Name+
			" sawn so: the movement is computed from total shrinkage.")
	case !r.laws.HasShrinkage() && !inside:
		w.warnOnce("coefficient_extrapolated", Serious, "/moisture",
			"A moisture content lies outside 6–14 % and no source gives "+s.Name+
				"'s total shrinkage: the coefficient is used beyond its range.")
	case !inside:
		how := "beyond that border from total shrinkage (Wood Handbook eq. 13-3)"
		if r.move.Coefficient != 0 {
			how = "within it by the coefficient, " + how
		}
		w.warnOnce("outside_coefficient_range", Info, "/moisture",
			fmt.Sprintf("A moisture content lies outside 6–14 %% (made %.1f, dry %.1f, humid %.1f): the movement is computed %s.", float64(wet.Making), float64(wet.Dry), float64(wet.Humid), how))
	}
	return nil
}

// noteRemembered warns when a value that matters was not read in a copy of its source.
func (w *work) noteRemembered(s *catalogue.Species, sawn catalogue.Sawn) {
	t, r := s.Tangential, s.Radial
	if sawn == catalogue.QuarterSawn && r.Known && !r.Verified ||
		sawn != catalogue.QuarterSawn && t.Known && !t.Verified ||
		!t.Known && s.ShrinkageTangential.Known && !s.ShrinkageTangential.Verified {
		w.warnOnce("species_value_remembered", Caution, "/top/species",
			"The movement values of "+s.Name+
				" were written down from memory of the table named as their source; check them before you rely on them.")
	}
}

// warnOnce notes a warning unless the same text stands already.
func (w *work) warnOnce(code string, severity Severity, pointer, text string) {
	for i := range w.warnings {
		if w.warnings[i].Code == code && w.warnings[i].Text == text {
			return
		}
	}
	w.warn(code, severity, pointer, text)
}

func (w *work) explainRun(r *run) {
	if !w.order.Explain {
		return
	}
	making := Input{"moisture at making", measure.Round(float64(r.wet.Making), 4), "%"}
	for _, s := range []struct {
		name          string
		wet           measure.Moisture
		strain, width float64
	}{{"dry", r.wet.Dry, r.move.DryStrain, r.move.ToDry.In(w.units)},
		{"humid", r.wet.Humid, r.move.HumidStrain, r.move.ToHumid.In(w.units)}} {
		formula, from, inputs := r.strainFormula(s.wet)
		w.explain("strain of run "+r.Name+", "+s.name, formula, s.strain, "", from,
			append(inputs, making, Input{"moisture, " + s.name, measure.Round(float64(s.wet), 4), "%"})...)
		w.explain("change of width of run "+r.Name+", "+s.name, "w · ε", s.width, w.units.String(), from,
			Input{"width", r.Depth.In(w.units), w.units.String()}, Input{"strain", s.strain, ""})
	}
	w.explain("density of run "+r.Name, "1000 · G · (1 + M/100)", r.density, "kg/m³", source.WoodDensity, making)
}

// strainFormula is how a run's change from making to a state is reckoned, with the wood's numbers in it.
func (r *run) strainFormula(to measure.Moisture) (formula string, from source.ID, inputs []Input) {
	coefficient, shrinkage := r.laws.Rules(r.wet.Making, to)
	if coefficient {
		formula, from = "C · (M₁ − M₀)", source.WoodCoefficients
		inputs = append(inputs, Input{"C", r.laws.Coefficient(), "per %"})
	}
	if !shrinkage {
		return formula, from, inputs
	}
	beyond := "(M₁ − M₀) / (F·100/S − F + M₀)"
	if r.Sawn == catalogue.RiftSawn {
		beyond = "mean of tangential and radial, each " + beyond
	}
	inputs = append(inputs, Input{"S", r.laws.Shrinkage(), "%"}, Input{"F", float64(r.laws.Saturation()), "%"})
	if coefficient {
		beyond = "Π(1 + ε of each part) − 1: " + formula + " within 6–14 %, beyond it " + beyond
	}
	return beyond, source.WoodShrinkageLong, inputs
}
