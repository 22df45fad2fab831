package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/base"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func readBase(o *wire.Object) estimate.BaseOrder {
	from, _ := o.Distance("from")
	b := estimate.BaseOrder{
		Run:       o.Line("run"),
		Kind:      base.Kind(o.Text("kind")),
		From:      from,
		To:        o.Length("to"),
		FromFront: o.DistanceIfThere("from_front"),
		Depth:     o.DistanceIfThere("depth"),
		Closed:    o.Flag("closed"),
		Supply:    o.Flag("supply"),
	}
	if o.Has("air") {
		air := ReadAir(o.Child("air"))
		b.Air = &air
	}
	return b
}

// readLoads reads what lies on a top; nil when nothing is said.
func readLoads(order *wire.Object) *estimate.LoadsOrder {
	if !order.Has("loads") {
		return nil
	}
	o, l := order.Child("loads"), new(estimate.LoadsOrder)
	l.Use = estimate.Use(o.Text("use"))
	if o.Has("uniform") {
		uniform := ReadSurfaceLoad(o, "uniform")
		l.Uniform = &uniform
	}
	if o.Has("point") {
		point := ReadForce(o, "point")
		l.Point = &point
	}
	return l
}

// readSupport reads what may be added to a base, and whether other ways to carry the top are weighed.
func readSupport(order *wire.Object) (s estimate.SupportOrder) {
	if !order.Has("support") {
		return s
	}
	o := order.Child("support")
	weighed := o.Choice("alternatives")
	return estimate.SupportOrder{Add: estimate.AddSupport(o.Text("add")), Unweighed: weighed != nil && !*weighed}
}

// walkBase walks what stands under a top and whether it carries it; nothing where no base was told.
func walkBase(f *wire.Fields, at **estimate.BaseResult) {
	if !f.OpenIf("base", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.BaseResult)
	}
	b := *at
	if f.OpenAt("loads") {
		wire.Word(f, "use", &b.Loads.Use)
		surfaceLoad(f, "uniform", &b.Loads.Uniform)
		f.Force("point", &b.Loads.Point)
		f.Close()
	}
	f.Bool("holds", &b.Holds)
	wire.List(f, "runs", &b.Runs, func(f *wire.Fields, r *estimate.BaseRun) {
		f.Open()
		wire.Word(f, "run", &r.Run)
		surfaceLoad(f, "own_weight", &r.OwnWeight)
		wire.List(f, "parts", &r.Parts, walkStretch)
		wire.List(f, "strips", &r.Strips, walkHeldStrip)
		walkAppliances(f, &r.Appliances)
		f.Close()
	})
	wire.List(f, "blocking", &b.Seams, func(f *wire.Fields, s *estimate.Blocking) {
		f.Open()
		wire.Int(f, "corner", &s.Corner)
		f.Texts("runs", &s.Runs)
		f.Sized("length", &s.Length, measure.Least)
		wire.Word(f, "text", &s.Text)
		f.Close()
	})
	wire.List(f, "supports", &b.Props, walkProps)
	wire.List(f, "alternatives", &b.Ways, walkAlternative)
	f.Close()
}

// walkAppliances walks what the air at appliances does to a piece; left out where there are none.
func walkAppliances(f *wire.Fields, all *[]estimate.ApplianceAir) {
	if f.Reads() && !f.Has("appliances") || !f.Reads() && len(*all) == 0 {
		return
	}
	wire.List(f, "appliances", all, func(f *wire.Fields, a *estimate.ApplianceAir) {
		f.Open()
		entry(f, &a.Place)
		if f.OpenAt("air") {
			walkAir(f, &a.Air)
			f.Close()
		}
		wire.Number(f, "face", &a.Face, 2)
		wire.Number(f, "room", &a.Room, 2)
		f.Length("cup", &a.Cup)
		if w := f.Writer(); w != nil {
			w.Text("cup_text", max(a.Cup, -a.Cup).TextAs(f.Units, measure.Least))
		}
		f.Close()
	})
}

// walkAir walks a state of the air, its temperature in the unit that goes with the answer's.
func walkAir(f *wire.Fields, a *catalogue.Air) {
	wire.Number(f, "humidity", &a.Humidity, 2)
	warm, unit := a.Temperature.Celsius(), "C"
	if f.Units == measure.Inches {
		warm, unit = a.Temperature.Fahrenheit(), "F"
	}
	wire.Number(f, "temperature", &warm, 2)
	wire.Word(f, "temperature_unit", &unit)
	if !f.Reads() {
		return
	}
	if a.Temperature = measure.Celsius(warm); unit == "F" {
		a.Temperature = measure.Fahrenheit(warm)
	}
}

