package estimates

import (
	"seamwright/api/wire"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

func walkMoistures(f *wire.Fields, m *estimate.Moistures) {
	if !f.OpenAt("moisture") {
		return
	}
	wire.Number(f, "making", &m.Making, 2)
	wire.Number(f, "dry", &m.Dry, 2)
	wire.Number(f, "humid", &m.Humid, 2)
	f.Close()
}

func walkMovement(f *wire.Fields, m *estimate.Movement, alongGrain bool) {
	if !f.OpenAt("movement") {
		return
	}
	wire.NumberOrNull(f, "coefficient", &m.Coefficient, 6)
	wire.Word(f, "method", &m.Method)
	if w := f.Writer(); w != nil {
		w.List("methods")
		for _, by := range m.Methods() {
			w.Separate()
			w.Quote(string(by))
		}
		w.End()
	}
	wire.Number(f, "dry_strain", &m.DryStrain, 6)
	wire.Number(f, "humid_strain", &m.HumidStrain, 6)
	f.Length("to_dry", &m.ToDry)
	f.Length("to_humid", &m.ToHumid)
	f.Span("range", &m.Range, m.ToDry, m.ToHumid)
	if w := f.Writer(); w != nil && !alongGrain {
		w.Null("along_grain_range")
	} else {
		f.Length("along_grain_range", &m.AlongGrain)
	}
	walkHold(f, "fixed_line", &m.FixedLine)
	f.Length("swing", &m.Swing)
	f.Sized("wall_gap", &m.WallGap, measure.Least)
	f.Close()
}

// walkConditioning walks whether the wood is ready; answers kept from before it was told say nothing of it.
func walkConditioning(f *wire.Fields, at **estimate.Conditioning) {
	if !f.OpenIf("conditioning", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Conditioning)
	}
	c := *at
	f.Bool("ready", &c.Ready)
	f.Bool("promise", &c.Promise)
	wire.Number(f, "target", &c.Target, 2)
	wire.Number(f, "off", &c.Off, 2)
	f.Made("thickness", &c.Thickness)
	if f.OpenAt("rest_days") {
		wire.Int(f, "least", &c.Days.Least)
		wire.Int(f, "likely", &c.Days.Likely)
		wire.Int(f, "most", &c.Days.Most)
		f.Close()
	}
	wire.NumberOrNull(f, "humidity", &c.Humidity, 0)
	wire.Word(f, "text", &c.Text)
	walkStock(f, &c.Stock)
	f.Close()
}

// walkSeasonal walks a year of a slab, which only orders that ask for it have.
func walkSeasonal(f *wire.Fields, at **estimate.Seasonal) {
	if !f.OpenIf("seasonal", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Seasonal)
	}
	s := *at
	wire.Number(f, "lag_days", &s.Lag, 2)
	wire.Number(f, "damping", &s.Damping, 4)
	if f.OpenAt("equilibrium_movement") {
		f.Length("least", &s.Bound.Least)
		f.Length("greatest", &s.Bound.Greatest)
		f.Close()
	}
	f.Length("cup", &s.Cup)
	wire.List(f, "months", &s.Months, func(f *wire.Fields, m *estimate.SlabMonth) {
		f.Open()
		wire.Number(f, "equilibrium", &m.Equilibrium, 2)
		wire.Number(f, "mean", &m.Mean, 2)
		f.Length("change", &m.Change)
		f.Length("cup", &m.Cup)
		f.LengthOrNull("ripple", &m.Ripple)
		f.Close()
	})
	f.Close()
}

// walkStock walks what becomes of the stock, which only orders that tell of it have.
func walkStock(f *wire.Fields, at **estimate.Stock) {
	if !f.OpenIf("stock", *at != nil) {
		return
	}
	if *at == nil {
		*at = new(estimate.Stock)
	}
	s := *at
	wire.Word(f, "verdict", &s.Verdict)
	wire.Number(f, "least", &s.Least, 2)
	wire.Number(f, "greatest", &s.Greatest, 2)
	wire.Number(f, "equilibrium", &s.Equilibrium, 2)
	wire.Number(f, "days", &s.Days.Likely, 1)
	wire.Number(f, "days_low", &s.Days.Low, 1)
	wire.Number(f, "days_high", &s.Days.High, 1)
	f.Close()
}