// walkProps walks brackets, legs or a batten that come with the top.
func walkProps(f *wire.Fields, p *estimate.Props) {
	f.Open()
	wire.Word(f, "run", &p.Run)
	wire.Word(f, "kind", &p.Kind)
	wire.WordOrNull(f, "item", &p.Item)
	wire.WordOrNull(f, "name", &p.Name)
	wire.Int(f, "count", &p.Count)
	wire.Int(f, "legs", &p.Legs)
	f.Made("from", &p.From)
	f.Made("to", &p.To)
	f.Made("from_front", &p.Front)
	f.Made("reach", &p.Reach)
	f.MadeAll("positions", &p.Positions)
	f.LengthOrNull("spacing", &p.Spacing)
	f.Force("load", &p.Load)
	f.Force("working_load", &p.Working)
	f.Bool("added", &p.Added)
	f.SizedOrNull("greatest_without", &p.Without, measure.Most)
	entry(f, &p.Place)
	wire.Word(f, "text", &p.Text)
	f.Close()
}

func walkAlternative(f *wire.Fields, a *estimate.Alternative) {
	f.Open()
	wire.Word(f, "way", &a.Way)
	f.LengthOrNull("thickness", &a.Thickness)
	wire.WordOrNull(f, "species", &a.Species)
	wire.Int(f, "count", &a.Count)
	f.Amount("cost_difference", &a.Cost)
	f.Amount("total_difference", &a.Total)
	wire.Word(f, "text", &a.Text)
	f.Close()
}

func walkStretch(f *wire.Fields, p *base.Part) {
	f.Open()
	wire.Word(f, "kind", &p.Kind)
	f.Made("from", &p.From)
	f.Made("to", &p.To)
	f.Made("from_front", &p.Front)
	f.Made("depth", &p.Depth)
	f.Bool("closed", &p.Closed)
	f.Bool("supplied", &p.Supplied)
	entry(f, &p.Place)
	f.Close()
}

func walkHeldStrip(f *wire.Fields, s *estimate.StripResult) {
	f.Open()
	wire.Word(f, "support", &s.Support)
	wire.Word(f, "direction", &s.Direction)
	wire.WordOrNull(f, "side", &s.Side)
	f.Bool("on_supports", &s.Props)
	f.Made("from", &s.From)
	f.Made("to", &s.To)
	f.MadeAll("lengths", &s.Lengths)
	f.Made("width", &s.Width)
	f.LengthOrNull("back", &s.Back)
	stress(f, "stiffness", &s.Stiffness, 3)
	stressOrNull(f, "strength", &s.Strength, 3)
	small(f, "deflection", &s.Sag)
	small(f, "long_term", &s.LongTerm)
	small(f, "limit", &s.Limit)
	stress(f, "stress", &s.Stress, 4)
	stressOrNull(f, "stress_limit", &s.StressLimit, 4)
	f.Bool("holds", &s.Holds)
	governs := "deflection"
	if s.ByStrength {
		governs = "strength"
	}
	if wire.Word(f, "governs", &governs); f.Reads() {
		s.ByStrength = governs == "strength"
	}
	wire.Int(f, "worst", &s.Worst)
	f.SizedOrNull("greatest_length", &s.Greatest, measure.Most)
	entry(f, &s.Place)
	f.Close()
}

// entry walks a place of the request's base, counted from 0; null where nothing was told.
func entry(f *wire.Fields, place *int) {
	if w := f.Writer(); w != nil {
		if *place < 0 {
			w.Null("entry")
		} else {
			w.Int("entry", int64(*place))
		}
		return
	}
	n := -1
	wire.Int(f, "entry", &n)
	*place = n
}

// small walks a length to more places than makers' lengths have: a sag is small.
func small(f *wire.Fields, name string, l *measure.Length) {
	x := l.In(f.Units)
	wire.Number(f, name, &x, 6)
	if f.Reads() {
		*l = measure.Length(x) * measure.Inch
		if f.Units == measure.Millimetres {
			*l = measure.Length(x) * measure.Millimetre
		}
	}
}

// surfaceLoad walks a uniform load in lbf/ft² or kPa.
func surfaceLoad(f *wire.Fields, name string, p *measure.Pressure) {
	x := SurfaceLoad(f.Units, *p)
	wire.Number(f, name, &x, 4)
	if f.Reads() {
		*p = measure.Pressure(x) * surfaceUnit(f.Units)
	}
}

func surfaceUnit(units measure.System) measure.Pressure {
	if units == measure.Inches {
		return measure.PoundPerSquareFoot
	}
	return measure.Kilopascal
}

// stress walks a stress or a modulus in lbf/in² or MPa; stressOrNull one that is null when it is unknown.
func stress(f *wire.Fields, name string, p *measure.Pressure, places int) {
	x := stressNumber(f.Units, *p)
	wire.Number(f, name, &x, places)
	if f.Reads() {
		*p = measure.Pressure(x) * stressUnit(f.Units)
	}
}

func stressOrNull(f *wire.Fields, name string, p *measure.Pressure, places int) {
	x := stressNumber(f.Units, *p)
	wire.NumberOrNull(f, name, &x, places)
	if f.Reads() {
		*p = measure.Pressure(x) * stressUnit(f.Units)
	}
}

func stressNumber(units measure.System, p measure.Pressure) float64 {
	return float64(p / stressUnit(units))
}

func stressUnit(units measure.System) measure.Pressure {
	if units == measure.Inches {
		return measure.PoundPerSquareInch
	}
	return measure.Megapascal
}
